//! Work that nobody waits for stops, and too much of it is refused before it starts.

mod support;

use guardcell::Code;
use guardcell::calls::find;
use guardcell::work::{Stop, Stopped, stoppable};
use guardcell_server::Config;
use serde_json::{Value, json};
use std::io::Write;
use std::time::{Duration, Instant};
use support::{config, start};

/// A request for every call whose work a request can make long: the largest of its kind.
fn dearest(call: &str) -> Value {
    let example =
        |call: &str| -> Value { serde_json::from_str(find(call).unwrap().example()).unwrap() };
    let mut request = example(call);
    match call {
        "advise" | "round" => {
            let plant = request["plants"][0].clone();
            let plants = (0..3_400).map(|i| {
                let mut plant = plant.clone();
                plant["id"] = format!("P{i}").into();
                // No two alike: each has a weekly ceiling of its own.
                plant["setting"] = "potted".into();
                plant["pot_l"] = (0.1 + f64::from(i) * 1e-4).into();
                plant
            });
            request["plants"] = plants.collect();
            request["hours"] = 168.into();
        }
        "recipe" => {
            let product = request["products"][0].clone();
            let products = (0..200).map(|i| {
                let mut product = product.clone();
                product["name"] = format!("P{i}").into();
                product
            });
            request["products"] = products.collect();
            request["ceilings"] = json!({"ec25_us_cm": 1500});
            request["targets"] = json!([{"ec25": {"us_cm": 800}}]);
        }
        "threshold" => {
            let look = request["observations"][0].clone();
            let looks = (0..30_000).map(|i| {
                let mut look = look.clone();
                let day = jiff::civil::date(1980, 1, 1) + jiff::Span::new().days(i);
                look["day"] = day.to_string().into();
                if let Some(fields) = look.as_object_mut() {
                    fields.remove("at");
                    fields.remove("round");
                }
                look
            });
            request["observations"] = looks.collect();
        }
        other => panic!("{other} has no dearest request"),
    }
    request
}

#[test]
fn every_long_calculation_stops() {
    for call in ["advise", "round", "recipe", "threshold"] {
        let json = dearest(call).to_string();
        let prepared = find(call).unwrap().prepare(json.as_bytes()).unwrap_or_else(|e| {
            panic!("{call}: {e}");
        });
        let stop = Stop::default();
        let (told, ended) = std::sync::mpsc::channel();
        let work = std::thread::spawn({
            let stop = stop.clone();
            move || told.send(stoppable(&stop, || prepared.run())).unwrap()
        });
        // Long enough to begin, far less than any of them takes.
        let early = ended.recv_timeout(Duration::from_millis(40)).ok();
        assert!(early.is_none(), "{call} ended by itself: {early:?}");
        let stopped = Instant::now();
        stop.stop();
        assert!(matches!(ended.recv(), Ok(Err(Stopped))), "{call}");
        println!("{call}: stopped within {:?}", stopped.elapsed());
        // A hundredth of what it would have taken, on a machine of any speed.
        assert!(stopped.elapsed() < Duration::from_secs(1), "{call}: {:?}", stopped.elapsed());
        work.join().unwrap();
    }
}

#[test]
fn too_much_work_is_refused_with_the_limit() {
    let mut request = dearest("recipe");
    request["targets"] = (0..64).map(|i| json!({"ec25": {"us_cm": 800 + i}})).collect();
    let error = find("recipe").unwrap().prepare(request.to_string().as_bytes()).unwrap_err();
    assert_eq!(error.code(), Code::TooMany);
    assert!(error.detail().contains("the limit is 20000000"), "{error}");
    assert!(error.hint().contains("products × targets"), "{error}");
}

/// Measured: 5,000 plants over 168 h take 300 MiB, 3,000 over 24 h take 117 MiB, 10,000 over 168 h
/// take 683 MiB.
#[test]
fn too_large_an_answer_is_refused_with_the_limit() {
    for call in ["advise", "round"] {
        let request = dearest(call);
        let of = |plants: usize, hours: u32| {
            let mut request = request.clone();
            let all = request["plants"].as_array().unwrap().iter().cycle().take(plants);
            let all = all.enumerate().map(|(i, plant)| {
                let mut plant = plant.clone();
                plant["id"] = format!("P{i}").into();
                plant
            });
            request["plants"] = all.collect();
            request["hours"] = hours.into();
            find(call).unwrap().prepare(request.to_string().as_bytes()).map(|_| ())
        };
        assert!(of(3_000, 168).is_ok() && of(5_000, 24).is_ok(), "{call}");
        for (plants, hours) in [(5_000, 168), (10_000, 168), (10_000, 24)] {
            let error = of(plants, hours).unwrap_err();
            assert_eq!(error.code(), Code::TooMany);
            assert!(error.detail().contains("MiB of memory; the limit is 224 MiB"), "{error}");
            assert!(error.hint().contains("plants"), "{error}");
        }
    }
}

/// The example of a call is cheap: nobody's everyday request waits among the dear ones.
#[test]
fn examples_are_cheap() {
    for call in guardcell::calls::ALL {
        let work = call.prepare(call.example().as_bytes()).unwrap().work();
        let search = if call.name() == "round" { 1_000_000 } else { 0 };
        assert!(work.steps() <= 60_000 + search, "{}: {work:?}", call.name());
    }
}

#[test]
fn a_client_that_leaves_stops_its_work() {
    let server = start(Config { calculations: 2, ..config() });
    let body = dearest("round").to_string();
    let post = |body: &str| {
        format!(
            "POST /v1/rounds HTTP/1.1\r\nhost: localhost\r\ncontent-type: \
             application/json\r\ncontent-length: {}\r\n\r\n{body}",
            body.len()
        )
    };
    let stopped = || -> u64 {
        let metrics = server.get("/metrics").text();
        let line = metrics.lines().find_map(|l| {
            l.strip_prefix("guardcell_calculations_stopped_total ").map(str::to_owned)
        });
        line.and_then(|n| n.parse().ok()).unwrap_or(0)
    };
    let mut leaves = server.connect();
    leaves.write_all(post(&body).as_bytes()).unwrap();
    std::thread::sleep(Duration::from_millis(500));
    drop(leaves);
    let started = Instant::now();
    while stopped() == 0 {
        assert!(started.elapsed() < Duration::from_secs(5), "it goes on for nobody");
        std::thread::sleep(Duration::from_millis(20));
    }
    // The one turn for dear work is free: another is answered at once, or runs.
    let small =
        server.post("/v1/journal/threshold", find("threshold").unwrap().example().as_bytes());
    assert_eq!(small.status, 200, "{small:?}");
}

#[test]
fn a_stream_that_trickles_ends() {
    let server = start(Config {
        body_time: Duration::from_millis(600),
        stream_time: Duration::from_secs(2),
        ..config()
    });
    let head = b"POST /v1/advice/stream HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\ncontent-type: application/x-ndjson\r\ntransfer-encoding: chunked\r\n\r\n";
    // A byte at a time, and blank lines: neither is a line to answer.
    for bytes in [b"1\r\n{\r\n", b"1\r\n\n\r\n"] {
        let mut slow = server.connect();
        slow.write_all(head).unwrap();
        let started = Instant::now();
        while slow.write_all(bytes).is_ok() {
            std::thread::sleep(Duration::from_millis(100));
            assert!(started.elapsed() < Duration::from_secs(10), "it holds its seat for good");
        }
        // Not a refusal of the request: its time was up.
        assert!(started.elapsed() >= Duration::from_millis(600));
    }
    // Lines in time, but without end.
    let mut endless = server.connect();
    endless.write_all(head).unwrap();
    let started = Instant::now();
    while endless.write_all(b"3\r\n{}\n\r\n").is_ok() {
        std::thread::sleep(Duration::from_millis(100));
        assert!(started.elapsed() < Duration::from_secs(20), "it goes on for good");
    }
    assert!(started.elapsed() >= Duration::from_secs(2));
    assert_eq!(server.get("/v1/taxa/Cattleya").status, 200);
}

#[test]
fn one_address_does_not_hold_every_seat() {
    let server = start(Config { in_flight: 8, streams: 8, ..config() });
    let head = b"POST /v1/advice/stream HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/x-ndjson\r\ntransfer-encoding: chunked\r\n\r\n";
    let held: Vec<_> = (0..8)
        .map(|_| {
            let mut s = server.connect();
            s.write_all(head).unwrap();
            s
        })
        .collect();
    std::thread::sleep(Duration::from_millis(300));
    // 75 % of eight are six; the seventh and eighth were refused, and this one is too.
    let own = server.get("/v1/taxa/Cattleya");
    assert_eq!(own.status, 503, "{own:?}");
    assert!(own.text().contains("of your address"), "{own:?}");
    // Another address of this machine is answered.
    let runtime = tokio::runtime::Builder::new_current_thread().enable_io().build().unwrap();
    let other = runtime.block_on(async {
        let socket = tokio::net::TcpSocket::new_v4().unwrap();
        socket.bind("127.0.0.2:0".parse().unwrap()).unwrap();
        socket.connect(server.address).await.unwrap().into_std().unwrap()
    });
    other.set_nonblocking(false).unwrap();
    let mut other = other;
    let request = b"GET /v1/taxa/Cattleya HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\n\r\n";
    other.write_all(request).unwrap();
    assert_eq!(support::Answer::read(&mut other).status, 200);
    drop(held);
}

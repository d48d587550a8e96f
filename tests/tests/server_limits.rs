//! Slow, stalled and too many connections.

mod support;

use guardcell::Code;
use guardcell::calls::{Advise, Call};
use guardcell_server::{Config, Server};
use std::io::{Read, Write};
use std::time::{Duration, Instant};
use support::{Answer, config, start};

fn short() -> Config {
    Config {
        head_time: Duration::from_millis(400),
        body_time: Duration::from_millis(400),
        write_time: Duration::from_millis(600),
        grace_time: Duration::from_secs(5),
        ..config()
    }
}

#[test]
fn a_head_that_trickles_in_is_cut_off() {
    let server = start(short());
    let mut slow = server.connect();
    slow.write_all(b"GET / HTTP/1.1\r\nhost: local").unwrap();
    let started = Instant::now();
    let mut rest = Vec::new();
    let _ = slow.read_to_end(&mut rest);
    assert!(started.elapsed() < Duration::from_secs(5));
    // and one that says nothing at all
    let mut idle = server.connect();
    let started = Instant::now();
    let _ = idle.read_to_end(&mut rest);
    assert!(started.elapsed() < Duration::from_secs(5));
    assert_eq!(server.get("/healthz").status, 200);
}

#[test]
fn a_body_that_trickles_in_is_refused() {
    let server = start(short());
    let mut slow = server.connect();
    slow.write_all(
        b"POST /v1/air HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/json\r\nconnection: close\r\ncontent-length: 100\r\n\r\n{",
    )
    .unwrap();
    let answer = Answer::read(&mut slow);
    assert_eq!(answer.status, 408, "{answer:?}");
    assert_eq!(answer.json()["type"], "/problems#slow-body");
}

#[test]
fn a_reader_that_stalls_is_dropped_and_the_stream_waits_for_it() {
    let server = start(Config { body_time: Duration::from_secs(20), ..short() });
    let line = format!("{}\n", Advise::EXAMPLE.replace('\n', " "));
    let mut stalled = server.connect();
    stalled
        .write_all(b"POST /v1/advice/stream HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/x-ndjson\r\ntransfer-encoding: chunked\r\n\r\n")
        .unwrap();
    stalled.set_write_timeout(Some(Duration::from_secs(10))).unwrap();
    let chunk = format!("{:x}\r\n{line}\r\n", line.len());
    // Never reading, writing must come to a stop: the server takes no more than it can answer.
    let started = Instant::now();
    let mut sent = 0_usize;
    while stalled.write_all(chunk.as_bytes()).is_ok() {
        sent += chunk.len();
        assert!(sent < 200 << 20, "the server takes everything and keeps it");
        assert!(started.elapsed() < Duration::from_secs(120));
    }
    assert_eq!(server.get("/healthz").status, 200);
}

#[test]
fn requests_beyond_the_limit_are_busy() {
    let server = start(Config { in_flight: 1, ..config() });
    let mut held = server.connect();
    held.write_all(b"POST /v1/advice/stream HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/x-ndjson\r\ntransfer-encoding: chunked\r\n\r\n")
        .unwrap();
    let mut byte = [0];
    held.read_exact(&mut byte).unwrap(); // the answer has begun: the stream is in work
    let refused = server.get("/v1/taxa/Cattleya");
    assert_eq!(refused.status, 503, "{refused:?}");
    assert_eq!(refused.header("retry-after"), Some("2"));
    assert_eq!(server.get("/healthz").status, 200, "monitoring gets through");
    held.write_all(b"0\r\n\r\n").unwrap();
    let mut rest = Vec::new();
    held.set_read_timeout(Some(Duration::from_millis(500))).unwrap();
    let _ = held.read_to_end(&mut rest);
    assert_eq!(server.get("/v1/taxa/Cattleya").status, 200);
}

#[test]
fn connections_beyond_the_limit_are_turned_away() {
    let server = start(Config { connections: 8, ..config() });
    let held: Vec<_> = (0..8)
        .map(|_| {
            let mut s = server.connect();
            s.write_all(b"GET /healthz HTTP/1.1\r\nhost: localhost\r\n\r\n").unwrap();
            let mut byte = [0];
            s.read_exact(&mut byte).unwrap();
            s
        })
        .collect();
    let answer = server.get("/healthz");
    assert_eq!(answer.status, 503, "{answer:?}");
    assert_eq!(answer.header("retry-after"), Some("2"));
    drop(held);
    let freed = (0..50).any(|_| {
        std::thread::sleep(Duration::from_millis(20));
        server.get("/healthz").status == 200
    });
    assert!(freed);
}

#[test]
fn a_server_that_stops_finishes_what_it_accepted() {
    let mut server = start(short_but_patient());
    let mut accepted = server.connect();
    let body = br#"{"temp_c": 22, "rh_percent": 65}"#;
    let head = format!(
        "POST /v1/air HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/json\r\ncontent-length: {}\r\n\r\n",
        body.len()
    );
    accepted.write_all(head.as_bytes()).unwrap();
    accepted.write_all(&body[..5]).unwrap();
    std::thread::sleep(Duration::from_millis(200));
    server.stop();
    std::thread::sleep(Duration::from_millis(200));
    accepted.write_all(&body[5..]).unwrap();
    let answer = Answer::read(&mut accepted);
    assert_eq!(answer.status, 200, "{answer:?}");
    assert!(std::net::TcpStream::connect(server.address).is_err(), "it still listens");
}

fn short_but_patient() -> Config {
    Config { grace_time: Duration::from_secs(5), ..config() }
}

#[test]
fn a_public_address_must_be_allowed() {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    runtime.block_on(async {
        let bind = "0.0.0.0:0".parse().unwrap();
        let refused = Server::bind(Config { bind, ..Config::default() }).await;
        assert_eq!(refused.err().map(|e| e.code()), Some(Code::Usage));
        let loopback = Server::bind(config()).await.unwrap();
        assert!(loopback.exposes().contains("this machine only"));
    });
}

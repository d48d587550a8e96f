//! The client against a running server: the answer of the library for every example of every
//! call, and its refusals word for word.

mod support;

use guardcell::advice::AdviceRequest;
use guardcell::reference::{SearchRequest, catalogue, search};
use guardcell_client::{Client, ClientError};
use guardcell_server::Config;
use guardcell_xtask::schemas::{CALLS, Examples};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;
use std::sync::LazyLock;
use support::{Running, config, root, start};

static SERVER: LazyLock<Running> = LazyLock::new(|| start(config()));

fn client() -> Client {
    Client::new(&format!("http://{}", SERVER.address)).unwrap()
}

type Ask = Box<dyn Fn(&Client, &Value) -> Result<Value, ClientError>>;

fn ask<Q: DeserializeOwned + 'static, A: Serialize + 'static>(
    call: fn(&Client, &Q) -> Result<A, ClientError>,
) -> Ask {
    Box::new(move |client, request| {
        let request = Q::deserialize(request).unwrap();
        call(client, &request).map(|answer| serde_json::to_value(answer).unwrap())
    })
}

fn method(path: &str) -> Ask {
    match path {
        "/v1/advice" => ask(Client::advise),
        "/v1/rounds" => ask(Client::round),
        "/v1/rescues" => ask(Client::rescue),
        "/v1/recipes" => ask(Client::recipe),
        "/v1/waters" => ask(Client::water),
        "/v1/solutions" => ask(Client::analyse),
        "/v1/meters" => ask(Client::meter),
        "/v1/acids" => ask(Client::acid),
        "/v1/tanks" => ask(Client::tank),
        "/v1/conversions" => ask(Client::convert),
        "/v1/air" => ask(Client::air),
        "/v1/films" => ask(Client::film),
        "/v1/days" => ask(Client::day),
        "/v1/charts/strength" => ask(Client::strength_chart),
        "/v1/charts/day" => ask(Client::day_ribbon),
        "/v1/taxa" | "GET /v1/taxa/{name}" => ask(Client::genus),
        "GET /v1/taxa" => ask(Client::search),
        other => panic!("the client has no method for {other}"),
    }
}

#[test]
fn every_call_answers_as_the_library_does() {
    let client = client();
    client.check().unwrap();
    for call in CALLS {
        let ask = method(call.path);
        for good in Examples::of(call, &root()).unwrap().good {
            match ((call.answer)(&good), ask(&client, &good)) {
                (Ok(here), Ok(there)) => assert_eq!(there, here, "{}", call.path),
                (Err(here), Err(there)) => {
                    assert_eq!(there.to_string(), here, "{}", call.path);
                    assert!(there.problem().unwrap().pointer.is_some(), "{}", call.path);
                }
                (here, there) => panic!("{}: here {here:?}, there {there:?}", call.path),
            }
        }
    }
    assert_eq!(client.catalogue().unwrap(), catalogue());
    let table = client.measurements().unwrap();
    let lines = guardcell::reference::darwin_core::measurements().count() + 1;
    assert_eq!(table.lines().count(), lines);
}

#[test]
fn names_that_no_path_can_hold_are_looked_up() {
    let client = client();
    for query in ["..", ".", "a/b?c#d%2F", "Dendrobium × Ångström", "\u{1}", "  Vanda "] {
        let request = SearchRequest { query: query.into(), limit: Some(3) };
        assert_eq!(client.search(&request).ok(), search(&request).ok(), "{query}");
        let request = guardcell::reference::GenusRequest { query: query.into(), leaf: None };
        let here = guardcell::reference::report(&request);
        assert_eq!(client.genus(&request).ok(), here.ok(), "{query}");
    }
    let refused = client.search(&SearchRequest { query: String::new(), limit: None }).unwrap_err();
    let here = search(&SearchRequest { query: String::new(), limit: None }).unwrap_err();
    assert_eq!(refused.to_string(), here.to_string());
}

fn requests() -> (AdviceRequest, AdviceRequest) {
    let call = CALLS.iter().find(|c| c.path == "/v1/advice").unwrap();
    let good: AdviceRequest =
        serde_json::from_value(Examples::of(call, &root()).unwrap().good.remove(0)).unwrap();
    let mut bad = good.clone();
    bad.readings[0].rh_percent = 140.0;
    (good, bad)
}

#[test]
fn a_stream_of_any_length_is_answered_in_order() {
    let client = client();
    let (good, bad) = requests();
    let mut nan = good.clone();
    nan.readings[0].temp_c = f64::NAN;
    let expected = guardcell::advice::advise(&good).unwrap();
    let refusal = guardcell::advice::advise(&bad).unwrap_err().to_string();
    // More than one chunk, lines of very different length, and faults in between.
    let count = 600;
    let asked = (0..count).map(|i| match i % 7 {
        3 => bad.clone(),
        5 => nan.clone(),
        _ => good.clone(),
    });
    let mut answered = 0;
    for (i, answer) in client.advise_stream(asked).enumerate() {
        match (i % 7, answer) {
            (3, Err(e)) => assert_eq!(e.to_string(), refusal),
            (5, Err(ClientError::Unsendable(_))) => {}
            (_, Ok(advice)) => assert_eq!(advice, expected),
            (_, Err(e)) => panic!("{i}: {e}"),
        }
        answered += 1;
    }
    assert_eq!(answered, count);
    assert_eq!(client.advise_stream([]).count(), 0);
}

#[test]
fn a_stream_takes_no_more_requests_than_it_answers() {
    let (good, _) = requests();
    let taken = std::cell::Cell::new(0);
    let endless = std::iter::repeat_with(|| {
        taken.set(taken.get() + 1);
        good.clone()
    });
    let client = client();
    assert_eq!(client.advise_stream(endless).take(3).filter(Result::is_ok).count(), 3);
    let line = serde_json::to_vec(&good).unwrap().len();
    assert!(taken.get() * line < 600_000, "{} requests were taken", taken.get());
}

#[test]
fn a_stream_without_a_server_ends_after_its_error() {
    let gone = {
        let running = start(config());
        running.address
    };
    let client = Client::new(&format!("http://{gone}")).unwrap();
    let (good, _) = requests();
    let answers: Vec<_> = client.advise_stream(vec![good; 5]).collect();
    assert_eq!(answers.len(), 1);
    assert!(matches!(answers[0], Err(ClientError::Unreachable { .. })), "{:?}", answers[0]);
}

#[test]
fn a_server_that_is_full_is_busy() {
    let running = start(Config { in_flight: 0, ..config() });
    let client =
        Client::builder(&format!("http://{}", running.address)).retries(0).build().unwrap();
    let (good, _) = requests();
    let e = client.advise(&good).unwrap_err();
    assert!(matches!(e, ClientError::Busy { times: 1, .. }), "{e}");
    client.check().unwrap();
}

#[test]
fn a_server_elsewhere_under_another_name_says_so() {
    // The server answers under loopback names only; the name stands for the same address.
    let client =
        Client::new(&format!("http://guardcell.localhost:{}", SERVER.address.port())).unwrap();
    let (good, _) = requests();
    match client.advise(&good).unwrap_err() {
        ClientError::Refused(p) => assert_eq!(p.code(), "other-host"),
        // Not every machine gives names under .localhost an address.
        ClientError::Name { .. } => {}
        other => panic!("{other}"),
    }
}

//! The client against a running server: the answer or the refusal of the library for every example
//! of every call.

mod support;

use guardcell::Code;
use guardcell::advice::AdviceRequest;
use guardcell::calls::{ALL, Advise, Call, Genus, Search};
use guardcell_client::Client;
use guardcell_server::Config;
use guardcell_xtask::schemas::Examples;
use std::sync::LazyLock;
use support::{Running, config, root, start};

static SERVER: LazyLock<Running> = LazyLock::new(|| start(config()));

fn client() -> Client {
    Client::new(&format!("http://{}", SERVER.address)).unwrap()
}

/// Every example of a call, good and bad, answered by library and server.
fn compare<C: Call>(client: &Client)
where
    C::Request: PartialEq,
    C::Response: PartialEq + std::fmt::Debug,
{
    let call = ALL.iter().find(|call| call.name() == C::NAME).unwrap();
    let examples = Examples::of(call, &root()).unwrap();
    let bad = examples.bad.into_iter().map(|bad| bad.value);
    for example in examples.good.into_iter().chain(bad) {
        let Ok(request) = serde_json::from_value::<C::Request>(example) else { continue };
        assert_eq!(client.call::<C>(&request), C::run(&request), "{}", C::NAME);
    }
}

#[test]
fn every_call_answers_as_the_library_does() {
    use guardcell::calls::*;
    let client = client();
    client.check().unwrap();
    compare::<Advise>(&client);
    compare::<Round>(&client);
    compare::<Rescue>(&client);
    compare::<StrengthChart>(&client);
    compare::<DayRibbon>(&client);
    compare::<Recipe>(&client);
    compare::<Water>(&client);
    compare::<Solution>(&client);
    compare::<Meter>(&client);
    compare::<Acid>(&client);
    compare::<Tank>(&client);
    compare::<Convert>(&client);
    compare::<Air>(&client);
    compare::<Film>(&client);
    compare::<Day>(&client);
    compare::<Genus>(&client);
    compare::<Search>(&client);
    compare::<Catalogue>(&client);
    let table = client.measurements().unwrap();
    let lines = guardcell::reference::darwin_core::measurements().count() + 1;
    assert_eq!(table.lines().count(), lines);
}

#[test]
fn any_name_is_looked_up() {
    let client = client();
    for query in ["", "..", ".", "a/b?c#d%2F", "Dendrobium × Ångström", "\u{1}", "  Vanda "] {
        let request = serde_json::from_value(serde_json::json!({ "query": query, "limit": 3 }));
        let request = request.unwrap();
        assert_eq!(client.call::<Search>(&request), Search::run(&request), "{query}");
        let request = serde_json::from_value(serde_json::json!({ "query": query })).unwrap();
        assert_eq!(client.call::<Genus>(&request), Genus::run(&request), "{query}");
    }
}

fn requests() -> (AdviceRequest, AdviceRequest) {
    let mut good: AdviceRequest = serde_json::from_str(Advise::EXAMPLE).unwrap();
    good.hours = 3;
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
    let expected = Advise::run(&good).unwrap();
    let refusal = Advise::run(&bad).unwrap_err();
    // More than one chunk, lines of very different length, and faults in between.
    let count = 600;
    let asked = (0..count).map(|i| match i % 7 {
        3 => bad.clone(),
        5 => nan.clone(),
        _ => good.clone(),
    });
    let mut answered = 0;
    for (i, answer) in client.stream::<Advise, _>(asked).enumerate() {
        match (i % 7, answer) {
            (3, Err(e)) => assert_eq!(e, refusal),
            (5, Err(e)) => assert_eq!(e.pointer(), "/readings/0/temp_c"),
            (_, Ok(advice)) => assert_eq!(advice, expected),
            (_, Err(e)) => panic!("{i}: {e}"),
        }
        answered += 1;
    }
    assert_eq!(answered, count);
    assert_eq!(client.stream::<Advise, _>([]).count(), 0);
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
    assert_eq!(client.stream::<Advise, _>(endless).take(3).filter(Result::is_ok).count(), 3);
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
    let answers: Vec<_> = client.stream::<Advise, _>(vec![good; 5]).collect();
    assert_eq!(answers.len(), 1);
    assert_eq!(answers[0].as_ref().map_err(|e| e.code()).err(), Some(Code::Network));
}

#[test]
fn a_server_that_is_full_is_busy() {
    let running = start(Config { in_flight: 0, ..config() });
    let client =
        Client::builder(&format!("http://{}", running.address)).retries(0).build().unwrap();
    let (good, _) = requests();
    let e = client.call::<Advise>(&good).unwrap_err();
    assert_eq!(e.code(), Code::Busy, "{e}");
    client.check().unwrap();
}

#[test]
fn a_server_elsewhere_under_another_name_says_so() {
    // The server answers under loopback names only; the name stands for the same address.
    let client =
        Client::new(&format!("http://guardcell.localhost:{}", SERVER.address.port())).unwrap();
    let (good, _) = requests();
    let e = client.call::<Advise>(&good).unwrap_err();
    // Not every machine gives names under .localhost an address.
    assert!(matches!(e.code(), Code::OtherHost | Code::Network), "{e}");
}

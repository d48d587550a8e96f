//! Paired devices at a server: who may ask, what is refused before work starts, what is answered.

#[path = "support/house.rs"]
mod house;
mod support;

use guardcell::ledger::Draft;
use guardcell::ledger::sync::{EntriesPage, EntriesTaken, EntryOutcome, SendEntries};
use guardcell_server::Config;
use house::{House, entry};
use serde_json::{Value, json};
use std::time::{Duration, Instant};
use support::{Answer, config, start};

fn problem(answer: &Answer, status: u16, code: &str) -> Value {
    assert_eq!(answer.status, status, "{answer:?}");
    assert_eq!(answer.header("content-type"), Some("application/problem+json"), "{answer:?}");
    let body = answer.json();
    assert_eq!(body["code"], code, "{body}");
    assert!(!answer.text().contains(".db"), "{body}");
    body
}

fn now() -> jiff::Timestamp {
    "2026-06-21T05:00:00Z".parse().unwrap()
}

fn list(entries: Vec<Draft>) -> Vec<u8> {
    serde_json::to_vec(&SendEntries { entries }).unwrap()
}

fn draft(id: &str, supersedes: Option<&str>) -> Draft {
    entry(id, now(), supersedes).into()
}

fn taken(answer: &Answer) -> Vec<EntryOutcome> {
    assert_eq!(answer.status, 200, "{answer:?}");
    let taken: EntriesTaken = serde_json::from_slice(&answer.body).unwrap();
    taken.results.iter().map(|t| t.outcome).collect()
}

#[test]
fn without_a_folder_nothing_is_offered() {
    let server = start(config());
    problem(&server.post("/v1/pair", br#"{"code":"34679-ACDEF","name":"x"}"#), 404, "not-found");
    for path in ["/v1/journal/entries", "/v1/folder"] {
        problem(&server.get(path), 404, "not-found");
    }
    assert_eq!(server.get("/v1/taxa/Vanda").status, 200);
}

#[test]
fn a_device_is_paired_asks_and_is_revoked() {
    let house = House::new();
    let token = house.pair();
    let answer = house.get(&token, "/v1/folder");
    assert_eq!(answer.status, 200, "{answer:?}");
    assert_eq!(answer.json()["site"]["name"], "Fernhollow");
    let tag = answer.header("etag").unwrap().replace("w/", "W/");
    let bearer = format!("Bearer {token}");
    let again = [("authorization", bearer.as_str()), ("if-none-match", tag.as_str())];
    assert_eq!(house.server.send("GET", "/v1/folder", &again, b"").status, 304);

    // Nothing is there yet, and nothing is made by reading.
    let page: EntriesPage =
        serde_json::from_slice(&house.get(&token, "/v1/journal/entries").body).unwrap();
    assert_eq!((page.entries.len(), page.cursor.as_str(), page.more), (0, "0", false));
    assert!(!house.journal().exists());

    let first = list(vec![draft("b", Some("a")), draft("a", None)]);
    let (new, known) = (EntryOutcome::Accepted, EntryOutcome::Known);
    assert_eq!(taken(&house.send(&token, &first)), [new, new]);
    assert_eq!(taken(&house.send(&token, &first)), [known, known]);
    let page: EntriesPage =
        serde_json::from_slice(&house.get(&token, "/v1/journal/entries?since=0").body).unwrap();
    let ids: Vec<&str> = page.entries.iter().map(|e| e.id.as_str()).collect();
    assert_eq!((ids, page.more, page.restarted), (vec!["a", "b"], false, false));

    // What is known under an id stays as it is.
    let mut other = draft("a", None);
    other.note = "something else".into();
    let answer = house.send(&token, &list(vec![other, draft("c", None)]));
    assert_eq!(taken(&answer), [EntryOutcome::Refused, new]);
    assert_eq!(answer.json()["results"][0]["error"]["code"], "duplicate-id");
    assert_eq!(house.recorded()[0].note, "of a");
    let next = house.get(&token, &format!("/v1/journal/entries?since={}", page.cursor));
    assert_eq!(next.json()["entries"][0]["id"], "c");

    house.devices().revoke("phone").unwrap();
    for answer in [
        house.get(&token, "/v1/folder"),
        house.get(&token, "/v1/journal/entries"),
        house.send(&token, &list(vec![draft("d", None)])),
    ] {
        problem(&answer, 401, "not-paired");
        assert_eq!(answer.header("www-authenticate"), Some("bearer"));
    }
    assert_eq!(house.recorded().len(), 3);
}

#[test]
fn requests_without_a_good_token_or_form_change_nothing() {
    let house = House::new();
    let token = house.pair();
    let body = list(vec![draft("a", None)]);
    let json = ("content-type", "application/json");
    let path = "/v1/journal/entries";
    for authorization in [
        "",
        "Bearer",
        "Bearer ",
        "Basic eDp4",
        &token,
        &format!("Bearer {}", "0".repeat(64)),
        &format!("Bearer {}", "x".repeat(4000)),
    ] {
        let headers = [json, ("authorization", authorization)];
        problem(&house.server.send("POST", path, &headers, &body), 401, "not-paired");
    }
    problem(&house.server.send("POST", path, &[json], &body), 401, "not-paired");
    let bearer = format!("Bearer {token}");
    let both = [json, ("authorization", &bearer), ("authorization", &bearer)];
    problem(&house.server.send("POST", path, &both, &body), 401, "not-paired");

    problem(&house.send(&token, b"{\"entries\": ["), 400, "malformed-json");
    problem(&house.send(&token, b"[]"), 422, "wrong-form");
    problem(&house.send(&token, b"{\"entries\": []}"), 422, "too-many");
    let many = list((0..501).map(|i| draft(&format!("m{i}"), None)).collect());
    assert_eq!(problem(&house.send(&token, &many), 422, "too-many")["pointer"], "/entries");
    problem(&house.send(&token, &[b' '; 5 << 20]), 413, "too-large");
    problem(&house.get(&token, "/v1/journal/entries?since=yesterday"), 422, "invalid-text");
    problem(&house.get(&token, "/v1/journal/entries?from=0"), 422, "wrong-form");
    assert!(!house.journal().exists(), "nothing was written");
}

#[test]
fn pages_of_other_sites_are_refused() {
    let listed = "https://house.example.invalid";
    let house = House::with(Config { origins: vec![listed.into()], ..config() });
    let token = house.pair();
    let bearer = format!("Bearer {token}");
    let get = |origin: &str| {
        let headers = [("authorization", bearer.as_str()), ("origin", origin)];
        house.server.send("GET", "/v1/folder", &headers, b"")
    };
    problem(&get("https://evil.example.invalid"), 403, "other-origin");
    problem(&get("null"), 403, "other-origin");
    let same = get("http://localhost");
    assert_eq!((same.status, same.header("access-control-allow-origin")), (200, None));
    let answer = get(listed);
    assert_eq!(answer.status, 200);
    assert_eq!(answer.header("access-control-allow-origin"), Some(listed));
    let asked = [("origin", listed), ("access-control-request-method", "POST")];
    let preflight = house.server.send("OPTIONS", "/v1/journal/entries", &asked, b"");
    assert_eq!(preflight.status, 204);
    assert!(preflight.header("access-control-allow-headers").unwrap().contains("authorization"));
    let stranger = [("origin", "https://evil.example.invalid")];
    problem(
        &house.server.send("OPTIONS", "/v1/journal/entries", &stranger, b""),
        403,
        "other-origin",
    );
    // A code that works is not used up by a page of another site.
    let code = house.code();
    let body = json!({ "code": code, "name": "tablet" }).to_string();
    let headers = [("content-type", "application/json"), stranger[0]];
    problem(&house.server.send("POST", "/v1/pair", &headers, body.as_bytes()), 403, "other-origin");
    assert_eq!(house.try_code(&code).status, 200);
}

#[test]
fn pages_of_listed_origins_may_calculate_and_nothing_else() {
    let listed = "https://lab.example.invalid";
    let house = House::with(Config { calculation_origins: vec![listed.into()], ..config() });
    let token = house.pair();
    let json = ("content-type", "application/json");
    let allowed = |answer: &Answer| answer.header("access-control-allow-origin").map(str::to_owned);
    let air = br#"{"temp_c": 22, "rh_percent": 65}"#;
    let ask = |method: &str, path: &str, origin: &str, body: &[u8]| {
        house.server.send(method, path, &[json, ("origin", origin)], body)
    };
    let before = |path: &str, origin: &str, method: &str| {
        let asked = [("origin", origin), ("access-control-request-method", method)];
        house.server.send("OPTIONS", path, &asked, b"")
    };
    for (path, method) in
        [("/v1/air", "POST"), ("/v1/advice/stream", "POST"), ("/v1/taxa/Cattleya", "GET")]
    {
        let answer = before(path, listed, method);
        assert_eq!((answer.status, allowed(&answer).as_deref()), (204, Some(listed)), "{path}");
        assert_eq!(answer.header("access-control-allow-methods"), Some(&*method.to_lowercase()));
        let sent = answer.header("access-control-allow-headers").unwrap();
        assert!(sent.contains("content-type") && !sent.contains("authorization"), "{sent}");
        assert_eq!(answer.header("access-control-allow-credentials"), None);
    }
    let answer = ask("POST", "/v1/air", listed, air);
    assert_eq!((answer.status, allowed(&answer).as_deref()), (200, Some(listed)));
    assert!(answer.header("vary").unwrap().contains("origin"));
    // A refusal can be read too.
    let answer = ask("POST", "/v1/air", listed, b"{}");
    assert_eq!((answer.status, allowed(&answer).as_deref()), (422, Some(listed)));
    // Others are answered as before: a browser does not let their page read it.
    for other in ["https://evil.example.invalid", "http://lab.example.invalid", "null"] {
        let answer = ask("POST", "/v1/air", other, air);
        assert_eq!((answer.status, allowed(&answer)), (200, None), "{other}");
        assert_eq!(allowed(&before("/v1/air", other, "POST")), None);
    }
    // Journal, folder and pairing are not among it, with a token or without.
    let bearer = format!("Bearer {token}");
    for (method, path) in
        [("GET", "/v1/folder"), ("GET", "/v1/journal/entries"), ("POST", "/v1/pair")]
    {
        let headers = [json, ("origin", listed), ("authorization", bearer.as_str())];
        let answer = house.server.send(method, path, &headers, b"");
        assert_eq!((answer.status, allowed(&answer)), (403, None), "{path}");
        assert_eq!(allowed(&before(path, listed, method)), None, "{path}");
    }
    for path in ["/", "/metrics", "/healthz", "/openapi.json", "/v1/nothing"] {
        assert_eq!(allowed(&ask("GET", path, listed, b"")), None, "{path}");
    }
}

#[test]
fn wrong_codes_are_slow_and_few() {
    let house = House::new();
    let code = house.code();
    let started = Instant::now();
    for _ in 0..5 {
        problem(&house.try_code("34679-ACDEF"), 403, "wrong-code");
    }
    assert!(started.elapsed() >= Duration::from_millis(2_500));
    // The sixth is not looked at, though it is right.
    let started = Instant::now();
    let answer = house.try_code(&code);
    problem(&answer, 429, "too-often");
    assert!(started.elapsed() < Duration::from_millis(400));
    let wait: u64 = answer.header("retry-after").unwrap().parse().unwrap();
    assert!((50..=60).contains(&wait), "{wait}");
}

#[test]
fn a_device_that_asks_all_the_time_is_slowed_and_others_are_not() {
    let house = House::new();
    let (busy, calm) = (house.pair(), house.pair());
    let mut slowed = None;
    for _ in 0..400 {
        let answer = house.get(&busy, "/v1/folder");
        if answer.status != 200 {
            slowed = Some(answer);
            break;
        }
    }
    let slowed = slowed.expect("it is never slowed");
    problem(&slowed, 429, "too-often");
    assert_eq!(slowed.header("retry-after"), Some("1"));
    assert_eq!(house.get(&calm, "/v1/folder").status, 200);
}

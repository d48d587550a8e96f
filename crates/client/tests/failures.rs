//! Every way in which a server can fail a caller, each told as what it is.
#![allow(clippy::unwrap_used, reason = "helpers of tests")]

use guardcell::film::AirRequest;
use guardcell_client::{Client, ClientBuilder, ClientError, VERSION_HEADER};
use std::io::{Read, Write};
use std::net::TcpListener;
use std::time::{Duration, Instant};
use tokio::runtime::Runtime;
use wiremock::matchers::{body_json, header, method, path};
use wiremock::{Mock, MockServer, ResponseTemplate};

const OWN: &str = env!("CARGO_PKG_VERSION");

/// A server that answers as told, on threads of its own.
struct Told {
    runtime: Runtime,
    server: MockServer,
}

impl Told {
    fn new() -> Self {
        let runtime = Runtime::new().unwrap();
        let server = runtime.block_on(MockServer::start());
        Self { runtime, server }
    }

    fn answers(response: ResponseTemplate) -> Self {
        let told = Self::new();
        told.mount(Mock::given(method("POST")).respond_with(response));
        told
    }

    fn mount(&self, mock: Mock) {
        self.runtime.block_on(mock.mount(&self.server));
    }

    fn asked(&self) -> usize {
        self.runtime.block_on(self.server.received_requests()).unwrap().len()
    }

    fn client(&self) -> ClientBuilder {
        Client::builder(&self.server.uri())
    }
}

fn request() -> AirRequest {
    AirRequest { temp_c: 22.0, rh_percent: 65.0, pressure_kpa: None }
}

fn good() -> serde_json::Value {
    serde_json::to_value(guardcell::film::air(&request()).unwrap()).unwrap()
}

fn own(response: ResponseTemplate) -> ResponseTemplate {
    response.insert_header(VERSION_HEADER, OWN)
}

fn problem(status: u16, code: &str) -> ResponseTemplate {
    let body = format!(
        r#"{{"type": "urn:guardcell:problem:{code}", "title": "T", "status": {status},
            "detail": "/temp_c: is hot; be cool", "pointer": "/temp_c", "field": "temp_c",
            "wrong": "is hot", "right": "be cool", "message": "too hot. Be cool"}}"#
    );
    own(ResponseTemplate::new(status).set_body_raw(body, "application/problem+json"))
}

fn failed(client: &ClientBuilder) -> ClientError {
    client.clone().build().unwrap().air(&request()).unwrap_err()
}

#[test]
fn a_request_is_sent_as_the_library_reads_it() {
    let told = Told::new();
    told.mount(
        Mock::given(method("POST"))
            .and(path("/v1/air"))
            .and(header("content-type", "application/json"))
            .and(header("user-agent", format!("guardcell-client/{OWN}").as_str()))
            .and(header("accept-encoding", "gzip"))
            .and(body_json(request()))
            .respond_with(own(ResponseTemplate::new(200).set_body_json(good()))),
    );
    let answer = told.client().build().unwrap().air(&request()).unwrap();
    assert_eq!(serde_json::to_value(answer).unwrap(), good());
}

#[test]
fn a_path_before_the_api_is_kept() {
    let told = Told::new();
    told.mount(
        Mock::given(path("/plants/guardcell/v1/air"))
            .respond_with(own(ResponseTemplate::new(200).set_body_json(good()))),
    );
    let url = format!("{}/plants/guardcell", told.server.uri());
    assert!(Client::new(&url).unwrap().air(&request()).is_ok());
}

#[test]
fn a_refusal_keeps_its_pointer_and_the_words_of_the_library() {
    let told = Told::answers(problem(422, "impossible"));
    let e = failed(&told.client());
    let p = e.problem().unwrap();
    assert_eq!((p.pointer.as_deref(), p.field.as_deref()), (Some("/temp_c"), Some("temp_c")));
    assert_eq!((p.title.as_str(), p.status, p.code()), ("T", 422, "impossible"));
    assert_eq!((p.wrong.as_str(), p.right.as_str()), ("is hot", "be cool"));
    assert_eq!(e.to_string(), "too hot. Be cool");
    assert_eq!(told.asked(), 1, "a refusal is not asked again");
}

#[test]
fn a_busy_server_is_asked_again_as_often_as_allowed() {
    let told = Told::new();
    let busy = problem(503, "busy").insert_header("retry-after", "0");
    told.mount(Mock::given(method("POST")).respond_with(busy).up_to_n_times(2));
    told.mount(
        Mock::given(method("POST"))
            .respond_with(own(ResponseTemplate::new(200).set_body_json(good()))),
    );
    assert!(told.client().retries(2).build().unwrap().air(&request()).is_ok());
    assert_eq!(told.asked(), 3);

    // What is turned away with a connection too many has no body and no version.
    let told = Told::answers(ResponseTemplate::new(503).insert_header("retry-after", "0"));
    let e = failed(&told.client().retries(2));
    assert!(matches!(e, ClientError::Busy { times: 3, .. }), "{e}");
    assert_eq!(told.asked(), 3);
}

#[test]
fn a_long_wait_is_not_waited() {
    let told = Told::answers(problem(503, "busy").insert_header("retry-after", "3600"));
    let begun = Instant::now();
    let e = failed(&told.client());
    assert!(matches!(e, ClientError::Busy { times: 1, .. }), "{e}");
    assert!(begun.elapsed() < Duration::from_secs(30));
    let told = Told::answers(problem(503, "took-too-long").insert_header("retry-after", "0"));
    assert_eq!(failed(&told.client()).problem().unwrap().code(), "took-too-long");
    assert_eq!(told.asked(), 1, "a calculation that takes too long takes too long again");
}

#[test]
fn an_answer_too_large_is_cut_off() {
    let told = Told::answers(own(
        ResponseTemplate::new(200).set_body_raw(vec![b' '; 5000], "application/json")
    ));
    let e = failed(&told.client().most_bytes(4999));
    assert!(matches!(e, ClientError::TooLarge { limit: 4999, .. }), "{e}");
}

#[test]
fn a_small_answer_may_not_grow_beyond_the_bound_when_unpacked() {
    // 1 MiB of spaces, packed by gzip (RFC 1952) with stored blocks would be larger; this one is
    // packed by repetition and has some 1 kB.
    let packed = std::process::Command::new("sh")
        .args(["-c", "head -c 1048576 /dev/zero | tr '\\0' ' ' | gzip -n"])
        .output()
        .unwrap()
        .stdout;
    assert!(packed.len() < 10_000);
    let told = Told::answers(own(ResponseTemplate::new(200)
        .insert_header("content-encoding", "gzip")
        .set_body_raw(packed, "application/json")));
    let e = failed(&told.client().most_bytes(100_000));
    assert!(matches!(e, ClientError::TooLarge { limit: 100_000, .. }), "{e}");
}

#[test]
fn a_slow_server_is_timed_out() {
    let told = Told::answers(own(ResponseTemplate::new(200)
        .set_body_json(good())
        .set_delay(Duration::from_secs(20))));
    let e = failed(&told.client().timeout(Duration::from_millis(300)));
    assert!(matches!(e, ClientError::TimedOut { .. }), "{e}");
}

/// Answers one connection with these bytes, then closes it or holds it.
fn raw(bytes: Vec<u8>, hold: Duration) -> String {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let address = listener.local_addr().unwrap();
    std::thread::spawn(move || {
        let (mut stream, _) = listener.accept().unwrap();
        let mut head = [0; 4096];
        let _ = stream.read(&mut head);
        let _ = stream.write_all(&bytes);
        std::thread::sleep(hold);
    });
    address.to_string()
}

#[test]
fn an_answer_that_stalls_or_breaks_off() {
    let head = format!(
        "HTTP/1.1 200 OK\r\ncontent-type: application/json\r\n{VERSION_HEADER}: {OWN}\r\n\
         content-length: 100\r\n\r\n{{\"dew"
    );
    let stalls = raw(head.clone().into_bytes(), Duration::from_secs(5));
    let client = Client::builder(&format!("http://{stalls}")).timeout(Duration::from_millis(300));
    assert!(matches!(failed(&client), ClientError::TimedOut { .. }));
    let breaks = raw(head.into_bytes(), Duration::ZERO);
    let e = failed(&Client::builder(&format!("http://{breaks}")));
    assert!(matches!(e, ClientError::BrokenOff { .. }), "{e}");
    let nonsense = raw(b"SSH-2.0-x\r\n".to_vec(), Duration::ZERO);
    let e = failed(&Client::builder(&format!("http://{nonsense}")));
    assert!(matches!(e, ClientError::BrokenOff { .. }), "{e}");
}

#[test]
fn names_connections_and_tls() {
    // RFC 6761, section 6.4: names under .invalid have no address.
    let e = failed(&Client::builder("http://guardcell.invalid:8427"));
    assert!(matches!(&e, ClientError::Name { host, .. } if host == "guardcell.invalid"), "{e}");
    let closed = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
    let e = failed(&Client::builder(&format!("http://{closed}")));
    assert!(matches!(e, ClientError::Unreachable { .. }), "{e}");
    // A server that speaks plain HTTP where TLS is asked for.
    let plain = raw(b"HTTP/1.1 400 Bad Request\r\n\r\n".to_vec(), Duration::from_secs(1));
    match Client::builder(&format!("https://{plain}")).build() {
        Ok(client) => {
            let e = client.air(&request()).unwrap_err();
            assert!(matches!(e, ClientError::Tls { .. }), "{e}");
        }
        // A machine without any certificates trusts nobody.
        Err(e) => assert!(matches!(e, ClientError::Trust(_)), "{e}"),
    }
}

#[test]
fn strangers_are_known_as_such() {
    let page = ResponseTemplate::new(200).set_body_raw("<html>", "text/html");
    let e = failed(&Told::answers(page.clone()).client());
    assert!(matches!(e, ClientError::NotGuardcell { .. }), "{e}");
    let e = failed(&Told::answers(own(page)).client());
    assert!(
        matches!(&e, ClientError::NotGuardcell { found, .. } if found.contains("text/html")),
        "{e}"
    );
    let json = ResponseTemplate::new(200).set_body_json(serde_json::json!({"ok": true}));
    let e = failed(&Told::answers(json.clone()).client());
    assert!(matches!(e, ClientError::NotGuardcell { .. }), "{e}");
    let e = failed(&Told::answers(own(json)).client());
    assert!(matches!(&e, ClientError::NotGuardcell { found, .. } if found.contains("form")), "{e}");
    let e = failed(&Told::answers(ResponseTemplate::new(404)).client());
    assert!(matches!(e, ClientError::NotGuardcell { .. }), "{e}");
    let e = failed(&Told::answers(own(ResponseTemplate::new(500))).client());
    assert!(matches!(e, ClientError::NotGuardcell { .. }), "{e}");
    let away = ResponseTemplate::new(301).insert_header("location", "https://elsewhere.example/");
    let told = Told::answers(away);
    let e = failed(&told.client());
    assert!(
        matches!(&e, ClientError::Moved { to, .. } if to == "https://elsewhere.example/"),
        "{e}"
    );
    assert_eq!(told.asked(), 1);
}

#[test]
fn another_version_is_told_before_its_answer_is_read() {
    let other =
        ResponseTemplate::new(200).insert_header(VERSION_HEADER, "99.0.1").set_body_json(good());
    let e = failed(&Told::answers(other).client());
    assert!(matches!(&e, ClientError::Version { server, .. } if server == "99.0.1"), "{e}");
}

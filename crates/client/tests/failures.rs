//! Every way in which a server can fail a caller, each reported as what it is.
#![allow(clippy::unwrap_used, reason = "helpers of tests")]

use guardcell::calls::Air;
use guardcell::film::AirRequest;
use guardcell::{Code, Error};
use guardcell_client::{Client, ClientBuilder, VERSION_HEADER};
use std::io::{Read, Write};
use std::net::TcpListener;
use std::time::{Duration, Instant};
use tokio::runtime::Runtime;
use wiremock::matchers::{body_json, header, method, path};
use wiremock::{Mock, MockServer, ResponseTemplate};

const OWN: &str = env!("CARGO_PKG_VERSION");

/// A server with prepared answers, on its own threads.
struct Prepared {
    runtime: Runtime,
    server: MockServer,
}

impl Prepared {
    fn new() -> Self {
        let runtime = Runtime::new().unwrap();
        let server = runtime.block_on(MockServer::start());
        Self { runtime, server }
    }

    fn answers(response: ResponseTemplate) -> Self {
        let prepared = Self::new();
        prepared.mount(Mock::given(method("POST")).respond_with(response));
        prepared
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
        r#"{{"type": "/problems#{code}", "title": "T", "status": {status}, "detail": "this is hot: 90; 80",
            "code": "{code}", "pointer": "/temp_c", "hint": "be cool", "field": "temp_c"}}"#
    );
    own(ResponseTemplate::new(status).set_body_raw(body, "application/problem+json"))
}

fn failed(client: &ClientBuilder) -> Error {
    client.clone().build().unwrap().call::<Air>(&request()).unwrap_err()
}

#[test]
fn a_request_is_sent_as_the_library_reads_it() {
    let prepared = Prepared::new();
    prepared.mount(
        Mock::given(method("POST"))
            .and(path("/v1/air"))
            .and(header("content-type", "application/json"))
            .and(header("user-agent", format!("guardcell-client/{OWN}").as_str()))
            .and(header("accept-encoding", "gzip"))
            .and(body_json(request()))
            .respond_with(own(ResponseTemplate::new(200).set_body_json(good()))),
    );
    let answer = prepared.client().build().unwrap().call::<Air>(&request()).unwrap();
    assert_eq!(serde_json::to_value(answer).unwrap(), good());
}

#[test]
fn a_path_before_the_api_is_kept() {
    let prepared = Prepared::new();
    prepared.mount(
        Mock::given(path("/plants/guardcell/v1/air"))
            .respond_with(own(ResponseTemplate::new(200).set_body_json(good()))),
    );
    let url = format!("{}/plants/guardcell", prepared.server.uri());
    assert!(Client::new(&url).unwrap().call::<Air>(&request()).is_ok());
}

#[test]
fn a_refusal_keeps_its_pointer_and_the_words_of_the_library() {
    let prepared = Prepared::answers(problem(422, "out-of-range"));
    let e = failed(&prepared.client());
    let expected = Error::new(Code::OutOfRange, "this is hot: 90; 80", "be cool").at("/temp_c");
    assert_eq!(e, expected);
    assert_eq!(prepared.asked(), 1, "a refusal is not asked again");
}

#[test]
fn a_busy_server_is_asked_again_as_often_as_allowed() {
    let prepared = Prepared::new();
    let busy = problem(503, "busy").insert_header("retry-after", "0");
    prepared.mount(Mock::given(method("POST")).respond_with(busy).up_to_n_times(2));
    prepared.mount(
        Mock::given(method("POST"))
            .respond_with(own(ResponseTemplate::new(200).set_body_json(good()))),
    );
    assert!(prepared.client().retries(2).build().unwrap().call::<Air>(&request()).is_ok());
    assert_eq!(prepared.asked(), 3);

    // What is turned away with a connection too many has no body and no version.
    let prepared = Prepared::answers(ResponseTemplate::new(503).insert_header("retry-after", "0"));
    let e = failed(&prepared.client().retries(2));
    assert!(e.code() == Code::Busy && e.detail().contains("asked 3 times"), "{e}");
    assert_eq!(prepared.asked(), 3);
}

#[test]
fn a_long_wait_is_not_waited() {
    let prepared = Prepared::answers(problem(503, "busy").insert_header("retry-after", "3600"));
    let begun = Instant::now();
    let e = failed(&prepared.client());
    assert!(e.code() == Code::Busy && e.detail().contains("asked 1 times"), "{e}");
    assert!(begun.elapsed() < Duration::from_secs(30));
    let prepared = Prepared::answers(problem(503, "timeout").insert_header("retry-after", "0"));
    assert_eq!(failed(&prepared.client()).code(), Code::Timeout);
    assert_eq!(prepared.asked(), 1, "a calculation that takes too long takes too long again");
}

#[test]
fn an_answer_too_large_is_cut_off() {
    let prepared = Prepared::answers(own(
        ResponseTemplate::new(200).set_body_raw(vec![b' '; 5000], "application/json")
    ));
    let e = failed(&prepared.client().most_bytes(4999));
    assert!(e.code() == Code::Remote && e.detail().contains("larger than 4999"), "{e}");
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
    let prepared = Prepared::answers(own(ResponseTemplate::new(200)
        .insert_header("content-encoding", "gzip")
        .set_body_raw(packed, "application/json")));
    let e = failed(&prepared.client().most_bytes(100_000));
    assert!(e.code() == Code::Remote && e.detail().contains("larger than 100000"), "{e}");
}

#[test]
fn a_slow_server_is_timed_out() {
    let prepared = Prepared::answers(own(ResponseTemplate::new(200)
        .set_body_json(good())
        .set_delay(Duration::from_secs(20))));
    let e = failed(&prepared.client().timeout(Duration::from_millis(300)));
    assert!(e.code() == Code::Timeout, "{e}");
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
    assert_eq!(failed(&client).code(), Code::Timeout);
    let breaks = raw(head.into_bytes(), Duration::ZERO);
    let e = failed(&Client::builder(&format!("http://{breaks}")));
    assert!(e.code() == Code::Network && e.detail().contains("broke"), "{e}");
    let nonsense = raw(b"SSH-2.0-x\r\n".to_vec(), Duration::ZERO);
    let e = failed(&Client::builder(&format!("http://{nonsense}")));
    assert!(e.code() == Code::Network && e.detail().contains("broke"), "{e}");
}

#[test]
fn names_connections_and_tls() {
    // RFC 6761, section 6.4: names under .invalid have no address.
    let e = failed(&Client::builder("http://guardcell.invalid:8427"));
    assert!(e.code() == Code::Network && e.detail().contains("\"guardcell.invalid\""), "{e}");
    let closed = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
    let e = failed(&Client::builder(&format!("http://{closed}")));
    assert!(e.code() == Code::Network && e.detail().contains("cannot be reached"), "{e}");
    // A server that speaks plain HTTP where TLS is asked for.
    let plain = raw(b"HTTP/1.1 400 Bad Request\r\n\r\n".to_vec(), Duration::from_secs(1));
    match Client::builder(&format!("https://{plain}")).build() {
        Ok(client) => {
            let e = client.call::<Air>(&request()).unwrap_err();
            assert!(e.code() == Code::Network && e.detail().contains("TLS"), "{e}");
        }
        // A machine without any root certificates refuses every server.
        Err(e) => assert!(e.detail().contains("root certificates"), "{e}"),
    }
}

#[test]
fn strangers_are_known_as_such() {
    let page = ResponseTemplate::new(200).set_body_raw("<html>", "text/html");
    let e = failed(&Prepared::answers(page.clone()).client());
    assert!(e.code() == Code::Remote, "{e}");
    let e = failed(&Prepared::answers(own(page)).client());
    assert!(e.code() == Code::Remote && e.detail().contains("text/html"), "{e}");
    let json = ResponseTemplate::new(200).set_body_json(serde_json::json!({"ok": true}));
    let e = failed(&Prepared::answers(json.clone()).client());
    assert!(e.code() == Code::Remote, "{e}");
    let e = failed(&Prepared::answers(own(json)).client());
    assert!(e.code() == Code::Remote && e.detail().contains("form"), "{e}");
    let e = failed(&Prepared::answers(ResponseTemplate::new(404)).client());
    assert!(e.code() == Code::Remote, "{e}");
    let e = failed(&Prepared::answers(own(ResponseTemplate::new(500))).client());
    assert!(e.code() == Code::Remote, "{e}");
    let away = ResponseTemplate::new(301).insert_header("location", "https://elsewhere.example/");
    let prepared = Prepared::answers(away);
    let e = failed(&prepared.client());
    assert!(
        e.code() == Code::Remote && e.detail().contains("redirects to https://elsewhere.example/"),
        "{e}"
    );
    assert_eq!(prepared.asked(), 1);
}

#[test]
fn another_version_is_prepared_before_its_answer_is_read() {
    let other =
        ResponseTemplate::new(200).insert_header(VERSION_HEADER, "99.0.1").set_body_json(good());
    let e = failed(&Prepared::answers(other).client());
    assert!(e.code() == Code::Remote && e.detail().contains("guardcell 99.0.1"), "{e}");
}

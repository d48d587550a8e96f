//! Every way in which an address may fail to answer, and what is said then.

use crate::server::{AIR, Server, current, follow};
use flate2::Compression;
use flate2::write::GzEncoder;
use std::io::{Read as _, Write as _};
use std::net::TcpListener;
use std::time::{Duration, Instant};
use wiremock::matchers::{header, path};
use wiremock::{Mock, ResponseTemplate};

fn air() -> ResponseTemplate {
    ResponseTemplate::new(200).set_body_raw(AIR, "application/json")
}

fn any() -> wiremock::MockBuilder {
    Mock::given(wiremock::matchers::any())
}

fn says(map: &str) -> String {
    follow(map).unwrap_err().to_string()
}

#[test]
fn reads_one_reading_with_a_key_from_the_environment() {
    let server = Server::new();
    server.mount(
        Mock::given(header("authorization", "Bearer t0ken-of-the-house")).respond_with(air()),
    );
    let url = format!("{}/air?key=${{FERNHOLLOW_TOKEN}}", server.url());
    let map = current(&url, "headers = { Authorization = \"Bearer ${FERNHOLLOW_TOKEN}\" }");
    let read = follow(&map).unwrap();
    assert_eq!((read.readings[0].temp_c, read.readings[0].rh_percent), (18.5, 88.0));
    let everything = serde_json::to_string(&read).unwrap() + &format!("{read:?}");
    assert!(!everything.contains("t0ken"), "{everything}");
    assert_eq!(server.requests()[0].url.query(), Some("key=t0ken-of-the-house"));
}

#[test]
fn a_fault_repeats_neither_key_nor_query() {
    let server = Server::new();
    server.mount(any().respond_with(ResponseTemplate::new(403)));
    let url = format!("{}/air?key=${{FERNHOLLOW_TOKEN}}&x=1", server.url());
    let words = says(&current(&url, ""));
    assert!(words.contains("403") && words.contains("/air?…"), "{words}");
    assert!(!words.contains("t0ken") && !words.contains("x=1"), "{words}");
    let missing = says(&current("http://127.0.0.1/${NOWHERE}", ""));
    assert!(missing.contains("NOWHERE") && missing.contains("not set"), "{missing}");
}

#[test]
fn not_found_is_not_asked_again() {
    let server = Server::new();
    server.mount(any().respond_with(ResponseTemplate::new(404)).expect(1));
    let words = says(&current(&server.url(), ""));
    assert!(words.contains("404 Not Found") && words.contains("check the path"), "{words}");
    assert_eq!(server.requests().len(), 1);
}

#[test]
fn too_many_requests_waits_as_asked() {
    let server = Server::new();
    let busy = ResponseTemplate::new(429).insert_header("Retry-After", "1");
    server.mount(any().respond_with(busy).up_to_n_times(1).with_priority(1));
    server.mount(any().respond_with(air()).with_priority(2));
    let start = Instant::now();
    follow(&current(&server.url(), "")).unwrap();
    assert!(start.elapsed() >= Duration::from_secs(1));
    assert_eq!(server.requests().len(), 2);
}

#[test]
fn a_wait_past_the_bound_is_told_and_not_waited() {
    let server = Server::new();
    let busy = ResponseTemplate::new(429).insert_header("Retry-After", "600");
    server.mount(any().respond_with(busy));
    let start = Instant::now();
    let words = says(&current(&server.url(), ""));
    assert!(words.contains("429") && words.contains("wait 600 s"), "{words}");
    assert!(start.elapsed() < Duration::from_secs(5));
    assert_eq!(server.requests().len(), 1);
}

#[test]
fn a_server_fault_is_tried_again_and_then_told() {
    let server = Server::new();
    server.mount(any().respond_with(ResponseTemplate::new(500)));
    let words = says(&current(&server.url(), ""));
    assert!(words.contains("500 Internal Server Error, 3 times"), "{words}");
    assert_eq!(server.requests().len(), 3);
    let better = Server::new();
    better.mount(any().respond_with(ResponseTemplate::new(503)).up_to_n_times(2).with_priority(1));
    better.mount(any().respond_with(air()).with_priority(2));
    follow(&current(&better.url(), "")).unwrap();
    assert_eq!(better.requests().len(), 3);
}

#[test]
fn an_answer_too_large_is_cut_short_also_when_packed() {
    let server = Server::new();
    let plain = vec![b' '; 2 * 1024 * 1024];
    let mut packer = GzEncoder::new(Vec::new(), Compression::best());
    packer.write_all(&vec![b' '; 64 * 1024 * 1024]).unwrap();
    let packed = packer.finish().unwrap();
    assert!(packed.len() < 1024 * 1024);
    server.mount(
        Mock::given(path("/packed")).respond_with(
            ResponseTemplate::new(200)
                .insert_header("Content-Encoding", "gzip")
                .set_body_raw(packed, "application/json"),
        ),
    );
    server.mount(
        Mock::given(path("/plain"))
            .respond_with(ResponseTemplate::new(200).set_body_raw(plain, "application/json")),
    );
    for which in ["plain", "packed"] {
        let words = says(&current(&format!("{}/{which}", server.url()), ""));
        assert!(words.contains("larger than 1 MiB"), "{which}: {words}");
    }
}

#[test]
fn a_page_is_not_json() {
    let server = Server::new();
    let page = ResponseTemplate::new(200).set_body_raw("<html>Log in</html>", "text/html");
    server.mount(any().respond_with(page));
    let words = says(&current(&server.url(), ""));
    assert!(words.contains("not JSON (text/html)"), "{words}");
}

#[test]
fn a_slow_answer_is_given_up() {
    let server = Server::new();
    server.mount(any().respond_with(air().set_delay(Duration::from_secs(20))));
    let map = current(&server.url(), "").replace("total_s = 5", "total_s = 0.3\nretries = 1");
    let start = Instant::now();
    let words = says(&map);
    assert!(words.contains("within 0.3 s, 2 times"), "{words}");
    assert!(start.elapsed() < Duration::from_secs(10));
}

/// A server that takes one connection after another and does as told with each.
fn raw(serve: impl Fn(&mut std::net::TcpStream) + Send + 'static) -> String {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let url = format!("http://{}", listener.local_addr().unwrap());
    std::thread::spawn(move || {
        for stream in listener.incoming() {
            let Ok(mut stream) = stream else { return };
            let mut request = [0; 2048];
            let _ = stream.read(&mut request);
            serve(&mut stream);
        }
    });
    url
}

const HEAD: &[u8] =
    b"HTTP/1.1 200 OK\r\nContent-Type: application/json\r\nContent-Length: 100000\r\n\r\n";

#[test]
fn a_body_that_trickles_is_given_up() {
    let url = raw(|stream| {
        let _ = stream.write_all(HEAD);
        while stream.write_all(b" ").and_then(|()| stream.flush()).is_ok() {
            std::thread::sleep(Duration::from_millis(20));
        }
    });
    let map = current(&url, "").replace("total_s = 5", "total_s = 0.5\nretries = 0");
    let start = Instant::now();
    let words = says(&map);
    assert!(words.contains("within 0.5 s"), "{words}");
    assert!(start.elapsed() < Duration::from_secs(5), "{:?}", start.elapsed());
}

#[test]
fn a_body_that_breaks_off_is_told() {
    let url = raw(|stream| {
        let _ = stream.write_all(HEAD);
        let _ = stream.write_all(b"{\"at\"");
    });
    let words = says(&current(&url, "").replace("total_s = 5", "total_s = 5\nretries = 1"));
    assert!(words.contains("broke off, 2 times"), "{words}");
}

#[test]
fn nothing_listens_there() {
    let free = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
    let words = says(&current(&format!("http://{free}"), ""));
    assert!(words.contains("refused, 3 times"), "{words}");
}

/// `.invalid` has no addresses and never will (RFC 2606, section 2).
#[test]
fn a_name_without_an_address() {
    let words = says(&current("http://fernhollow.invalid/air", ""));
    assert!(words.contains("\"fernhollow.invalid\" cannot be resolved"), "{words}");
}

#[test]
fn what_is_not_tls_is_told() {
    let server = Server::new();
    let words = says(&current(&server.url().replace("http://", "https://"), ""));
    assert!(words.contains("TLS") && words.contains("speaks https"), "{words}");
}

#[test]
fn redirects_are_few_and_keep_headers_at_home() {
    let other = Server::new();
    other.mount(any().respond_with(air()));
    let server = Server::new();
    let to = |target: &str| ResponseTemplate::new(302).insert_header("Location", target);
    server.mount(Mock::given(path("/near")).respond_with(to("/air")));
    server.mount(Mock::given(path("/air")).respond_with(air()));
    server.mount(Mock::given(path("/far")).respond_with(to(&other.url())));
    server.mount(Mock::given(path("/round")).respond_with(to("/round")));
    server.mount(Mock::given(path("/file")).respond_with(to("file:///etc/hostname")));
    let map = |path: &str| {
        current(
            &format!("{}/{path}", server.url()),
            "headers = { Authorization = \"Bearer ${FERNHOLLOW_TOKEN}\" }",
        )
    };
    follow(&map("near")).unwrap();
    follow(&map("far")).unwrap();
    let there = &other.requests()[0];
    assert!(there.headers.get("authorization").is_none(), "{there:?}");
    assert!(says(&map("round")).contains("4th redirect"));
    assert!(says(&map("file")).contains("neither http nor https"));
    assert_eq!(server.requests().iter().filter(|r| r.url.path() == "/round").count(), 4);
}

#[test]
fn a_key_in_the_path_is_hidden() {
    let server = Server::new();
    server.mount(any().respond_with(ResponseTemplate::new(403)));
    let url = format!("{}/keys/${{FERNHOLLOW_TOKEN}}/air", server.url());
    let words = says(&current(&url, ""));
    assert!(words.contains("/keys/…/air") && !words.contains("t0ken"), "{words}");
    let other = Server::new();
    other.mount(any().respond_with(air()));
    let url = format!("{}/keys/${{FERNHOLLOW_TOKEN}}/air", other.url());
    let read = follow(&current(&url, "")).unwrap();
    assert!(!format!("{read:?}").contains("t0ken"), "{read:?}");
}

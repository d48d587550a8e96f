//! Every path of the server answers as described in its API description and refuses as in RFC 9457.

mod support;

use guardcell::calls::{ALL, AnyCall, Call, DayRibbon, find};
use guardcell_server::Problem;
use guardcell_xtask::schemas::Examples;
use jsonschema::Validator;
use serde_json::Value;
use std::sync::LazyLock;
use support::{Answer, Running, config, root, start};

static SERVER: LazyLock<Running> = LazyLock::new(|| start(config()));

fn document() -> Value {
    SERVER.get("/openapi.json").json()
}

/// The schema of a component, with the rest of the document to refer to.
fn component(name: &str) -> Validator {
    let mut schema = document();
    schema["$ref"] = format!("#/components/schemas/{name}").into();
    jsonschema::options().should_validate_formats(true).build(&schema).unwrap()
}

fn problem(answer: &Answer, status: u16, kind: &str) -> Problem {
    assert_eq!(answer.status, status, "{answer:?}");
    assert_eq!(answer.header("content-type"), Some("application/problem+json"), "{answer:?}");
    let schema = std::fs::read_to_string(root().join("schemas/problem.schema.json")).unwrap();
    let schema: Value = serde_json::from_str(&schema).unwrap();
    let validator = jsonschema::options().should_validate_formats(true).build(&schema).unwrap();
    if let Err(e) = validator.validate(&answer.json()) {
        panic!("{e}: {answer:?}");
    }
    let problem: Problem = serde_json::from_slice(&answer.body).unwrap();
    assert_eq!(problem.kind, format!("/problems#{kind}"), "{problem:?}");
    assert_eq!(problem.code.as_str(), kind);
    assert_eq!(problem.status, status);
    let id = answer.header("x-request-id").unwrap();
    assert_eq!(problem.instance.as_deref(), Some(format!("/requests/{id}").as_str()));
    problem
}

fn path(call: &AnyCall) -> String {
    format!("/v1/{}", call.path())
}

/// The answer of the library, or the code of its refusal.
fn library(call: &AnyCall, request: &Value) -> Result<Value, guardcell::Error> {
    Ok(serde_json::from_slice(&call.run(request.to_string().as_bytes())?).unwrap())
}

#[test]
fn every_call_answers_its_examples_as_the_library_does() {
    for call in ALL {
        let response = document()["paths"][path(call)]["post"]["responses"]["200"]["content"]
            ["application/json"]["schema"]["$ref"]
            .as_str()
            .unwrap()
            .rsplit('/')
            .next()
            .unwrap()
            .to_owned();
        let validator = component(&response);
        let examples = Examples::of(call, &root()).unwrap();
        for good in examples.good {
            let answer = SERVER.post(&path(call), good.to_string().as_bytes());
            let expected = library(call, &good).unwrap();
            assert_eq!(answer.status, 200, "{}: {}", call.name(), answer.text());
            assert_eq!(answer.header("content-type"), Some("application/json"));
            assert_eq!(answer.json(), expected, "{}", call.name());
            if let Err(e) = validator.validate(&expected) {
                panic!("{}: {e} at {}", call.name(), e.instance_path());
            }
        }
        for bad in examples.bad {
            let answer = SERVER.post(&path(call), bad.value.to_string().as_bytes());
            let expected = library(call, &bad.value).unwrap_err();
            let p = problem(&answer, 422, expected.code().as_str());
            assert_eq!(p.pointer, expected.pointer(), "{}: {}", call.name(), bad.why);
            assert_eq!(p.detail, expected.detail(), "{}: {}", call.name(), bad.why);
            assert_eq!(p.hint, expected.hint(), "{}: {}", call.name(), bad.why);
        }
    }
}

#[test]
fn a_fault_has_pointer_field_detail_and_hint() {
    let mut request: Value = serde_json::from_str(find("advise").unwrap().example()).unwrap();
    request["readings"][0]["rh_percent"] = 140.into();
    let p =
        problem(&SERVER.post("/v1/advice", request.to_string().as_bytes()), 422, "out-of-range");
    assert_eq!(p.pointer, "/readings/0/rh_percent");
    assert_eq!(p.field.as_deref(), Some("rh_percent"));
    assert!(p.detail.contains("140") && p.hint.contains("0 to 100"), "{p:?}");

    let p = problem(
        &SERVER.post("/v1/conversions", br#"{"quantity": "300 ppm", "to": "mg/L"}"#),
        422,
        "ambiguous-ppm",
    );
    assert_eq!(p.pointer, "/quantity");
    assert!(p.hint.contains("ppm N"), "{p:?}");

    let p = problem(&SERVER.post("/v1/air", br#"{"temp_c": "warm"}"#), 422, "wrong-form");
    assert_eq!(p.pointer, "/temp_c");
}

#[test]
fn every_type_of_problem_is_documented() {
    let page = SERVER.get("/problems");
    assert_eq!(page.header("content-type"), Some("text/html; charset=utf-8"));
    let text = page.text();
    for code in guardcell::Code::ALL {
        assert!(text.contains(&format!("id=\"{code}\"")), "{code}");
    }
    assert!(document()["paths"]["/problems"]["get"].is_object());
    assert!(page.header("content-security-policy").is_some());
}

#[test]
fn every_answer_says_its_version() {
    for path in ["/v1/taxa/Vanda", "/healthz", "/", "/no/such/path"] {
        let answer = SERVER.get(path);
        assert_eq!(answer.header("guardcell-version"), Some(env!("CARGO_PKG_VERSION")), "{path}");
    }
}

#[test]
fn a_chart_is_data_or_a_picture() {
    let path = "/v1/charts/day";
    let body = DayRibbon::EXAMPLE;
    let json = ("content-type", "application/json");
    let picture = SERVER.send("POST", path, &[json, ("accept", "image/svg+xml")], body.as_bytes());
    assert_eq!(picture.status, 200);
    assert_eq!(picture.header("content-type"), Some("image/svg+xml"));
    let request = serde_json::from_str(body).unwrap();
    assert_eq!(picture.text(), DayRibbon::run(&request).unwrap().svg());
    let data = SERVER.send("POST", path, &[json, ("accept", "*/*")], body.as_bytes());
    assert_eq!(data.header("content-type"), Some("application/json"));
    for answer in [picture, data] {
        assert!(answer.header("vary").unwrap().contains("accept"), "{answer:?}");
    }

    let mut damp: Value = serde_json::from_str(body).unwrap();
    damp["situation"]["readings"][0]["rh_percent"] = 140.into();
    let p = problem(&SERVER.post(path, damp.to_string().as_bytes()), 422, "out-of-range");
    assert_eq!(p.pointer, "/situation/readings/0/rh_percent");
    let mut elsewhere: Value = serde_json::from_str(body).unwrap();
    elsewhere["area"] = "attic".into();
    let answer = SERVER.post(path, elsewhere.to_string().as_bytes());
    assert_eq!(answer.status, 422);
    assert_eq!(answer.json()["pointer"], "/area");
}

#[test]
fn measurements_are_a_table() {
    let answer = SERVER.get("/v1/measurements");
    assert_eq!(answer.header("content-type"), Some("text/csv; charset=utf-8"));
    let mut lines = csv::Reader::from_reader(answer.body.as_slice());
    let columns = lines.headers().unwrap().len();
    let rows: Vec<csv::StringRecord> = lines.records().collect::<Result<_, _>>().unwrap();
    assert_eq!(columns, guardcell::reference::darwin_core::COLUMNS.len());
    assert_eq!(rows.len(), guardcell::reference::darwin_core::measurements().count());
}

#[test]
fn names_are_looked_up_and_cached() {
    let answer = SERVER.get("/v1/taxa/Cattleya%20labiata");
    assert_eq!(answer.status, 200);
    assert_eq!(answer.json()["name"], "Cattleya labiata");
    component("GenusResponse").validate(&answer.json()).map_err(|e| e.to_string()).unwrap();
    assert_eq!(answer.header("cache-control"), Some("public, max-age=3600"));
    let tag = answer.header("etag").unwrap().replace("w/", "W/");
    let again = SERVER.send("GET", "/v1/taxa/Cattleya%20labiata", &[("if-none-match", &tag)], b"");
    assert_eq!(again.status, 304);
    assert!(again.body.is_empty());

    let found = SERVER.get("/v1/taxa/search?query=dendro&limit=3").json();
    component("SearchResponse").validate(&found).map_err(|e| e.to_string()).unwrap();
    assert_eq!(found["matches"].as_array().unwrap().len(), 3);
    assert_eq!(found["more"], true);

    let unknown = SERVER.get("/v1/taxa/Zzyzx%20nova?leaf=thick");
    assert_eq!(unknown.status, 200, "an unknown name is an answer");
    assert_eq!(unknown.json()["outcome"], "unknown");

    let all = SERVER.get("/v1/catalogue").json();
    component("CatalogueResponse").validate(&all).map_err(|e| e.to_string()).unwrap();
    assert!(all["names"].as_array().unwrap().len() > 1000);

    for (path, code, field) in [
        ("/v1/taxa/search?query=", "missing", "query"),
        ("/v1/taxa/search", "wrong-form", "query"),
        ("/v1/taxa/search?query=C&limit=900", "wrong-form", "limit"),
        ("/v1/taxa/search?query=C&limit=x", "wrong-form", "limit"),
        ("/v1/taxa/search?query=C&query=D", "wrong-form", "query"),
        ("/v1/taxa/search?query=C&size=2", "wrong-form", "size"),
        ("/v1/taxa/Cattleya?leaf=fat", "wrong-form", "leaf"),
    ] {
        let answer = SERVER.get(path);
        assert_eq!(answer.status, 422, "{path}");
        let p: Problem = serde_json::from_slice(&answer.body).unwrap();
        assert_eq!(p.field.as_deref(), Some(field), "{path}: {p:?}");
        if code != "wrong-form" {
            problem(&answer, 422, code);
        }
    }
    problem(&SERVER.get("/v1/taxa/%ff"), 422, "wrong-form");
    let long = format!("/v1/taxa/{}", "a".repeat(300));
    assert_eq!(problem(&SERVER.get(&long), 422, "too-long").field.as_deref(), Some("query"));
}

#[test]
fn other_media_types_and_malformed_bodies_are_refused() {
    let post =
        |headers: &[(&str, &str)], body: &[u8]| SERVER.send("POST", "/v1/air", headers, body);
    let json = [("content-type", "application/json")];
    let body = br#"{"temp_c": 22, "rh_percent": 65}"#;
    assert_eq!(post(&json, body).status, 200);
    assert_eq!(post(&[("content-type", "application/json; charset=UTF-8")], body).status, 200);
    problem(&post(&[], body), 415, "unsupported-media-type");
    problem(&post(&[("content-type", "text/plain")], body), 415, "unsupported-media-type");
    problem(
        &post(&[("content-type", "application/json; charset=latin1")], body),
        415,
        "unsupported-media-type",
    );
    for malformed in [&b"{"[..], b"{\"temp_c\": 22,}", b"", b"\xff\xfe", b"nonsense", b"{}{}"] {
        let answer = post(&json, malformed);
        let p: Problem = serde_json::from_slice(&answer.body).unwrap();
        assert!(matches!(answer.status, 400 | 422), "{p:?}");
    }
    problem(&post(&json, b"{\"temp_c\": 22, \"rh_percent\": 1e999}"), 422, "out-of-range");
    let p = problem(&post(&json, b"{\"temp_c\": 22, \"rh_percent\": NaN}"), 400, "malformed-json");
    assert_eq!(p.place.and_then(|place| place.line), Some(1));
    problem(&post(&json, b"{\"temp_c\": 22, \"rh_percent\": 65} tail"), 400, "malformed-json");
    problem(&SERVER.get("/no/such/path"), 404, "not-found");
    let answer = SERVER.get("/v1/air");
    problem(&answer, 405, "method-not-allowed");
    assert_eq!(answer.header("allow"), Some("post"));
    problem(&SERVER.send("DELETE", "/v1/taxa/Cattleya", &[], b""), 405, "method-not-allowed");
}

#[test]
fn depth_and_size_are_bounded() {
    let nested = format!("{}{}", "[".repeat(100_000), "]".repeat(100_000));
    problem(&SERVER.post("/v1/advice", nested.as_bytes()), 400, "too-deep");
    let objects = "{\"site\":".repeat(5000);
    problem(&SERVER.post("/v1/advice", objects.as_bytes()), 400, "too-deep");
    let large = vec![b' '; (4 << 20) + 1];
    problem(&SERVER.post("/v1/advice", &large), 413, "too-large");
    let mut chunked = b"400001\r\n".to_vec();
    chunked.extend_from_slice(&large);
    chunked.extend_from_slice(b"\r\n0\r\n\r\n");
    let mut stream = SERVER.connect();
    use std::io::Write as _;
    stream
        .write_all(b"POST /v1/air HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\ncontent-type: application/json\r\ntransfer-encoding: chunked\r\n\r\n")
        .unwrap();
    let _ = stream.write_all(&chunked);
    problem(&Answer::read(&mut stream), 413, "too-large");
}

#[test]
fn another_host_name_is_not_answered() {
    for host in ["example.org", "localhost.example.org:80", "10.0.0.1", ""] {
        let answer = SERVER.send("GET", "/v1/taxa/Cattleya", &[("host", host)], b"");
        problem(&answer, 421, "other-host");
    }
    for host in ["localhost", "localhost:8427", "127.0.0.1:1", "[::1]:8427"] {
        assert_eq!(SERVER.send("GET", "/healthz", &[("host", host)], b"").status, 200, "{host}");
    }
}

/// RFC 9112, section 3.2: no or more than one Host is answered 400.
#[test]
fn one_host_is_named() {
    use std::io::Write as _;
    for (head, status) in [
        ("GET /healthz HTTP/1.1\r\nhost: localhost\r\nhost: localhost\r\n", 400),
        ("GET /healthz HTTP/1.1\r\nhost: localhost\r\nHost: example.org\r\n", 400),
        ("GET /healthz HTTP/1.1\r\n", 400),
        ("GET /healthz HTTP/1.1\r\nhost: localhost\r\n", 200),
    ] {
        let mut stream = SERVER.connect();
        write!(stream, "{head}connection: close\r\n\r\n").unwrap();
        let answer = Answer::read(&mut stream);
        assert_eq!(answer.status, status, "{head}");
        if status == 400 {
            problem(&answer, 400, "malformed-http");
        }
    }
}

#[test]
fn a_stream_answers_line_by_line() {
    let call = find("advise").unwrap();
    let good = Examples::of(call, &root()).unwrap().good;
    let expected: Vec<Value> = good.iter().map(|g| library(call, g).unwrap()).collect();
    let lines = format!("{}\n\n{{\"site\": 1}}\nnot json\r\n{}", good[0], good[1]);
    let media = [("content-type", "application/x-ndjson")];
    let answer = SERVER.send("POST", "/v1/advice/stream", &media, lines.as_bytes());
    assert_eq!(answer.status, 200);
    assert_eq!(answer.header("content-type"), Some("application/x-ndjson"));
    let validator = component("AnswerLine");
    let out: Vec<Value> = answer.text().lines().map(|l| serde_json::from_str(l).unwrap()).collect();
    for line in &out {
        if let Err(e) = validator.validate(line) {
            panic!("{e}: {line}");
        }
    }
    let numbers: Vec<u64> = out.iter().map(|l| l["line"].as_u64().unwrap()).collect();
    assert_eq!(numbers, [1, 3, 4, 5]);
    assert_eq!(out[0]["answer"], expected[0]);
    assert_eq!(out[1]["problem"]["pointer"], "/site");
    assert_eq!(out[2]["problem"]["type"], "/problems#malformed-json");
    assert_eq!(out[3]["answer"], expected[1]);
    problem(&SERVER.post("/v1/advice/stream", b"{}"), 415, "unsupported-media-type");
}

#[test]
fn every_call_answers_lines() {
    let validator = component("AnswerLine");
    for call in ALL {
        let good = Examples::of(call, &root()).unwrap().good;
        let lines = format!("{}\n{{\"no_such_field\": 1}}\n{}\n", good[0], good[0]);
        let media = [("content-type", "application/x-ndjson")];
        let path = format!("/v1/{}/stream", call.path());
        let answer = SERVER.send("POST", &path, &media, lines.as_bytes());
        assert_eq!(answer.status, 200, "{path}");
        let out: Vec<Value> =
            answer.text().lines().map(|l| serde_json::from_str(l).unwrap()).collect();
        assert!(out.iter().all(|line| validator.is_valid(line)), "{path}");
        let expected = library(call, &good[0]).unwrap();
        assert_eq!(out.len(), 3, "{path}");
        assert_eq!((&out[0]["answer"], &out[2]["answer"]), (&expected, &expected), "{path}");
        assert_eq!(out[1]["problem"]["code"], "wrong-form", "{path}");
    }
}

#[test]
fn request_ids_and_compression() {
    let asked = [("x-request-id", "round-7"), ("accept-encoding", "gzip")];
    let answer = SERVER.send("GET", "/openapi.json", &asked, b"");
    assert_eq!(answer.header("x-request-id"), Some("round-7"));
    assert_eq!(answer.header("content-encoding"), Some("gzip"));
    assert!(answer.body.starts_with(&[0x1f, 0x8b]), "not gzip");
    assert!(answer.header("vary").unwrap().contains("accept-encoding"));
    // an id that is not a plain word is not repeated
    let forged = [("x-request-id", "a b\"c")];
    let id =
        SERVER.send("GET", "/healthz", &forged, b"").header("x-request-id").unwrap().to_owned();
    assert!(!id.contains('"') && !id.contains(' '));
}

#[test]
fn the_server_can_be_monitored() {
    assert_eq!(SERVER.get("/healthz").text(), "ok\n");
    assert_eq!(SERVER.get("/readyz").text(), "ready\n");
    let _ = SERVER.get("/v1/taxa/Vanda");
    let metrics = SERVER.get("/metrics").text();
    assert!(
        metrics.contains(
            "guardcell_requests_total{route=\"/v1/taxa/{query}\",method=\"GET\",status=\"200\"}"
        ),
        "{metrics}"
    );
    assert!(metrics.ends_with("# EOF\n"));
}

#[test]
fn the_page_needs_nothing_from_elsewhere() {
    let page = SERVER.get("/");
    assert_eq!(page.status, 200);
    let policy = page.header("content-security-policy").unwrap();
    assert!(policy.contains("default-src 'none'") && policy.contains("script-src 'self'"));
    let html = page.text();
    for part in ["page.css", "page.js", "icon.svg"] {
        assert!(html.contains(part), "{part}");
    }
    // every file of the page is served, names nothing elsewhere and is kept for times without a
    // connection
    let worker = SERVER.get("/worker.js").text();
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../crates/server/page");
    let mut seen = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let file = entry.unwrap().file_name().into_string().unwrap();
        if file.ends_with(".png") || file == "engine-worker.js" {
            continue; // pictures; and what only a page with an engine has
        }
        let path = if file == "index.html" { "/".to_owned() } else { format!("/{file}") };
        let text = SERVER.get(&path).text();
        assert!(!text.is_empty(), "{path}");
        for elsewhere in ["http://", "https://", "//cdn"] {
            let named = text.replace("http://www.w3.org/2000/svg", "");
            assert!(!named.contains(elsewhere), "{path} names {elsewhere}");
        }
        let kept = if path == "/" { "\"./\"".to_owned() } else { format!("\"{file}\"") };
        assert!(file == "worker.js" || worker.contains(&kept), "{file} is not kept");
        seen += 1;
    }
    assert!(seen > 10, "{seen}");
    for strict in ["'unsafe-inline'", "'unsafe-eval'", "data:", "*", "http"] {
        assert!(!policy.contains(strict), "{policy}");
    }
    let example = SERVER.get("/example.json").json();
    assert!(example["plants"].as_array().unwrap().len() > 3);
}

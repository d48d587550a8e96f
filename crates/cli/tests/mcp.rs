//! `guardcell mcp` spoken to as a client does, line by line.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs, reason = "a test")]

use serde_json::{Value, json};
use std::io::{BufRead as _, BufReader, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().unwrap()
}

/// A running server and the client's ends of its streams.
struct Session {
    child: Child,
    input: Option<ChildStdin>,
    output: BufReader<ChildStdout>,
}

impl Session {
    fn start(args: &[&str], dir: &Path) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_guardcell"))
            .arg("mcp")
            .args(args)
            .current_dir(dir)
            .env_remove("GUARDCELL_DIR")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let input = child.stdin.take();
        let output = BufReader::new(child.stdout.take().unwrap());
        let mut session = Self { child, input, output };
        let hello = session.ask(
            "initialize",
            &json!({"protocolVersion": "2025-06-18", "capabilities": {},
                "clientInfo": {"name": "test", "version": "1"}}),
        );
        assert_eq!(hello["result"]["serverInfo"]["name"], "guardcell", "{hello}");
        session.send(&json!({"jsonrpc": "2.0", "method": "notifications/initialized"}).to_string());
        session
    }

    fn send(&mut self, line: &str) {
        let input = self.input.as_mut().unwrap();
        input.write_all(line.as_bytes()).unwrap();
        input.write_all(b"\n").unwrap();
    }

    fn next(&mut self) -> Value {
        let mut line = String::new();
        self.output.read_line(&mut line).unwrap();
        serde_json::from_str(&line).unwrap_or_else(|e| panic!("{e}: {line:?}"))
    }

    fn request(&mut self, id: u64, method: &str, params: &Value) {
        let message = json!({"jsonrpc": "2.0", "id": id, "method": method, "params": params});
        self.send(&message.to_string());
    }

    fn ask(&mut self, method: &str, params: &Value) -> Value {
        self.request(1, method, params);
        self.next()
    }

    fn call(&mut self, name: &str, arguments: &Value) -> Value {
        self.ask("tools/call", &json!({"name": name, "arguments": arguments}))
    }

    /// The error of a refused tool.
    fn refused(&mut self, name: &str, arguments: &Value) -> Value {
        let answer = self.call(name, arguments);
        assert_eq!(answer["result"]["isError"], true, "{answer}");
        serde_json::from_str(answer["result"]["content"][0]["text"].as_str().unwrap()).unwrap()
    }

    /// Ends the input; the program must end by itself once what it still answers is read.
    fn end(mut self) {
        drop(self.input.take());
        let until = Instant::now() + Duration::from_secs(60);
        let (child, output) = (&mut self.child, &mut self.output);
        let ended = std::thread::scope(|threads| {
            threads.spawn(|| std::io::copy(output, &mut std::io::sink()));
            while Instant::now() < until {
                if let Some(status) = child.try_wait().unwrap() {
                    return Some(status);
                }
                std::thread::sleep(Duration::from_millis(10));
            }
            // Else the reader waits for ever.
            let _ = child.kill();
            None
        });
        assert!(ended.expect("it ends with its input").success());
    }
}

impl Drop for Session {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[test]
fn every_call_is_a_tool_that_answers_its_example() {
    let empty = tempfile::tempdir().unwrap();
    let mut session = Session::start(&[], empty.path());
    let listed = session.ask("tools/list", &json!({}));
    let tools = listed["result"]["tools"].as_array().unwrap();
    let names: Vec<&str> = tools.iter().map(|t| t["name"].as_str().unwrap()).collect();
    let calls: Vec<&str> = guardcell::calls::ALL.iter().map(|c| c.name()).collect();
    assert_eq!(names, calls);
    for tool in tools {
        assert_eq!(tool["annotations"]["readOnlyHint"], true, "{}", tool["name"]);
        assert_eq!(tool["inputSchema"]["type"], "object");
        assert_eq!(tool["outputSchema"]["type"], "object");
    }
    for call in guardcell::calls::ALL {
        let arguments: Value = serde_json::from_str(call.example()).unwrap();
        let answer = session.call(call.name(), &arguments);
        let result = &answer["result"];
        assert_ne!(result["isError"], true, "{}: {answer}", call.name());
        let here = guardcell::call(call.name(), &arguments.to_string()).unwrap();
        assert_eq!(result["content"][0]["text"].as_str().unwrap(), here, "{}", call.name());
        let structured: Value = serde_json::from_str(&here).unwrap();
        assert_eq!(result["structuredContent"], structured, "{}", call.name());
    }
    // Without a folder there are no resources, and nothing records.
    assert!(session.ask("resources/list", &json!({})).get("error").is_some());
    assert!(session.call("record", &json!({})).get("error").is_some());
    session.end();
}

#[test]
fn refusals_have_the_fields_of_every_face() {
    let empty = tempfile::tempdir().unwrap();
    let mut session = Session::start(&[], empty.path());
    let error = session.refused("air", &json!({"temp_c": 25, "rh_percent": 140}));
    assert_eq!(
        (&error["code"], &error["pointer"]),
        (&json!("out-of-range"), &json!("/rh_percent"))
    );
    assert!(error["detail"].is_string() && error["hint"].is_string(), "{error}");
    let error = session.refused("air", &json!({}));
    assert_eq!(error["code"], "wrong-form");
    let unknown = session.call("aerate", &json!({}));
    assert_eq!(unknown["error"]["data"]["code"], "unknown-call", "{unknown}");
    // Arguments that are no object, and a line that is no message.
    let listed = session.ask("tools/call", &json!({"name": "air", "arguments": []}));
    assert_eq!(listed["error"]["data"]["code"], "wrong-form", "{listed}");
    let other = session.ask("tools/improve", &json!({}));
    assert_eq!(other["error"]["code"], -32601, "{other}");
    session.send("{\"jsonrpc\": ");
    let broken = session.next();
    assert_eq!(broken["error"]["code"], -32700);
    assert_eq!(broken["error"]["data"]["code"], "malformed-json");
    // And goes on.
    assert_ne!(
        session.call("air", &json!({"temp_c": 25, "rh_percent": 50}))["result"]["isError"],
        true
    );
    session.end();
}

#[test]
fn a_line_that_is_too_long_is_refused_and_the_next_is_read() {
    let empty = tempfile::tempdir().unwrap();
    let mut session = Session::start(&[], empty.path());
    session.send(&format!("{{\"jsonrpc\": \"{}\"}}", "x".repeat(5 << 20)));
    let refused = session.next();
    assert_eq!(refused["error"]["data"]["code"], "too-large");
    assert_ne!(
        session.call("air", &json!({"temp_c": 25, "rh_percent": 50}))["result"]["isError"],
        true
    );
    session.end();
}

/// Advice for many plants: a third of a millisecond each, optimised.
fn long(plants: usize) -> Value {
    let mut request: Value =
        serde_json::from_str(guardcell::calls::named("advise").unwrap().example()).unwrap();
    let plant = request["plants"][0].clone();
    let plants: Vec<Value> = (0..plants)
        .map(|i| {
            let mut plant = plant.clone();
            plant["id"] = json!(format!("FH-{i:04}"));
            plant
        })
        .collect();
    request["plants"] = Value::Array(plants);
    request
}

#[test]
fn too_many_open_requests_are_refused_and_a_cancelled_one_is_not_answered() {
    let empty = tempfile::tempdir().unwrap();
    let mut session = Session::start(&[], empty.path());
    let mut arguments = long(200);
    // Far longer to calculate than to read, so that a cancellation comes in time on a busy machine.
    arguments["hours"] = json!(168);
    for id in 100..140 {
        session.request(id, "tools/call", &json!({"name": "advise", "arguments": arguments}));
    }
    // All that can be cancelled are: the last eight were never taken.
    for id in 100..140 {
        let cancel = json!({"jsonrpc": "2.0", "method": "notifications/cancelled",
            "params": {"requestId": id, "reason": "changed my mind"}});
        session.send(&cancel.to_string());
    }
    session.request(
        7,
        "tools/call",
        &json!({"name": "air", "arguments": {"temp_c": 25, "rh_percent": 50}}),
    );
    let begun = Instant::now();
    let mut busy = 0;
    let mut answered = 0;
    loop {
        let message = session.next();
        if message["id"] == 7 {
            break;
        }
        match message["error"]["data"]["code"].as_str() {
            Some("busy") => busy += 1,
            _ => answered += 1,
        }
    }
    // At 32 open requests the rest is refused. Some may have been answered before they were
    // cancelled, but by far not all.
    assert!((1..=8).contains(&busy) && answered <= 16, "{busy} busy, {answered} answered");
    assert!(begun.elapsed() < Duration::from_secs(60));
    session.end();
}

#[test]
fn the_files_of_a_folder_are_resources() {
    let demo = root().join("demo-data");
    let mut session = Session::start(&["--dir", demo.to_str().unwrap()], &root());
    let listed = session.ask("resources/list", &json!({}));
    let uris: Vec<String> = listed["result"]["resources"]
        .as_array()
        .unwrap()
        .iter()
        .map(|r| r["uri"].as_str().unwrap().to_owned())
        .collect();
    for name in ["site.toml", "collection.csv", "water.toml", "labels/fernhollow-drop-6-2-5.toml"] {
        let uri = format!("guardcell://folder/{name}");
        assert!(uris.contains(&uri), "{uris:?}");
        let read = session.ask("resources/read", &json!({"uri": uri}));
        let text = std::fs::read_to_string(demo.join(name)).unwrap();
        assert_eq!(read["result"]["contents"][0]["text"].as_str().unwrap(), text);
    }
    // No address leads out of the folder.
    for uri in [
        "guardcell://folder/../Cargo.toml",
        "guardcell://folder/labels/../site.toml",
        "file:///etc/hostname",
        "guardcell://journal/latest",
    ] {
        let refused = session.ask("resources/read", &json!({"uri": uri}));
        assert_eq!(refused["error"]["data"]["code"], "not-found", "{uri}: {refused}");
    }
    session.end();
}

#[test]
fn only_a_named_journal_is_written() {
    let place = tempfile::tempdir().unwrap();
    let journal = place.path().join("journal.db");
    let mut session = Session::start(&["--journal", journal.to_str().unwrap()], place.path());
    let listed = session.ask("tools/list", &json!({}));
    let last = listed["result"]["tools"].as_array().unwrap().last().unwrap().clone();
    assert_eq!(
        (&last["name"], &last["annotations"]["readOnlyHint"]),
        (&json!("record"), &json!(false))
    );
    let entry = json!({"at": "2026-06-21T22:10:00+01:00", "site": "Fernhollow", "id": "fh-1",
        "event": {"kind": "note"}, "note": "Shutters down at ten."});
    let first = session.call("record", &entry);
    assert_eq!(first["result"]["structuredContent"]["already_there"], false, "{first}");
    let again = session.call("record", &entry);
    assert_eq!(again["result"]["structuredContent"]["already_there"], true, "{again}");
    let refused = session.refused(
        "record",
        &json!({"at": "2026-06-21T22:10:00+01:00",
        "site": "Fernhollow", "event": {"kind": "soak", "plants": ["FH-015"],
        "feed_strength_mg_l": -1, "duration_min": 30}}),
    );
    assert_eq!(refused["pointer"], "/event/feed_strength_mg_l");
    let read = session.ask("resources/read", &json!({"uri": "guardcell://journal/latest"}));
    let entries: Value =
        serde_json::from_str(read["result"]["contents"][0]["text"].as_str().unwrap()).unwrap();
    assert_eq!(entries.as_array().unwrap().len(), 1);
    assert_eq!(entries[0]["note"], "Shutters down at ten.");
    session.end();
}

#[test]
fn what_was_asked_before_the_end_is_answered() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_guardcell"))
        .arg("mcp")
        .current_dir(tempfile::tempdir().unwrap().path())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut input = child.stdin.take().unwrap();
    let lines = [
        json!({"jsonrpc": "2.0", "id": 1, "method": "initialize", "params": {
            "protocolVersion": "2025-06-18", "capabilities": {},
            "clientInfo": {"name": "test", "version": "1"}}}),
        json!({"jsonrpc": "2.0", "method": "notifications/initialized"}),
        json!({"jsonrpc": "2.0", "id": 2, "method": "tools/call",
            "params": {"name": "advise", "arguments": long(2_000)}}),
    ];
    for line in lines {
        writeln!(input, "{line}").unwrap();
    }
    drop(input);
    let out = child.wait_with_output().unwrap();
    assert!(out.status.success());
    let answers = String::from_utf8(out.stdout).unwrap();
    assert_eq!(answers.lines().count(), 2);
    let answer: Value = serde_json::from_str(answers.lines().nth(1).unwrap()).unwrap();
    assert_eq!(
        answer["result"]["structuredContent"]["plants"].as_array().map(Vec::len),
        Some(2_000)
    );
}

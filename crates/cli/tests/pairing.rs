//! `guardcell pair` and a server with a folder, as a grower and a phone use them: codes, devices, a
//! server that is ended by force in the middle of uploads, TLS.
#![allow(clippy::unwrap_used, clippy::panic, missing_docs, reason = "a test")]
#![allow(clippy::print_stdout, reason = "it prints its table")]

use guardcell::ledger::sync::{DeviceJournal, EntriesPage, EntriesTaken, EntryOutcome};
use guardcell::ledger::{Draft, Entry};
use std::collections::{BTreeMap, BTreeSet};
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::{SocketAddr, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

const PROGRAM: &str = env!("CARGO_BIN_EXE_guardcell");

struct Folder(tempfile::TempDir);

impl Folder {
    fn new() -> Self {
        let dir = tempfile::tempdir().unwrap();
        let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
        for file in ["site.toml", "collection.csv", "water.toml"] {
            std::fs::copy(data.join(file), dir.path().join(file)).unwrap();
        }
        Self(dir)
    }

    fn command(&self, args: &[&str]) -> Command {
        let mut command = Command::new(PROGRAM);
        command.args(args).current_dir(self.0.path()).env("NO_COLOR", "1");
        for name in ["GUARDCELL_DIR", "GUARDCELL_JOURNAL", "GUARDCELL_SERVER"] {
            command.env_remove(name);
        }
        command
    }

    fn run(&self, args: &[&str]) -> (i32, String, String) {
        let out = self.command(args).output().unwrap();
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        (out.status.code().unwrap(), text(out.stdout), text(out.stderr))
    }

    fn good(&self, args: &[&str]) -> String {
        let (code, stdout, stderr) = self.run(args);
        assert_eq!(code, 0, "{args:?}: {stderr}");
        stdout
    }

    fn code(&self) -> String {
        let made: serde_json::Value =
            serde_json::from_str(&self.good(&["pair", "--json"])).unwrap();
        made["code"].as_str().unwrap().to_owned()
    }

    fn serve(&self, more: &[&str]) -> Server {
        let args = [&["serve", "--log", "none"], more].concat();
        let mut child =
            self.command(&args).stderr(Stdio::piped()).stdout(Stdio::null()).spawn().unwrap();
        let mut says = BufReader::new(child.stderr.take().unwrap());
        let mut line = String::new();
        says.read_line(&mut line).unwrap();
        let address = line.split("://").nth(1).and_then(|rest| rest.split('/').next());
        let address = address.unwrap_or_else(|| panic!("{line}")).parse().unwrap();
        Server { child, address, says: line, rest: says }
    }
}

struct Server {
    child: Child,
    address: SocketAddr,
    /// The first line that it printed, and the rest.
    says: String,
    rest: BufReader<std::process::ChildStderr>,
}

impl Server {
    /// Ends it without a chance to finish anything.
    fn kill(mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Status and body of an answer; none where the connection failed.
fn ask(
    address: SocketAddr,
    method: &str,
    path: &str,
    token: &str,
    body: &[u8],
) -> Option<(u16, Vec<u8>)> {
    let mut stream = TcpStream::connect_timeout(&address, Duration::from_secs(5)).ok()?;
    stream.set_read_timeout(Some(Duration::from_secs(60))).ok()?;
    let mut head = format!("{method} {path} HTTP/1.1\r\nhost: localhost\r\nconnection: close\r\n");
    if !token.is_empty() {
        head += &format!("authorization: Bearer {token}\r\n");
    }
    if !body.is_empty() {
        let length = body.len();
        head += &format!("content-type: application/json\r\ncontent-length: {length}\r\n");
    }
    stream.write_all(format!("{head}\r\n").as_bytes()).ok()?;
    stream.write_all(body).ok()?;
    let mut all = Vec::new();
    stream.read_to_end(&mut all).ok()?;
    let end = all.windows(4).position(|w| w == b"\r\n\r\n")?;
    let head = String::from_utf8_lossy(&all[..end]).to_lowercase();
    let body = all[end + 4..].to_vec();
    let length = head.lines().find_map(|l| l.strip_prefix("content-length: "))?;
    (length.parse() == Ok(body.len())).then_some(())?;
    Some((head.split(' ').nth(1)?.parse().ok()?, body))
}

fn pair(folder: &Folder, address: SocketAddr, name: &str) -> String {
    let body = serde_json::json!({ "code": folder.code(), "name": name }).to_string();
    let (status, body) = ask(address, "POST", "/v1/pair", "", body.as_bytes()).unwrap();
    let answer: serde_json::Value = serde_json::from_slice(&body).unwrap();
    assert_eq!(status, 200, "{answer}");
    answer["token"].as_str().unwrap().to_owned()
}

fn entry(id: &str, number: usize) -> Entry {
    let draft: Draft = serde_json::from_value(serde_json::json!({
        "id": id, "at": format!("2026-06-21T05:{:02}:00-01:00", number % 60),
        "site": "Fernhollow Conservatory", "note": "x".repeat(number % 300),
        "event": { "kind": "wipe", "plants": ["FH-001"] },
    }))
    .unwrap();
    draft.checked(id, "2026-06-21T06:00:00Z").unwrap()
}

#[test]
fn a_code_is_printed_and_devices_are_listed_and_revoked() {
    let folder = Folder::new();
    assert_eq!(folder.good(&["pair", "--list"]), "No device is paired.\n");
    let shown = folder.good(&["pair", "--address", "http://192.168.1.7:8427/"]);
    let code = shown.lines().next().unwrap().strip_prefix("Code: ").unwrap();
    assert!(shown.contains(&format!("http://192.168.1.7:8427/#pair={code}\n")), "{shown}");
    assert!(shown.contains("10 minutes") && shown.contains("Over plain http"), "{shown}");
    assert!(shown.lines().filter(|l| l.starts_with("████")).count() > 10, "{shown}");
    assert!(!folder.good(&["pair", "--address", "https://house.local"]).contains("plain http"));

    let server = folder.serve(&["--bind", "127.0.0.1:0"]);
    // A name that steers terminals is refused, and the code still works.
    let code = folder.code();
    let try_name = |name: &str| {
        let body = serde_json::json!({ "code": code, "name": name }).to_string();
        ask(server.address, "POST", "/v1/pair", "", body.as_bytes()).unwrap().0
    };
    assert_eq!(
        (try_name("Phone \u{1b}[2J"), try_name("Phone"), try_name("Phone")),
        (422, 200, 403)
    );
}

#[test]
fn a_revoked_device_is_out_at_once() {
    let folder = Folder::new();
    let server = folder.serve(&["--bind", "127.0.0.1:0"]);
    let (phone, tablet) =
        (pair(&folder, server.address, "phone"), pair(&folder, server.address, "tablet"));
    let listed = folder.good(&["pair", "--list"]);
    assert!(listed.starts_with("phone   paired 20") && listed.ends_with("2 devices\n"), "{listed}");
    let status = |token: &str| ask(server.address, "GET", "/v1/folder", token, b"").unwrap().0;
    assert_eq!((status(&phone), status(&tablet)), (200, 200));
    assert_eq!(folder.good(&["pair", "--revoke", "phone"]), "\"phone\" is no longer paired.\n");
    assert_eq!((status(&phone), status(&tablet)), (401, 200));
    let (code, _, stderr) = folder.run(&["pair", "--revoke", "phone"]);
    assert_eq!(code, 2);
    assert!(stderr.contains("--revoke") && stderr.contains("tablet"), "{stderr}");

    // The folder is as its files say, with everything that a request for advice needs.
    let (_, body) = ask(server.address, "GET", "/v1/folder", &tablet, b"").unwrap();
    let contents: serde_json::Value = serde_json::from_slice(&body).unwrap();
    assert_eq!(contents["site"]["name"], "Fernhollow Conservatory");
    assert_eq!(contents["plants"].as_array().unwrap().len(), 48);
    assert!(contents["water"].is_object());
}

#[test]
fn pairing_needs_a_folder() {
    let empty = tempfile::tempdir().unwrap();
    let out = Command::new(PROGRAM)
        .args(["pair"])
        .current_dir(empty.path())
        .env_remove("GUARDCELL_DIR")
        .output()
        .unwrap();
    assert_eq!(out.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&out.stderr).contains("site.toml"));
    assert_eq!(std::fs::read_dir(empty.path()).unwrap().count(), 0);
}

/// Three devices upload while the server is ended by force and started again, ten times.
#[test]
fn nothing_acknowledged_is_lost_when_the_server_is_killed() {
    const KILLS: usize = 10;
    let folder = Folder::new();
    let server = folder.serve(&["--bind", "127.0.0.1:0"]);
    let address = server.address;
    let bind = address.to_string();
    let tokens = ["a", "b", "c"].map(|name| (name, pair(&folder, address, name)));
    let stop = AtomicBool::new(false);
    let started = Instant::now();
    let mut devices: Vec<(String, DeviceJournal, BTreeSet<String>, usize)> =
        std::thread::scope(|scope| {
            let stop = &stop;
            let threads: Vec<_> = tokens
                .iter()
                .map(|(name, token)| scope.spawn(move || upload(name, token, address, stop)))
                .collect();
            let mut server = server;
            for kill in 0..KILLS {
                std::thread::sleep(Duration::from_millis(150 + 70 * (kill as u64 % 4)));
                server.kill();
                server = folder.serve(&["--bind", &bind]);
            }
            stop.store(true, Ordering::Relaxed);
            let devices = threads.into_iter().map(|t| t.join().unwrap()).collect();
            drop(server);
            devices
        });

    let server = folder.serve(&["--bind", &bind]);
    for _ in 0..2 {
        for (token, device, acknowledged, _) in &mut devices {
            while device.waiting() > 0 {
                assert!(send(device, token, address, acknowledged));
            }
            while read(device, token, address).unwrap() {}
        }
    }
    drop(server);
    folder.good(&["journal", "verify"]);
    let export = folder.good(&["journal", "export"]);
    let entries: Vec<Entry> = export.lines().map(|l| serde_json::from_str(l).unwrap()).collect();
    let journal: BTreeMap<&str, &Entry> = entries.iter().map(|e| (e.id.as_str(), e)).collect();
    assert_eq!(journal.len(), entries.len(), "an entry is there more than once");
    let (mut acknowledged, mut failed) = (0, 0);
    for (_, device, known, lost) in &devices {
        let held: BTreeMap<&str, &Entry> =
            device.entries().into_iter().map(|e| (e.id.as_str(), e)).collect();
        assert_eq!(held, journal);
        for id in known {
            assert!(journal.contains_key(id.as_str()), "{id} was acknowledged and is lost");
        }
        acknowledged += known.len();
        failed += lost;
    }
    println!(
        "{KILLS} kills in {:.1} s: {acknowledged} entries acknowledged, 0 lost, {failed} requests \
         without an answer",
        started.elapsed().as_secs_f64()
    );
    assert!(acknowledged > 100 && failed >= 3, "{acknowledged} {failed}: the kills missed");
}

fn upload(
    name: &str,
    token: &str,
    address: SocketAddr,
    stop: &AtomicBool,
) -> (String, DeviceJournal, BTreeSet<String>, usize) {
    let (mut device, mut acknowledged, mut failed) = (DeviceJournal::default(), BTreeSet::new(), 0);
    let mut number = 0;
    while !stop.load(Ordering::Relaxed) {
        for _ in 0..4 {
            device.record(entry(&format!("{name}-{number}"), number)).unwrap();
            number += 1;
        }
        let sent = send(&mut device, token, address, &mut acknowledged);
        let read = number % 5 != 0 || read(&mut device, token, address).is_some();
        if !(sent && read) {
            failed += 1;
            std::thread::sleep(Duration::from_millis(20));
        }
        // A phone is no flood.
        std::thread::sleep(Duration::from_millis(40));
    }
    (token.to_owned(), device, acknowledged, failed)
}

/// Whether an answer came.
fn send(
    device: &mut DeviceJournal,
    token: &str,
    address: SocketAddr,
    acknowledged: &mut BTreeSet<String>,
) -> bool {
    let Some(list) = device.to_send() else { return true };
    let body = serde_json::to_vec(&list).unwrap();
    let Some((status, body)) = ask(address, "POST", "/v1/journal/entries", token, &body) else {
        return false;
    };
    if status != 200 {
        // Asked too often: it goes on later.
        std::thread::sleep(Duration::from_millis(300));
        return false;
    }
    let taken: EntriesTaken = serde_json::from_slice(&body).unwrap();
    for t in &taken.results {
        assert_ne!(t.outcome, EntryOutcome::Refused, "{t:?}");
        acknowledged.insert(t.id.clone().unwrap());
    }
    device.answered(&taken);
    true
}

/// Whether there is more; none where no answer came.
fn read(device: &mut DeviceJournal, token: &str, address: SocketAddr) -> Option<bool> {
    let path = format!("/v1/journal/entries?since={}", device.cursor());
    let (status, body) = ask(address, "GET", &path, token, b"")?;
    if status != 200 {
        return None;
    }
    let page: EntriesPage = serde_json::from_slice(&body).unwrap();
    device.arrived(&page);
    Some(page.more)
}

/// A certificate of its own and its key.
fn certificate(folder: &Path) -> (PathBuf, PathBuf) {
    let (cert, key) = (folder.join("house.pem"), folder.join("house.key"));
    let made = Command::new("openssl")
        .args(["req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1"])
        .args(["-nodes", "-days", "2", "-subj", "/CN=localhost"])
        .args(["-addext", "subjectAltName=DNS:localhost,IP:127.0.0.1"])
        .args(["-addext", "basicConstraints=critical,CA:FALSE"])
        .arg("-keyout")
        .arg(&key)
        .arg("-out")
        .arg(&cert)
        .output()
        .unwrap();
    assert!(made.status.success(), "{}", String::from_utf8_lossy(&made.stderr));
    (cert, key)
}

#[test]
fn tls_comes_from_certificate_and_key() {
    let folder = Folder::new();
    let (cert, key) = certificate(folder.0.path());
    let files = ["--tls-cert", cert.to_str().unwrap(), "--tls-key", key.to_str().unwrap()];
    let server = folder.serve(&[&["--bind", "127.0.0.1:0"], &files[..]].concat());
    assert!(server.says.contains("https://127.0.0.1"), "{}", server.says);
    let curl = |more: &[&str], path: &str| {
        let url = format!("https://{}{path}", server.address);
        let out =
            Command::new("curl").args(["-sS", "--max-time", "20"]).args(more).arg(url).output();
        out.unwrap()
    };
    let trusted = curl(&["--cacert", cert.to_str().unwrap()], "/healthz");
    assert_eq!(String::from_utf8_lossy(&trusted.stdout), "ok\n", "{trusted:?}");
    assert!(!curl(&[], "/healthz").status.success(), "nobody vouches for it");
    // Plain HTTP gets nothing at the same port, and whoever only connects holds nobody up.
    let idle = TcpStream::connect(server.address).unwrap();
    assert!(ask(server.address, "GET", "/healthz", "", b"").is_none());
    assert!(curl(&["--cacert", cert.to_str().unwrap()], "/healthz").status.success());
    drop(idle);

    let refused = |cert: &str, key: &str, words: &str| {
        let args = ["serve", "--bind", "127.0.0.1:0", "--tls-cert", cert, "--tls-key", key];
        let (code, _, stderr) = folder.run(&args);
        assert_ne!(code, 0);
        assert!(stderr.contains(words), "{stderr}");
    };
    let (good_cert, good_key) = (cert.to_str().unwrap(), key.to_str().unwrap());
    refused("site.toml", good_key, "no certificate");
    refused(good_cert, "site.toml", "no private key");
    refused("none.pem", good_key, "none.pem");
    let other = tempfile::tempdir().unwrap();
    let (_, other_key) = certificate(other.path());
    refused(good_cert, other_key.to_str().unwrap(), "cannot be used");
    let (code, _, stderr) = folder.run(&["serve", "--tls-cert", good_cert]);
    assert_eq!(code, 2, "{stderr}");
}

#[test]
fn a_public_address_without_tls_says_what_a_phone_cannot_do() {
    let folder = Folder::new();
    let lines = |more: &[&str]| {
        let mut server = folder.serve(&[&["--bind", "0.0.0.0:0", "--public"], more].concat());
        // It answers, or closes what is no TLS, once it has said everything.
        let _ = ask(server.address, "GET", "/healthz", "", b"");
        server.child.kill().unwrap();
        let mut text = server.says.clone();
        server.rest.read_to_string(&mut text).unwrap();
        text
    };
    let plain = lines(&[]);
    let says: Vec<&str> = plain.lines().filter(|l| l.contains("plain http")).collect();
    assert_eq!(says.len(), 1, "{plain}");
    assert!(says[0].contains("install") && says[0].contains("token"), "{plain}");
    assert!(plain.contains("Paired devices read this folder"), "{plain}");
    let (cert, key) = certificate(folder.0.path());
    let files = ["--tls-cert", cert.to_str().unwrap(), "--tls-key", key.to_str().unwrap()];
    assert!(!lines(&files).contains("plain http"));
}

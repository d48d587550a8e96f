//! `--server`: the answer of a server is the answer of this program, byte for byte, refusals
//! included; what cannot be asked of a server says so.
#![allow(clippy::expect_used, reason = "helpers of tests")]

mod run;

use run::{Demo, Output, demo_data, guardcell};
use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};

/// A server on a free port.
struct Server {
    child: Child,
    url: String,
}

impl Server {
    fn start(more: &[&str]) -> Self {
        let mut child = Command::new(env!("CARGO_BIN_EXE_guardcell"))
            .args(["serve", "--bind", "127.0.0.1:0", "--log", "none"])
            .args(more)
            .stderr(Stdio::piped())
            .spawn()
            .expect("the server starts");
        let mut said = String::new();
        BufReader::new(child.stderr.take().expect("piped")).read_line(&mut said).expect("a line");
        let url = said.split_whitespace().find(|w| w.starts_with("http://")).expect("an address");
        Self { url: url.to_owned(), child }
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn with_server(url: &str, args: &[&str]) -> Output {
    let mut all = args.to_vec();
    all.extend(["--server", url]);
    guardcell(&all)
}

/// Runs a command line here and by the server, as text and as JSON.
fn same(server: &Server, args: &[&str], code: i32) {
    for json in [false, true] {
        let mut args = args.to_vec();
        if json {
            args.push("--json");
        }
        let here = guardcell(&args);
        assert_eq!(here.code, code, "{args:?}: {}", here.stderr);
        let there = with_server(&server.url, &args);
        assert_eq!(there.code, here.code, "{args:?}: {}", there.stderr);
        assert_eq!(there.stderr, here.stderr, "{args:?}");
        assert!(there.stdout == here.stdout, "{args:?}:\n{}\n{}", there.stdout, here.stdout);
        assert_eq!(here.stdout.is_empty(), code == 2, "{args:?}");
    }
}

#[test]
fn every_verb_answers_alike() {
    let server = Server::start(&[]);
    let demo = Demo::new("remote");
    let data = demo_data();
    let file = |name: &str| data.join(name).display().to_string();
    let (labels, tap, rain) = (file("labels"), file("tap.toml"), file("rain.toml"));
    let (site, label) = (file("site.toml"), demo.path("label.toml"));
    let air = ["--temp", "20 °C", "--humidity", "70 %"];
    let with = |verb: &[&'static str], rest: &[&str]| -> Vec<String> {
        verb.iter().map(|w| (*w).to_owned()).chain(rest.iter().map(|w| (*w).to_owned())).collect()
    };
    demo.write(
        "tank.json",
        r#"{"products": [
            {"label": {"name": "A", "derived_from": ["calcium nitrate"],
                       "guaranteed": {"n_percent": 15.5, "nitrate_n_percent": 15.5, "ca_percent": 19}},
             "per_litre": 0.4},
            {"label": {"name": "B", "derived_from": ["magnesium sulfate"],
                       "guaranteed": {"mg_percent": 9.8, "s_percent": 12.9}}, "per_litre": 0.3}],
            "injector_n": 100, "convention": "one_to_n", "stock_l": 10, "coldest_c": 8}"#,
    );
    demo.write(
        "one.json",
        r#"{"ions_mmol_l": {"ca": 1.5, "dic": 3, "k": 1, "no3": 1}, "temp_c": 20}"#,
    );
    let mut lines = String::new();
    for k in 1..20 {
        lines += &format!("{{\"ions_mmol_l\": {{\"k\": {k}.3, \"cl\": {k}.3}}, \"temp_c\": 20}}\n");
    }
    demo.write("many.ndjson", &lines);
    let (tank, one, many) =
        (demo.path("tank.json"), demo.path("one.json"), demo.path("many.ndjson"));
    let cases: Vec<Vec<String>> = vec![
        with(&["convert", "120 ppm P2O5", "--to", "ppm P"], &[]),
        with(&["convert", "1.4 mS/cm at 18 °C", "--to", "mS/cm at 25 °C"], &[]),
        with(&["convert", "2 tsp", "--to", "g", "--bulk-density", "0.9 kg/L"], &[]),
        with(
            &["recipe", "--target", "60 ppm N", "--volume", "4 L", "--product", "Mist"],
            &["--label", &labels, "--water", &tap],
        ),
        with(
            &["water", "--ceiling", "0.8 mS/cm", "--blend-to", "60 mg/L CaCO3 alkalinity"],
            &[&tap, "--blend-with", &rain],
        ),
        with(&["genus", "Dendrobium kingianum"], &[]),
        with(&["genus", "Catleya"], &[]),
        with(&["genus", "Somethingia / x%2F? #", "--leaf", "thick"], &[]),
        with(&["genus", ".."], &[]),
        with(&["air"], &air),
        with(
            &["film", "--air", "0.5 m/s", "--strength", "300 mg/L feed"],
            &[&air[..], &["--label", &label, "--water", &tap]].concat(),
        ),
        with(&["day", "--date", "2026-06-21"], &["--site", &site]),
        with(&["solution"], &[&one]),
        with(&["solution"], &[&many]),
        with(&["meter", "0.45 mS/cm"], &["--label", &label, "--water", &rain]),
        with(
            &[
                "acid",
                "--acid",
                "phosphoric",
                "--strength-percent",
                "75",
                "--density-kg-l",
                "1.58",
                "--to",
                "60 mg/L CaCO3 alkalinity",
                "--volume",
                "20 L",
            ],
            &["--water", &tap],
        ),
        with(&["tank"], &[&tank]),
        with(
            &["rescue", "Cattleya labiata", "--area", "house", "--from", "2026-06-21"],
            &["--site", &site],
        ),
        with(&["chart", "strength"], &["--label", &label, "--water", &rain]),
    ];
    for case in &cases {
        let args: Vec<&str> = case.iter().map(String::as_str).collect();
        same(&server, &args, 0);
    }
    for (verb, more) in [
        (&["advise"][..], &["--plant", "FH-007", "--check"][..]),
        (&["round"], &[]),
        (&["chart", "day"], &["--area", "house"]),
    ] {
        let args = demo.situation_args(verb, more);
        let args: Vec<&str> = args.iter().map(String::as_str).collect();
        same(&server, &args, 0);
    }
    let table = ["genus", "--all", "--format", "dwc"];
    assert_eq!(with_server(&server.url, &table).stdout, guardcell(&table).stdout);
}

#[test]
fn pictures_are_the_same() {
    let server = Server::start(&[]);
    let demo = Demo::new("remote-picture");
    let (here, there) = (demo.path("here.svg"), demo.path("there.svg"));
    let label = demo.path("label.toml");
    let chart = ["chart", "strength", "--label", &label, "--svg"];
    assert_eq!(guardcell(&[&chart[..], &[&here]].concat()).code, 0);
    let out = with_server(&server.url, &[&chart[..], &[&there]].concat());
    assert_eq!(out.code, 0, "{}", out.stderr);
    assert!(demo.read("here.svg") == demo.read("there.svg"));
}

#[test]
fn refusals_are_the_same() {
    let server = Server::start(&[]);
    let demo = Demo::new("remote-bad");
    for args in [
        &["convert", "300 ppm", "--to", "mg/L"][..],
        &["convert", "14 °dH", "--to", "mL"],
        &["convert", "", "--to", "mL"],
        &["genus", ""],
        &["air", "--temp", "20 °C", "--humidity", "140 %"],
        &["air", "--temp", "200 °C", "--humidity", "40 %"],
    ] {
        same(&server, args, 2);
    }
    let spoilt = |file: &str, text: &str, words: &str| {
        let good = demo.read(file);
        demo.write(file, text);
        let args = demo.situation_args(&["round"], &[]);
        let args: Vec<&str> = args.iter().map(String::as_str).collect();
        same(&server, &args, 2);
        let said = with_server(&server.url, &args).stderr;
        assert!(said.contains(words), "{words:?} is not in {said:?}");
        demo.write(file, &good);
    };
    let plants = "id,name,area,setting,standing\n";
    spoilt("collection.csv", &format!("{plants}1,Vanda,attic,mounted,weak\n"), "collection.csv:2");
    spoilt(
        "collection.csv",
        &format!("{plants}1,Vanda,house,mounted,weak\n1,Vanda,house,mounted,weak\n"),
        "collection.csv:3",
    );
    let air = "time,temp_c,rh_percent\n";
    spoilt("conditions.csv", &format!("{air}2026-06-21T12:00:00Z,20,140\n"), "conditions.csv:2");
    spoilt(
        "conditions.csv",
        &format!("{air}2026-06-01T12:00:00Z,20,50\n2026-06-01T13:00:00Z,20,50\n"),
        "the last reading",
    );
    spoilt("label.toml", "name = \"X\"\n[guaranteed]\nn_percent = 120\n", "120");
    let site = demo.read("site.toml");
    spoilt("site.toml", &site.replace("latitude_deg = 38.5", "latitude_deg = nan"), "latitude_deg");
    spoilt("site.toml", &site.replace("Atlantic/Azores", "Atlantic/Atlantis"), "Atlantis");
    let site = demo.path("site.toml");
    same(
        &server,
        &["rescue", "Vanda", "--site", &site, "--from", "2026-06-21", "--soak", "2 h"],
        2,
    );
    same(&server, &["day", "--site", &site, "--date", "midsummer"], 2);
    demo.write("some.ndjson", "{\"ions_mmol_l\": {\"k\": -1}, \"temp_c\": 20}\nnonsense\n");
    let lines = demo.path("some.ndjson");
    let (here, there) =
        (guardcell(&["solution", &lines]), with_server(&server.url, &["solution", &lines]));
    assert_eq!((here.code, &here.stdout), (there.code, &there.stdout));
}

#[test]
fn a_server_that_cannot_be_asked_is_told_and_ends_with_3() {
    let port =
        std::net::TcpListener::bind("127.0.0.1:0").expect("a port").local_addr().expect("bound");
    let nobody = format!("http://{port}");
    let air = ["air", "--temp", "20 °C", "--humidity", "70 %"];
    let out = with_server(&nobody, &air);
    assert_eq!((out.code, out.stdout.as_str()), (3, ""), "{}", out.stderr);
    assert!(
        out.stderr.contains("cannot be reached") && out.stderr.contains(&nobody),
        "{}",
        out.stderr
    );
    let out = with_server("http://no-such-host.invalid:8427", &air);
    assert_eq!(out.code, 3);
    assert!(out.stderr.contains("cannot be resolved"), "{}", out.stderr);
    let out = with_server("not an address", &air);
    assert_eq!(out.code, 2);
    assert!(out.stderr.contains("--server") && out.stderr.contains("http://127"), "{}", out.stderr);
}

#[test]
fn too_much_for_the_server_is_said() {
    let server = Server::start(&["--body-mib", "1"]);
    let demo = Demo::new("remote-large");
    let mut year = String::from("time,temp_c,rh_percent\n");
    for day in 1..=28 {
        for hour in 0..24 {
            for minute in 0..30 {
                year += &format!("2026-06-{day:02}T{hour:02}:{minute:02}:00Z,20,80\n");
            }
        }
    }
    demo.write("conditions.csv", &year);
    let args = demo.situation_args(&["advise"], &["--plant", "FH-007"]);
    let args: Vec<&str> = args.iter().map(String::as_str).collect();
    let out = with_server(&server.url, &args);
    assert_eq!(out.code, 2, "{}", out.stderr);
    assert!(out.stderr.contains("--body-mib"), "{}", out.stderr);
}

#[test]
fn what_works_here_alone_refuses_the_flag() {
    for verb in [&["serve"][..], &["man"], &["completions", "bash"]] {
        let out = with_server("http://127.0.0.1:9", verb);
        assert_eq!(out.code, 2, "{verb:?}");
        assert!(out.stderr.contains("--server"), "{}", out.stderr);
    }
}

#[test]
fn the_environment_names_a_server_for_good() {
    let run = |args: &[&str], url: &str| {
        Command::new(env!("CARGO_BIN_EXE_guardcell"))
            .args(args)
            .env("GUARDCELL_SERVER", url)
            .output()
            .expect("the program starts")
    };
    let air = ["air", "--temp", "20 °C", "--humidity", "70 %"];
    assert_eq!(run(&air, "http://no-such-host.invalid").status.code(), Some(3));
    assert_eq!(run(&air, "").status.code(), Some(0));
    assert_eq!(run(&["man"], "http://no-such-host.invalid").status.code(), Some(0));
    let server = Server::start(&[]);
    let out = run(&air, &server.url);
    assert_eq!(out.status.code(), Some(0), "{}", String::from_utf8_lossy(&out.stderr));
}

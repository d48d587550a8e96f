//! `conditions`: maps of the demo data from the command line, and maps where a table may stand.
#![allow(missing_docs, clippy::unwrap_used, reason = "tests")]

mod run;

use run::{Demo, Output, demo_data, guardcell};

fn map() -> String {
    demo_data().join("logger/logger.toml").display().to_string()
}

const AT: &str = "2026-10-26T09:00:00-01:00";

fn check(more: &[&str]) -> Output {
    let map = map();
    let mut args = vec!["conditions", "check", "--map", &map];
    args.extend(more);
    guardcell(&args)
}

#[test]
fn check_explains_what_it_read() {
    let out = check(&["--at", AT]);
    assert_eq!(out.code, 0, "{}", out.stderr);
    for words in [
        "155 readings, 8 dropped",
        "house: ",
        "trees: ",
        "every 60 min",
        "6 h, not bridged",
        "temperature in °F, read as °C",
        "clocks were put back",
        "NOT AS IT SHOULD BE",
        "line 168: the row ends after column 1",
    ] {
        assert!(out.stdout.contains(words), "{words:?} is not in\n{}", out.stdout);
    }
    let json = check(&["--at", AT, "--json"]);
    let report: serde_json::Value = serde_json::from_str(&json.stdout).unwrap();
    assert_eq!(report["source"], "csv");
    assert_eq!(report["areas"][0]["area"], "house");
}

#[test]
fn a_stale_logger_is_explained_and_refused() {
    let late = "2026-10-26T18:00:00-01:00";
    let out = check(&["--at", late]);
    assert_eq!(out.code, 1);
    assert!(out.stdout.contains("STALE"), "{}", out.stdout);
    assert_eq!(check(&["--at", late, "--allow-stale"]).code, 0);
    let map = map();
    let read = guardcell(&["conditions", "read", "--map", &map, "--at", late]);
    assert_eq!(read.code, 2);
    assert!(read.stderr.contains("10.0 h before"), "{}", read.stderr);
    assert!(check(&["--at", "soon"]).stderr.contains("--at"));
}

#[test]
fn faults_have_their_exit_codes() {
    let demo = Demo::new("conditions-faults");
    let run = |text: &str| {
        demo.write("map.toml", text);
        guardcell(&["conditions", "check", "--map", &demo.path("map.toml"), "--at", AT])
    };
    let good = std::fs::read_to_string(map()).unwrap();
    let wrong = run(&good.replace("[degF]", "furlong"));
    assert_eq!(wrong.code, 2);
    assert!(wrong.stderr.contains("map.toml:28:41: unit: "), "{}", wrong.stderr);
    let nowhere = run(&good);
    assert_eq!(nowhere.code, 3, "{}", nowhere.stderr);
    assert!(nowhere.stderr.contains("logger.csv"), "{}", nowhere.stderr);
    let endpoint = std::fs::read_to_string(demo_data().join("logger/endpoint.toml")).unwrap();
    let closed = run(&endpoint
        .replace("127.0.0.1:8099", "127.0.0.1:9")
        .replace("retries = 2", "retries = 0"));
    assert_eq!(closed.code, 3);
    assert!(closed.stderr.contains("refused"), "{}", closed.stderr);
}

#[test]
fn an_advice_takes_a_map_as_it_takes_the_table_made_from_it() {
    let demo = Demo::new("conditions-advise");
    let table = demo.path("from-map.csv");
    let map = map();
    let read = guardcell(&["conditions", "read", "--map", &map, "--at", AT, "--output", &table]);
    assert_eq!(read.code, 0, "{}", read.stderr);
    // The logger has no probe on the shelf.
    let plants: String = demo
        .read("collection.csv")
        .lines()
        .filter(|l| !l.contains(",shelf,"))
        .map(|l| format!("{l}\n"))
        .collect();
    demo.write("collection.csv", &plants);
    let path = |f: &str| demo.path(f);
    let (collection, label) = (path("collection.csv"), path("label.toml"));
    let (water, site) = (path("water.toml"), path("site.toml"));
    let of = |conditions: &str, at: &str| {
        guardcell(&[
            "advise",
            "--collection",
            &collection,
            "--label",
            &label,
            "--water",
            &water,
            "--site",
            &site,
            "--conditions",
            conditions,
            "--at",
            at,
            "--hours",
            "12",
            "--json",
        ])
    };
    let at = "2026-10-25T18:30:00-01:00";
    let (by_map, by_table) = (of(&map, at), of(&table, at));
    assert_eq!(by_map.code, 0, "{}", by_map.stderr);
    assert_eq!(by_map.stdout, by_table.stdout);
    assert!(by_map.stderr.contains("readings were dropped"), "{}", by_map.stderr);
    assert!(!by_table.stderr.contains("dropped"));
    let stale = of(&map, "2026-10-26T12:00:00-01:00");
    assert_eq!(stale.code, 2);
    assert!(stale.stderr.contains("newest reading of house"), "{}", stale.stderr);
}

/// The path of a file that is not there, whatever an earlier run has left.
fn absent(demo: &Demo, name: &str) -> String {
    let path = demo.path(name);
    let _ = std::fs::remove_file(&path);
    path
}

fn probe(file: &str, more: &[&str]) -> Output {
    let mut args = vec!["conditions", "probe", file, "--at", AT];
    args.extend(more);
    guardcell(&args)
}

/// The demo logger has a map written by hand: what is proposed for its file must read the same.
#[test]
fn a_probe_of_the_demo_logger_finds_what_its_map_says() {
    let demo = Demo::new("conditions-probe");
    let file = demo_data().join("logger/logger.csv").display().to_string();
    let map = absent(&demo, "proposed.toml");
    let zone = ["--zone", "Atlantic/Azores"];
    let out = probe(&file, &[&zone[..], &["--output", &map]].concat());
    assert_eq!(out.code, 0, "{}\n{}", out.stdout, out.stderr);
    for words in ["temperature in °F", "Probe: names the area", "DECIDED BY THE FILE", "ASSUMED"] {
        assert!(out.stdout.contains(words), "{words:?} is not in\n{}", out.stdout);
    }
    let read = |map: &str| {
        let read = ["conditions", "read", "--map", map, "--at", AT, "--json", "--allow-stale"];
        let out = guardcell(&read);
        assert_eq!(out.code, 0, "{}", out.stderr);
        let value: serde_json::Value = serde_json::from_str(&out.stdout).unwrap();
        value["readings"].as_array().unwrap().clone()
    };
    let (proposed, by_hand) = (read(&map), read(&self::map()));
    // The probes 1 and 2 are those of the house and the trees; 9 is a slip of the file.
    let values = |readings: &[serde_json::Value]| -> Vec<String> {
        let keys = ["area", "time", "temp_c", "rh_percent", "air_m_s", "radiation_w_m2"];
        let of = |r: &serde_json::Value| keys.map(|k| r[k].to_string()).join(" ");
        let named = |r: &serde_json::Value| {
            of(r).replace("\"1\" ", "\"house\" ").replace("\"2\" ", "\"trees\" ")
        };
        readings.iter().filter(|r| r["area"] != "9").map(named).collect()
    };
    // By hand a humidity up to 103 % is taken as 100 %; the proposal drops those, and no other.
    let (proposed, by_hand) = (values(&proposed), values(&by_hand));
    let missing: Vec<&String> = by_hand.iter().filter(|r| !proposed.contains(r)).collect();
    assert!(proposed.iter().all(|r| by_hand.contains(r)), "{proposed:?}");
    assert!(missing.iter().all(|r| r.contains(" 100.0 ")) && missing.len() < 8, "{missing:?}");

    // A map that is there is never overwritten.
    let before = demo.read("proposed.toml");
    let again = probe(&file, &[&zone[..], &["--output", &map]].concat());
    assert_eq!(again.code, 2);
    assert!(again.stderr.contains("--output") && again.stderr.contains("there already"));
    assert_eq!(demo.read("proposed.toml"), before);
}

#[test]
fn a_probe_says_what_is_open_and_writes_nothing() {
    let demo = Demo::new("conditions-open");
    demo.write("us.csv", "Date,Temp (C),RH %\n05/06/2026 05:00,18,88\n05/06/2026 06:00,18,88\n");
    let (file, map) = (demo.path("us.csv"), absent(&demo, "us.toml"));
    let zone = ["--zone", "Atlantic/Azores"];
    let out = probe(&file, &[&zone[..], &["--output", &map]].concat());
    assert_eq!(out.code, 1, "{}", out.stderr);
    assert!(
        out.stdout.contains("OPEN") && out.stdout.contains("day or the month"),
        "{}",
        out.stdout
    );
    assert!(!std::path::Path::new(&map).exists());
    let json = probe(&file, &[&zone[..], &["--json"]].concat());
    let found: serde_json::Value = serde_json::from_str(&json.stdout).unwrap();
    assert_eq!((json.code, &found["map"]), (1, &serde_json::Value::Null));
    assert_eq!(
        found["findings"].as_array().unwrap().iter().filter(|f| f["standing"] == "open").count(),
        1
    );
    let stated = [&zone[..], &["--date-order", "day-first", "--output", &map]].concat();
    let out = probe(&file, &stated);
    assert_eq!(out.code, 0, "{}", out.stdout);
    // The map names the file as it lies from its own folder.
    assert!(demo.read("us.toml").contains("file = \"us.csv\""));
    let late = ["conditions", "check", "--map", &map, "--at", "2026-06-05T06:30:00Z"];
    assert_eq!(guardcell(&late).code, 0);
    assert_eq!(probe(&demo.path("none.csv"), &[]).code, 3);
}

#[test]
fn a_probe_and_a_map_read_standard_input() {
    use std::io::Write as _;
    use std::process::{Command, Stdio};
    let text = "Time;T °C;RH %\n26.10.2026 07:00;18,5;88\n26.10.2026 08:00;19,0;85\n";
    let piped = |args: &[&str]| -> Output {
        let mut child = Command::new(env!("CARGO_BIN_EXE_guardcell"))
            .args(args)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        child.stdin.take().unwrap().write_all(text.as_bytes()).unwrap();
        child.wait_with_output().unwrap().into()
    };
    let demo = Demo::new("conditions-stdin");
    let map = absent(&demo, "map.toml");
    let zone = ["--zone", "Atlantic/Azores", "--at", AT];
    let out = piped(&[&["conditions", "probe", "-", "--output", &map][..], &zone].concat());
    assert_eq!(out.code, 0, "{}{}", out.stdout, out.stderr);
    let out = piped(&["conditions", "read", "--map", &map, "--at", AT]);
    assert_eq!(out.code, 0, "{}", out.stderr);
    assert!(out.stdout.contains("2026-10-26T07:00:00-01:00,,18.5,88"), "{}", out.stdout);
}

#[test]
fn a_probe_counts_ages_by_the_clock_of_its_zone() {
    let demo = Demo::new("conditions-clock");
    demo.write("uk.csv", "Time,Temp (C),RH %\n2026-07-06 06:00,18,88\n2026-07-06 07:00,19,86\n");
    let probe = |at: &str| {
        let file = demo.path("uk.csv");
        guardcell(&["conditions", "probe", &file, "--zone", "Europe/London", "--at", at])
    };
    // 08:00 of summer time is 07:00 UTC.
    let (here, there) = (probe("2026-07-06T08:00"), probe("2026-07-06T07:00Z"));
    assert_eq!(here.code, 0, "{}", here.stderr);
    assert_eq!(here.stdout, there.stdout);
    assert!(here.stdout.contains(", 60 min old"), "{}", here.stdout);
}

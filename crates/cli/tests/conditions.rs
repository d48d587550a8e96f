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

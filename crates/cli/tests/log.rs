//! `log`: by flags, from a file, from a plan, asked line by line; nothing half done.

#![allow(clippy::unwrap_used, reason = "a test ends where its preparation fails")]

mod house;
mod run;

use house::House;

const ROUND: [&str; 9] = [
    "log",
    "round",
    "FH-001",
    "FH-003",
    "--strength",
    "300 mg/L",
    "--at",
    "2026-06-21 05:30",
    "--json",
];

#[test]
fn what_is_acknowledged_is_there() {
    let house = House::new();
    let said: serde_json::Value = serde_json::from_str(&house.good(&ROUND)).unwrap();
    let id = said["receipts"][0]["id"].as_str().unwrap();
    assert_eq!(house.ids(), [id]);
    let entry = &said["entries"][0];
    // Midsummer in the Azores: one hour behind Universal Time less one of summer time.
    assert_eq!(entry["at"], "2026-06-21T05:30:00Z");
    assert_eq!(entry["zone"], "Atlantic/Azores");
    assert_eq!(entry["site"], "Fernhollow Conservatory");
    assert_eq!(entry["event"]["product"], "Fernhollow Mist 15-5-15");
    let text = house.good(&["history", "entries", "--at", "2026-06-21"]);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains(id) && text.contains("300 mg/L feed over FH-001 and FH-003"), "{text}");
}

#[test]
fn every_kind_by_flags() {
    let house = House::new();
    let at = ["--at", "2026-06-21 18:00"];
    for (args, says) in [
        (
            &[
                "log",
                "round",
                "FH-0*",
                "--area",
                "trees",
                "--strength",
                "0 mg/L",
                "--volume",
                "1/2 mister",
            ][..],
            "plain water, 500 mL over",
        ),
        (
            &["log", "residue", "faint", "FH-001", "--group", "dark leaves", "--nature", "feed"][..],
            "faint feed salts on the leaf of FH-001 (dark leaves)",
        ),
        (
            &[
                "log",
                "residue",
                "none",
                "FH-001",
                "--place",
                "root-tip",
                "--modelled",
                "0.02 g/m2",
                "--temp",
                "68 °F",
            ][..],
            "none on the root tip of FH-001; 20 °C, modelled residue 0.02 g/m²",
        ),
        (
            &[
                "log",
                "flush",
                "--setting",
                "potted",
                "--area",
                "shelf",
                "--volume",
                "2 L",
                "--drain",
                "1500 mL",
                "--drain-strength",
                "400 mg/L",
            ][..],
            "2 L through",
        ),
        (&["log", "soak", "FH-015"][..], "50 mg/L feed for 30 min, FH-015"),
        (
            &[
                "log",
                "root-feed",
                "FH-040",
                "--strength",
                "300 mg/L",
                "--n",
                "45 mg/L N",
                "--volume",
                "1 pint",
            ][..],
            "300 mg/L feed (45 ppm N) at the root, 473 mL for FH-040",
        ),
        (&["log", "response", "new growth", "FH-001"][..], "new growth, FH-001"),
        (&["log", "note", "Shutters down at ten."][..], "“Shutters down at ten.”"),
    ] {
        let text = house.good(&[args, &at].concat());
        let one_line = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(one_line.starts_with("recorded ") && one_line.contains(says), "{one_line}");
    }
    assert_eq!(house.ids().len(), 8);
    assert!(house.good(&["journal", "verify"]).contains("Nothing is wrong."));
}

#[test]
fn what_cannot_be_is_refused_and_leaves_nothing() {
    let house = House::new();
    for (args, words) in [
        (&["log", "round", "FH-001"][..], &["--strength", "300 mg/L"][..]),
        (&["log", "round", "--strength", "300 mg/L"], &["the plants", "at least one"]),
        (&["log", "round", "FH-001", "--strength", "300 ppm"], &["--strength", "ppm N"]),
        (
            &["log", "round", "FH-001", "--strength", "300 mg/L", "--passes", "11"],
            &["--passes", "1 to 10"],
        ),
        (&["log", "round", "fh-001", "--strength", "300 mg/L"], &["did you mean \"FH-001\""]),
        (&["log", "round", "XX-*", "--strength", "300 mg/L"], &["XX-*"]),
        (&["log", "flush", "--area", "attic"], &["--area", "attic", "shelf"]),
        (&["log", "residue", "some", "FH-001"], &["none, faint, clear, heavy"]),
        (&["log", "residue", "faint"], &["the plants", "group"]),
        (&["log", "note", "  "], &["--note", "blank"]),
        (&["log", "note", "x", "--at", "2026-06-21"], &["--at", "yesterday"]),
        (
            &["log", "note", "x", "--at", "2026-06-21T05:00+03:00", "--zone", "Nowhere/There"],
            &["--zone"],
        ),
        (&["log"], &["--ask", "round"]),
    ] {
        house.refused(args, words);
    }
    assert!(!house.journal().exists(), "a refusal starts no journal");
}

#[test]
fn corrections_keep_what_they_correct() {
    let house = House::new();
    house.good(&ROUND);
    let first = house.ids().remove(0);
    let now = ["--at", "2026-06-22"];
    house.refused(&["log", "correct", &first], &["nothing", "would change"]);
    house.refused(&["log", "correct", &first, "--level", "none"], &["--level", "round"]);
    house.good(&["log", "correct", &first[..6], "--strength", "150 mg/L", "--note", "misread"]);
    let second = house.ids().remove(1);
    house.refused(&["log", "correct", &first, "--strength", "100 mg/L"], &[&second]);
    let text = house.good(&[&["history", "entries"][..], &now].concat());
    assert!(text.contains("150 mg/L") && !text.contains("300 mg/L"), "{text}");
    let text = house.good(&[&["history", "entries", "--all"][..], &now].concat());
    assert!(text.contains(&format!("was {first}")) && text.contains("300 mg/L"), "{text}");
    house.refused(&["log", "retract", "zzz"], &["the entry", "history entries"]);
    house.good(&["log", "retract", &second]);
    let text = house.good(&[&["history", "entries"][..], &now].concat());
    assert!(text.starts_with("No entries"), "{text}");
    assert!(house.good(&["journal", "verify"]).contains("3 entries, 0 of them standing"));
}

#[test]
fn a_file_is_recorded_whole_or_not_at_all() {
    let house = House::new();
    let head = "at,site,kind,plants,feed_strength_mg_l,level,note\n";
    let good = "2026-06-21T05:30:00Z,Fernhollow,round,FH-001;FH-003,300,,\n\
                2026-06-21T18:00:00Z,Fernhollow,residue,FH-001,,faint,in slanting light\n";
    let file = house.path("entries.csv");
    for (rows, words) in [
        (
            "2026-06-21T05:30:00Z,Fernhollow,round,FH-001,much,,\n",
            &["entries.csv:4", "feed_strength_mg_l", "much"][..],
        ),
        ("2026-06-21,Fernhollow,note,,,,x\n", &["entries.csv:4", "at: "]),
        ("2026-06-21T05:30:00Z,Fernhollow,note,,,faint,x\n", &["entries.csv:4", "\"level\""]),
        ("2026-06-21T05:30:00Z,Fernhollow\n", &["entries.csv:4", "fields"]),
    ] {
        std::fs::write(&file, format!("{head}{good}{rows}")).unwrap();
        house.refused(&["log", "--csv", "entries.csv"], words);
        assert_eq!(house.ids().len(), 0);
    }
    std::fs::write(&file, format!("{head}{good}")).unwrap();
    let text = house.good(&["log", "--csv", "entries.csv"]);
    for id in house.ids() {
        assert!(text.contains(&format!("recorded {id}")), "{text}");
    }
    assert_eq!(house.ids().len(), 2);
    house.refused(&["log", "--csv", "entries.csv", "note", "x"], &["--csv"]);
}

#[test]
fn answers_line_by_line() {
    let house = House::new();
    let answers =
        "round\n2026-06-21 05:30\nFH-001 FH-003\n300 ppm\n300 mg/L\n2\n1/2 mister\n\nyes\n";
    let out = house.asked(&["log", "--ask"], answers);
    assert_eq!(out.code, 0, "{}", out.stderr);
    assert!(
        out.stderr.contains("does not say of what"),
        "a wrong answer is asked again: {}",
        out.stderr
    );
    assert!(out.stderr.contains("300 mg/L feed in 2 passes, 500 mL"), "{}", out.stderr);
    assert!(out.stdout.starts_with("recorded "), "{}", out.stdout);
    let out = house.asked(&["log", "--ask"], "note\n05:30\n\nDoor left open.\nno\n");
    assert_eq!((out.code, out.stdout.as_str()), (0, ""), "{}", out.stderr);
    assert!(out.stderr.ends_with("Nothing was recorded.\n"));
    let out = house.asked(&["log", "--ask"], "note\n05:30\n");
    assert_eq!(out.code, 2);
    assert!(out.stderr.contains("nothing was recorded"), "{}", out.stderr);
    assert_eq!(house.ids().len(), 1);
}

fn planned<'a>(more: &[&'a str]) -> Vec<&'a str> {
    [&["log", "round", "--plan", "plan.json"][..], more].concat()
}

#[test]
fn a_round_as_planned_with_edits() {
    let demo = run::Demo::new("log-plan");
    let plan = demo.round_with(&["--json"]);
    assert_eq!(plan.code, 0, "{}", plan.stderr);
    let house = House::new();
    std::fs::write(house.path("plan.json"), &plan.stdout).unwrap();
    let plan: serde_json::Value = serde_json::from_str(&plan.stdout).unwrap();
    let sittings = plan["sittings"].as_array().unwrap();
    assert!(sittings.len() > 1, "the demo round has several sittings");
    house.refused(&planned(&[]), &["--sitting", "1 is "]);
    house.refused(&planned(&["--sitting", "9"]), &["--sitting", "no sitting 9"]);
    house.refused(&planned(&["--sitting", "1", "--skip", "FH-999"]), &["--skip", "FH-999"]);
    let steps = sittings[0]["steps"].as_array().unwrap();
    let ids = |step: &serde_json::Value| -> Vec<String> {
        step["groups"]
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|g| g["plants"].as_array().unwrap())
            .map(|p| p["id"].as_str().unwrap().to_owned())
            .collect()
    };
    let skipped = ids(&steps[0]).remove(0);
    house.good(&planned(&["--sitting", "1", "--skip", &skipped, "--note", "as planned"]));
    let text = house.good(&["journal", "export"]);
    let entries: Vec<serde_json::Value> =
        text.lines().map(|l| serde_json::from_str(l).unwrap()).collect();
    let mut done: Vec<String> = Vec::new();
    for entry in &entries {
        assert_eq!(
            entry["at"].as_str().unwrap()[..16],
            sittings[0]["start"].as_str().unwrap()[..16]
        );
        assert_eq!(entry["note"], "as planned");
        for p in entry["event"]["plants"].as_array().unwrap() {
            done.push(p["plant"].as_str().unwrap().to_owned());
        }
    }
    let rest: Vec<String> = steps.iter().flat_map(ids).filter(|id| *id != skipped).collect();
    assert_eq!(done, rest);
}

#[test]
fn a_table_without_rows_or_a_slip_of_the_keyboard_is_refused() {
    let house = House::new();
    let file = house.path("entries.csv");
    for (table, words) in [
        ("", &["entries.csv:1", "empty"][..]),
        ("\n\n", &["entries.csv:1", "empty"]),
        ("at,site,kind\n", &["entries.csv", "no rows"]),
    ] {
        std::fs::write(&file, table).unwrap();
        house.refused(&["log", "--csv", "entries.csv"], words);
    }
    house.refused(
        &["log", "round", "FH-001", "--strength", "1e300 mg/L"],
        &["--strength", "1e300 mg/L is"],
    );
}

#[test]
fn a_time_that_is_still_to_come_is_recorded_and_said() {
    let house = House::new();
    let in_three_days = (jiff::Timestamp::now() + jiff::SignedDuration::from_hours(72)).to_string();
    let said = house.run(&["log", "note", "x", "--at", &in_three_days]);
    assert_eq!(said.code, 0, "{}", said.stderr);
    let id = said.stdout.split_whitespace().nth(1).unwrap().to_owned();
    assert!(said.stderr.contains(&format!("the time of {id} is still to come")), "{}", said.stderr);
    house.good(&["log", "retract", &id]);
    let now = house.run(&["log", "note", "x"]);
    assert!(now.code == 0 && !now.stderr.contains("to come"), "{}", now.stderr);
}

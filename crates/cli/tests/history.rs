//! `history`, and what `advise`, `round` and `rescue` make of a journal.

#![allow(clippy::unwrap_used, reason = "a test ends where its preparation fails")]

mod house;
mod run;

use house::House;
use icalendar::{Calendar, Component as _};
use serde_json::Value;
use std::fmt::Write as _;

/// Twelve rounds with looks, by file: clear at 0.05 g/m², so that the threshold is below it.
fn twelve_looks() -> House {
    let house = House::new();
    let mut csv = String::from(
        "id,at,zone,site,kind,plants,volume_ml,feed_strength_mg_l,n_mg_l,residue_g_m2,level,group,round\n",
    );
    for i in 0..12 {
        let day = 1 + i;
        writeln!(
            csv,
            "r{i},2026-06-{day:02}T05:30:00Z,Atlantic/Azores,Fernhollow Conservatory,round,FH-011;FH-012,300,300,45,0.05,,,\n\
             s{i},2026-06-{day:02}T18:30:00Z,Atlantic/Azores,Fernhollow Conservatory,residue,FH-011,,,,,clear,dark,r{i}"
        )
        .unwrap();
    }
    std::fs::write(house.path("in.csv"), csv).unwrap();
    house.good(&["log", "--csv", "in.csv"]);
    house
}

#[test]
fn one_plant_answers_three_questions() {
    let house = twelve_looks();
    let text = house.good(&["history", "FH-011", "--at", "2026-06-14", "--weeks", "3"]);
    let one_line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "FH-011 Phalaenopsis amabilis",
        "WHAT IT GOT",
        // 150 mL of 300 mL sprayed, of which one part in 1.5 stays (data/practice.csv,
        // spray_waste), times 300 mg/L: 30 mg a round, seven rounds in the first week.
        "2026-06-01          7      210",
        "IS THE STRENGTH RIGHT",
        "No, it is too strong.",
        "12 looks for residue on its leaves: 12 clear",
        "More would be seen too often on the usual days",
        "the group dark",
        "WHAT TO CHANGE THIS WEEK",
        "mg/L instead.",
    ] {
        let found = text.contains(words) || one_line.contains(words);
        assert!(found, "{words:?} is not in\n{text}");
    }
    let review: Value = serde_json::from_str(&house.good(&[
        "history",
        "--plant",
        "FH-011",
        "--at",
        "2026-06-14",
        "--json",
    ]))
    .unwrap();
    assert_eq!(review["plants"][0]["finding"], "too-strong");
    assert_eq!(review["plants"][0]["account"]["given_mg"], 360.0);
    house.refused(&["history", "FH-999", "--at", "2026-06-14"], &["FH-999"]);
    house.refused(&["history", "--weeks", "0"], &["--weeks"]);
}

#[test]
fn all_plants_and_a_picture() {
    let house = twelve_looks();
    let text = house.good(&["history", "--at", "2026-06-14", "--svg", "feeds.svg"]);
    assert!(text.contains("FH-011") && text.contains("FH-048"), "{text}");
    let one_line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(one_line.contains("learned from 12 looks"), "{text}");
    let svg = std::fs::read_to_string(house.path("feeds.svg")).unwrap();
    assert!(svg.starts_with("<svg") && svg.contains("<desc"));
    let ledger: Value =
        serde_json::from_str(&house.good(&["history", "--at", "2026-06-14", "--json"])).unwrap();
    assert_eq!(ledger["plants"].as_array().unwrap().len(), 48);
}

#[test]
fn the_threshold_with_its_evidence() {
    let house = twelve_looks();
    let at = ["--at", "2026-06-14"];
    let text = house.good(&[&["history", "threshold", "--svg", "t.svg"][..], &at].concat());
    for words in ["before", "now", "EVIDENCE  12 looks", "NEXT STRENGTH", "Next: "] {
        assert!(text.contains(words), "{words:?} is not in\n{text}");
    }
    assert!(std::fs::read_to_string(house.path("t.svg")).unwrap().contains("<desc"));
    let json =
        house.good(&[&["history", "threshold", "--json", "--tolerance", "20 %"][..], &at].concat());
    let answer: Value = serde_json::from_str(&json).unwrap();
    let median = |e: &str| answer[e]["median_g_m2"].as_f64().unwrap();
    assert!(median("posterior") < median("prior"));
    assert_eq!(answer["next"]["tolerance"], 0.2);
    house.refused(
        &[&["history", "threshold", "--group", "pale"][..], &at].concat(),
        &["pale", "dark"],
    );
    house.refused(
        &[&["history", "threshold", "--tolerance", "much"][..], &at].concat(),
        &["--tolerance"],
    );
    house.refused(
        &[&["history", "threshold", "--tolerance", "90 %"][..], &at].concat(),
        &["--tolerance"],
    );
}

#[test]
fn advice_takes_what_the_journal_knows_and_says_so() {
    let house = twelve_looks();
    // Fed on the morning before: a potted plant waits.
    house.good(&["log", "round", "FH-012", "--strength", "150 mg/L", "--at", "2026-06-21 07:00"]);
    let demo = run::Demo::new("advise-journal");
    let journal = house.journal().display().to_string();
    let with = demo.situation("advise", &["--plant", "FH-012", "--journal", &journal]);
    assert_eq!(with.code, 0, "{}", with.stderr);
    assert!(with.stdout.contains("FROM THE JOURNAL"), "{}", with.stdout);
    let one_line = with.stdout.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(one_line.contains("learned from 12 looks; the shipped one is"), "{one_line}");
    let json = |more: &[&str]| {
        let out = demo.situation("advise", &[&["--plant", "FH-012", "--json"][..], more].concat());
        assert_eq!(out.code, 0, "{}", out.stderr);
        (serde_json::from_str::<Value>(&out.stdout).unwrap(), out.stderr)
    };
    let (known, says) = json(&["--journal", &journal]);
    assert!(says.contains("Residue threshold"), "{says}");
    let codes = |v: &Value| v["plants"][0]["reasons"].to_string();
    assert!(codes(&known).contains("fed-recently"), "{}", codes(&known));
    let (plain, says) = json(&[]);
    assert!(!codes(&plain).contains("fed-recently"), "{}", codes(&plain));
    assert_eq!(says, "");
    let out = demo.situation("advise", &["--journal", &journal, "--residue-group", "pale"]);
    assert_eq!(out.code, 2);
    assert!(out.stderr.contains("--residue-group"), "{}", out.stderr);
    let out = demo.situation("round", &["--journal", &house.path("none").display().to_string()]);
    assert_eq!(out.code, 3, "{}", out.stderr);
}

/// Rounds at these strengths on days of June from the first on, each with a look that evening.
fn rounds(house: &House, all: &[(&str, &str)]) {
    let mut csv = String::from(
        "id,at,zone,site,kind,plants,volume_ml,feed_strength_mg_l,residue_g_m2,level,round\n",
    );
    for (i, (strength, level)) in all.iter().enumerate() {
        let (day, residue) = (1 + i, 0.000_06 * strength.parse::<f64>().unwrap());
        writeln!(
            csv,
            "n{i},2026-06-{day:02}T05:30:00Z,Atlantic/Azores,Fernhollow Conservatory,round,FH-011;FH-012,300,{strength},{residue},,\n\
             m{i},2026-06-{day:02}T18:30:00Z,Atlantic/Azores,Fernhollow Conservatory,residue,FH-011,,,,{level},n{i}"
        )
        .unwrap();
    }
    std::fs::write(house.path("in.csv"), csv).unwrap();
    house.good(&["log", "--csv", "in.csv"]);
}

/// The number in `Next: 150 mg/L.`, wherever lines were broken; 0 for plain water.
fn number(text: &str) -> f64 {
    let one_line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(one_line.contains("Next: "), "no number in\n{text}");
    let after = one_line.split("Next: ").nth(1).unwrap();
    if after.starts_with("plain water") {
        return 0.0;
    }
    after.split(' ').next().unwrap().parse().unwrap()
}

/// The rule of practice: at the first white at most half of that strength, and again at the next.
/// Every face prints the same number, and no plant is advised more.
#[test]
fn white_halves_the_strength_and_every_face_prints_the_same_number() {
    let mut record: Vec<(&str, &str)> = vec![("300", "none"); 8];
    let mut last = 300.0;
    for (white, most) in [("300", 150.0), ("300", 150.0), ("300", 150.0), ("150", 75.0)] {
        record.push((white, "clear"));
        let house = House::new();
        rounds(&house, &record);
        let at = ["--at", "2026-06-21"];
        let all = number(&house.good(&[&["history"][..], &at].concat()));
        assert!(all <= most && all <= last, "{all} after {record:?}");
        assert_eq!(number(&house.good(&[&["history", "threshold"][..], &at].concat())), all);
        let of_plant = number(&house.good(&[&["history", "FH-011"][..], &at].concat()));
        assert_eq!(of_plant, all);
        let demo = run::Demo::new("same-number");
        let journal = house.journal().display().to_string();
        for verb in ["advise", "round"] {
            let out = demo.situation(verb, &["--journal", &journal]);
            assert_eq!(out.code, 0, "{}", out.stderr);
            assert_eq!(number(&out.stdout), all, "{verb}");
        }
        let out = demo.situation("advise", &["--journal", &journal, "--json"]);
        let answer: Value = serde_json::from_str(&out.stdout).unwrap();
        let fed: Vec<f64> = answer["plants"]
            .as_array()
            .unwrap()
            .iter()
            .filter_map(|p| p["feed_strength_mg_l"].as_f64())
            .collect();
        assert!(fed.iter().all(|s| *s <= all), "{all}: {fed:?}");
        if most == 150.0 && white == "300" && record.len() == 9 {
            assert!(out.stdout.contains("after white at most half"), "{}", out.stdout);
        }
        last = all;
    }
}

/// Thirty clean looks do not excuse white with another product.
#[test]
fn white_with_another_product_lowers_the_strength_at_once() {
    let house = House::new();
    for day in 1..=20 {
        let at = format!("2026-05-{day:02} 07:00");
        let look = format!("2026-05-{day:02} 19:00");
        let round =
            ["log", "round", "FH-011", "--strength", "300 mg/L", "--modelled", "0.016 g/m2"];
        let product = if day < 20 { "Fernhollow A" } else { "Fernhollow B" };
        house.good(&[&round[..], &["--product", product, "--at", &at]].concat());
        let level = if day < 20 { "none" } else { "clear" };
        house.good(&["log", "residue", level, "FH-011", "--at", &look, "--wiped", "yes"]);
    }
    let text = house.good(&["history", "threshold", "--at", "2026-05-21"]);
    assert!(number(&text) <= 150.0, "{text}");
    let one_line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(one_line.contains("another product (Fernhollow B)"), "{text}");
    house.refused(
        &["log", "residue", "none", "FH-011", "--wiped", "perhaps"],
        &["--wiped", "yes, no"],
    );
}

const RESCUE: [&str; 10] = [
    "rescue",
    "Phalaenopsis",
    "--area",
    "shelf",
    "--from",
    "2026-06-01",
    "--days",
    "28",
    "--plant",
    "FH-015",
];

fn rescue(house: &House, more: &[&str]) -> String {
    let site = run::demo_data().join("site.toml").display().to_string();
    house.good(&[&RESCUE[..], &["--site", &site], more].concat())
}

/// RFC 5545: lines end in CRLF and have at most 75 octets without it (3.1); VERSION and PRODID
/// once (3.6); UID and DTSTAMP in each event (3.6.1); UTC times end in Z (3.3.5).
#[test]
fn the_calendar_keeps_to_the_standard() {
    let house = House::new();
    rescue(&house, &["--ics", "a.ics"]);
    rescue(&house, &["--ics", "b.ics"]);
    let text = std::fs::read_to_string(house.path("a.ics")).unwrap();
    assert_eq!(text, std::fs::read_to_string(house.path("b.ics")).unwrap(), "the same bytes");
    assert!(text.ends_with("END:VCALENDAR\r\n"));
    for line in text.split_terminator("\r\n") {
        assert!(line.len() <= 75, "{} octets: {line}", line.len());
        assert!(!line.contains(['\n', '\r']), "{line:?}");
    }
    let unfolded = text.replace("\r\n ", "");
    let count = |start: &str| unfolded.split("\r\n").filter(|l| l.starts_with(start)).count();
    assert_eq!((count("VERSION:2.0"), count("PRODID:")), (1, 1));
    let calendar: Calendar = text.parse().unwrap();
    let plan: Value = serde_json::from_str(&rescue(&house, &["--json"])).unwrap();
    let soaks = plan["soaks"].as_array().unwrap();
    let events: Vec<_> = calendar.events().collect();
    assert_eq!(events.len(), soaks.len());
    let mut uids = std::collections::BTreeSet::new();
    for (event, soak) in events.iter().zip(soaks) {
        let value = |key: &str| event.property_value(key).unwrap();
        assert!(uids.insert(value("UID").to_owned()), "duplicate {}", value("UID"));
        assert_eq!(value("DTSTAMP"), "20260601T000000Z");
        for (key, field) in [("DTSTART", "start"), ("DTEND", "end")] {
            let instant: jiff::Timestamp = soak[field].as_str().unwrap().parse().unwrap();
            assert_eq!(value(key), instant.strftime("%Y%m%dT%H%M%SZ").to_string());
        }
        assert_eq!(value("SUMMARY"), "Soak FH-015 Phalaenopsis");
        assert!(value("DESCRIPTION").contains("A missed day does no harm"));
    }
    // An alarm in each event: ACTION, DESCRIPTION and TRIGGER are required (3.6.6), the trigger is
    // a duration (3.3.6), negative before the start.
    for line in ["BEGIN:VALARM", "ACTION:DISPLAY", "TRIGGER:-PT900S", "END:VALARM"] {
        assert_eq!(count(line), soaks.len(), "{line}");
    }
    rescue(&house, &["--ics", "c.ics", "--alarm", "0"]);
    assert!(!std::fs::read_to_string(house.path("c.ics")).unwrap().contains("VALARM"));
}

#[test]
fn the_sittings_of_a_round_are_a_calendar() {
    let house = House::new();
    let folder = run::demo_data().display().to_string();
    let round = ["round", "--dir", &folder, "--at", "2026-06-21"];
    house.good(&[&round[..], &["--ics", "r.ics", "--alarm", "1.5 h"]].concat());
    let text = std::fs::read_to_string(house.path("r.ics")).unwrap();
    let plan: Value =
        serde_json::from_str(&house.good(&[&round[..], &["--json"]].concat())).unwrap();
    let calendar: Calendar = text.parse().unwrap();
    let events: Vec<_> = calendar.events().collect();
    let sittings = plan["sittings"].as_array().unwrap();
    assert!(!sittings.is_empty() && events.len() == sittings.len());
    for (event, sitting) in events.iter().zip(sittings) {
        let value = |key: &str| event.property_value(key).unwrap();
        for (key, field) in [("DTSTART", "start"), ("DTEND", "end")] {
            let instant: jiff::Timestamp = sitting[field].as_str().unwrap().parse().unwrap();
            assert_eq!(value(key), instant.strftime("%Y%m%dT%H%M00Z").to_string());
        }
        let plants: usize = sitting["steps"]
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|step| step["groups"].as_array().unwrap())
            .map(|group| group["plants"].as_array().unwrap().len())
            .sum();
        assert!(value("SUMMARY").starts_with(&format!("Spray {plants} plant")), "{text}");
        let product = plan["bucket"]["product"].as_str().unwrap();
        assert!(value("DESCRIPTION").contains(product), "what to mix: {text}");
    }
    assert_eq!(text.matches("TRIGGER:-PT5400S").count(), sittings.len(), "{text}");
    for wrong in ["-5 min", "2 days", "x"] {
        let refused = house.run(&[&round[..], &["--ics", "x.ics", "--alarm", wrong]].concat());
        assert_eq!(refused.code, 2, "{wrong}");
        assert!(refused.stderr.contains("--alarm"), "{}", refused.stderr);
    }
    assert_eq!(house.run(&[&round[..], &["--alarm", "5 min"]].concat()).code, 2, "no --ics");
}

#[test]
fn missed_soaks_are_counted_and_harmless() {
    let house = House::new();
    house.good(&["log", "note", "a rescue begins", "--at", "2026-06-01 08:00"]);
    let plan: Value = serde_json::from_str(&rescue(&house, &["--json"])).unwrap();
    let soaks = plan["soaks"].as_array().unwrap();
    for soak in soaks.iter().take(6).filter(|s| *s != &soaks[3]) {
        house.good(&["log", "soak", "FH-015", "--at", soak["start"].as_str().unwrap()]);
    }
    let journal = house.journal().display().to_string();
    // Noon after the sixth soak.
    let at = soaks[6]["start"].as_str().unwrap();
    let with =
        |more: &[&str]| rescue(&house, &[&["--journal", &journal, "--at", at][..], more].concat());
    let text = with(&[]);
    let one_line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(one_line.contains("5 were logged and 1 missed"), "{text}");
    assert!(one_line.contains("no harm") && one_line.contains("2026-06-22"), "{text}");
    let json: Value = serde_json::from_str(&with(&["--json"])).unwrap();
    assert_eq!(json["adherence"]["missed"].as_array().unwrap().len(), 1);
    house.good(&["log", "response", "loss", "FH-015", "--at", soaks[5]["end"].as_str().unwrap()]);
    assert!(with(&[]).contains("the plan is over"));
}

/// The demo journal comes back to the byte, and its report is what the program prints now.
#[test]
fn the_demo_journal_says_what_its_report_shows() {
    let house = House::new();
    let data = run::demo_data();
    let file = data.join("journal.jsonl").display().to_string();
    house.good(&["journal", "import", &file]);
    assert!(house.good(&["journal", "verify"]).contains("Nothing is wrong."));
    let bytes = std::fs::read_to_string(&file).unwrap();
    assert!(house.good(&["journal", "export"]) == bytes, "the export is not the import");
    let report = std::fs::read_to_string(data.join("journal-at-fernhollow.md")).unwrap();
    for what in ["FH-011", "FH-036", "FH-014", "threshold"] {
        let text = house.good(&["history", what, "--at", "2026-12-31"]);
        assert!(
            report.contains(text.trim_end()),
            "the report is stale (cargo xtask demo journal):\n{text}"
        );
    }
}

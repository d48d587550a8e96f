//! Feeds in turn, growth, tasks and the case of a plant, as a grower types them day after day.
#![allow(clippy::unwrap_used, missing_docs, reason = "a test")]

mod run;

use run::Output;
use serde_json::Value;
use std::path::Path;
use std::process::Command;

fn typed(folder: &Path, args: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_guardcell"));
    command.args(args).current_dir(folder).env("NO_COLOR", "1");
    for name in ["GUARDCELL_DIR", "GUARDCELL_JOURNAL", "GUARDCELL_SERVER"] {
        command.env_remove(name);
    }
    command.output().unwrap().into()
}

fn good(folder: &Path, args: &[&str]) -> String {
    let out = typed(folder, args);
    assert_eq!(out.code, 0, "{args:?}: {}", out.stderr);
    out.stdout
}

fn refused(folder: &Path, args: &[&str], words: &[&str]) {
    let out = typed(folder, args);
    assert_eq!(out.code, 2, "{args:?}: {}", out.stdout);
    for word in words {
        assert!(out.stderr.contains(word), "{args:?}: {word:?} is not in {:?}", out.stderr);
    }
}

fn json(folder: &Path, args: &[&str]) -> Value {
    serde_json::from_str(&good(folder, &[args, &["--json"]].concat())).unwrap()
}

/// A windowsill with two feeds, a rota of three turns and humid air all summer.
fn folder(rota: &str) -> tempfile::TempDir {
    let dir = tempfile::tempdir().unwrap();
    let write = |name: &str, text: &str| {
        let path = dir.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    };
    write(
        "site.toml",
        &format!(
            "name = \"Sill\"\nlatitude_deg = 51.5\nlongitude_deg = 0.0\n\
             time_zone = \"Europe/London\"\n\
             [[areas]]\nid = \"sill\"\nname = \"Windowsill\"\nshelter = \"room\"\n\
             [grower]\nmister_ml = 500.0\nscale_g = 0.1\n{rota}\n\
             [[feeds]]\nname = \"leaf\"\nproduct = \"Leaf\"\n\
             [[feeds]]\nname = \"bloom\"\nproduct = \"Bloom\"\nmonths = [8]\n"
        ),
    );
    write(
        "collection.csv",
        "id,name,area,setting,standing,growth\n\
         A1,Phalaenopsis,sill,potted,ordinary,active\n\
         A2,Paphiopedilum,sill,potted,ordinary,active\n",
    );
    for (file, name) in [("leaf", "Leaf feed 20-20-20"), ("bloom", "Bloom feed 10-30-20")] {
        let (n, p) = if file == "leaf" { (20, 20) } else { (10, 30) };
        let text = format!(
            "name = {name:?}\n[guaranteed]\nn_percent = {n}\np2o5_percent = {p}\nk2o_percent = 20\n"
        );
        write(&format!("labels/{file}.toml"), &text);
    }
    write("waters/rain.toml", "name = \"rain\"\nec = \"20 µS/cm\"\n");
    dir
}

/// Typed air, so that each day can be asked.
fn at<'a>(day: &'a str, verb: &[&'a str]) -> Vec<&'a str> {
    let mut args = verb.to_vec();
    args.extend(["--at", day, "--temp", "20", "--humidity", "80", "--air", "light"]);
    args
}

#[test]
fn turns_come_one_after_another_through_the_journal() {
    let dir = folder("rota = [\"leaf\", \"bloom\", \"water\"]");
    let folder = dir.path();
    let mut seen = Vec::new();
    // Three days in July, when bloom is out of its months, and three in August.
    for day in ["07-29", "07-30", "07-31", "08-01", "08-02", "08-03"] {
        let morning = format!("2026-{day} 06:00");
        let today = json(folder, &at(&morning, &[]));
        let gives = today["turn"]["gives"].as_str().unwrap().to_owned();
        assert!(!today["turn"]["begun"].as_bool().unwrap(), "{day}");
        let plan = json(folder, &at(&morning, &["round"]));
        let water = gives == "water";
        assert_eq!(plan["bucket"].is_null(), water, "{day} {gives}");
        let steps: Vec<f64> = plan["sittings"]
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|s| s["steps"].as_array().unwrap())
            .map(|s| s["feed_strength_mg_l"].as_f64().unwrap())
            .collect();
        assert!(!steps.is_empty() && steps.iter().all(|v| (*v == 0.0) == water), "{day} {steps:?}");
        if !water {
            let product = plan["bucket"]["product"].as_str().unwrap().to_lowercase();
            assert!(product.starts_with(&gives), "{product} {gives}");
        }
        let strength = if water { "0 mg/L" } else { "100 mg/L" };
        let when = format!("2026-{day} 08:00");
        let logged =
            json(folder, &["log", "round", "A1", "A2", "--strength", strength, "--at", &when]);
        let product = &logged["entries"][0]["event"]["product"];
        assert_eq!(product.is_null(), water, "{logged}");
        let evening = format!("2026-{day} 20:00");
        let later = json(folder, &at(&evening, &[]));
        assert_eq!(later["turn"]["gives"], gives, "{day}");
        assert!(later["turn"]["begun"].as_bool().unwrap(), "{day}");
        seen.push(gives);
    }
    assert_eq!(seen, ["leaf", "water", "leaf", "bloom", "water", "leaf"]);
    let screen = good(folder, &at("2026-08-04 06:00", &[]));
    assert!(screen.contains("FEED   bloom, Bloom feed 10-30-20 (turn 2 of 3, after Leaf feed"));
    assert!(screen.contains("is assumed: ask again"), "{screen}");
    let history = good(folder, &["history", "A1", "--at", "2026-08-04"]);
    let history = history.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(history.contains("Leaf feed 20-20-20 in 3 rounds"), "{history}");
    assert!(history.contains("plain water in 2 rounds"), "{history}");
    // A product that is new to the journal is a change for what was learned.
    assert!(history.contains("Since 2026-08-01 there is another product"), "{history}");
    // Nothing but the readings is missing: the air is typed.
    let check = typed(folder, &["check", "--at", "2026-08-04 06:00", "--json"]).stdout;
    assert_eq!(check.matches("readings of the air").count(), 1, "{check}");
    assert!(check.contains("in turn: leaf, bloom, water"), "{check}");
}

#[test]
fn a_turn_of_water_is_a_turn_and_a_feed_can_be_taken_out_of_turn() {
    let dir = folder("rota = [\"water\", \"leaf\"]");
    let folder = dir.path();
    let morning = "2026-07-29 06:00";
    let sheet = good(folder, &at(morning, &["round"]));
    assert!(sheet.contains("plain water: nothing to weigh"), "{sheet}");
    let advice = json(folder, &at(morning, &["advise"]));
    for plant in advice["plants"].as_array().unwrap() {
        assert_eq!(plant["verdict"], "water-only", "{plant}");
        assert_eq!(plant["reasons"][0]["code"], "water-turn");
    }
    good(folder, &["log", "round", "A1", "--strength", "0", "--at", "2026-07-29 07:00"]);
    // The one that had its water waits for its next turn, the other does not.
    let later = json(folder, &at("2026-07-29 09:00", &["advise"]));
    // 2 days for a plant that is potted and ordinary (data/practice.csv, common practice, no source).
    assert_eq!(later["plants"][0]["due"], "2026-07-31T07:00:00+01:00");
    assert!(later["plants"][1]["due"].is_null());
    // Logged once more, it is recorded, and said.
    let again =
        typed(folder, &["log", "round", "A1", "--strength", "0", "--at", "2026-07-29 07:10"]);
    assert_eq!(again.code, 0);
    assert!(again.stderr.contains("log retract"), "{}", again.stderr);
    // One week is on record, and the mean is over that week: 50 mL of 100 mg/L, of which a part stays.
    good(
        folder,
        &[
            "log",
            "root-feed",
            "A2",
            "--strength",
            "100",
            "--volume",
            "50",
            "--at",
            "2026-07-29 07:00",
        ],
    );
    let overview = good(folder, &["history", "--at", "2026-07-29 12:00"]);
    let line = overview.lines().find(|l| l.starts_with("A2 ")).unwrap();
    assert_eq!(line.split_whitespace().nth(4), Some("5"), "{line}");
    let named = json(folder, &at(morning, &["round", "--product", "leaf"]));
    assert_eq!(named["bucket"]["product"], "Leaf feed 20-20-20");
    std::fs::remove_file(folder.join("labels/leaf.toml")).unwrap();
    refused(folder, &at(morning, &["round"]), &["site.toml", "Leaf", "Bloom feed"]);
}

#[test]
fn growth_and_tasks_are_due_and_told() {
    let dir = folder("");
    let folder = dir.path();
    good(folder, &["log", "growth", "A1", "new-root", "2", "--at", "2026-05-01 09:00"]);
    good(folder, &["log", "growth", "A1", "leaf-length", "18 cm", "--at", "2026-05-01 09:00"]);
    good(folder, &["log", "growth", "A1", "--photo", "a1.jpg", "--at", "2026-05-02 09:00"]);
    good(
        folder,
        &["log", "task", "repot", "A2", "--due", "2026-07-01", "--at", "2026-05-02 09:00"],
    );
    refused(folder, &["log", "growth", "A1", "new-root", "some"], &["whole number"]);
    refused(folder, &["log", "growth", "A1", "weight", "3 L"], &["the value"]);
    refused(folder, &["log", "task", "water", "--due", "soon"], &["--due", "2026-07-01"]);
    let due = |day: &str| -> Vec<String> {
        let today = json(folder, &at(day, &[]));
        let all = today["due"].as_array().unwrap().iter();
        all.map(|t| t["task"].as_str().unwrap().to_owned()).collect()
    };
    // Counted on 1 May, again after 30 days; the task is due on 1 July.
    assert!(due("2026-05-30 06:00").is_empty());
    assert_eq!(due("2026-05-31 06:00"), ["count"]);
    assert_eq!(due("2026-07-01 06:00"), ["count", "own"]);
    good(folder, &["log", "done", "Repot", "--at", "2026-07-01 09:00"]);
    assert_eq!(due("2026-07-02 06:00"), ["count"]);
    let history = good(folder, &["history", "A1", "--at", "2026-07-02"]);
    let history = history.split_whitespace().collect::<Vec<_>>().join(" ");
    // 90 days after 1 May is 30 July.
    for words in
        ["May 2026: 2 new roots, longest leaf 180 mm", "from 30 July 2026 on", "Photos: a1.jpg"]
    {
        assert!(history.contains(words), "{words:?} is not in {history}");
    }
    let grown = good(folder, &["history", "growth", "--at", "2026-07-02", "--svg", "g.svg"]);
    assert!(grown.starts_with("A1") && grown.contains("May 2026: 2 new roots"), "{grown}");
    assert!(!grown.contains("A2"), "nothing was counted on it: {grown}");
    let picture = std::fs::read_to_string(folder.join("g.svg")).unwrap();
    assert!(picture.contains(">longest leaf, mm<") && picture.contains("2026-05: 2 new roots"));
    let none = good(folder, &["history", "growth", "--plant", "A2", "--at", "2026-07-02"]);
    assert!(none.contains("guardcell log growth"), "{none}");
    let case = good(folder, &at("2026-07-02 06:00", &["case", "a1"]));
    for words in ["A1 Phalaenopsis", "PLACE", "GROWS", "DUE", "NOW", "rain", "at Thu 2 July, 06:00"]
    {
        assert!(case.contains(words), "{words:?} is not in {case}");
    }
    for (file, words) in [("a1.md", "## Grows"), ("a1.html", "<h2>Grows</h2>")] {
        good(folder, &at("2026-07-02 06:00", &["case", "A1", "--output", file]));
        let text = std::fs::read_to_string(folder.join(file)).unwrap();
        assert!(text.contains(words) && text.contains("2 new roots"), "{text}");
    }
    // A place that can be read only once, as a pipe, is enough.
    let place = std::fs::File::open(folder.join("site.toml")).unwrap();
    let piped = std::process::Command::new(env!("CARGO_BIN_EXE_guardcell"))
        .current_dir(folder)
        .args(at("2026-07-02 06:00", &["case", "A1", "--site", "-"]))
        .stdin(place)
        .output()
        .unwrap();
    assert_eq!(String::from_utf8(piped.stdout).unwrap(), case, "{:?}", piped.stderr);
    // Without any air the sheet shows all else.
    let blind = good(folder, &["case", "A2", "--at", "2026-07-02 06:00"]);
    assert!(blind.contains("not known: there are no readings of the air"), "{blind}");
    refused(folder, &["case", "B9"], &["B9"]);
}

#[test]
fn a_plain_number_has_the_unit_of_its_flag() {
    let dir = folder("");
    let folder = dir.path();
    let film = |temp: &str, humidity: &str, air: &str| {
        good(folder, &["film", "--temp", temp, "--humidity", humidity, "--air", air])
    };
    assert_eq!(film("20", "70", "0.5"), film("20 °C", "70 %", "0.5 m/s"));
    // 68 °F is 20 °C.
    assert_eq!(film("68F", "70", "0.5"), film("20", "70", "0.5"));
    assert_eq!(
        good(folder, &["air", "--temp", "25", "--humidity", "50"]),
        good(folder, &["air", "--temp", "25 °C", "--humidity", "50 %"])
    );
    refused(folder, &["film", "--temp", "22 L", "--humidity", "60", "--air", "fan"], &["--temp"]);
    refused(folder, &["round", "--hours", "99999"], &["1..=168"]);
    refused(folder, &["rescue", "Vanda", "--days", "0"], &["1..="]);
    // The factors are those of the three scales: 1413 µS/cm is 706 ppm on the 500.
    let which = |ppm: &str| {
        json(folder, &["meter", ppm, "--which-scale", "--reference", "1413 µS/cm"])["scales"]
            .clone()
    };
    assert_eq!(which("706 ppm"), serde_json::json!(["500"]));
    assert_eq!(which("989"), serde_json::json!(["700"]));
    refused(folder, &["meter", "706 ppm", "--which-scale"], &["--reference"]);
}

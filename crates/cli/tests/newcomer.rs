//! What a newcomer types: the program, `init` with its answers, `guardcell`. Questions and refused
//! commands are counted, and the screens that follow are measured through a year.
#![allow(clippy::unwrap_used, missing_docs, reason = "a test")]

mod run;

use run::{Output, demo_data};
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};

/// The limits of the screen: a plain terminal.
const LINES: usize = 24;
const COLUMNS: usize = 80;
/// Questions that `init` may ask.
const QUESTIONS: usize = 8;
/// Lines of the sheet for 120 plants.
const SHEET: usize = 150;

fn typed(folder: &Path, args: &[&str], input: &str) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_guardcell"));
    command.args(args).current_dir(folder);
    for name in ["GUARDCELL_DIR", "GUARDCELL_JOURNAL", "GUARDCELL_SERVER"] {
        command.env_remove(name);
    }
    let mut child = command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // A program that refuses at once does not read its input.
    let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    child.wait_with_output().unwrap().into()
}

fn good(folder: &Path, args: &[&str]) -> String {
    let out = typed(folder, args, "");
    assert_eq!(out.code, 0, "{args:?}: {}", out.stderr);
    out.stdout
}

/// The answers of a grower who knows little.
const ANSWERS: &str = "Europe/London\n\
    windowsill, rack: shelf lamps 7-21, lean-to\n\
    Phalaenopsis, moth orchid @rack, Cattleya labiata (mounted, established) @lean-to, Vanda (rootless), Paph. @rack\n\
    20-20-20\n\
    rain\n\
    22 65 fan\n\
    mister 1 L, scale 0.1 g\n\
    yes\n";

fn fits_a_screen(text: &str, of: &str) {
    let lines: Vec<&str> = text.lines().collect();
    assert!(lines.len() <= LINES, "{of}: {} lines:\n{text}", lines.len());
    for line in lines {
        assert!(line.chars().count() <= COLUMNS, "{of}: {} columns: {line}", line.chars().count());
    }
    // Nothing of how the program is made shows.
    for debug in ["{", "}", "None", "Some(", "::", "NaN", "99999"] {
        assert!(!text.contains(debug), "{of}: {debug:?} in:\n{text}");
    }
}

#[test]
fn from_nothing_to_the_first_answer() {
    let folder = tempfile::tempdir().unwrap();
    // Outside any folder the program says how to begin, and refuses nothing.
    let help = good(folder.path(), &[]);
    assert!(help.contains("guardcell init"), "{help}");
    fits_a_screen(&help, "no folder");
    let init = typed(folder.path(), &["init"], ANSWERS);
    assert_eq!(init.code, 0, "{}", init.stderr);
    let asked = init.stderr.lines().filter(|l| l.contains(&format!(" of {QUESTIONS}  "))).count();
    assert!(asked <= QUESTIONS, "{asked} questions:\n{}", init.stderr);
    assert_eq!(asked, ANSWERS.lines().count(), "every answer was taken at once");
    for line in init.stderr.lines().chain(init.stdout.lines()) {
        assert!(line.chars().count() <= COLUMNS, "{line}");
    }
    let today = good(folder.path(), &[]);
    fits_a_screen(&today, "the first answer");
    assert!(today.contains("P-004"), "the plant without roots is named:\n{today}");
    // From a folder below too, and everything is found to be there.
    let below = folder.path().join("labels");
    fits_a_screen(&good(&below, &[]), "from below");
    let check = good(folder.path(), &["check"]);
    assert!(check.contains("moth orchid, taken for Phalaenopsis"), "{check}");
    assert!(check.contains("Nothing is missing"), "{check}");
}

#[test]
fn an_answer_that_cannot_be_used_is_asked_again() {
    let folder = tempfile::tempdir().unwrap();
    let answers = "somewhere\n51.5 -0.1\nmoon\nroom\n\n\n\n\n\nno\n";
    let out = typed(folder.path(), &["init"], answers);
    assert_eq!(out.code, 0, "{}", out.stderr);
    assert!(out.stderr.contains("Nothing was written"), "{}", out.stderr);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
    // Input that ends early is not an answer.
    let out = typed(folder.path(), &["init"], "51.5 -0.1\n");
    assert_eq!(out.code, 2);
    assert!(out.stderr.contains("--areas"), "{}", out.stderr);
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn init_by_flags_overwrites_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let args =
        ["init", "--yes", "--place", "-33.9 18.4 Africa/Johannesburg", "--areas", "shade house"];
    let out = typed(folder.path(), &args, "");
    assert_eq!(out.code, 0, "{}", out.stderr);
    let site = std::fs::read_to_string(folder.path().join("site.toml")).unwrap();
    assert!(site.contains("latitude_deg = -33.9") && site.contains("taken as outdoors"), "{site}");
    for again in [&args[..], &["init", "--demo"], &["init"]] {
        let out = typed(folder.path(), again, ANSWERS);
        assert_eq!(out.code, 2, "{again:?}");
        assert!(out.stderr.contains("overwrites nothing"), "{}", out.stderr);
    }
    assert_eq!(std::fs::read_to_string(folder.path().join("site.toml")).unwrap(), site);
    // A single file in the way stops all of them.
    let other = tempfile::tempdir().unwrap();
    std::fs::write(other.path().join("water.toml"), "mine").unwrap();
    assert_eq!(typed(other.path(), &["init", "--demo"], "").code, 2);
    assert_eq!(std::fs::read_dir(other.path()).unwrap().count(), 1);
}

#[test]
fn a_half_written_folder_says_what_is_missing() {
    let folder = tempfile::tempdir().unwrap();
    let args = ["init", "--yes", "--place", "Europe/London", "--areas", "room"];
    assert_eq!(typed(folder.path(), &args, "").code, 0);
    let row = "id,name,area,setting,standing\nA1,Phalaenopsiss,cellar,potted,ordinary\n";
    std::fs::write(folder.path().join("collection.csv"), row).unwrap();
    let out = typed(folder.path(), &["check"], "");
    assert_eq!(out.code, 1, "{}", out.stderr);
    for said in
        ["taken for Phalaenopsis", "no area \"cellar\"", "labels/", "waters/", "conditions/"]
    {
        assert!(out.stdout.contains(said), "{said}: {}", out.stdout);
    }
    // Without air nothing can be planned, and the refusal says how to give it.
    std::fs::write(folder.path().join("collection.csv"), row.replace("cellar", "room")).unwrap();
    let typed_air = ["--temp", "75F", "--humidity", "60", "--air", "fan"];
    for (args, missing) in [(&[][..], "--temp 22 --humidity 60"), (&typed_air, "labels/")] {
        let out = typed(folder.path(), args, "");
        assert_eq!(out.code, 1, "{}", out.stderr);
        assert!(out.stdout.contains(missing), "{args:?}: {}", out.stdout);
        fits_a_screen(&out.stdout, "half a folder");
    }
    std::fs::create_dir(folder.path().join("labels")).unwrap();
    let label = "name = \"Test 20-20-20\"\n[guaranteed]\nn_percent = 20\n";
    std::fs::write(folder.path().join("labels/test.toml"), label).unwrap();
    let out = typed(folder.path(), &typed_air, "");
    assert_eq!(out.code, 0, "{} {}", out.stdout, out.stderr);
    fits_a_screen(&out.stdout, "typed air");
}

/// The demo folder with so many plants and the air around one day.
fn folder_of(plants: usize, day: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let demo = demo_data();
    for file in ["site.toml", "water.toml"] {
        std::fs::copy(demo.join(file), folder.path().join(file)).unwrap();
    }
    std::fs::create_dir(folder.path().join("labels")).unwrap();
    let label = "labels/fernhollow-mist-15-5-15.toml";
    std::fs::copy(demo.join(label), folder.path().join(label)).unwrap();
    let collection = std::fs::read_to_string(demo.join("collection.csv")).unwrap();
    let mut lines = collection.lines();
    let mut text = format!("{}\n", lines.next().unwrap());
    let rows: Vec<&str> = lines.collect();
    for (i, row) in rows.iter().cycle().take(plants).enumerate() {
        let rest = row.split_once(',').unwrap().1;
        text.push_str(&format!("N-{:03},{rest}\n", i + 1));
    }
    std::fs::write(folder.path().join("collection.csv"), text).unwrap();
    let start: jiff::civil::Date = day.parse().unwrap();
    let days: Vec<String> =
        (-2..4).map(|d| start.saturating_add(jiff::Span::new().days(d)).to_string()).collect();
    let year = std::fs::read_to_string(demo.join("conditions.csv")).unwrap();
    let air: String = year
        .lines()
        .enumerate()
        .filter(|(i, l)| *i == 0 || days.iter().any(|d| l.starts_with(d.as_str())))
        .map(|(_, l)| format!("{l}\n"))
        .collect();
    std::fs::write(folder.path().join("conditions.csv"), air).unwrap();
    folder
}

#[test]
fn today_fits_a_screen_through_the_year() {
    for (plants, days) in [
        (5, &["2026-01-15", "2026-04-02", "2026-07-19", "2026-10-25", "2026-12-24"][..]),
        (48, &["2026-02-11", "2026-06-21", "2026-09-08", "2026-11-30"]),
        (120, &["2026-01-20", "2026-05-14", "2026-08-03"]),
    ] {
        for day in days {
            let folder = folder_of(plants, day);
            let at = format!("{day}T07:00:00-01:00");
            let of = format!("{plants} plants on {day}");
            let today = good(folder.path(), &["--at", &at]);
            fits_a_screen(&today, &of);
            assert!(today.contains("NEXT"), "{today}");
            if plants == 120 {
                let sheet = good(folder.path(), &["round", "--at", &at]);
                let lines = sheet.lines().count();
                assert!(lines <= SHEET, "{of}: the sheet has {lines} lines");
                assert!(sheet.lines().all(|l| l.chars().count() <= COLUMNS), "{sheet}");
                // Each plant is on the sheet, to be ticked off or named as left.
                for n in 1..=plants {
                    assert!(sheet.contains(&format!("N-{n:03}")), "{of}: N-{n:03}");
                }
            }
        }
    }
}

/// The start is 05:30, and so is the air: not the noon of its date.
#[test]
fn typed_air_is_that_of_the_start() {
    let folder = tempfile::tempdir().unwrap();
    good(folder.path(), &["init", "--demo"]);
    for (at, last) in [("2026-06-21 05:30", "T05:30"), ("2026-06-21", "T12:00")] {
        let typed = ["--temp", "22", "--humidity", "65", "--air", "light"];
        let mut args = vec!["round", "--at", at, "--json"];
        args.extend(typed);
        let plan: serde_json::Value = serde_json::from_str(&good(folder.path(), &args)).unwrap();
        let cautions = plan["cautions"].as_array().unwrap();
        let ends: Vec<&str> =
            cautions.iter().filter_map(|c| c["inputs"]["last_reading"].as_str()).collect();
        assert!(!ends.is_empty() && ends.iter().all(|t| t.contains(last)), "{at}: {ends:?}");
    }
}

#[test]
fn old_air_is_said_on_top() {
    let folder = folder_of(5, "2026-06-21");
    let out = typed(folder.path(), &["--at", "2026-07-02T08:00:00-01:00"], "");
    assert_eq!(out.code, 1, "{}", out.stderr);
    fits_a_screen(&out.stdout, "old air");
    assert!(out.stdout.contains("days old") && out.stdout.contains("--temp"), "{}", out.stdout);
    // A flag that is wrong is refused as such.
    let out = typed(folder.path(), &["--temp", "warm", "--humidity", "60"], "");
    assert!(out.code == 2 && out.stderr.contains("--temp"), "{}", out.stderr);
}

#[test]
fn flags_come_before_the_folder() {
    let folder = folder_of(5, "2026-06-21");
    std::fs::write(
        folder.path().join("other.csv"),
        "id,name,area,setting,standing\nX,Vanda,house,basket,ordinary\n",
    )
    .unwrap();
    let text = good(folder.path(), &["advise", "--at", "2026-06-21", "--collection", "other.csv"]);
    assert!(text.contains("X Vanda") && !text.contains("N-001"), "{text}");
    let refused = typed(folder.path(), &["round", "--at", "2026-06-21", "--area", "cellar"], "");
    assert!(refused.code == 2 && refused.stderr.contains("house"), "{}", refused.stderr);
    let one = good(folder.path(), &["round", "--at", "2026-06-21", "--plant", "N-001"]);
    assert!(one.contains("N-001") && !one.contains("N-002"), "{one}");
}

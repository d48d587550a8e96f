//! Every verb that writes a file: links are followed, devices and pipes written directly, `-` is
//! standard output, permissions kept, and nothing foreign steers a terminal or a spreadsheet.
#![cfg(unix)]
#![allow(clippy::unwrap_used, reason = "a test ends where its preparation fails")]

mod house;
mod run;

use house::House;
use std::fs::{self, Permissions};
use std::os::unix::fs::{PermissionsExt as _, symlink};
use std::path::Path;

const ROWS: &str = "temp_c,rh_percent\n22,65\n24,50\n";

fn mode(path: &Path) -> u32 {
    fs::metadata(path).unwrap().permissions().mode() & 0o777
}

fn batch<'a>(more: &[&'a str]) -> Vec<&'a str> {
    let mut args = vec!["batch", "air", "--input", "in.csv", "--quiet", "--output"];
    args.extend(more);
    args
}

#[test]
fn batch_follows_links_and_keeps_permissions() {
    let house = House::new();
    fs::write(house.path("in.csv"), ROWS).unwrap();
    fs::create_dir(house.path("far")).unwrap();
    let target = house.path("far/out.csv");
    fs::write(&target, "old").unwrap();
    fs::set_permissions(&target, Permissions::from_mode(0o600)).unwrap();
    symlink("far/out.csv", house.path("out.csv")).unwrap();
    house.good(&batch(&["out.csv"]));
    assert!(fs::symlink_metadata(house.path("out.csv")).unwrap().is_symlink());
    assert!(fs::read_to_string(&target).unwrap().lines().count() == 3);
    assert_eq!(mode(&target), 0o600);
    // The name of a part can be guessed: a link that waits there is not followed.
    let bait = house.path("bait");
    fs::write(&bait, "precious").unwrap();
    symlink(&bait, house.path("other.csv.part")).unwrap();
    assert_eq!(house.run(&batch(&["other.csv"])).code, 3);
    assert_eq!(fs::read_to_string(&bait).unwrap(), "precious");
}

#[test]
fn batch_writes_standard_output_devices_and_pipes() {
    let house = House::new();
    fs::write(house.path("in.csv"), ROWS).unwrap();
    house.good(&batch(&["out.csv"]));
    let expected = fs::read_to_string(house.path("out.csv")).unwrap();
    assert_eq!(house.good(&batch(&["-", "--errors", "e.csv"])), expected);
    assert!(!house.path("-").exists());
    house.good(&batch(&["/dev/null", "--errors", "e.csv"]));
    assert!(!fs::metadata("/dev/null").unwrap().is_file());
    let pipe = house.path("pipe");
    assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
    let reader = std::thread::spawn({
        let pipe = pipe.clone();
        move || fs::read_to_string(pipe).unwrap()
    });
    house.good(&batch(&["pipe", "--errors", "e.csv"]));
    assert_eq!(reader.join().unwrap(), expected);
    assert!(!fs::metadata(&pipe).unwrap().is_file());
    house.refused(&batch(&["-"]), &["--errors"]);
    house.refused(&batch(&["-", "--errors", "e.csv", "--resume"]), &["--resume"]);
}

#[test]
fn a_backup_is_as_private_as_its_journal() {
    let house = House::new();
    house.good(&["log", "note", "one", "--at", "2026-06-21 05:30"]);
    fs::set_permissions(house.journal(), Permissions::from_mode(0o600)).unwrap();
    house.good(&["journal", "backup", "b.journal"]);
    assert_eq!(mode(&house.path("b.journal")), 0o600);
    fs::set_permissions(house.path("b.journal"), Permissions::from_mode(0o644)).unwrap();
    house.good(&["journal", "restore", "b.journal", "--replace"]);
    assert_eq!(mode(&house.journal()), 0o600);
    symlink("real.journal", house.path("link.journal")).unwrap();
    house.good(&["journal", "backup", "link.journal", "--replace"]);
    assert!(fs::symlink_metadata(house.path("link.journal")).unwrap().is_symlink());
    assert!(house.path("real.journal").is_file());
}

#[test]
fn foreign_names_steer_no_terminal() {
    let house = House::new();
    let name = "sly\u{1b}[2J\u{9b}1m.csv";
    fs::write(house.path(name), ROWS).unwrap();
    let plain = |text: &str| !text.chars().any(|c| c.is_control() && c != '\n');
    let done = house.run(&["batch", "air", "--input", name, "--output", "sly\u{9b}out.csv"]);
    assert_eq!(done.code, 0, "{}", done.stderr);
    assert!(plain(&done.stderr) && done.stderr.contains("\\u{9b}"), "{:?}", done.stderr);
    let missing = house.run(&["batch", "air", "--input", "no\u{1b}[2J.csv", "--output", "x.csv"]);
    assert!(missing.code != 0 && plain(&missing.stderr), "{:?}", missing.stderr);
    // A name that is repeated in the answer: C1 control characters and marks that turn text round.
    let name = "Cattleya \u{9b}31m\u{202e}labiata";
    for args in [&["genus", name][..], &["genus", name, "--json"]] {
        let shown = house.run(args);
        let all = shown.stdout + &shown.stderr;
        assert!(all.contains("31m") && plain(&all) && !all.contains('\u{202e}'), "{all:?}");
    }
}

#[test]
fn an_export_for_spreadsheets_runs_no_formula() {
    let house = House::new();
    let formula = "=HYPERLINK(\"http://example.invalid\")";
    house.good(&["log", "note", formula, "--at", "2026-06-21 05:30"]);
    house.good(&["journal", "export", "--format", "spreadsheet", "-o", "s.csv"]);
    let text = fs::read_to_string(house.path("s.csv")).unwrap();
    assert!(text.contains("\"'=HYPERLINK("), "{text}");
    let args = ["journal", "import", "s.csv", "--format", "spreadsheet", "--journal", "x.journal"];
    house.good(&args);
    let back = house.good(&["journal", "export", "--format", "csv", "--journal", "x.journal"]);
    assert_eq!(back, house.good(&["journal", "export", "--format", "csv"]));
}

#[test]
fn tables_for_spreadsheets_run_no_formula() {
    let house = House::new();
    let rows = "id,quantity,to\n=1+1,300 mg/L,g/L\n@SUM(A1),300 parsecs,g/L\n-5,1 g/L,mg/L\n";
    fs::write(house.path("in.csv"), rows).unwrap();
    let run = ["batch", "convert", "--input", "in.csv", "--output", "out.csv", "--spreadsheet"];
    assert_eq!(house.run(&run).code, 2, "one row has an unknown unit");
    let written = fs::read_to_string(house.path("out.csv")).unwrap();
    assert!(written.contains("\n'=1+1,300 mg/L,") && written.contains("\n-5,1 g/L,"), "{written}");
    // The rows that were refused stand whole in one cell, which begins with the first of the row.
    let refused = fs::read_to_string(house.path("out.csv.errors.csv")).unwrap();
    assert!(refused.contains("\"'@SUM(A1),300 parsecs,g/L\""), "{refused}");
    // Without the flag every byte of the row is passed along.
    house.run(&["batch", "convert", "--input", "in.csv", "--output", "raw.csv"]);
    assert!(fs::read_to_string(house.path("raw.csv")).unwrap().contains("\n=1+1,300 mg/L,"));
    // Rows of NDJSON are not read by spreadsheets.
    let lines = [&run[..2], &["--input", "x.ndjson", "--output", "y", "--spreadsheet"]].concat();
    assert_eq!(house.run(&lines).code, 2);
}

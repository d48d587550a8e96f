//! `journal`: the file is checked, copied, exported and imported; what cannot be written is said
//! with exit code 3 and nothing is lost.

#![allow(clippy::unwrap_used, reason = "a test ends where its preparation fails")]

mod house;
mod run;

use house::{House, finished};
use std::fs::File;
use std::process::Stdio;

fn filled() -> House {
    let house = House::new();
    house.good(&["log", "round", "FH-001", "--strength", "300 mg/L", "--at", "2026-06-21 05:30"]);
    house.good(&[
        "log",
        "residue",
        "faint",
        "FH-001",
        "--at",
        "2026-06-21 18:00",
        "--note",
        "a, \"b\"\nc",
    ]);
    let first = house.ids().remove(0);
    house.good(&["log", "correct", &first, "--strength", "150 mg/L"]);
    house
}

#[test]
fn out_and_in_again_is_the_same_to_the_byte() {
    let house = filled();
    for form in ["jsonl", "csv"] {
        let (out, again) = (format!("out.{form}"), format!("again.{form}"));
        let other = format!("{form}.journal");
        house.good(&["journal", "export", "--format", form, "--output", &out]);
        let text = house.good(&["journal", "import", &out, "--journal", &other]);
        assert!(text.contains("Recorded 3 entries"), "{text}");
        house.good(&["journal", "export", "--format", form, "-o", &again, "--journal", &other]);
        let bytes = |f: &str| std::fs::read(house.path(f)).unwrap();
        assert_eq!(bytes(&out), bytes(&again), "{form}");
        assert_eq!(house.good(&["journal", "export", "--format", form]).as_bytes(), bytes(&out));
        let text = house.good(&["journal", "import", &out, "--journal", &other]);
        assert!(text.contains("3 had been there already"), "{text}");
    }
    house.refused(&["journal", "import", "house.journal"], &["--format"]);
    let out =
        house.asked(&["journal", "import", "-", "--format", "jsonl", "--journal", "x"], "{}\n");
    assert_eq!(out.code, 2);
    assert!(out.stderr.contains("standard input:1") && out.stderr.contains("at"), "{}", out.stderr);
}

#[test]
fn backup_and_restore() {
    let house = filled();
    house.good(&["journal", "backup", "b.journal"]);
    house.refused(&["journal", "backup", "b.journal"], &["b.journal", "--replace"]);
    house.good(&["journal", "backup", "b.journal", "--replace"]);
    house.good(&["log", "note", "later", "--at", "2026-06-22 08:00"]);
    house.refused(&["journal", "restore", "b.journal"], &["--replace"]);
    let text = house.good(&["journal", "restore", "b.journal", "--replace"]);
    assert!(text.contains("Restored 3 entries") && text.contains("before-restore"), "{text}");
    assert_eq!(house.ids().len(), 3);
    house.good(&["journal", "restore", "b.journal", "--journal", "new.journal"]);
    assert!(house.good(&["journal", "verify", "--journal", "new.journal"]).contains("3 entries"));
    let out = house.run(&["journal", "restore", "none.journal", "--replace"]);
    assert_eq!(out.code, 3, "{}", out.stderr);
}

#[test]
fn no_journal_is_named_or_there() {
    let house = House::new();
    let out = house.run(&["history"]);
    assert_eq!(out.code, 3);
    assert!(out.stderr.contains("there is no journal here"), "{}", out.stderr);
    let outside = |args: &[&str]| {
        let mut command = house.command(args);
        command.env_remove("GUARDCELL_JOURNAL").env_remove("GUARDCELL_DIR");
        finished(command, "")
    };
    let out = outside(&["log", "note", "x"]);
    assert_eq!(out.code, 2);
    assert!(out.stderr.contains("GUARDCELL_JOURNAL") && out.stderr.contains("journal.db"));
    // That of the folder is found from below it, and started by the first entry.
    let site = std::fs::read(concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-data/site.toml"));
    std::fs::write(house.path("site.toml"), site.unwrap()).unwrap();
    let out = outside(&["log", "note", "x"]);
    assert_eq!(out.code, 0, "{}", out.stderr);
    assert!(house.path("journal.db").is_file());
    let out = outside(&["history", "entries"]);
    assert!(out.code == 0 && out.stdout.contains("“x”"), "{} {}", out.stdout, out.stderr);
}

#[test]
fn a_newer_file_and_a_foreign_one_are_left_untouched() {
    let house = filled();
    let path = house.journal();
    let mut bytes = std::fs::read(&path).unwrap();
    // The user version, bytes 60 to 63 of the header (SQLite, "Database File Format", 1.3).
    bytes[60..64].copy_from_slice(&9999_i32.to_be_bytes());
    std::fs::write(&path, &bytes).unwrap();
    house.refused(
        &["log", "note", "x", "--at", "2026-06-22 08:00"],
        &["newer version", "untouched"],
    );
    house.refused(&["history"], &["newer version"]);
    assert_eq!(std::fs::read(&path).unwrap(), bytes);
    std::fs::write(&path, "a shopping list").unwrap();
    house.refused(&["log", "note", "x", "--at", "2026-06-22 08:00"], &["not a journal"]);
    assert_eq!(std::fs::read(&path).unwrap(), b"a shopping list");
}

#[test]
fn damage_is_told() {
    let house = filled();
    for i in 0..40 {
        let note = format!("{i} {}", "word ".repeat(60));
        house.good(&["log", "note", &note, "--at", "2026-06-22 08:00"]);
    }
    let path = house.journal();
    let mut bytes = std::fs::read(&path).unwrap();
    // An entry in the middle of the file: a page has room in it that holds nothing.
    let half = bytes.len() / 2;
    let middle = half + bytes[half..].windows(10).position(|w| w == b"word word ").unwrap();
    bytes[middle..middle + 600].fill(0x55);
    std::fs::write(&path, &bytes).unwrap();
    let out = house.run(&["journal", "verify"]);
    assert_eq!(out.code, 3, "{} {}", out.stdout, out.stderr);
    assert!(out.stderr.contains("restore"), "{}", out.stderr);
}

#[test]
fn two_at_once_are_both_recorded() {
    let house = filled();
    let children: Vec<_> = (0..12)
        .map(|i| {
            let note = format!("by {i}");
            let mut command = house.command(&["log", "note", &note, "--at", "2026-06-22 08:00"]);
            command.stdout(Stdio::null()).spawn().unwrap()
        })
        .collect();
    for mut child in children {
        assert!(child.wait().unwrap().success());
    }
    assert_eq!(house.ids().len(), 15);
    assert!(house.good(&["journal", "verify"]).contains("Nothing is wrong."));
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_standard_output_loses_nothing() {
    let house = filled();
    let full = || Stdio::from(File::options().write(true).open("/dev/full").unwrap());
    let mut command = house.command(&["log", "note", "kept", "--at", "2026-06-22 08:00"]);
    let out = command.stdout(full()).output().unwrap();
    assert_eq!(out.status.code(), Some(3));
    let says = String::from_utf8(out.stderr).unwrap();
    assert!(says.contains("1 entry was recorded"), "{says}");
    assert_eq!(house.ids().len(), 4);
    let mut command = house.command(&["journal", "export"]);
    let out = command.stdout(full()).output().unwrap();
    assert_eq!(out.status.code(), Some(3));
}

#[cfg(unix)]
#[test]
fn a_folder_that_cannot_be_written() {
    use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _};
    use std::os::unix::process::CommandExt as _;
    let house = filled();
    let shelf = house.path("shelf");
    std::fs::create_dir(&shelf).unwrap();
    house.good(&["journal", "backup", "shelf/house.journal"]);
    let mode = |p: &std::path::Path, m| {
        std::fs::set_permissions(p, std::fs::Permissions::from_mode(m)).unwrap();
    };
    mode(house.0.path(), 0o755);
    mode(&shelf.join("house.journal"), 0o444);
    mode(&shelf, 0o555);
    let as_guest = |args: &[&str]| {
        let program = house.path("guardcell");
        if !program.exists() {
            std::fs::copy(env!("CARGO_BIN_EXE_guardcell"), &program).unwrap();
        }
        let mut command = std::process::Command::new(&program);
        command
            .args(args)
            .current_dir(house.0.path())
            .args(["--journal", "shelf/house.journal"])
            .env_remove("GUARDCELL_DIR");
        // Root may write anywhere, so the program runs as somebody else.
        if std::fs::metadata("/proc/self").is_ok_and(|m| m.uid() == 0) {
            command.uid(65534).gid(65534);
        }
        finished(command, "")
    };
    let out = as_guest(&["log", "note", "x", "--at", "2026-06-22 08:00"]);
    assert_eq!(out.code, 3, "{} {}", out.stdout, out.stderr);
    assert!(out.stderr.contains("cannot be written"), "{}", out.stderr);
    // It can still be read.
    let out = as_guest(&["history", "entries", "--at", "2026-06-22"]);
    assert!(out.code == 0 && out.stdout.contains("150 mg/L"), "{} {}", out.stdout, out.stderr);
    mode(&shelf, 0o755);
}

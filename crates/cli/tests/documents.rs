//! The commands that README and guide show give the output that they show.
#![allow(clippy::unwrap_used, missing_docs, reason = "a test")]

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// The chapter that begins outside any folder.
const FIRST_DAY: &str = "docs/guide/src/first-day.md";

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize().unwrap()
}

fn cases() -> trycmd::TestCases {
    let cases = trycmd::TestCases::new();
    cases.default_bin_name("guardcell").env("NO_COLOR", "1").env("COLUMNS", "80");
    cases
}

#[test]
fn documents_show_what_the_program_prints() {
    // Commands in the documents are typed at the top of the project.
    std::env::set_current_dir(root()).unwrap();
    cases().case("README.md").case("docs/guide/src/*.md").skip(FIRST_DAY).run();
    // The first day begins in an empty folder.
    let empty = tempfile::tempdir().unwrap();
    std::env::set_current_dir(empty.path()).unwrap();
    cases().case(root().join(FIRST_DAY)).run();
    std::env::set_current_dir(root()).unwrap();
}

#[test]
fn the_first_day_shows_the_questions_that_are_asked() {
    let chapter = std::fs::read_to_string(root().join(FIRST_DAY)).unwrap();
    let dialogue = chapter.split("```text\n").nth(1).unwrap().split("```").next().unwrap();
    let answers: String =
        dialogue.lines().filter_map(|l| l.strip_prefix("> ")).map(|a| format!("{a}\n")).collect();
    let empty = tempfile::tempdir().unwrap();
    let mut child = Command::new(env!("CARGO_BIN_EXE_guardcell"))
        .arg("init")
        .current_dir(empty.path())
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(answers.as_bytes()).unwrap();
    let out = child.wait_with_output().unwrap();
    assert!(out.status.success());
    let asked = String::from_utf8(out.stderr).unwrap();
    let shown: Vec<&str> =
        dialogue.lines().filter(|l| !l.is_empty() && !l.starts_with('>')).collect();
    // Answers are not echoed where they are piped, so a prompt stays before the next line.
    let lines: Vec<&str> = asked
        .lines()
        .map(|l| l.trim_start_matches("> "))
        .filter(|l| {
            !l.trim().is_empty()
                && !l.trim_end().ends_with(".toml")
                && !l.trim_end().ends_with(".csv")
        })
        .collect();
    assert_eq!(shown, lines);
}

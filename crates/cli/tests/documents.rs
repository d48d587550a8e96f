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

/// The blocks of a chapter that are shell, without output; those of cargo are left to CI.
fn shell_blocks(chapter: &str) -> String {
    let blocks = chapter.split("```sh\n").skip(1).map(|b| b.split("```").next().unwrap());
    blocks.filter(|b| !b.starts_with("cargo ")).collect::<Vec<_>>().join("\n")
}

#[test]
fn shell_blocks_of_the_guide_run() {
    let mut ran = Vec::new();
    for entry in std::fs::read_dir(root().join("docs/guide/src")).unwrap() {
        let path = entry.unwrap().path();
        let blocks = shell_blocks(&std::fs::read_to_string(&path).unwrap());
        if blocks.is_empty() {
            continue;
        }
        ran.push(path.file_stem().unwrap().to_str().unwrap().to_owned());
        let empty = tempfile::tempdir().unwrap();
        if !blocks.contains("init --demo orchids") {
            let made = Command::new(env!("CARGO_BIN_EXE_guardcell"))
                .args(["init", "--demo", "orchids"])
                .current_dir(empty.path())
                .output();
            assert!(made.unwrap().status.success());
        }
        // A port of its own, as other servers may run on this machine.
        let free = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
        let address = free.local_addr().unwrap().to_string();
        drop(free);
        let blocks = blocks
            .replace("guardcell serve", &format!("guardcell serve --bind {address}"))
            .replace("127.0.0.1:8427", &address)
            .replace("curl -s ", "curl -sS --fail-with-body ");
        let bin = Path::new(env!("CARGO_BIN_EXE_guardcell")).parent().unwrap();
        let out = Command::new("bash")
            .args(["-euo", "pipefail", "-c"])
            .arg(format!("trap 'kill $(jobs -p) 2>/dev/null || true' EXIT\n{blocks}"))
            .env("PATH", format!("{}:{}", bin.display(), std::env::var("PATH").unwrap()))
            .env_remove("GUARDCELL_DIR")
            .current_dir(empty.path())
            .stdin(Stdio::null())
            .output()
            .unwrap();
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
        assert!(
            out.status.success(),
            "{}: {}\n{}{}",
            path.display(),
            out.status,
            text(&out.stdout),
            text(&out.stderr)
        );
    }
    ran.sort();
    assert_eq!(ran, ["api", "batch", "devices", "journal", "mcp", "white"]);
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

//! A house with a journal of its own, and nothing from the environment.
#![allow(dead_code, reason = "each test file uses a part")]
#![allow(unreachable_pub, missing_docs, clippy::expect_used, reason = "shared by test files")]

use crate::run::Output;
use std::io::Write as _;
use std::path::PathBuf;
use std::process::{Command, Stdio};

pub struct House(pub tempfile::TempDir);

impl House {
    pub fn new() -> Self {
        Self(tempfile::tempdir().expect("a folder"))
    }

    pub fn path(&self, file: &str) -> PathBuf {
        self.0.path().join(file)
    }

    pub fn journal(&self) -> PathBuf {
        self.path("house.journal")
    }

    /// The program with this journal and the demo site and collection.
    pub fn command(&self, args: &[&str]) -> Command {
        let data = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-data");
        let mut command = Command::new(env!("CARGO_BIN_EXE_guardcell"));
        command
            .args(args)
            .current_dir(self.0.path())
            .env("GUARDCELL_JOURNAL", self.journal())
            .env("GUARDCELL_DIR", data)
            .env_remove("GUARDCELL_SERVER");
        command
    }

    pub fn run(&self, args: &[&str]) -> Output {
        self.asked(args, "")
    }

    /// With this on standard input.
    pub fn asked(&self, args: &[&str], input: &str) -> Output {
        finished(self.command(args), input)
    }

    /// Runs what must work.
    pub fn good(&self, args: &[&str]) -> String {
        let out = self.run(args);
        assert_eq!(out.code, 0, "{args:?}: {}", out.stderr);
        out.stdout
    }

    /// Runs what must be refused as bad input, and looks for words of the refusal.
    pub fn refused(&self, args: &[&str], words: &[&str]) {
        let out = self.run(args);
        assert_eq!(out.code, 2, "{args:?}: {} {}", out.stdout, out.stderr);
        assert_eq!(out.stdout, "", "{args:?}");
        for word in words {
            assert!(out.stderr.contains(word), "{args:?}: {word:?} is not in {:?}", out.stderr);
        }
    }

    /// The ids of entries, newest last, corrected ones too.
    pub fn ids(&self) -> Vec<String> {
        let text = self.good(&["journal", "export"]);
        text.lines()
            .map(|l| serde_json::from_str::<serde_json::Value>(l).expect("JSON"))
            .map(|v| v["id"].as_str().expect("an id").to_owned())
            .collect()
    }
}

pub fn finished(mut command: Command, input: &str) -> Output {
    let mut child = command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    // A program that does not read its input closes it early.
    let _ = child.stdin.take().expect("a pipe").write_all(input.as_bytes());
    child.wait_with_output().expect("the program ends").into()
}

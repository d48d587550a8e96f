//! Runs the program on a copy of the demo situation.
#![allow(dead_code, reason = "each test file uses a part")]
#![allow(unreachable_pub, missing_docs, clippy::expect_used, reason = "shared by test files")]

use std::path::{Path, PathBuf};
use std::process::Command;

pub struct Output {
    pub code: i32,
    pub stdout: String,
    pub stderr: String,
}

impl From<std::process::Output> for Output {
    fn from(out: std::process::Output) -> Self {
        Self {
            code: out.status.code().expect("the program ends by itself"),
            stdout: String::from_utf8(out.stdout).expect("UTF-8"),
            stderr: String::from_utf8(out.stderr).expect("UTF-8"),
        }
    }
}

/// Runs the program.
pub fn guardcell(args: &[&str]) -> Output {
    let out = Command::new(env!("CARGO_BIN_EXE_guardcell")).args(args).output();
    out.expect("the program starts").into()
}

/// The folder of the demo data.
pub fn demo_data() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data")
}

/// A copy of the demo situation that a test may spoil.
pub struct Demo(PathBuf);

impl Demo {
    pub fn new(name: &str) -> Self {
        let dir = Path::new(env!("CARGO_TARGET_TMPDIR"))
            .join(format!("{name}-{:?}", std::thread::current().id()));
        std::fs::create_dir_all(&dir).expect("a folder");
        for file in ["collection.csv", "site.toml", "water.toml"] {
            std::fs::copy(demo_data().join(file), dir.join(file)).expect("the demo data");
        }
        let demo = Self(dir);
        // Only the days a round at midsummer looks at: the whole year is slow to read often.
        let year = std::fs::read_to_string(demo_data().join("conditions.csv")).expect("the year");
        let days: String = year
            .lines()
            .enumerate()
            .filter(|(i, l)| *i == 0 || l.starts_with("2026-06-2"))
            .map(|(_, l)| format!("{l}\n"))
            .collect();
        demo.write("conditions.csv", &days);
        demo.write(
            "label.toml",
            "name = \"Fernhollow Test 13-2-13\"\n\
             derived_from = [\"potassium nitrate\", \"calcium nitrate\", \"monopotassium phosphate\"]\n\
             [guaranteed]\nn_percent = 13\np2o5_percent = 2\nk2o_percent = 13\n",
        );
        let site = demo.read("site.toml");
        let site: String = site
            .lines()
            .filter(|l| !l.trim_start().starts_with("feed ="))
            .map(|l| format!("{l}\n"))
            .collect();
        demo.write("site.toml", &site);
        demo
    }

    pub fn path(&self, file: &str) -> String {
        self.0.join(file).display().to_string()
    }

    pub fn read(&self, file: &str) -> String {
        std::fs::read_to_string(self.0.join(file)).expect("the file")
    }

    pub fn write(&self, file: &str, text: &str) {
        self.write_bytes(file, text.as_bytes());
    }

    pub fn write_bytes(&self, file: &str, bytes: &[u8]) {
        std::fs::write(self.0.join(file), bytes).expect("the file can be written");
    }

    pub fn remove(&self, file: &str) {
        std::fs::remove_file(self.0.join(file)).expect("the file is there");
    }

    pub fn round(&self) -> Output {
        self.round_with(&[])
    }

    pub fn round_with(&self, more: &[&str]) -> Output {
        self.situation("round", more)
    }

    /// `round` or `advise` at midsummer.
    pub fn situation(&self, verb: &str, more: &[&str]) -> Output {
        let args = self.situation_args(&[verb], more);
        guardcell(&args.iter().map(String::as_str).collect::<Vec<&str>>())
    }

    /// The arguments of a verb that looks at the whole situation, at midsummer.
    pub fn situation_args(&self, verb: &[&str], more: &[&str]) -> Vec<String> {
        let mut args: Vec<String> = verb.iter().map(|w| (*w).to_owned()).collect();
        for (flag, file) in [
            ("--collection", "collection.csv"),
            ("--label", "label.toml"),
            ("--water", "water.toml"),
            ("--site", "site.toml"),
            ("--conditions", "conditions.csv"),
        ] {
            args.extend([flag.to_owned(), self.path(file)]);
        }
        args.extend(["--at", "2026-06-21"].map(str::to_owned));
        args.extend(more.iter().map(|w| (*w).to_owned()));
        args
    }
}

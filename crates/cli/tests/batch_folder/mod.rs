//! A folder in which `batch` runs.
#![allow(dead_code, reason = "each test file uses a part")]
#![allow(unreachable_pub, missing_docs, clippy::unwrap_used, reason = "shared by test files")]

use crate::run::{Output, guardcell};
use std::path::PathBuf;

/// A folder of one test.
pub struct Folder(tempfile::TempDir);

impl Folder {
    pub fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    pub fn path(&self, file: &str) -> PathBuf {
        self.0.path().join(file)
    }

    pub fn write(&self, file: &str, bytes: impl AsRef<[u8]>) {
        std::fs::write(self.path(file), bytes).unwrap();
    }

    pub fn read(&self, file: &str) -> String {
        std::fs::read_to_string(self.path(file)).unwrap()
    }

    pub fn batch(&self, function: &str, input: &str, more: &[&str]) -> Output {
        let (input, output) = (self.path(input), self.path("out"));
        let (input, output) = (input.display().to_string(), output.display().to_string());
        let mut args = vec!["batch", function, "--input", &input, "--output", &output];
        args.extend(more);
        guardcell(&args)
    }

    pub fn files(&self) -> Vec<String> {
        let names = std::fs::read_dir(self.0.path()).unwrap();
        let mut names: Vec<String> =
            names.map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
        names.sort();
        names
    }
}

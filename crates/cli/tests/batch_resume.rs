//! `batch --resume`: killed at any point, a run goes on to the same bytes.
#![allow(clippy::unwrap_used, reason = "a test may fail")]

mod run;

use run::guardcell;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

const KILLS: u32 = 24;

fn table(rows: u32) -> String {
    let mut table = "id,quantity,to,note\n".to_owned();
    for i in 0..rows {
        let quantity = if i % 499 == 7 { "?".to_owned() } else { format!("{i}.25 ppm P2O5") };
        table.push_str(&format!(
            "{i},{quantity},ppm P,\"a remark, of some length, about row {i}: nothing was seen\n\"\n"
        ));
    }
    table
}

struct Run {
    folder: tempfile::TempDir,
    input: &'static str,
}

impl Run {
    fn new(input: &'static str) -> Self {
        Self { folder: tempfile::tempdir().unwrap(), input }
    }

    fn path(&self, file: &str) -> PathBuf {
        self.folder.path().join(file)
    }

    fn args(&self, output: &str, more: &[&str]) -> Vec<String> {
        let (input, output) = (self.path(self.input), self.path(output));
        let (input, output) = (input.display().to_string(), output.display().to_string());
        ["batch", "convert", "--input", &input, "--output", &output, "--checkpoint", "1"]
            .iter()
            .chain(more)
            .map(|s| (*s).to_owned())
            .collect()
    }

    fn run(&self, output: &str, more: &[&str]) -> run::Output {
        let args = self.args(output, more);
        guardcell(&args.iter().map(String::as_str).collect::<Vec<_>>())
    }
}

fn read(path: &Path) -> Vec<u8> {
    std::fs::read(path).unwrap()
}

/// Numbers that differ enough for times to kill at.
fn next(seed: &mut u64) -> u64 {
    *seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    *seed >> 33
}

#[test]
fn killed_at_any_point_it_goes_on_to_the_same_bytes() {
    let run = Run::new("in.csv");
    std::fs::write(run.path("in.csv"), table(60_000)).unwrap();
    let whole = run.run("whole.csv", &[]);
    assert_eq!(whole.code, 2, "{}", whole.stderr);
    let wanted = (read(&run.path("whole.csv")), read(&run.path("whole.csv.errors.csv")));
    kills(&run, "csv", "csv", KILLS, &wanted);
}

/// Kills runs until so many were killed, and compares what each comes to.
fn kills(run: &Run, ending: &str, errors: &str, most: u32, wanted: &(Vec<u8>, Vec<u8>)) {
    let (mut kills, mut broken_off, mut seed) = (0, 0, 20_261_125);
    for turn in 0.. {
        let output = format!("{turn}.{ending}");
        let mut longest = 60;
        loop {
            let mut child = Command::new(env!("CARGO_BIN_EXE_guardcell"))
                .args(run.args(&output, &["--resume"]))
                .stderr(Stdio::null())
                .spawn()
                .unwrap();
            let patience = Duration::from_millis(next(&mut seed) % longest);
            // The longest time grows, so that a slow machine comes to an end as well; a table is packed
            // at a stretch.
            longest += if errors == "csv" { 20 } else { 200 };
            std::thread::sleep(patience);
            child.kill().unwrap();
            if child.wait().unwrap().code().is_some() {
                break;
            }
            kills += 1;
            if run.path(&output).exists() {
                // Killed between the last name and the end: what has the name is complete.
                assert!(read(&run.path(&output)) == wanted.0);
            }
            if run.path(&format!("{output}.state")).exists() {
                broken_off += 1;
            }
        }
        let found =
            (read(&run.path(&output)), read(&run.path(&format!("{output}.errors.{errors}"))));
        assert!(found == *wanted, "turn {turn} after {kills} kills");
        let errors_part = format!("errors.{errors}.part");
        for left in ["part", "packed", "state", "state.next", &errors_part] {
            assert!(!run.path(&format!("{output}.{left}")).exists(), "{left} is left");
        }
        if kills >= most && broken_off > 0 {
            break;
        }
    }
}

/// The same for a table that comes as Parquet and is answered in it or in Arrow.
#[cfg(feature = "tables")]
#[test]
fn tables_go_on_to_the_same_bytes() {
    let csv = Run::new("in.csv");
    std::fs::write(csv.path("in.csv"), table(12_000)).unwrap();
    // Whatever is in it: the answers of one run are the rows of the next.
    assert_eq!(csv.run("in.parquet", &["--columns", "kind"]).code, 2);
    for ending in ["parquet", "arrow"] {
        let run = Run::new("in.parquet");
        std::fs::copy(csv.path("in.parquet"), run.path("in.parquet")).unwrap();
        let whole = run.run(&format!("whole.{ending}"), &[]);
        assert_eq!(whole.code, 2, "{}", whole.stderr);
        let errors = read(&run.path(&format!("whole.{ending}.errors.ndjson")));
        assert_eq!(errors.split(|b| *b == b'\n').count(), 26, "rows 7, 506, …, 11983 and the end");
        let wanted = (read(&run.path(&format!("whole.{ending}"))), errors);
        kills(&run, ending, "ndjson", KILLS / 3, &wanted);
    }
}

/// A run that is broken off in the middle, for what comes after.
fn broken_off(run: &Run) {
    std::fs::write(run.path("in.csv"), table(60_000)).unwrap();
    let mut child = Command::new(env!("CARGO_BIN_EXE_guardcell"))
        .args(run.args("out.csv", &["--jobs", "1"]))
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    while !run.path("out.csv.state").exists() {
        assert!(child.try_wait().unwrap().is_none(), "it ended before it could be killed");
        std::thread::sleep(Duration::from_millis(1));
    }
    child.kill().unwrap();
    child.wait().unwrap();
    assert!(!run.path("out.csv").exists(), "no half-written file under the final name");
}

#[test]
fn what_was_changed_is_not_gone_on_with() {
    let run = Run::new("in.csv");
    broken_off(&run);
    let before = read(&run.path("out.csv.part"));
    let refused = |more: &[&str], words: &str| {
        let out = run.run("out.csv", more);
        assert_eq!(out.code, 2, "{}", out.stderr);
        assert!(out.stderr.contains(words), "{}", out.stderr);
        assert!(read(&run.path("out.csv.part")) == before, "nothing is touched");
    };
    refused(&[], "go on with --resume");
    refused(&["--resume", "--columns", "value"], "asked something else");
    let state = std::fs::read_to_string(run.path("out.csv.state")).unwrap();
    std::fs::write(run.path("out.csv.state"), "{}").unwrap();
    refused(&["--resume"], "does not say how far");
    std::fs::write(run.path("out.csv.state"), &state).unwrap();
    let mut changed = table(60_000);
    changed.push_str("60001,1 ppm N,ppm N,more\n");
    std::fs::write(run.path("in.csv"), changed).unwrap();
    refused(&["--resume"], "was changed");
}

#[test]
fn a_part_that_was_cut_is_not_gone_on_with() {
    let run = Run::new("in.csv");
    broken_off(&run);
    std::fs::write(run.path("out.csv.part"), "id").unwrap();
    let out = run.run("out.csv", &["--resume"]);
    assert_eq!(out.code, 2, "{}", out.stderr);
    assert!(out.stderr.contains("shorter than"), "{}", out.stderr);
}

#[test]
fn two_runs_do_not_write_one_file() {
    let run = Run::new("in.csv");
    std::fs::write(run.path("in.csv"), table(60_000)).unwrap();
    let mut child = Command::new(env!("CARGO_BIN_EXE_guardcell"))
        .args(["batch", "convert", "--format", "csv", "--input", "-", "--output"])
        .arg(run.path("out.csv"))
        .stdin(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut stdin = child.stdin.take().unwrap();
    std::io::Write::write_all(&mut stdin, b"quantity,to\n1 kg,g\n").unwrap();
    // A header is taken once a piece or the end has come.
    std::io::Write::write_all(&mut stdin, "1 kg,g\n".repeat(60_000).as_bytes()).unwrap();
    while !run.path("out.csv.part").exists() {
        std::thread::sleep(Duration::from_millis(1));
    }
    std::thread::sleep(Duration::from_millis(50));
    let out = run.run("out.csv", &[]);
    assert_eq!(out.code, 2, "{}", out.stderr);
    assert!(out.stderr.contains("another run writes this file"), "{}", out.stderr);
    drop(stdin);
    assert!(child.wait().unwrap().success());
    let rows = std::fs::read_to_string(run.path("out.csv")).unwrap().lines().count();
    assert_eq!(rows, 60_002);
}

//! The journal survives: kill -9 at any point, two writers, a full disk, a read-only folder, a
//! newer file.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test ends where its preparation fails, and prints its table"
)]

use guardcell::ledger::Event;
use guardcell::{Code, Error};
use guardcell_journal::{Journal, Selection};
use std::collections::BTreeSet;
use std::io::{BufRead as _, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const WRITER: &str = env!("CARGO_BIN_EXE_journal-writer");

/// A generator of our own, so that a failure can be run again (SplitMix64: Steele, Lea and Flood
/// 2014, "Fast splittable pseudorandom number generators", figure 11).
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, n: u64) -> u64 {
        self.next() % n
    }
}

fn writer(path: &Path, prefix: &str, count: u64, note: u64, wait_ms: u64) -> Command {
    let mut command = Command::new(WRITER);
    command.arg(path).arg(prefix).args([count.to_string(), note.to_string(), wait_ms.to_string()]);
    command
}

fn ids(path: &Path) -> BTreeSet<String> {
    let journal = Journal::open(path).unwrap();
    let found = journal.verify().unwrap();
    assert!(found.sound(), "{:?}", found.problems);
    let all = Selection { with_corrected: true, ..Selection::default() };
    journal.entries(&all).unwrap().into_iter().map(|e| e.id).collect()
}

/// Whether an error is of this kind and says this.
fn says(e: &Error, code: Code, words: &str) -> bool {
    e.code() == code && e.detail().contains(words)
}

#[test]
fn nothing_acknowledged_is_lost_in_200_kills() {
    let start = Instant::now();
    let dir = tempfile::tempdir().unwrap();
    let mut random = Random(0x6775_6172_6463_656c);
    let (mut acknowledged, mut unacknowledged, mut before_any, mut mid) = (0, 0, 0, 0);
    let mut known: BTreeSet<String> = BTreeSet::new();
    let mut path = dir.path().join("0.journal");
    for round in 0..200 {
        // A new file now and then: the first write makes the tables.
        if round % 10 == 0 {
            path = dir.path().join(format!("{round}.journal"));
            known.clear();
        }
        let prefix = format!("r{round}");
        let mut child = writer(&path, &prefix, 100_000, random.below(6000), 5000)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // Either after some acknowledgements, or blindly while it starts.
        let wanted = if random.below(4) == 0 { 0 } else { 1 + random.below(12) };
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let mut acks = Vec::new();
        for _ in 0..wanted {
            acks.push(lines.next().expect("the writer ended by itself").unwrap());
        }
        std::thread::sleep(Duration::from_micros(random.below(if wanted == 0 {
            15_000
        } else {
            4000
        })));
        child.kill().unwrap();
        child.wait().unwrap();
        acks.extend(lines.map(Result::unwrap));
        let mut stderr = String::new();
        std::io::Read::read_to_string(&mut child.stderr.take().unwrap(), &mut stderr).unwrap();
        assert_eq!(stderr, "");
        // What was printed but not yet read counts: it was acknowledged.
        known.extend(acks.iter().cloned());
        let there = ids(&path);
        for id in &known {
            assert!(there.contains(id), "round {round}: {id} was acknowledged and is gone");
        }
        let extra: Vec<&String> = there.difference(&known).collect();
        assert!(extra.len() <= 1, "round {round}: {extra:?} came from nowhere");
        // At most the one entry that was on the disk when the writer was ended.
        for id in extra {
            assert_eq!(*id, format!("{prefix}-{}", acks.len()));
            unacknowledged += 1;
        }
        known = there;
        acknowledged += acks.len();
        if acks.is_empty() { before_any += 1 } else { mid += 1 }
    }
    println!(
        "200 kills in {:.1} s: {acknowledged} entries acknowledged, 0 lost; {before_any} kills \
         before the first acknowledgement, {mid} after; {unacknowledged} entries on the disk \
         that had not been acknowledged yet; no repair",
        start.elapsed().as_secs_f64()
    );
    assert!(mid >= 100 && before_any >= 5, "{mid} {before_any}: the kills are not spread");
}

#[test]
fn two_writers_at_once_both_succeed() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("house.journal");
    // Both start on a file that is not there yet.
    let children: Vec<_> = ["a", "b"]
        .map(|p| writer(&path, p, 150, 10, 20_000).stdout(Stdio::piped()).spawn().unwrap())
        .into();
    for child in children {
        let out = child.wait_with_output().unwrap();
        assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
        assert_eq!(out.stdout.iter().filter(|b| **b == b'\n').count(), 150);
    }
    assert_eq!(ids(&path).len(), 300);
}

#[test]
fn a_writer_that_waits_too_long_says_so() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("house.journal");
    assert!(writer(&path, "a", 1, 0, 5000).output().unwrap().status.success());
    let other = rusqlite::Connection::open(&path).unwrap();
    other.execute_batch("BEGIN IMMEDIATE").unwrap();
    let out = writer(&path, "b", 1, 0, 200).output().unwrap();
    assert_eq!(out.status.code(), Some(3));
    let says = String::from_utf8(out.stderr).unwrap();
    assert!(says.contains("another program is writing"), "{says}");
    assert!(says.contains("house.journal"), "{says}");
    other.execute_batch("ROLLBACK").unwrap();
    assert_eq!(ids(&path).len(), 1);
}

/// A limit on the size of files, as a quota would set it: works without rights.
#[test]
fn a_limit_on_file_size_is_a_clear_error_and_loses_nothing() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("house.journal");
    assert!(writer(&path, "before", 5, 100, 5000).output().unwrap().status.success());
    let script = "trap '' XFSZ; ulimit -f 200; exec \"$0\" \"$@\"";
    let out = Command::new("sh")
        .args(["-c", script, WRITER])
        .arg(&path)
        .args(["full", "100000", "5000", "5000"])
        .output()
        .unwrap();
    assert_full(&out, &path);
}

/// A small disk of its own, where the system lets us make one.
#[test]
fn a_full_disk_is_a_clear_error_and_loses_nothing() {
    let dir = tempfile::tempdir().unwrap();
    let script = "mount -t tmpfs -o size=512k tmpfs \"$1\" || exit 77
        \"$0\" \"$1/house.journal\" before 5 100 5000 > /dev/null || exit 78
        \"$0\" \"$1/house.journal\" full 100000 5000 5000
        status=$?
        cp \"$1\"/house.journal* \"$2\"
        exit $status";
    let out_dir = tempfile::tempdir().unwrap();
    let out = Command::new("unshare")
        .args(["--user", "--map-root-user", "--mount", "sh", "-c", script, WRITER])
        .arg(dir.path())
        .arg(out_dir.path())
        .output();
    match out {
        Ok(out) if matches!(out.status.code(), Some(0 | 3)) => {
            assert_full(&out, &out_dir.path().join("house.journal"));
        }
        // No right to mount here; the limit on file size is tested in any case.
        other => println!("no disk of its own: {other:?}"),
    }
}

fn assert_full(out: &std::process::Output, path: &Path) {
    let says = String::from_utf8_lossy(&out.stderr);
    assert_eq!(out.status.code(), Some(3), "{says}");
    assert!(says.contains("no room left"), "{says}");
    let acks: Vec<String> =
        String::from_utf8_lossy(&out.stdout).lines().map(str::to_owned).collect();
    let there = ids(path);
    assert!(!acks.is_empty());
    for id in &acks {
        assert!(there.contains(id), "{id} was acknowledged and is gone");
    }
    assert_eq!(there.len(), 5 + acks.len(), "an entry came from nowhere");
    // With room again it goes on.
    assert!(writer(path, "after", 3, 100, 5000).output().unwrap().status.success());
    assert_eq!(ids(path).len(), 8 + acks.len());
}

#[test]
fn a_read_only_folder_is_a_clear_error() {
    use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _};
    use std::os::unix::process::CommandExt as _;
    let dir = tempfile::tempdir().unwrap();
    let folder = dir.path().join("shelf");
    std::fs::create_dir(&folder).unwrap();
    let path = folder.join("house.journal");
    assert!(writer(&path, "a", 2, 0, 5000).output().unwrap().status.success());
    let mode =
        |p: &Path, m| std::fs::set_permissions(p, std::fs::Permissions::from_mode(m)).unwrap();
    mode(dir.path(), 0o755);
    mode(&path, 0o444);
    mode(&folder, 0o555);
    // Root may write anywhere, so the writer runs as somebody else; it must be able to run.
    let root = std::fs::metadata("/proc/self").unwrap().uid() == 0;
    let program = dir.path().join("writer");
    std::fs::copy(WRITER, &program).unwrap();
    for (name, file) in [("old", path.clone()), ("new", folder.join("other.journal"))] {
        let mut command = Command::new(&program);
        command.arg(&file).args(["b", "1", "0", "500"]);
        if root {
            command.uid(65534).gid(65534);
        }
        let out = command.output().unwrap();
        let says = String::from_utf8_lossy(&out.stderr);
        assert_eq!(out.status.code(), Some(3), "{name}: {says}");
        assert!(says.contains("cannot be written"), "{name}: {says}");
    }
    // Reading goes on.
    let mut command = Command::new(&program);
    command.arg(&path);
    if root {
        command.uid(65534).gid(65534);
    }
    let out = command.output().unwrap();
    let says = String::from_utf8_lossy(&out.stdout);
    assert_eq!(says, "a-0\na-1\n", "{}", String::from_utf8_lossy(&out.stderr));
    mode(&folder, 0o755);
    mode(&path, 0o644);
    assert_eq!(ids(&path).len(), 2);
    assert!(!folder.join("other.journal").exists());
}

#[test]
fn a_newer_or_foreign_file_is_refused_and_untouched() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("house.journal");
    assert!(writer(&path, "a", 3, 0, 5000).output().unwrap().status.success());
    let set = |sql: &str| {
        let c = rusqlite::Connection::open(&path).unwrap();
        c.execute_batch(sql).unwrap();
    };
    let refused = |expect: fn(&Error) -> bool| {
        let before = std::fs::read(&path).unwrap();
        let list = || -> BTreeSet<_> {
            std::fs::read_dir(dir.path()).unwrap().map(|e| e.unwrap().file_name()).collect()
        };
        let files = list();
        let e = Journal::open(&path).unwrap_err();
        assert!(expect(&e), "{e:?}");
        assert_eq!(std::fs::read(&path).unwrap(), before);
        assert_eq!(list(), files);
    };
    set("PRAGMA user_version = 99");
    refused(|e| says(e, Code::MalformedFile, "format 99"));
    set("PRAGMA user_version = 1; PRAGMA application_id = 7");
    refused(|e| says(e, Code::MalformedFile, "not a journal"));
    set("PRAGMA user_version = 0; PRAGMA application_id = 0");
    refused(|e| says(e, Code::MalformedFile, "not a journal"));
    std::fs::write(&path, "id,recorded,at\n").unwrap();
    refused(|e| says(e, Code::MalformedFile, "not a journal"));
    std::fs::write(&path, "SQLite format 3\0").unwrap();
    refused(|e| says(e, Code::MalformedFile, "not a journal"));
    assert!(says(&Journal::open(dir.path()).unwrap_err(), Code::MalformedFile, "not a journal"));
    assert!(says(
        &Journal::open_existing(&dir.path().join("none")).unwrap_err(),
        Code::Storage,
        "no journal here"
    ));
}

#[test]
fn a_reader_writes_nothing() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("what? 100 % #1.journal");
    assert!(writer(&path, "a", 3, 0, 5000).output().unwrap().status.success());
    let before = std::fs::read(&path).unwrap();
    let mut reader = Journal::open_to_read(&path).unwrap();
    let entries = reader.entries(&Selection::default()).unwrap();
    assert_eq!(entries.len(), 3);
    let again = guardcell::ledger::Draft { id: None, ..entries[0].clone().into() };
    assert!(says(&reader.append(again).unwrap_err(), Code::Storage, "cannot be written"));
    drop(reader);
    assert_eq!(std::fs::read(&path).unwrap(), before);
    let set = |sql: &str| rusqlite::Connection::open(&path).unwrap().execute_batch(sql).unwrap();
    set("PRAGMA user_version = 1");
    assert!(says(&Journal::open_to_read(&path).unwrap_err(), Code::MalformedFile, "format 1,"));
    set("PRAGMA user_version = 99");
    assert!(says(&Journal::open_to_read(&path).unwrap_err(), Code::MalformedFile, "newer version"));
    assert!(says(
        &Journal::open_to_read(&dir.path().join("none")).unwrap_err(),
        Code::Storage,
        "no journal here"
    ));
}

/// A newer program may have left its format in the log only.
#[test]
fn a_newer_format_in_the_log_is_seen() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("house.journal");
    assert!(writer(&path, "a", 3, 0, 5000).output().unwrap().status.success());
    let newer = rusqlite::Connection::open(&path).unwrap();
    newer.execute_batch("PRAGMA user_version = 99").unwrap();
    let before = std::fs::read(&path).unwrap();
    assert_eq!(before[63], 4, "the format went into the file already");
    assert!(says(&Journal::open(&path).unwrap_err(), Code::MalformedFile, "format 99"));
    assert_eq!(std::fs::read(&path).unwrap(), before);
    drop(newer);
}

#[test]
fn a_damaged_file_is_told_and_restored() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("house.journal");
    assert!(writer(&path, "a", 40, 3000, 5000).output().unwrap().status.success());
    let backup = dir.path().join("house.backup");
    {
        let journal = Journal::open(&path).unwrap();
        let kept = journal.backup(&backup, false).unwrap();
        assert_eq!(kept.entries, 40);
        assert!(says(
            &journal.backup(&backup, false).unwrap_err(),
            Code::MalformedFile,
            "the file exists"
        ));
        assert_eq!(journal.backup(&backup, true).unwrap().entries, 40);
    }
    // A copy stands on its own.
    let names: Vec<_> =
        std::fs::read_dir(dir.path()).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert!(names.iter().all(|n| !n.to_string_lossy().contains("part")), "{names:?}");
    let mut bytes = std::fs::read(&path).unwrap();
    let len = bytes.len();
    for b in &mut bytes[len / 2..len / 2 + 9000] {
        *b = 0x5a;
    }
    std::fs::write(&path, &bytes).unwrap();
    let found = Journal::open(&path).and_then(|j| j.verify());
    assert!(found.as_ref().map_or(true, |v| !v.sound()), "{found:?}");
    assert!(says(
        &Journal::restore(&backup, &path, false).unwrap_err(),
        Code::MalformedFile,
        "the file exists"
    ));
    let kept = Journal::restore(&backup, &path, true).unwrap();
    assert_eq!(kept.entries, 40);
    assert_eq!(std::fs::read(kept.set_aside.unwrap()).unwrap().len(), len);
    assert_eq!(ids(&path).len(), 40);
    // A damaged backup is not put in the place of anything.
    let broken = dir.path().join("broken.backup");
    std::fs::write(&broken, &bytes).unwrap();
    assert!(Journal::restore(&broken, &path, true).is_err());
    assert_eq!(ids(&path).len(), 40);
}

#[test]
fn a_restore_waits_for_nobody_and_breaks_nothing_that_is_open() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("house.journal");
    assert!(writer(&path, "a", 4, 0, 5000).output().unwrap().status.success());
    let backup = dir.path().join("house.backup");
    let journal = Journal::open(&path).unwrap();
    journal.backup(&backup, false).unwrap();
    let e = Journal::restore(&backup, &path, true).unwrap_err();
    assert!(says(&e, Code::Busy, "another program"), "{e:?}");
    assert_eq!(journal.entries(&Selection::default()).unwrap().len(), 4);
    assert!(matches!(journal.entries(&Selection::default()).unwrap()[0].event, Event::Round(_)));
}

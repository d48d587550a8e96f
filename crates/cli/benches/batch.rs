//! What a conversion of a table costs, beside a pass that only reads and writes the same table
//! with the `csv` crate: processor time of both as children of this process, the least of several
//! turns, so that other work on the machine weighs little.
//!
//! `cargo bench -p guardcell-cli --bench batch`, with `-- ROWS` for another number of rows.
#![allow(missing_docs, clippy::print_stdout, clippy::unwrap_used, clippy::expect_used)]

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

const TURNS: usize = 5;

fn main() {
    let args: Vec<String> = std::env::args().collect();
    if let [_, word, from, to] = args.as_slice()
        && word == "rewrite"
    {
        return rewrite(Path::new(from), Path::new(to));
    }
    let rows = args.iter().find_map(|a| a.parse().ok()).unwrap_or(1_000_000);
    let folder = std::env::temp_dir().join(format!("guardcell-bench-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    println!("{rows} conversions; processor time in ns a row, user and system");
    narrow(rows, &folder);
    wide(rows, &folder);
    std::fs::remove_dir_all(&folder).unwrap();
}

const KINDS: [(&str, &str); 6] = [
    ("ppm P2O5", "ppm P"),
    ("°dH", "mg/L CaCO3"),
    ("mS/cm at 18 °C", "mS/cm at 25 °C"),
    ("g/gal", "mg/L"),
    ("°F", "°C"),
    ("mg/L NO3", "mg/L N"),
];

/// Two columns and no more.
fn narrow(rows: usize, folder: &Path) {
    let mut text = "quantity,to\n".to_owned();
    for i in 0..rows {
        let (unit, to) = KINDS[i % KINDS.len()];
        writeln!(text, "{}.{} {unit},{to}", i % 211, i % 10).unwrap();
    }
    compare("two columns", &text, rows, folder);
}

/// What a laboratory sends: who, when, where, what, by which method, with a remark.
fn wide(rows: usize, folder: &Path) {
    let mut text =
        "sample,taken,place,analyte,method,quantity,to,limit,checked,remark\n".to_owned();
    for i in 0..rows {
        let (unit, to) = KINDS[i % KINDS.len()];
        writeln!(
            text,
            "FH-{i:07},2026-{:02}-{:02}T08:30:00Z,bench {},analyte {},in house,{}.{} {unit},{to},\
             250,yes,\"taken at the tap, let run for a minute\"",
            i % 12 + 1,
            i % 28 + 1,
            i % 40,
            i % KINDS.len(),
            i % 211,
            i % 10
        )
        .unwrap();
    }
    compare("ten columns", &text, rows, folder);
}

fn compare(name: &str, text: &str, rows: usize, folder: &Path) {
    let path = |file: &str| folder.join(file);
    let input = path("in.csv");
    std::fs::write(&input, text).unwrap();
    let own = std::env::current_exe().unwrap();
    let mut least: Option<(Cost, Cost)> = None;
    for _ in 0..TURNS {
        let plain = cost(Command::new(&own).arg("rewrite").args([&input, &path("plain.csv")]));
        let batch = cost(
            Command::new(env!("CARGO_BIN_EXE_guardcell"))
                .args(["batch", "convert", "--quiet", "--input"])
                .arg(&input)
                .arg("--output")
                .arg(path("out.csv")),
        );
        least = Some(least.map_or((plain, batch), |(p, b)| (p.least(plain), b.least(batch))));
    }
    let (plain, batch) = least.unwrap();
    let lines = std::fs::read_to_string(path("out.csv")).unwrap().lines().count();
    assert_eq!(lines, rows + 1, "every row is answered");
    let ns = |s: f64| s * 1e9 / rows as f64;
    println!("{name}, {:.0} bytes a row", text.len() as f64 / rows as f64);
    for (what, c) in [("csv crate, read and write", plain), ("guardcell batch convert", batch)] {
        println!(
            "  {what:26} user {:6.0}  user+system {:6.0}  {:.2} million rows/s for each core",
            ns(c.user),
            ns(c.user + c.system),
            rows as f64 / (c.user + c.system) / 1e6
        );
    }
    println!(
        "  ratio of processor time    user {:6.2}  user+system {:6.2}",
        batch.user / plain.user,
        (batch.user + batch.system) / (plain.user + plain.system)
    );
    println!(
        "  ratio of elapsed time      {:.2} ({:.2} s and {:.2} s)",
        batch.elapsed / plain.elapsed,
        batch.elapsed,
        plain.elapsed
    );
}

/// The pass that only reads and writes.
fn rewrite(from: &Path, to: &Path) {
    let mut reader =
        csv::ReaderBuilder::new().has_headers(false).from_path(PathBuf::from(from)).unwrap();
    let mut writer = csv::Writer::from_path(to).unwrap();
    let mut record = csv::ByteRecord::new();
    while reader.read_byte_record(&mut record).unwrap() {
        writer.write_byte_record(&record).unwrap();
    }
    writer.flush().unwrap();
}

#[derive(Clone, Copy)]
struct Cost {
    user: f64,
    system: f64,
    elapsed: f64,
}

impl Cost {
    fn least(self, other: Self) -> Self {
        Self {
            user: self.user.min(other.user),
            system: self.system.min(other.system),
            elapsed: self.elapsed.min(other.elapsed),
        }
    }
}

/// Runs a child to its end; its processor time is what the kernel adds to ours for children.
fn cost(command: &mut Command) -> Cost {
    let (user, system) = of_children();
    let start = Instant::now();
    let status = command.stdout(Stdio::null()).status().unwrap();
    let elapsed = start.elapsed().as_secs_f64();
    assert!(status.success(), "{command:?}");
    let (user_after, system_after) = of_children();
    Cost { user: user_after - user, system: system_after - system, elapsed }
}

/// User and system time of the children waited for, in s: fields 16 and 17 of `proc_pid_stat(5)`,
/// in hundredths.
fn of_children() -> (f64, f64) {
    let stat = std::fs::read_to_string("/proc/self/stat").expect("Linux");
    let after_name = stat.rsplit_once(')').expect("a name in brackets").1;
    let field = |n: usize| {
        after_name.split_whitespace().nth(n - 3).and_then(|f| f.parse::<f64>().ok()).unwrap()
    };
    (field(16) / 100.0, field(17) / 100.0)
}

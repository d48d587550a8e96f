//! What a conversion of a table costs, beside a pass that only reads and writes the same table
//! with the `csv` crate, and how many advices a second are given: elapsed time, and processor time
//! as children of this process, the least of several turns, so that other work on the machine
//! weighs little. The last lines say which bounds hold.
//!
//! `cargo bench -p guardcell-cli --bench batch`, with `-- ROWS` for another number of conversions.
#![allow(missing_docs, clippy::print_stdout, clippy::unwrap_used, clippy::expect_used)]

use serde_json::Value;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

const TURNS: usize = 9;
/// An advice costs about a thousand conversions; with these there are enough of them to count.
const CONVERSIONS_AN_ADVICE: usize = 400;
/// What is asked of the program.
const MOST_TIMES: f64 = 3.0;
const CONVERSIONS_A_SECOND: f64 = 1e6;
const ADVICES_A_SECOND: f64 = 2e5;

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
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    println!("{rows} conversions on {threads} cores, load average {}", load());
    println!("processor time in ns a row; the least of {TURNS} turns");
    let mut bounds = Bounds::default();
    narrow(rows, &folder, &mut bounds);
    wide(rows, &folder, &mut bounds);
    advices(rows / CONVERSIONS_AN_ADVICE, &folder, &mut bounds);
    println!("bounds, at a load average of {}", load());
    bounds.print();
    std::fs::remove_dir_all(&folder).unwrap();
}

/// What was measured beside what is asked.
#[derive(Default)]
struct Bounds(Vec<(String, f64, f64, bool)>);

impl Bounds {
    fn at_most(&mut self, what: String, measured: f64, bound: f64) {
        self.0.push((what, measured, bound, measured <= bound));
    }

    fn at_least(&mut self, what: String, measured: f64, bound: f64) {
        self.0.push((what, measured, bound, measured >= bound));
    }

    fn print(&self) {
        for (what, measured, bound, holds) in &self.0 {
            let word = if *holds { "holds" } else { "DOES NOT HOLD" };
            println!("  {word:14} {what}: {measured:.2}, asked {bound:.2}");
        }
    }
}

/// The load averages of `proc_loadavg(5)`: a number far above the cores makes elapsed times long.
fn load() -> String {
    let text = std::fs::read_to_string("/proc/loadavg").unwrap_or_default();
    text.split(' ').take(3).collect::<Vec<_>>().join(" ")
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
fn narrow(rows: usize, folder: &Path, bounds: &mut Bounds) {
    let mut text = "quantity,to\n".to_owned();
    for i in 0..rows {
        let (unit, to) = KINDS[i % KINDS.len()];
        writeln!(text, "{}.{} {unit},{to}", i % 211, i % 10).unwrap();
    }
    compare("two columns", &text, rows, folder, bounds);
}

/// What a laboratory sends: who, when, where, what, by which method, with a remark.
fn wide(rows: usize, folder: &Path, bounds: &mut Bounds) {
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
    compare("ten columns", &text, rows, folder, bounds);
}

fn compare(name: &str, text: &str, rows: usize, folder: &Path, bounds: &mut Bounds) {
    let path = |file: &str| folder.join(file);
    let input = path("in.csv");
    std::fs::write(&input, text).unwrap();
    let own = std::env::current_exe().unwrap();
    let mut least: Option<(Cost, Cost)> = None;
    for _ in 0..TURNS {
        let (plain, out) = (path("plain.csv"), path("out.csv"));
        // Neither pass has to take an old file away.
        for old in [&plain, &out].into_iter().filter(|p| p.exists()) {
            std::fs::remove_file(old).unwrap();
        }
        let plain = cost(Command::new(&own).arg("rewrite").args([&input, &plain]));
        let batch = cost(&mut batch("convert", &input, &out));
        least = Some(least.map_or((plain, batch), |(p, b)| (p.least(plain), b.least(batch))));
    }
    let (plain, batch) = least.unwrap();
    let lines = std::fs::read_to_string(path("out.csv")).unwrap().lines().count();
    assert_eq!(lines, rows + 1, "every row is answered");
    println!("{name}, {:.0} bytes a row", text.len() as f64 / rows as f64);
    for (what, c) in [("csv crate, read and write", plain), ("guardcell batch convert", batch)] {
        c.print(what, rows);
    }
    let processor = batch.processor / plain.processor;
    let elapsed = batch.elapsed / plain.elapsed;
    println!("  ratio of processor time    {processor:.2}, of elapsed time {elapsed:.2}");
    bounds.at_most(format!("{name}, times the csv crate, elapsed"), elapsed, MOST_TIMES);
    bounds.at_most(format!("{name}, times the csv crate, processor"), processor, MOST_TIMES);
    let rate = rows as f64 / batch.elapsed;
    bounds.at_least(
        format!("{name}, million conversions a second"),
        rate / 1e6,
        CONVERSIONS_A_SECOND / 1e6,
    );
}

fn batch(function: &str, input: &Path, output: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_guardcell"));
    command.args(["batch", function, "--quiet", "--input"]).arg(input).arg("--output").arg(output);
    command
}

/// One plant and one reading each, as NDJSON and as a table.
fn advices(rows: usize, folder: &Path, bounds: &mut Bounds) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let examples = root.join("schemas/examples/advise.json");
    let examples: Value =
        serde_json::from_str(&std::fs::read_to_string(examples).unwrap()).unwrap();
    let plants = ["Cattleya labiata", "Phalaenopsis", "Masdevallia veitchiana", "Vanda"];
    for hours in [3, 36] {
        let mut request = examples["good"][0].clone();
        request["hours"] = hours.into();
        let mut lines = String::new();
        let mut table = "plant.id,plant.name,plant.area,plant.setting,plant.standing,\
                         reading.time,reading.temp_c,reading.rh_percent,hours\n"
            .to_owned();
        for i in 0..rows {
            let name = plants[i % plants.len()];
            let temp_c = 12.0 + (i % 150) as f64 / 10.0;
            let rh_percent = 40 + i % 57;
            let time = format!("2026-06-{:02}T{:02}:40:00Z", i % 28 + 1, i % 24);
            writeln!(
                table,
                "FH-{i},{name},house,mounted,established,{time},{temp_c},{rh_percent},{hours}"
            )
            .unwrap();
            request["plants"][0]["id"] = format!("FH-{i}").into();
            request["plants"][0]["name"] = name.into();
            request["readings"][0]["time"] = time.as_str().into();
            request["readings"][0]["temp_c"] = temp_c.into();
            request["readings"][0]["rh_percent"] = rh_percent.into();
            request["at"] = time.into();
            writeln!(lines, "{request}").unwrap();
        }
        for (format, text) in [("ndjson", lines), ("csv", table)] {
            let input = folder.join(format!("advices.{format}"));
            let output = folder.join(format!("advices.out.{format}"));
            std::fs::write(&input, text).unwrap();
            let mut command = batch("advise", &input, &output);
            if format == "csv" {
                command.arg("--site").arg(root.join("demo-data/site.toml"));
            }
            let mut turns = (0..TURNS).map(|_| cost(&mut command));
            let first = turns.next().unwrap();
            let least = turns.fold(first, Cost::least);
            let name = format!("advices from {format}, {hours} h ahead");
            println!("{rows} {name}");
            least.print("guardcell batch advise", rows);
            let rate = rows as f64 / least.elapsed;
            bounds.at_least(
                format!("{name}, thousand a second"),
                rate / 1e3,
                ADVICES_A_SECOND / 1e3,
            );
        }
    }
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
    /// User and system time, in s.
    processor: f64,
    elapsed: f64,
}

impl Cost {
    fn least(self, other: Self) -> Self {
        Self {
            processor: self.processor.min(other.processor),
            elapsed: self.elapsed.min(other.elapsed),
        }
    }

    fn print(self, what: &str, rows: usize) {
        let rows = rows as f64;
        println!(
            "  {what:26} processor {:7.0}   elapsed {:.3} s, {:.3} million rows/s",
            self.processor * 1e9 / rows,
            self.elapsed,
            rows / self.elapsed / 1e6
        );
    }
}

/// Runs a child to its end; its processor time is what the kernel adds to ours for children.
fn cost(command: &mut Command) -> Cost {
    let before = of_children();
    let start = Instant::now();
    let status = command.stdout(Stdio::null()).status().unwrap();
    let elapsed = start.elapsed().as_secs_f64();
    assert!(status.success(), "{command:?}");
    Cost { processor: of_children() - before, elapsed }
}

/// User and system time of the children waited for, in s: fields 16 and 17 of `proc_pid_stat(5)`,
/// in hundredths.
fn of_children() -> f64 {
    let stat = std::fs::read_to_string("/proc/self/stat").expect("Linux");
    let after_name = stat.rsplit_once(')').expect("a name in brackets").1;
    let field = |n: usize| {
        after_name.split_whitespace().nth(n - 3).and_then(|f| f.parse::<f64>().ok()).unwrap()
    };
    (field(16) + field(17)) / 100.0
}

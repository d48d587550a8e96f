//! Every call and every parser with changed examples: nothing panics, nothing is a number that is
//! none, no refusal is a fault of the program itself, and nothing runs much longer than it said.
//!
//! `FUZZ_CASES` (for each call or parser) and `FUZZ_SEED` choose another run; a fault is written to
//! `target/fuzz/`, and belongs in `tests/fuzz/faults/` once it is mended.

mod parsers;
mod rng;
mod structured;
mod text;

use guardcell::calls::{ALL, AnyCall, Form};
use guardcell::work::{Stop, Stopped, stoppable};
use guardcell::{Code, Error};
use jsonschema::Validator;
use rng::Rng;
use serde_json::Value;
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

/// Cases of each, unless asked otherwise: seconds in an unoptimised build.
const CASES: usize = 150;
/// A case that takes so long tells how long a step is.
const MEASURED: Duration = Duration::from_millis(5);
/// The longest that a step may be in an optimised build, in microseconds: one is meant.
const STEP_MOST: f64 = 5.0;
/// A case that takes so long is stopped and counted.
const LONG: Duration = Duration::from_secs(10);

fn asked(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().and_then(|t| t.parse().ok()).unwrap_or(usual)
}

fn cases() -> usize {
    asked("FUZZ_CASES", CASES as u64) as usize
}

fn seed(name: &str) -> Rng {
    // Each name has numbers of its own, so that one more call changes no other.
    let of_name = name.bytes().fold(7_u64, |h, b| h.wrapping_mul(31).wrapping_add(b.into()));
    Rng::new(asked("FUZZ_SEED", 1) ^ of_name << 32)
}

/// How a case went.
#[derive(Default)]
struct Ran {
    fault: Option<String>,
    /// The steps it was said to take, and how long it took; nothing where it was not read.
    cost: Option<(u64, Duration)>,
}

impl Ran {
    /// Microseconds a step, of a case that is long enough to be measured.
    fn a_step(&self) -> Option<f64> {
        let (steps, took) = self.cost.filter(|(_, took)| *took > MEASURED)?;
        Some(took.as_secs_f64() * 1e6 / steps.max(1) as f64)
    }
}

/// Runs a request; says what is wrong with the answer, if anything is.
fn ran(call: &AnyCall, request: &str, schema: &Validator) -> Ran {
    let mut cost = None;
    let answer = caught(|| {
        let prepared = call.prepare(request.as_bytes())?;
        let (steps, begun) = (prepared.work().steps(), Instant::now());
        let answer = prepared.run();
        cost = Some((steps, begun.elapsed()));
        answer
    });
    let fault = match answer {
        None => Some("it panicked".into()),
        Some(answer) => fault_of_answer(answer, schema),
    };
    Ran { fault, cost }
}

/// What some work gives; none where it panicked. A stop goes on to whoever stopped it.
fn caught<T>(work: impl FnOnce() -> T) -> Option<T> {
    match catch_unwind(AssertUnwindSafe(work)) {
        Ok(answer) => Some(answer),
        Err(cause) if cause.is::<Stopped>() => resume_unwind(cause),
        Err(_) => None,
    }
}

fn fault_of_answer(answer: Result<Vec<u8>, Error>, schema: &Validator) -> Option<String> {
    match answer {
        Err(e) => fault_of_error(&e),
        Ok(json) => {
            let Ok(value) = serde_json::from_slice::<Value>(&json) else {
                return Some("the answer is not JSON".into());
            };
            // A double that is no number is written as null, where the schema wants a number.
            let wrong = holds_null(&value).then(|| schema.iter_errors(&value).next()).flatten();
            wrong.map(|e| format!("against its schema at {}: {e:.200}", e.instance_path()))
        }
    }
}

fn fault_of_error(e: &Error) -> Option<String> {
    let own = matches!(e.code(), Code::Internal | Code::Io | Code::Storage);
    let long = e.detail().len() + e.hint().len() + e.pointer().len() > 4_000;
    if own {
        Some(format!("a fault of its own: {e}"))
    } else if long {
        Some(format!("an error of {} bytes", e.to_string().len()))
    } else {
        (e.detail().is_empty()).then(|| "an error without words".into())
    }
}

fn answer_schema(call: &AnyCall) -> Validator {
    let mut generator =
        schemars::generate::SchemaSettings::draft2020_12().for_serialize().into_generator();
    let schema = call.response_schema(&mut generator, Form::Document).to_value();
    jsonschema::validator_for(&schema).unwrap()
}

fn holds_null(value: &Value) -> bool {
    match value {
        Value::Null => true,
        Value::Array(items) => items.iter().any(holds_null),
        Value::Object(fields) => fields.values().any(holds_null),
        _ => false,
    }
}

fn keep(name: &str, case: usize, text: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/fuzz");
    std::fs::create_dir_all(&folder).unwrap();
    let path = folder.join(format!("{}.{case}", name.replace(' ', "-")));
    std::fs::write(&path, text).unwrap();
    path
}

/// Runs something on this thread that is stopped after a while; whether it came to its end.
fn in_time(work: impl FnOnce()) -> bool {
    in_time_of(LONG, work)
}

fn in_time_of(long: Duration, work: impl FnOnce()) -> bool {
    let stop = Stop::default();
    let (done, wait) = std::sync::mpsc::channel::<()>();
    let watch = std::thread::spawn({
        let stop = stop.clone();
        move || {
            if wait.recv_timeout(long) == Err(std::sync::mpsc::RecvTimeoutError::Timeout) {
                stop.stop();
            }
        }
    });
    let ended = stoppable(&stop, work) != Err(Stopped);
    drop(done);
    watch.join().unwrap();
    ended
}

#[test]
fn calls() {
    let mut faults = Vec::new();
    for call in ALL {
        let mut rng = seed(call.name());
        let schema = answer_schema(call);
        let example: Value = serde_json::from_str(call.example()).unwrap();
        // Requests that were answered are begun from again: they lead further in.
        let mut seeds = vec![example];
        let (mut answered, mut slowest, mut step) = (0, Duration::ZERO, 0.0_f64);
        let started = Instant::now();
        let budget = Duration::from_millis(asked("FUZZ_CALL_MS", 3_000));
        let mut done = 0;
        while done < cases() && (started.elapsed() < budget || done < 20) {
            let request = structured::changed(&mut rng, &seeds[done % seeds.len()]);
            let json = request.to_string();
            let begun = Instant::now();
            let mut case = Ran::default();
            if !in_time(|| case = ran(call, &json, &schema)) {
                case.fault = Some(format!("no end within {LONG:?}"));
            }
            slowest = slowest.max(begun.elapsed());
            if let Some(mut a_step) = case.a_step() {
                if a_step > STEP_MOST && case.fault.is_none() && !cfg!(debug_assertions) {
                    // The machine may have been busy: the shorter of two runs counts.
                    a_step = a_step.min(ran(call, &json, &schema).a_step().unwrap_or(0.0));
                    case.fault = (a_step > STEP_MOST)
                        .then(|| format!("a step of {a_step:.1} µs: {:?}", case.cost));
                }
                step = step.max(a_step);
            }
            if let Some(what) = case.fault {
                let path = keep(call.name(), done, &json);
                faults.push(format!("{}: {what:.300} ({})", call.name(), path.display()));
            } else if case.cost.is_some() {
                answered += 1;
                if seeds.len() < 64 && json.len() < 100_000 {
                    seeds.push(request);
                }
            }
            done += 1;
        }
        println!(
            "{}: {done} cases, {answered} read, slowest {slowest:?}, longest step {step:.2} µs",
            call.name()
        );
    }
    assert!(faults.is_empty(), "{} faults\n{}", faults.len(), faults.join("\n"));
}

/// The watch over a case can tell that it did not end from a panic of its own.
#[test]
fn work_without_end_is_told_from_a_panic() {
    let mut panicked = false;
    let endless = || loop {
        guardcell::work::checkpoint();
    };
    assert!(!in_time_of(Duration::from_millis(50), || panicked = caught(endless).is_none()));
    assert!(!panicked);
    assert!(in_time(|| panicked = caught(|| std::panic::panic_any("test")).is_none()));
    assert!(panicked);
}

#[test]
fn parsers() {
    let mut faults = Vec::new();
    for parser in parsers::all() {
        let mut rng = seed(parser.name);
        let started = Instant::now();
        let budget = Duration::from_millis(asked("FUZZ_CALL_MS", 3_000));
        let (mut done, mut taken) = (0, 0);
        for seed in &parser.seeds {
            let read = (parser.read)(seed);
            assert!(read.is_ok() || parser.seeds.len() > 5, "{}: {read:?}", parser.name);
        }
        while done < cases() && (started.elapsed() < budget || done < 20) {
            let text = text::changed(&mut rng, &parser.seeds[done % parser.seeds.len()]);
            let mut found = None;
            let ended = in_time(|| match caught(|| (parser.read)(&text)) {
                Some(Ok(())) => taken += 1,
                Some(Err(e)) => found = fault_of_error(&e),
                None => found = Some("it panicked".into()),
            });
            if !ended {
                found = Some(format!("no end within {LONG:?}"));
            }
            if let Some(what) = found {
                let path = keep(parser.name, done, &text);
                faults.push(format!("{}: {what:.300} ({})", parser.name, path.display()));
            }
            done += 1;
        }
        println!("{}: {done} cases, {taken} read", parser.name);
    }
    assert!(faults.is_empty(), "{} faults\n{}", faults.len(), faults.join("\n"));
}

/// Faults of earlier runs and of attacks, each a request named `CALL.anything.json`.
#[test]
fn faults_stay_mended() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/faults");
    let mut count = 0;
    for file in std::fs::read_dir(folder).unwrap() {
        let path = file.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        let call = guardcell::calls::find(name.split('.').next().unwrap()).unwrap();
        let found = ran(call, &std::fs::read_to_string(&path).unwrap(), &answer_schema(call)).fault;
        assert!(found.is_none(), "{name}: {found:?}");
        count += 1;
    }
    assert!(count > 0);
}

//! An unknown logger's file: a map for it, and what was decided, assumed and left open on the way.
//!
//! A column is known by its name, a unit by name, line of units, cells or the range of its values,
//! the form of times by all of them. What two readings of the file would both fit is not guessed.

mod answer;
mod clock;
mod columns;
mod document;
mod known;
mod layout;
mod numbers;
mod sets;
mod stamp;
mod table;
mod words;
mod write;

pub use answer::{Finding, FindingCode, Probe, ProbedColumn, ProbedTime, Standing};
pub use known::Known;
pub use stamp::DateOrder;

use crate::map::Encoding;
use crate::map::Map;
use crate::options::Options;
use crate::source::text;
use crate::texts::{read_csv, read_json};
use answer::Findings;
use guardcell::Error;

/// Proposes a map for an unknown logger's file, and shows what it would read.
///
/// # Errors
/// `MalformedFile` where the bytes are no text, or neither a table nor JSON. What is a table and
/// cannot be decided is no error: the answer says what is open.
///
/// ```
/// use guardcell_conditions::probe::{Known, probe};
/// let file = "Zeit;Temperatur;Feuchte\n21.06.2026 05:00;18,5;88\n21.06.2026 06:00;19,0;85\n";
/// let known = Known {
///     file: "export.csv",
///     zone: Some("Atlantic/Azores"),
///     area: None,
///     date_order: None,
///     now: "2026-06-21T07:00:00Z".parse().unwrap(),
/// };
/// let found = probe(file.as_bytes(), &known)?;
/// assert!(found.map.unwrap().contains("decimal = \",\""));
/// assert_eq!(found.report.unwrap().readings_kept, 2);
/// # Ok::<(), guardcell_conditions::Error>(())
/// ```
pub fn probe(bytes: &[u8], known: &Known<'_>) -> Result<Probe, Error> {
    let mut findings = Findings::default();
    let encoding = encoding(bytes, &mut findings);
    let whole = text::decode(bytes, encoding, known.file)?;
    let like_json = whole.trim_start().starts_with(['{', '[']);
    let document = if like_json { document::parse(&whole, known) } else { Ok(None) };
    let proposed = match document {
        Ok(Some(document)) => document::propose(&document, known, findings),
        // A table may begin with a line such as [Logger 7].
        Err(e) if !table::is_one(&whole) => return Err(e),
        _ => table::propose(&whole, encoding, known, findings),
    };
    Ok(tried(proposed, bytes, known))
}

/// UTF-8 where the bytes are; otherwise what loggers write instead.
fn encoding(bytes: &[u8], findings: &mut Findings) -> Encoding {
    let zeros = bytes.iter().filter(|b| **b == 0).count();
    if matches!(bytes, [0xfe, 0xff, ..] | [0xff, 0xfe, ..]) || zeros * 4 > bytes.len() {
        return Encoding::Utf16;
    }
    if std::str::from_utf8(bytes).is_ok() {
        return Encoding::Utf8;
    }
    findings.add(
        FindingCode::Encoding,
        Standing::Assumed,
        None,
        "the text is not UTF-8; it was taken as ISO 8859-1, as many loggers write the sign of the \
         degree",
    );
    Encoding::Latin1
}

/// Follows the proposed map, so that no map is proposed that reads nothing.
fn tried(mut probe: Probe, bytes: &[u8], known: &Known<'_>) -> Probe {
    let Some(text) = &probe.map else { return probe };
    let nothing = |_: &str| None;
    let options = Options { now: known.now, allow_stale: true, environment: &nothing };
    let read = Map::parse(text, known.file).and_then(|map| match &map {
        Map::Csv(map) => read_csv(map, bytes, known.file, &options),
        Map::Json(map) => read_json(map, bytes, known.file, &options),
        _ => Err(Error::new(guardcell::Code::Internal, "the map is of another kind", "")),
    });
    match read {
        Ok(read) => probe.report = Some(read.report),
        Err(e) => {
            probe.map = None;
            let message = format!("the map that was found reads nothing: {}", e.detail());
            let (code, standing) = (FindingCode::Read, Standing::Open);
            probe.findings.push(Finding { code, standing, column: None, message });
        }
    }
    probe
}

//! `solution`: one analysed composition, or one a line.

use crate::args;
use crate::backend::Backend;
use crate::error::{bad_file, exit_code};
use crate::input::text::{Lines, read};
use crate::print::{Out, text};
use guardcell::Error;
use guardcell::calls::Solution;
use guardcell::solution::{SolutionRequest, SolutionResponse};
use serde_json::json;
use std::path::Path;

pub(crate) fn run(args: &args::Solution, backend: &Backend, out: &mut Out) -> Result<(), Error> {
    if args.file == Path::new("-") || is_lines(&args.file) {
        return lines(&args.file, backend, out);
    }
    let place = args.file.display().to_string();
    let report = one(&read(&args.file)?, &place, None, backend)?;
    if out.json() {
        return out.value(&report);
    }
    print(&report, out);
    Ok(())
}

fn is_lines(path: &Path) -> bool {
    path.extension()
        .is_some_and(|e| e.eq_ignore_ascii_case("ndjson") || e.eq_ignore_ascii_case("jsonl"))
}

/// One request; `line` is where it stands in a file of many.
fn one(
    text: &str,
    place: &str,
    line: Option<u64>,
    backend: &Backend,
) -> Result<SolutionResponse, Error> {
    let placed = |e: Error| match line {
        _ if exit_code(&e) == 3 => e,
        Some(line) => e.in_file(place).on_line(line),
        None => e.in_file(place),
    };
    let request: SolutionRequest = guardcell::read_request(text.as_bytes()).map_err(placed)?;
    backend.ask::<Solution>(&request).map_err(placed)
}

/// One request a line, one answer a line, in bounded memory. A line that cannot be answered gives
/// an object with its number and the error, and the exit code says so at the end.
fn lines(path: &Path, backend: &Backend, out: &mut Out) -> Result<(), Error> {
    let place =
        if path == Path::new("-") { "standard input".into() } else { path.display().to_string() };
    let mut failed = 0_u64;
    for (number, line) in (1_u64..).zip(Lines::open(path)?) {
        let answer = line.and_then(|l| match l.trim() {
            "" => Ok(None),
            l => one(l, &place, Some(number), backend).map(Some),
        });
        match answer {
            Ok(None) => continue,
            Ok(Some(report)) => out.ndjson(&report)?,
            Err(e) if exit_code(&e) == 3 => return Err(e),
            Err(e) => {
                failed += 1;
                out.ndjson(&json!({"line": number, "error": e}))?;
            }
        }
        out.finish()?;
    }
    if failed > 0 {
        let lines = text::count(usize::try_from(failed).unwrap_or(usize::MAX), "line", "lines");
        return Err(bad_file(
            place,
            format!("{lines} could not be answered"),
            "see the `error` of each such line in the output",
        ));
    }
    Ok(())
}

fn print(r: &SolutionResponse, out: &mut Out) {
    let n = |v: f64, digits| text::significant(v, digits);
    out.line(format!(
        "  EC at 25 °C     {} µS/cm ({} to {})",
        n(r.ec25_us_cm, 4),
        n(r.ec25_range_us_cm.low, 3),
        n(r.ec25_range_us_cm.high, 3)
    ));
    out.line(format!("  EC at {} °C     {} µS/cm", r.temp_c, n(r.ec_us_cm, 4)));
    out.line(format!("  pH              {:.2}", r.ph));
    out.line(format!("  ionic strength  {} mol/kg", n(r.ionic_strength_mol_kg, 3)));
    out.line(format!("  osmolality      {} mosm/kg", n(r.osmolality_mosm_kg, 3)));
    out.line(format!("  imbalance       {} %", n(r.charge_imbalance_percent, 2)));
    out.line("  saturation index (above 0 it can fall out)");
    for (solid, si) in &r.saturation_index {
        out.line(format!("    {solid:<16} {si:+.2}"));
    }
    let mut species: Vec<(&String, &f64)> = r.species_mmol_l.iter().collect();
    species.sort_by(|a, b| b.1.total_cmp(a.1));
    out.line("  species, mmol/L");
    for (name, c) in species.into_iter().take(12) {
        out.line(format!("    {name:<16} {}", n(*c, 3)));
    }
    for a in &r.assumptions {
        out.item("  assumed: ", &a.message);
    }
    for w in &r.warnings {
        out.item("  note: ", &w.message);
    }
}

//! `genus`: when a plant opens its stomata, and who measured it.

use crate::args;
use crate::backend::Backend;
use crate::error::argument;
use crate::input;
use crate::print::{Out, text};
use guardcell::Error;
use guardcell::calls::Genus;
use guardcell::reference::export;
use guardcell::reference::{GenusRequest, GenusResponse, Leaf, Outcome};
use std::path::Path;

pub(crate) fn run(args: &args::Genus, backend: &Backend, out: &mut Out) -> Result<(), Error> {
    if args.all {
        return all(args.format.as_deref().unwrap_or_default(), backend, out);
    }
    let leaf = args.leaf.as_deref().map(leaf).transpose()?;
    if let Some(path) = &args.list {
        return list(path, leaf, backend, out);
    }
    let query = args.name.clone().unwrap_or_default();
    let answer = backend.ask::<Genus>(&GenusRequest { query, leaf })?;
    if out.json() {
        return out.value(&answer);
    }
    print(&answer, out);
    Ok(())
}

/// A type of leaf by its word.
pub(crate) fn leaf(word: &str) -> Result<Leaf, Error> {
    let seen = [Leaf::Thin, Leaf::Intermediate, Leaf::Thick, Leaf::Terete, Leaf::Leafless];
    seen.into_iter().find(|l| l.word() == word.trim().to_lowercase()).ok_or_else(|| {
        argument(
            "--leaf",
            format!("{word:?} is not a type of leaf"),
            "write thin, intermediate, thick, terete or leafless",
        )
    })
}

fn all(format: &str, backend: &Backend, out: &mut Out) -> Result<(), Error> {
    if matches!((format, backend), ("csv" | "json" | "parquet", Backend::Remote(_))) {
        return Err(argument(
            "--format",
            "a server gives all records as `dwc` only",
            "omit the server, or write `dwc`",
        ));
    }
    match format {
        "dwc" => out.raw(&backend.measurements()?),
        "csv" => {
            out.raw(&export::COLUMNS.join(","));
            out.raw("\n");
            for row in export::taxa() {
                out.raw(&row.csv_line());
                out.raw("\n");
            }
        }
        "json" => out.value(&export::taxa().collect::<Vec<_>>())?,
        #[cfg(feature = "tables")]
        "parquet" => super::genus_parquet::write()?,
        #[cfg(not(feature = "tables"))]
        "parquet" => {
            return Err(argument(
                "--format",
                "this program was built without Parquet",
                "write `csv`, or build it with the feature `tables`",
            ));
        }
        other => {
            return Err(argument(
                "--format",
                format!("{other:?} is not known"),
                "write `csv`, `json`, `parquet` or `dwc`",
            ));
        }
    }
    Ok(())
}

/// Each name of a file: what it is taken for. Blank lines are passed over.
fn list(path: &Path, leaf: Option<Leaf>, backend: &Backend, out: &mut Out) -> Result<(), Error> {
    let text = input::text::read(path)?;
    let mut answers = Vec::new();
    for name in text.lines().map(str::trim).filter(|l| !l.is_empty()) {
        let request = GenusRequest { query: name.to_owned(), leaf };
        answers.push(
            backend.ask::<Genus>(&request).map_err(|e| {
                e.with_hint(format!("check the line {name:?} of {}", path.display()))
            })?,
        );
    }
    if out.json() {
        return out.value(&answers);
    }
    let width = answers.iter().map(|a| a.query.chars().count()).max().unwrap_or(0);
    let mut unclear = 0;
    for a in &answers {
        unclear += usize::from(a.outcome != Outcome::Found || a.corrected_to.is_some());
        out.line(format!("{:<width$}  {}", a.query, taken_for(a)));
    }
    out.line(format!("{}, {unclear} to check", text::count(answers.len(), "name", "names")));
    Ok(())
}

/// What a name was taken for, in one line.
fn taken_for(a: &GenusResponse) -> String {
    let names = |n: usize| {
        let all: Vec<&str> = a.candidates.iter().take(n).map(|c| c.name.as_str()).collect();
        all.join(", ")
    };
    match a.outcome {
        Outcome::Found => {
            let check = if a.corrected_to.is_some() { "  check the spelling" } else { "" };
            format!(
                "{}: {} ({}), opens {}{check}",
                a.name.as_deref().unwrap_or_default(),
                a.pathway,
                a.evidence.grade,
                a.opens
            )
        }
        Outcome::Ambiguous => format!("may be {}", names(4)),
        Outcome::NotAnOrchid => "is not an orchid".into(),
        Outcome::Unknown => "is not known".into(),
    }
}

fn print(a: &GenusResponse, out: &mut Out) {
    out.wrapped("", &a.message);
    if a.outcome != Outcome::Unknown || !a.candidates.is_empty() {
        out.line("");
    }
    if let Some(name) = &a.name {
        let place: Vec<&str> = [&a.subfamily, &a.tribe, &a.subtribe]
            .into_iter()
            .flatten()
            .map(String::as_str)
            .collect();
        let place =
            if place.is_empty() { String::new() } else { format!(" ({})", place.join(", ")) };
        out.line(format!("  name      {name}{place}"));
        out.line(format!("  pathway   {} ({})", a.pathway, a.evidence.grade));
        if let Some(c) = a.chance {
            out.line(format!(
                "  chance    C3 {:.0} %, weak or facultative CAM {:.0} %, CAM {:.0} %",
                100.0 * c.c3,
                100.0 * c.weak_cam,
                100.0 * c.cam
            ));
        }
        out.line(format!("  opens     {}", a.opens));
        if let Some(peak) = a.opens_peak {
            out.line(format!("  widest    {peak}, measured"));
        }
        out.line(format!("  leaf      {} ({})", a.leaf, a.evidence.leaf_grade));
        if let Some(mm) = a.leaf_mm {
            out.line(format!("  thickness {}–{} mm", mm.low, mm.high));
        }
        if let Some(d) = a.d13c_permil {
            out.line(format!(
                "  δ13C      {} to {} ‰ ({})",
                d.low,
                d.high,
                text::count(d.n.into(), "species or value", "species or values")
            ));
        }
        for s in &a.stomata {
            let density = s.per_mm2.map_or("found".to_owned(), |d| format!("{d} per mm²"));
            out.line(format!("  stomata   {}: {density} ({})", s.side, s.sources.join(", ")));
        }
        if let Some(f) = a.cam_fraction {
            out.line(format!(
                "  CAM       {} of {} measured species",
                f.cam_species, f.measured_species
            ));
        }
    }
    for c in &a.candidates {
        out.line(format!("  or        {} ({}, opens {})", c.name, c.pathway, c.opens));
    }
    for p in &a.parents {
        out.line(format!("  parent    {} ({}, opens {})", p.name, p.pathway, p.opens));
    }
    for note in &a.notes {
        out.item("  note      ", note);
    }
    if let Some(f) = &a.fallback {
        out.item("  by leaf   ", &f.message);
    }
    for w in &a.evidence.works {
        out.item("  source    ", &format!("{} (read: {})", w.work, w.read));
    }
}

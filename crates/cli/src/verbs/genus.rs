//! `genus`: when a plant opens its stomata, and who measured it.

use crate::args;
use crate::backend::Backend;
use crate::error::argument;
use crate::print::{Out, text};
use guardcell::Error;
use guardcell::calls::Genus;
use guardcell::reference::{GenusRequest, GenusResponse, Leaf, Outcome};

pub(crate) fn run(args: &args::Genus, backend: &Backend, out: &mut Out) -> Result<(), Error> {
    if args.all {
        return all(args.format.as_deref().unwrap_or_default(), backend, out);
    }
    let leaf = args.leaf.as_deref().map(leaf).transpose()?;
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
    if format != "dwc" {
        return Err(argument(
            "--format",
            format!("{format:?} is not known"),
            "write `dwc`, Darwin Core measurements as CSV",
        ));
    }
    out.raw(&backend.measurements()?);
    Ok(())
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

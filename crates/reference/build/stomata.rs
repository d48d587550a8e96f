//! `data/stomata.csv` → on which side of its leaves a species has stomata, and how many.

use crate::genera::Genus;
use crate::table::{Faults, rows};
use crate::traits::{option, strings};
use std::collections::BTreeMap;
use std::fmt::Write as _;

const COLUMNS: [&str; 13] = [
    "genus",
    "specific_epithet",
    "side",
    "density_per_mm2",
    "density_n",
    "density_min_per_mm2",
    "density_max_per_mm2",
    "stoma_length_um",
    "length_n",
    "source",
    "read_in",
    "verbatim_name",
    "notes",
];
/// Sides as the table writes them, and the variants of `Side`.
const SIDE: &[(&str, &str)] = &[("lower", "Lower"), ("upper", "Upper"), ("both", "Both")];

pub(crate) fn compile(
    genera: &[Genus],
    sources: &BTreeMap<String, usize>,
    faults: &mut Faults,
) -> Result<String, String> {
    let mut entries = Vec::new();
    for row in rows(guardcell_data::STOMATA, &COLUMNS)? {
        let genus = row.get("genus");
        if genera.binary_search_by(|g| g.name.as_str().cmp(genus)).is_err() {
            faults.error(&row.at, format!("genus {genus:?} is not in data/genera.csv"));
        }
        let density = row.number("density_per_mm2", 0.0..=1000.0, faults);
        let side = row.word("side", SIDE, faults);
        if density.is_none() && side == "Upper" {
            faults.error(&row.at, "an upper side needs a density; 0 where there are none");
        }
        let mut number = |column, high| row.number(column, 0.0..=high, faults);
        let span = number("density_min_per_mm2", 1000.0).zip(number("density_max_per_mm2", 1000.0));
        let (n, length_n) = (number("density_n", 10_000.0), number("length_n", 10_000.0));
        let length = number("stoma_length_um", 200.0);
        if let (Some(d), Some((low, high))) = (density, span)
            && !(low - 0.5..=high + 0.5).contains(&d)
        {
            faults.error(&row.at, format!("density {d} is not between {low} and {high}"));
        }
        let whole = |n: Option<f64>| n.map(|n| n as u16);
        let more = format!(
            "span_per_mm2: {:?}, n: {:?}, length_um: {:?}, length_n: {:?}",
            span.map(|(low, high)| (low as f32, high as f32)),
            whole(n),
            length.map(|um| um as f32),
            whole(length_n),
        );
        let mut keys = row.keys("source", sources, faults);
        keys.extend(row.keys("read_in", sources, faults));
        if keys.is_empty() {
            faults.error(&row.at, "source is blank; it should name a work");
        }
        entries.push((
            genus.to_owned(),
            row.get("specific_epithet").to_owned(),
            side,
            density,
            more,
            keys,
        ));
    }
    entries.sort_by(|a, b| (&a.0, &a.1, a.2).cmp(&(&b.0, &b.1, b.2)));
    let mut text = String::from("static STOMATA: &[Stomata] = &[\n");
    for (genus, epithet, side, density, more, keys) in &entries {
        let _ = writeln!(
            text,
            "    Stomata {{ genus: {genus:?}, epithet: {epithet:?}, side: Side::{side}, per_mm2: {}, \
             {more}, sources: {} }},",
            option(density.map(|d| format!("{:?}", d as f32))),
            strings(keys)
        );
    }
    text.push_str("];\n");
    Ok(text)
}

//! `data/acids.csv` → the acids that neutralise alkalinity.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use crate::formula;

const COLUMNS: [&str; 6] = ["name", "formula", "ligand", "protons", "source", "note"];

pub(crate) fn compile(out: &Path, sources: &BTreeMap<String, usize>) -> Result<(), String> {
    let table = guardcell_data::ACIDS;
    let mut text = String::from("static ACIDS: &[Acid] = &[\n");
    for (line, row) in crate::read(table, &COLUMNS)? {
        let at = format!("data/{}:{line}", table.file);
        let [name, formula, ligand, protons, source, note] = &row[..] else {
            return Err(format!("{at}: too few fields"));
        };
        let atoms = formula::parse(formula).map_err(|e| format!("{at}: {e}"))?;
        let component = match ligand.as_str() {
            "PO4" => "Po4",
            "SO4" => "So4",
            "NO3" => "No3",
            "Cit" => "Cit",
            other => return Err(format!("{at}: {other:?} is not an anion of the solver")),
        };
        let protons: u8 = protons.parse().map_err(|e| format!("{at}: protons {protons:?}: {e}"))?;
        let keys = crate::sources::cited(&at, source, sources)?;
        let list: Vec<String> = atoms.iter().map(|(e, n)| format!("(Element::{e}, {n})")).collect();
        writeln!(
            text,
            "    Acid {{ name: {name:?}, formula: Formula::new(&[{}]), ligand: Component::{component}, \
             protons: {protons}, sources: &{keys:?}, note: {note:?} }},",
            list.join(", ")
        )
        .map_err(|e| e.to_string())?;
    }
    text.push_str("];\n");
    crate::write(out, "acids.rs", &text)
}

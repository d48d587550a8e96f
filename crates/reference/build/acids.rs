//! `data/acids.csv` → the acids that neutralise alkalinity.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use crate::formula;

const COLUMNS: [&str; 7] = ["name", "formula", "pk1", "pk2", "pk3", "source", "note"];

pub(crate) fn compile(out: &Path, sources: &BTreeMap<String, usize>) -> Result<(), String> {
    let table = guardcell_data::ACIDS;
    let mut text = String::from("static ACIDS: &[Acid] = &[\n");
    for (line, row) in crate::read(table, &COLUMNS)? {
        let at = format!("data/{}:{line}", table.file);
        let [name, formula, pk @ .., source, note] = &row[..] else {
            return Err(format!("{at}: too few fields"));
        };
        let atoms = formula::parse(formula).map_err(|e| format!("{at}: {e}"))?;
        let pks = pk
            .iter()
            .filter(|p| !p.is_empty())
            .map(|p| match p.parse::<f64>() {
                Ok(v) if v.is_finite() => Ok(format!("{v:?}")),
                _ => Err(format!("{at}: pK {p:?}; it should be a number")),
            })
            .collect::<Result<Vec<_>, _>>()?;
        let keys = crate::sources::cited(&at, source, sources)?;
        let list: Vec<String> = atoms.iter().map(|(e, n)| format!("(Element::{e}, {n})")).collect();
        writeln!(
            text,
            "    Acid {{ name: {name:?}, formula: Formula::new(&[{}]), pk: &[{}], \
             sources: &{keys:?}, note: {note:?} }},",
            list.join(", "),
            pks.join(", ")
        )
        .map_err(|e| e.to_string())?;
    }
    text.push_str("];\n");
    crate::write(out, "acids.rs", &text)
}

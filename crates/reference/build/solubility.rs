//! `data/solubility.csv` → solubility of single salts over temperature.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

const COLUMNS: [&str; 8] = ["material", "g0", "g10", "g20", "g30", "g40", "source", "note"];

pub(crate) fn compile(out: &Path, sources: &BTreeMap<String, usize>) -> Result<(), String> {
    let table = guardcell_data::SOLUBILITY;
    let mut text = String::from("static SOLUBILITIES: &[Solubility] = &[\n");
    for (line, row) in crate::read(table, &COLUMNS)? {
        let at = format!("data/{}:{line}", table.file);
        let [material, grams @ .., source, note] = &row[..] else {
            return Err(format!("{at}: too few fields"));
        };
        let grams = grams
            .iter()
            .map(|g| match g.parse::<f64>() {
                Ok(v) if v.is_finite() && v > 0.0 => Ok(format!("{v:?}")),
                _ => Err(format!("{at}: solubility {g:?}; it should be a positive number")),
            })
            .collect::<Result<Vec<_>, _>>()?;
        let keys = crate::sources::cited(&at, source, sources)?;
        writeln!(
            text,
            "    Solubility {{ material: {material:?}, g_per_100_g: [{}], sources: &{keys:?}, \
             note: {note:?} }},",
            grams.join(", ")
        )
        .map_err(|e| e.to_string())?;
    }
    text.push_str("];\n");
    crate::write(out, "solubility.rs", &text)
}

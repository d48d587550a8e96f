//! `data/derived_from.csv` → the materials that labels name after "derived from".

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;

use crate::formula;

const COLUMNS: [&str; 17] = [
    "name", "aliases", "formula", "kind", "ca", "mg", "k", "na", "nh4", "no3", "p", "so4", "cl",
    "dic", "urea", "source", "note",
];
/// Which atom each ion column brings, for the check against the formula.
const ATOMS: [(usize, &str); 6] = [(0, "Ca"), (1, "Mg"), (2, "K"), (3, "Na"), (6, "P"), (8, "Cl")];

pub(crate) fn compile(out: &Path, sources: &BTreeMap<String, usize>) -> Result<(), String> {
    let table = guardcell_data::DERIVED_FROM;
    let mut seen = BTreeSet::new();
    let mut text = String::from("static MATERIALS: &[Material] = &[\n");
    for (line, row) in crate::read(table, &COLUMNS)? {
        let at = format!("data/{}:{line}", table.file);
        let [name, aliases, formula, kind, ions @ .., source, note] = &row[..] else {
            return Err(format!("{at}: too few fields"));
        };
        if !seen.insert(name.clone()) {
            return Err(format!("{at}: duplicate material {name:?}"));
        }
        let kind = match kind.as_str() {
            "salt" => "Salt",
            "molecule" => "Molecule",
            "acid" => "Acid",
            "chelate" => "Chelate",
            "trace" => "Trace",
            other => return Err(format!("{at}: kind {other:?} is not known")),
        };
        let atoms = formula::parse(formula).map_err(|e| format!("{at}: {e}"))?;
        let counts = ions
            .iter()
            .map(|c| {
                c.parse::<u16>()
                    .map_err(|_| format!("{at}: count {c:?}; it should be a whole number"))
            })
            .collect::<Result<Vec<_>, _>>()?;
        check(&at, kind, &atoms, &counts)?;
        let keys = crate::sources::cited(&at, source, sources)?;
        let aliases: Vec<&str> = aliases.split('|').filter(|a| !a.is_empty()).collect();
        let list: Vec<String> = atoms.iter().map(|(e, n)| format!("(Element::{e}, {n})")).collect();
        writeln!(
            text,
            "    Material {{ name: {name:?}, aliases: &{aliases:?}, formula_text: {formula:?}, \
             formula: Formula::new(&[{}]), kind: MaterialKind::{kind}, ions: {counts:?}, \
             sources: &{keys:?}, note: {note:?} }},",
            list.join(", ")
        )
        .map_err(|e| e.to_string())?;
    }
    text.push_str("];\n");
    crate::write(out, "materials.rs", &text)
}

/// The ions must be made of the formula's atoms; a plain salt must balance its charges.
fn check(at: &str, kind: &str, atoms: &BTreeMap<String, u16>, ions: &[u16]) -> Result<(), String> {
    let [ca, mg, k, na, nh4, no3, p, so4, cl, dic, urea] = *ions else {
        return Err(format!("{at}: there should be 11 ion counts"));
    };
    if kind == "Chelate" {
        return Ok(()); // the chelating ion holds nitrogen and may hold the calcium
    }
    let atom = |e: &str| atoms.get(e).copied().unwrap_or(0);
    for (i, e) in ATOMS {
        if ions.get(i).copied() != Some(atom(e)) {
            return Err(format!("{at}: the ion counts and the formula differ in {e}"));
        }
    }
    if nh4 + no3 + 2 * urea != atom("N") {
        return Err(format!("{at}: the ion counts and the formula differ in N"));
    }
    if so4 != atom("S") {
        return Err(format!("{at}: the ion counts and the formula differ in S"));
    }
    let charge =
        2 * i32::from(ca + mg) + i32::from(k + na + nh4) - i32::from(no3 + cl) - 2 * i32::from(so4);
    let open = p + dic + atom("B") + atom("Si");
    let hydroxide = kind == "Salt" && charge > 0 && atom("H") == atom("O");
    if kind == "Salt" && open == 0 && charge != 0 && !hydroxide {
        return Err(format!("{at}: the charges of the ions do not cancel"));
    }
    Ok(())
}

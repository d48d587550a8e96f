//! `data/pitzer.csv`, `data/pitzer_solids.csv` and the ion interactions of `data/salts.csv` → the
//! model of concentrated stocks.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

const INTERACTIONS: [&str; 13] = [
    "term",
    "ion1",
    "ion2",
    "ion3",
    "at_25",
    "inverse",
    "logarithm",
    "linear",
    "square",
    "inverse_square",
    "basis",
    "sources",
    "note",
];
const SOLIDS: [&str; 16] = [
    "key",
    "name",
    "formula",
    "dissolves_to",
    "material",
    "log_k_25",
    "delta_h_kj_mol",
    "a1",
    "a2",
    "a3",
    "a4",
    "a5",
    "a6",
    "basis",
    "sources",
    "note",
];
/// The order of `BrineIon` in `src/pitzer.rs`, and the solute of `salts.csv` that becomes the ion.
const IONS: [(&str, i32, &str); 10] = [
    ("Ca", 2, "ca"),
    ("Mg", 2, "mg"),
    ("K", 1, "k"),
    ("Na", 1, "na"),
    ("NH4", 1, "nh4"),
    ("Cl", -1, "cl"),
    ("NO3", -1, "no3"),
    ("H2PO4", -1, "p"),
    ("HPO4", -2, ""),
    ("SO4", -2, "so4"),
];
const BINARY: [&str; 4] = ["beta0", "beta1", "beta2", "cphi"];

#[derive(Default)]
struct Binary {
    terms: [String; 4],
    max_mol_kg: Option<f64>,
    cite: String,
}

pub(crate) fn compile(out: &Path, sources: &BTreeMap<String, usize>) -> Result<(), String> {
    let mut binaries: BTreeMap<(usize, usize), Binary> = BTreeMap::new();
    let (mut thetas, mut psis) = (String::new(), String::new());
    let table = guardcell_data::PITZER;
    for (line, row) in crate::read(table, &INTERACTIONS)? {
        let at = format!("data/{}:{line}", table.file);
        let series = series(&at, &row[4..10])?;
        let cite = crate::aqueous::cite(&at, &row[10], &row[11], &row[12], sources)?;
        let (i, j) = (ion(&at, &row[1])?, ion(&at, &row[2])?);
        if let Some(term) = BINARY.iter().position(|t| *t == row[0]) {
            if IONS[i].1 < 0 || IONS[j].1 > 0 {
                return Err(format!("{at}: a {} has a cation and an anion, in this order", row[0]));
            }
            let binary = binaries.entry((i, j)).or_default();
            if !binary.terms[term].is_empty() {
                return Err(format!("{at}: duplicate {} of {} and {}", row[0], row[1], row[2]));
            }
            binary.terms[term] = series;
            binary.cite = cite;
        } else if row[0] == "theta" {
            writeln!(thetas, "    Mixing {{ ions: [{i}, {j}, {j}], value: {series}, {cite} }},")
                .map_err(|e| e.to_string())?;
        } else if row[0] == "psi" {
            let k = ion(&at, &row[3])?;
            writeln!(psis, "    Mixing {{ ions: [{i}, {j}, {k}], value: {series}, {cite} }},")
                .map_err(|e| e.to_string())?;
        } else {
            return Err(format!("{at}: {:?} is not a term of the model", row[0]));
        }
    }
    from_salts(&mut binaries, sources)?;
    let mut text = String::from("static BINARIES: &[Binary] = &[\n");
    for ((i, j), b) in &binaries {
        let terms = b.terms.clone().map(|t| if t.is_empty() { ZERO.to_owned() } else { t });
        writeln!(
            text,
            "    Binary {{ cation: {i}, anion: {j}, terms: [{}], max_mol_kg: {:?}, {} }},",
            terms.join(", "),
            b.max_mol_kg,
            b.cite
        )
        .map_err(|e| e.to_string())?;
    }
    write!(
        text,
        "];\nstatic THETAS: &[Mixing] = &[\n{thetas}];\nstatic PSIS: &[Mixing] = &[\n{psis}];\n"
    )
    .map_err(|e| e.to_string())?;
    text.push_str(&solids(sources)?);
    crate::write(out, "pitzer.rs", &text)
}

const ZERO: &str = "Series([0.0, 0.0, 0.0, 0.0, 0.0, 0.0])";

/// Interactions at 25 °C of the salts that `pitzer.csv` does not have.
fn from_salts(
    binaries: &mut BTreeMap<(usize, usize), Binary>,
    sources: &BTreeMap<String, usize>,
) -> Result<(), String> {
    let table = guardcell_data::SALTS;
    let mut reader = csv::Reader::from_reader(table.csv.as_bytes());
    for record in reader.deserialize() {
        let row: BTreeMap<String, String> =
            record.map_err(|e| format!("data/{}: {e}", table.file))?;
        let field = |name: &str| row.get(name).map_or("", String::as_str);
        let at = format!("data/{}: {}", table.file, field("key"));
        let place = |solute: &str| IONS.iter().position(|(_, _, s)| *s == solute);
        let (Some(cation), Some(anion)) = (place(field("cation")), place(field("anion"))) else {
            continue;
        };
        if field("beta0").is_empty() || binaries.contains_key(&(cation, anion)) {
            continue;
        }
        let mut binary = Binary::default();
        for (slot, term) in binary.terms.iter_mut().zip(BINARY) {
            *slot = series(&at, &[field(term).to_owned()])?;
        }
        binary.max_mol_kg = field("pitzer_max_mol_kg").parse().ok();
        binary.cite = crate::aqueous::cite(
            &at,
            field("basis"),
            field("sources"),
            "parameters of 25 °C",
            sources,
        )?;
        binaries.insert((cation, anion), binary);
    }
    Ok(())
}

fn solids(sources: &BTreeMap<String, usize>) -> Result<String, String> {
    let table = guardcell_data::PITZER_SOLIDS;
    let mut text = String::from("static SOLIDS: &[Solid] = &[\n");
    for (line, row) in crate::read(table, &SOLIDS)? {
        let at = format!("data/{}:{line}", table.file);
        let (ions, water) = reaction(&at, &row[3])?;
        let charge: i32 = ions.iter().zip(IONS).map(|(n, (_, z, _))| n * z).sum();
        if charge != 0 {
            return Err(format!("{at}: {} dissolves to a charge of {charge}", row[0]));
        }
        let constant = match (row[4].as_str(), row[5].as_str()) {
            ("", "") => return Err(format!("{at}: neither a constant nor a material")),
            ("", _) => {
                format!("SolidConstant::LogK({})", crate::aqueous::log_k(&at, &row[5..13])?)
            }
            (material, "") => format!("SolidConstant::Solubility({material:?})"),
            (material, _) => format!(
                "SolidConstant::Both({}, {material:?})",
                crate::aqueous::log_k(&at, &row[5..13])?
            ),
        };
        writeln!(
            text,
            "    Solid {{ key: {:?}, name: {:?}, formula: {:?}, ions: {ions:?}, water: {water}, \
             constant: {constant}, {} }},",
            row[0],
            row[1],
            row[2],
            crate::aqueous::cite(&at, &row[13], &row[14], &row[15], sources)?
        )
        .map_err(|e| e.to_string())?;
    }
    text.push_str("];\n");
    Ok(text)
}

/// `2 K + Mg + 2 SO4 + 6 H2O` as counts of the ions and of water.
fn reaction(at: &str, text: &str) -> Result<([i32; IONS.len()], i32), String> {
    let (mut ions, mut water) = ([0; IONS.len()], 0);
    for part in text.split('+') {
        let mut words = part.split_whitespace();
        let (count, name) = match (words.next(), words.next()) {
            (Some(n), Some(name)) => {
                (n.parse().map_err(|e| format!("{at}: {n:?} in {text:?}: {e}"))?, name)
            }
            (Some(name), None) => (1, name),
            _ => return Err(format!("{at}: an empty part in {text:?}")),
        };
        if name == "H2O" {
            water += count;
        } else {
            ions[ion(at, name)?] += count;
        }
    }
    Ok((ions, water))
}

fn ion(at: &str, name: &str) -> Result<usize, String> {
    IONS.iter()
        .position(|(n, _, _)| *n == name)
        .ok_or_else(|| format!("{at}: {name:?} is not an ion of the model"))
}

/// The value at 25 °C and the coefficients of its dependence on temperature.
fn series(at: &str, fields: &[String]) -> Result<String, String> {
    let mut values = [0.0; 6];
    for (value, field) in values.iter_mut().zip(fields) {
        if !field.is_empty() {
            *value = crate::aqueous::number(at, field)?;
        }
    }
    Ok(format!("Series({values:?})"))
}

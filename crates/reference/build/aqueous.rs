//! `data/ions.csv`, `data/complexes.csv`, `data/phases.csv` → the dissolved species.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

const IONS: [&str; 14] = [
    "species",
    "component",
    "charge",
    "dh_a_angstrom",
    "dh_b_kg_mol",
    "conductance_25_s_cm2_mol",
    "conductance_low_s_cm2_mol",
    "conductance_high_s_cm2_mol",
    "diffusion_temp_k",
    "onsager_a_angstrom",
    "volume_cm3_mol",
    "basis",
    "sources",
    "note",
];
const COMPLEXES: [&str; 16] = [
    "species",
    "charge",
    "formed_from",
    "log_k_25",
    "delta_h_kj_mol",
    "a1",
    "a2",
    "a3",
    "a4",
    "a5",
    "a6",
    "dh_a_angstrom",
    "dh_b_kg_mol",
    "basis",
    "sources",
    "note",
];
const PHASES: [&str; 15] = [
    "phase",
    "name",
    "formula",
    "dissolves_to",
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
/// The order of `Component` in `src/aqueous.rs`.
const COMPONENTS: [(&str, i32); 12] = [
    ("Ca", 2),
    ("Mg", 2),
    ("K", 1),
    ("Na", 1),
    ("NH4", 1),
    ("Cl", -1),
    ("NO3", -1),
    ("Cit", -3),
    ("PO4", -3),
    ("SO4", -2),
    ("CO3", -2),
    ("H", 1),
];

/// The conductance of a row of `ions.csv`; where no work differs its ends are the value.
fn transport(at: &str, row: &[String]) -> Result<String, String> {
    let value = number(at, &row[5])?;
    let end = |text: &str| if text.is_empty() { Ok(value) } else { number(at, text) };
    let (low, high) = (end(&row[6])?, end(&row[7])?);
    if !(low <= value && value <= high) {
        return Err(format!("{at}: {value} is outside {low} to {high}"));
    }
    Ok(format!(
        "Some(Transport {{ conductance_25_s_cm2_mol: {value:?}, low_s_cm2_mol: {low:?}, \
         high_s_cm2_mol: {high:?}, diffusion_temp_k: {:?}, onsager_a_angstrom: {} }})",
        number(at, &row[8])?,
        optional(at, &row[9])?
    ))
}

/// Compiles the three tables.
pub(crate) fn compile(out: &Path, sources: &BTreeMap<String, usize>) -> Result<(), String> {
    let mut text = String::new();
    let mut conducting = BTreeMap::new();
    let mut free = vec![String::new(); COMPONENTS.len()];
    let mut ions = String::new();
    let table = guardcell_data::IONS;
    for (line, row) in crate::read(table, &IONS)? {
        let at = format!("data/{}:{line}", table.file);
        let cite = cite(&at, &row[11], &row[12], &row[13], sources)?;
        let transport = if row[5].is_empty() { "None".to_owned() } else { transport(&at, &row)? };
        let ion = format!(
            "Ion {{ name: {:?}, charge: {}, activity: {}, transport: {transport}, volume_cm3_mol: {}, {cite} }}",
            row[0],
            integer(&at, &row[2])?,
            activity(&at, &row[2], &row[3], &row[4])?,
            optional(&at, &row[10])?
        );
        conducting.insert(row[0].clone(), transport);
        if !row[1].is_empty() {
            let place = COMPONENTS
                .iter()
                .position(|(c, z)| *c == row[1] && z.to_string() == row[2])
                .ok_or_else(|| format!("{at}: component {:?} with charge {:?}", row[1], row[2]))?;
            free[place] = ion.clone();
        }
        writeln!(ions, "    {ion},").map_err(|e| e.to_string())?;
    }
    if let Some(i) = free.iter().position(String::is_empty) {
        return Err(format!("data/{}: component {} is missing", table.file, COMPONENTS[i].0));
    }
    writeln!(text, "static IONS: &[Ion] = &[\n{ions}];").map_err(|e| e.to_string())?;
    writeln!(
        text,
        "static FREE: [Ion; {}] = [\n    {}\n];",
        COMPONENTS.len(),
        free.join(",\n    ")
    )
    .map_err(|e| e.to_string())?;

    let table = guardcell_data::COMPLEXES;
    let rows = crate::read(table, &COMPLEXES)?;
    writeln!(text, "static COMPLEXES: [Complex; {}] = [", rows.len()).map_err(|e| e.to_string())?;
    for (line, row) in rows {
        let at = format!("data/{}:{line}", table.file);
        let (parts, water) = reaction(&at, &row[2])?;
        let charge: i32 = parts.iter().zip(COMPONENTS).map(|(n, (_, z))| n * z).sum();
        if charge != integer(&at, &row[1])? {
            return Err(format!("{at}: {} has charge {}; its parts have {charge}", row[0], row[1]));
        }
        let transport = conducting.get(&row[0]).map_or("None", String::as_str);
        writeln!(
            text,
            "    Complex {{ name: {:?}, charge: {charge}, components: {parts:?}, water: {water}, log_k: {}, \
             activity: {}, transport: {transport}, {} }},",
            row[0],
            log_k(&at, &row[3..11])?,
            activity(&at, &row[1], &row[11], &row[12])?,
            cite(&at, &row[13], &row[14], &row[15], sources)?
        )
        .map_err(|e| e.to_string())?;
    }
    text.push_str("];\n");

    let phases = guardcell_data::PHASES;
    let (mut variants, mut table, mut all) = (String::new(), String::new(), String::new());
    for (line, row) in crate::read(phases, &PHASES)? {
        let at = format!("data/{}:{line}", phases.file);
        let (parts, water) = reaction(&at, &row[3])?;
        let charge: i32 = parts.iter().zip(COMPONENTS).map(|(n, (_, z))| n * z).sum();
        if charge != 0 {
            return Err(format!("{at}: {} dissolves to a charge of {charge}", row[0]));
        }
        let variant: String =
            row[0].split('_').map(|w| w[..1].to_ascii_uppercase() + &w[1..]).collect();
        writeln!(variants, "    /// {}, {}.\n    {variant},", row[1], row[2])
            .map_err(|e| e.to_string())?;
        write!(all, "Self::{variant}, ").map_err(|e| e.to_string())?;
        writeln!(
            table,
            "    PhaseData {{ key: {:?}, name: {:?}, formula: {:?}, components: {parts:?}, water: {water}, \
             log_k: {}, {} }},",
            row[0],
            row[1],
            row[2],
            log_k(&at, &row[4..12])?,
            cite(&at, &row[12], &row[13], &row[14], sources)?
        )
        .map_err(|e| e.to_string())?;
    }
    writeln!(
        text,
        "/// A solid, or a gas, that a solution may be in equilibrium with.\n\
         #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]\n\
         pub enum Phase {{\n{variants}}}\n\
         impl Phase {{\n    /// Every phase of the table.\n    pub const ALL: &'static [Self] = &[{all}];\n}}\n\
         static PHASES: &[PhaseData] = &[\n{table}];"
    )
    .map_err(|e| e.to_string())?;
    crate::write(out, "aqueous.rs", &text)
}

/// `2 SO4 + Mg - H2O` as coefficients of the components and of water.
fn reaction(at: &str, text: &str) -> Result<([i32; COMPONENTS.len()], i32), String> {
    let (mut parts, mut water, mut sign, mut count) = ([0; COMPONENTS.len()], 0, 1, 1);
    for word in text.split_whitespace() {
        if word == "+" || word == "-" {
            (sign, count) = (if word == "+" { 1 } else { -1 }, 1);
        } else if let Ok(n) = word.parse() {
            count = n;
        } else if word == "H2O" {
            water += sign * count;
        } else if let Some(i) = COMPONENTS.iter().position(|(c, _)| *c == word) {
            parts[i] += sign * count;
        } else {
            return Err(format!("{at}: {word:?} in {text:?} is not a component"));
        }
    }
    Ok((parts, water))
}

pub(crate) fn log_k(at: &str, fields: &[String]) -> Result<String, String> {
    let [at_25, enthalpy, a @ ..] = fields else {
        return Err(format!("{at}: too few fields"));
    };
    let at_25 = number(at, at_25)?;
    if a[0].is_empty() {
        let enthalpy = if enthalpy.is_empty() { 0.0 } else { number(at, enthalpy)? };
        return Ok(format!("LogK::VantHoff {{ at_25: {at_25:?}, enthalpy_kj_mol: {enthalpy:?} }}"));
    }
    let a = a.iter().map(|f| number(at, f)).collect::<Result<Vec<_>, _>>()?;
    let t: f64 = 298.15;
    let value = a[0] + a[1] * t + a[2] / t + a[3] * t.log10() + a[4] / (t * t) + a[5] * t * t;
    // The two ways of writing a constant must tell the same story.
    if (value - at_25).abs() > 0.1 {
        return Err(format!("{at}: log K at 25 °C is {at_25}, its expression gives {value:.3}"));
    }
    Ok(format!("LogK::Analytic({a:?})"))
}

fn activity(at: &str, charge: &str, a: &str, b: &str) -> Result<String, String> {
    let b = if b.is_empty() { None } else { Some(number(at, b)?) };
    Ok(match (a.is_empty(), b, charge == "0") {
        (true, None, true) => "Activity::Neutral { b_kg_mol: 0.1 }".into(),
        (true, Some(b), true) => format!("Activity::Neutral {{ b_kg_mol: {b:?} }}"),
        (true, None, false) => "Activity::Davies".into(),
        (false, b, false) => format!(
            "Activity::Extended {{ a_angstrom: {:?}, b_kg_mol: {:?} }}",
            number(at, a)?,
            b.unwrap_or(0.0)
        ),
        _ => {
            return Err(format!(
                "{at}: activity parameters {a:?}, {b:?} do not fit charge {charge}"
            ));
        }
    })
}

pub(crate) fn cite(
    at: &str,
    basis: &str,
    keys: &str,
    note: &str,
    sources: &BTreeMap<String, usize>,
) -> Result<String, String> {
    let basis = crate::parameters::basis(basis).ok_or_else(|| format!("{at}: basis {basis:?}"))?;
    let keys = crate::sources::cited(at, keys, sources)?;
    if keys.is_empty() && basis == "Published" {
        return Err(format!("{at}: published, and names no source"));
    }
    Ok(format!("basis: Basis::{basis}, sources: &{keys:?}, note: {note:?}"))
}

pub(crate) fn number(at: &str, text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(v) if v.is_finite() => Ok(v),
        _ => Err(format!("{at}: {text:?} should be a finite number")),
    }
}

fn optional(at: &str, text: &str) -> Result<String, String> {
    if text.is_empty() { Ok("None".into()) } else { Ok(format!("Some({:?})", number(at, text)?)) }
}

fn integer(at: &str, text: &str) -> Result<i32, String> {
    text.parse().map_err(|_| format!("{at}: {text:?} should be a whole number"))
}

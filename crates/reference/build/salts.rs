//! `data/salts.csv` and `data/salt_mixtures.csv` → the salts with their water-activity tables.
//!
//! The published Pitzer parameters are evaluated here, once, on a fixed grid: at run time a salt
//! is a table look-up. `c` is the water that one mole holds over what an ideal salt would hold,
//! `w = ν c a/(1 − a)`, a bounded function that is close to the osmotic coefficient when dilute.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;

const COLUMNS: [&str; 24] = [
    "key",
    "name",
    "formula",
    "cation",
    "anion",
    "cations",
    "anions",
    "hydrate",
    "drh25_percent",
    "drh_a_percent",
    "drh_b_k",
    "drh_low_c",
    "drh_high_c",
    "beta0",
    "beta1",
    "beta2",
    "cphi",
    "pitzer_max_mol_kg",
    "solubility_g_100g",
    "analogue",
    "role",
    "basis",
    "sources",
    "note",
];
const MIXTURES: [&str; 7] =
    ["first", "second", "temp_c", "mutual_rh_percent", "basis", "sources", "note"];

/// Steps of the grid in `x = −ln(1 − a)`, from 0; it must match `Salt::GRID_STEP` and `GRID_LEN`.
const STEP: f64 = 0.1;
const LEN: usize = 121;

const MOL_PER_KG_WATER: f64 = 1000.0 / 18.015; // molar mass of water, IUPAC 2021
const A_PHI: f64 = 0.3915; // Debye–Hückel slope at 25 °C of the Pitzer equations (Pitzer 1991)
const KELVIN_25: f64 = 298.15;

struct Ion {
    charge: f64,
    g_per_mol: f64,
}

fn ion(name: &str) -> Option<Ion> {
    let (charge, g_per_mol) = match name {
        "ca" => (2.0, 40.078),
        "mg" => (2.0, 24.305),
        "k" => (1.0, 39.098),
        "na" => (1.0, 22.990),
        "nh4" => (1.0, 18.039),
        "no3" => (1.0, 62.004),
        "cl" => (1.0, 35.45),
        "so4" => (2.0, 96.056),
        "p" => (1.0, 96.986),
        "dic" => (1.0, 61.016),
        "urea" => (0.0, 60.056),
        _ => return None,
    };
    Some(Ion { charge, g_per_mol })
}

/// One binary solution: what is needed for its osmotic coefficient.
struct Binary {
    nc: f64,
    na: f64,
    zc: f64,
    za: f64,
    beta: [f64; 3],
    cphi: f64,
    max: f64,
    /// Water activity and molality at saturation, where the solubility is known.
    saturation: Option<(f64, f64)>,
}

impl Binary {
    fn nu(&self) -> f64 {
        self.nc + self.na
    }

    /// Osmotic coefficient at a molality (Pitzer 1973; for a neutral solute a virial form).
    fn phi(&self, m: f64) -> f64 {
        if self.zc == 0.0 {
            return 1.0 + self.beta[0] * m + self.cphi * m * m;
        }
        let i = 0.5 * m * (self.nc * self.zc * self.zc + self.na * self.za * self.za);
        let root = i.sqrt();
        let alpha1 = if self.zc * self.za >= 4.0 { 1.4 } else { 2.0 };
        let b = self.beta[0]
            + self.beta[1] * (-alpha1 * root).exp()
            + self.beta[2] * (-12.0 * root).exp();
        let pair = self.nc * self.na;
        1.0 - self.zc * self.za * A_PHI * root / (1.0 + 1.2 * root)
            + m * 2.0 * pair / self.nu() * b
            + m * m * 2.0 * pair.powf(1.5) / self.nu() * self.cphi
    }

    fn activity(&self, m: f64) -> f64 {
        (-self.nu() * m * self.phi(m) / MOL_PER_KG_WATER).exp()
    }

    fn c_from(&self, a: f64, m: f64) -> f64 {
        MOL_PER_KG_WATER / m * (1.0 - a) / (self.nu() * a)
    }

    /// `c` on the grid. Beyond the molality the parameters were fitted to, straight in `x` to the
    /// saturated solution where that is known and more concentrated, and constant after.
    fn table(&self) -> Vec<f64> {
        let a_max = self.activity(self.max);
        let c_max = self.c_from(a_max, self.max);
        let x_of = |a: f64| -(1.0 - a).ln();
        let end = match self.saturation {
            Some((a, m)) if m > self.max && a < a_max => (x_of(a), self.c_from(a, m)),
            _ => (x_of(a_max), c_max),
        };
        (0..LEN)
            .map(|i| {
                let x = STEP * i as f64;
                let a = 1.0 - (-x).exp();
                if x <= end.0 {
                    end.1
                } else if a < a_max {
                    let share = (x - end.0) / (x_of(a_max) - end.0);
                    end.1 + share * (c_max - end.1)
                } else {
                    let (mut low, mut high) = (0.0, self.max);
                    for _ in 0..200 {
                        let middle = 0.5 * (low + high);
                        if self.activity(middle) > a {
                            low = middle;
                        } else {
                            high = middle;
                        }
                    }
                    self.c_from(a, 0.5 * (low + high))
                }
            })
            .collect()
    }
}

fn number(at: &str, what: &str, s: &str) -> Result<f64, String> {
    match s.parse::<f64>() {
        Ok(v) if v.is_finite() => Ok(v),
        _ => Err(format!("{at}: {what} {s:?}; it should be a finite number")),
    }
}

fn optional(at: &str, what: &str, s: &str) -> Result<Option<f64>, String> {
    if s.is_empty() { Ok(None) } else { number(at, what, s).map(Some) }
}

fn basis(at: &str, s: &str) -> Result<&'static str, String> {
    match s {
        "published" => Ok("Published"),
        "from memory" => Ok("FromMemory"),
        other => Err(format!("{at}: basis {other:?} is not known")),
    }
}

fn cited(at: &str, s: &str, sources: &BTreeMap<String, usize>) -> Result<String, String> {
    crate::sources::cited(at, s, sources).map(|keys| format!("&{keys:?}"))
}

fn variant(name: &str) -> String {
    let mut chars = name.chars();
    match chars.next() {
        Some(first) if !name.is_empty() => {
            format!("Some(Solute::{}{})", first.to_ascii_uppercase(), chars.as_str())
        }
        _ => "None".into(),
    }
}

pub(crate) fn compile(out: &Path, sources: &BTreeMap<String, usize>) -> Result<(), String> {
    let table = guardcell_data::SALTS;
    let rows = crate::read(table, &COLUMNS)?;
    let mut tables: BTreeMap<String, Vec<f64>> = BTreeMap::new();
    let mut text = String::from(
        "/// Every salt, in the order of the table.\npub static SALTS: &[Salt] = &[\n",
    );
    let mut keys = BTreeSet::new();
    // Rows with their own parameters come first, so that an analogue is found.
    let own_first = rows
        .iter()
        .filter(|r| r.1[19].is_empty())
        .chain(rows.iter().filter(|r| !r.1[19].is_empty()));
    for (line, row) in own_first {
        let at = format!("data/{}:{line}", table.file);
        let f = |i: usize| row[i].as_str(); // `read` has checked the header; csv checks the width
        if !keys.insert(f(0).to_owned()) {
            return Err(format!("{at}: duplicate key {:?}", f(0)));
        }
        let cation = ion(f(3)).ok_or_else(|| format!("{at}: cation {:?} is not known", f(3)))?;
        let anion = if f(4).is_empty() {
            None
        } else {
            Some(ion(f(4)).ok_or_else(|| format!("{at}: anion {:?} is not known", f(4)))?)
        };
        let (nc, na) = (number(&at, "cations", f(5))?, number(&at, "anions", f(6))?);
        let (za, ga) = anion.as_ref().map_or((0.0, 0.0), |i| (i.charge, i.g_per_mol));
        if (nc * cation.charge - na * za).abs() > 1e-9 {
            return Err(format!("{at}: the formula carries a charge"));
        }
        let drh = number(&at, "drh25_percent", f(8))? / 100.0;
        let b = optional(&at, "drh_b_k", f(10))?;
        if let (Some(a), Some(b)) = (optional(&at, "drh_a_percent", f(9))?, b) {
            let fitted = a / 100.0 * (b / KELVIN_25).exp();
            if (fitted / drh - 1.0).abs() > 0.03 {
                return Err(format!("{at}: A exp(B/T) gives {fitted:.4}, drh25 is {drh}"));
            }
        }
        let (low, high) = (
            optional(&at, "drh_low_c", f(11))?.unwrap_or(25.0),
            optional(&at, "drh_high_c", f(12))?.unwrap_or(25.0),
        );
        let table = if f(19).is_empty() {
            let max = number(&at, "pitzer_max_mol_kg", f(17))?;
            let anhydrous = nc * cation.g_per_mol + na * ga;
            let binary = Binary {
                nc,
                na,
                zc: cation.charge,
                za,
                beta: [
                    number(&at, "beta0", f(13))?,
                    number(&at, "beta1", f(14))?,
                    number(&at, "beta2", f(15))?,
                ],
                cphi: number(&at, "cphi", f(16))?,
                max,
                saturation: optional(&at, "solubility_g_100g", f(18))?
                    .map(|g| (drh, g * 10.0 / anhydrous)),
            };
            binary.table()
        } else {
            tables.get(f(19)).cloned().ok_or_else(|| {
                format!("{at}: analogue {:?} is not a salt with parameters", f(19))
            })?
        };
        if let Some(bad) = table.iter().find(|c| !(0.05..20.0).contains(*c)) {
            return Err(format!("{at}: c = {bad} is beyond belief; check the parameters"));
        }
        let mut sums = vec![0.0];
        for pair in table.windows(2) {
            let last = sums.last().copied().unwrap_or(0.0);
            sums.push(last + 0.5 * (pair[0] + pair[1]) * STEP);
        }
        let role = match f(20) {
            "soluble" => "Soluble",
            "sparing" => "Sparing",
            other => return Err(format!("{at}: role {other:?}; it should be soluble or sparing")),
        };
        writeln!(
            text,
            "    Salt {{ key: {:?}, name: {:?}, formula: {:?}, cation: {}, anion: {}, cations: {}, \
             anions: {}, hydrate: {}, drh25: {drh:?}, drh_b_k: {:?}, drh_low_c: {low:?}, \
             drh_high_c: {high:?}, solubility_g_100g: {:?}, role: Role::{role}, \
             basis: Basis::{}, sources: {}, note: {:?}, correction: &{table:?}, sums: &{sums:?} }},",
            f(0),
            f(1),
            f(2),
            variant(f(3)).replace("Some(", "").replace(')', ""),
            variant(f(4)),
            f(5),
            f(6),
            f(7),
            b.unwrap_or(0.0),
            optional(&at, "solubility_g_100g", f(18))?,
            basis(&at, f(21))?,
            cited(&at, f(22), sources)?,
            f(23),
        )
        .map_err(|e| e.to_string())?;
        tables.insert(f(0).to_owned(), table);
    }
    text.push_str("];\n/// Every published pair.\npub static PAIRS: &[Pair] = &[\n");
    let table = guardcell_data::SALT_MIXTURES;
    for (line, row) in crate::read(table, &MIXTURES)? {
        let at = format!("data/{}:{line}", table.file);
        for key in &row[..2] {
            if !keys.contains(key) {
                return Err(format!("{at}: {key:?} is not in salts.csv"));
            }
        }
        writeln!(
            text,
            "    Pair {{ first: {:?}, second: {:?}, temp_c: {:?}, mutual: {:?}, basis: Basis::{}, \
             sources: {}, note: {:?} }},",
            row[0],
            row[1],
            number(&at, "temp_c", &row[2])?,
            number(&at, "mutual_rh_percent", &row[3])? / 100.0,
            basis(&at, &row[4])?,
            cited(&at, &row[5], sources)?,
            row[6],
        )
        .map_err(|e| e.to_string())?;
    }
    text.push_str("];\n");
    crate::write(out, "salts.rs", &text)
}

//! Reference tables and how far the model is from them.

use guardcell::reference::{Composition, Solute};
use guardcell::solution::{Condition, Speciated, speciate};
use guardcell::units::quantity::{ThermodynamicTemperature, in_us_per_cm, mmol_per_l};
use guardcell::units::uom::si::thermodynamic_temperature::degree_celsius;
use std::collections::HashMap;
use std::path::Path;

/// The errors of one comparison and the bounds they must keep.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// What is compared with what.
    pub name: String,
    /// The unit of the errors.
    pub unit: &'static str,
    /// How many points.
    pub count: usize,
    /// Mean of the errors, with their sign.
    pub bias: f64,
    /// Mean of the absolute errors.
    pub mean: f64,
    /// The largest absolute error.
    pub worst: f64,
    /// The bound of the mean, where there is one.
    pub mean_bound: Option<f64>,
    /// The bound of the largest, where there is one; a line without any is for information.
    pub worst_bound: Option<f64>,
}

impl Comparison {
    pub(super) fn of(name: impl Into<String>, unit: &'static str, errors: &[f64]) -> Self {
        let n = errors.len() as f64;
        Self {
            name: name.into(),
            unit,
            count: errors.len(),
            bias: errors.iter().sum::<f64>() / n,
            mean: errors.iter().map(|e| e.abs()).sum::<f64>() / n,
            worst: errors.iter().fold(0.0, |a, e| a.max(e.abs())),
            mean_bound: None,
            worst_bound: None,
        }
    }

    pub(super) fn worst(self, bound: f64) -> Self {
        Self { worst_bound: Some(bound), ..self }
    }

    pub(super) fn mean(self, bound: f64) -> Self {
        Self { mean_bound: Some(bound), ..self }
    }

    /// Whether every bound is kept and there is something to compare. No error is a NaN.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.count > 0
            && self.mean.is_finite()
            && self.worst <= self.worst_bound.unwrap_or(f64::INFINITY)
            && self.mean <= self.mean_bound.unwrap_or(f64::INFINITY)
    }
}

/// One row of a committed table, by column.
pub struct Row(pub(super) HashMap<String, String>);

impl Row {
    /// A field as text, empty where the column is not there.
    #[must_use]
    pub fn text(&self, column: &str) -> &str {
        self.0.get(column).map_or("", String::as_str)
    }

    /// A field as a number, none where it is empty.
    ///
    /// # Errors
    /// Where the field is not a number.
    pub fn number(&self, column: &str) -> Result<Option<f64>, String> {
        match self.text(column) {
            "" => Ok(None),
            s => s.parse().map(Some).map_err(|e| format!("{column} {s:?}: {e}")),
        }
    }

    pub(super) fn needed(&self, column: &str) -> Result<f64, String> {
        self.number(column)?.ok_or_else(|| format!("{column} is empty"))
    }

    pub(super) fn composition(&self) -> Result<Composition, String> {
        let mut c = Composition::PURE_WATER;
        for s in Solute::ALL {
            c[s] = mmol_per_l(self.needed(s.name())?);
        }
        Ok(c)
    }
}

/// Reads a table of `tests/oracle/tables/`, whose first line says what it is.
///
/// # Errors
/// Where the table is missing or not a table.
pub fn table(name: &str) -> Result<Vec<Row>, String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/oracle/tables").join(name);
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(&path)
        .map_err(|e| format!("{}: {e}", path.display()))?;
    reader
        .deserialize()
        .map(|row| row.map(Row).map_err(|e| format!("{}: {e}", path.display())))
        .collect()
}

/// A temperature from °C.
#[must_use]
pub fn at(celsius: f64) -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(celsius)
}

pub(super) fn solved(
    c: &Composition,
    celsius: f64,
    condition: Condition,
) -> Result<Speciated, String> {
    speciate(c, at(celsius), condition).map_err(|e| e.to_string())
}

/// Conductivity at a temperature over that at 25 °C, of totals in mmol/L by name.
pub(super) fn conductance_over_25(
    ions_mmol_l: &std::collections::BTreeMap<String, f64>,
    celsius: f64,
) -> Result<f64, String> {
    let mut c = Composition::PURE_WATER;
    for s in Solute::ALL {
        c[s] = mmol_per_l(ions_mmol_l.get(s.name()).copied().unwrap_or(0.0));
    }
    let at = |t: f64| solved(&c, t, Condition::default()).map(|s| in_us_per_cm(s.conductivity()));
    Ok(at(celsius)? / at(25.0)?)
}

pub(super) fn percent(ours: f64, theirs: f64) -> f64 {
    100.0 * (ours / theirs - 1.0)
}

//! Each call as what answers a row of a table.

use crate::cell::Row;
use crate::fields::{missing, properties};
use crate::read;
use crate::tree::Tree;
use guardcell::advice::{AdviceRequest, PlantEntry, Reading, RescueRequest, SiteDescription};
use guardcell::calls::{AnyCall, Form};
use guardcell::solution::acid::{AcidName, AcidTarget};
use guardcell::solution::meter::MeterReading;
use guardcell::solution::{AcidRequest, Label, MeterRequest, WaterReport};
use guardcell::{Error, advice, clock, film, reference, solution, units};
use schemars::JsonSchema;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::sync::Arc;

/// Hours that advice looks ahead where they are not given.
pub const HOURS: u16 = 36;
/// Days that a rescue is planned for where they are not given.
pub const DAYS: u16 = 14;

/// Answers a row with the answer as JSON.
pub type RowAnswer = Arc<dyn Fn(&Tree, &dyn Row) -> Result<Value, Error> + Send + Sync>;

/// What is given once for all rows.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Once {
    /// The site, for `advise` and `rescue`.
    pub site: Option<SiteDescription>,
    /// The label of the feed, for `advise` and `meter`.
    pub label: Option<Label>,
    /// The water, for `advise`, `meter` and `acid`.
    pub water: Option<WaterReport>,
}

/// What a row of a table may hold.
pub struct RowFunction {
    /// What answers it.
    pub answer: RowAnswer,
    /// Fields of the request.
    pub fields: Vec<String>,
    /// Those without which no row can be answered.
    pub needed: Vec<String>,
}

impl std::fmt::Debug for RowFunction {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("RowFunction").field("fields", &self.fields).finish_non_exhaustive()
    }
}

#[derive(Debug, Deserialize, JsonSchema)]
struct MeterRow {
    reading: MeterReading,
    #[serde(default)]
    uncompensated_at_c: Option<f64>,
    #[serde(default)]
    accuracy_percent: Option<f64>,
}

#[derive(Debug, Deserialize, JsonSchema)]
struct AcidRow {
    acid: AcidName,
    strength_percent: f64,
    #[serde(default)]
    density_kg_l: Option<f64>,
    target: AcidTarget,
    volume_l: f64,
}

#[derive(Debug, Deserialize, JsonSchema)]
struct AdviceRow {
    #[serde(default)]
    at: Option<String>,
    #[serde(default)]
    hours: Option<u16>,
    plant: PlantEntry,
    reading: Reading,
}

#[derive(Debug, Deserialize, JsonSchema)]
struct RescueRow {
    name: String,
    #[serde(default)]
    leaf: Option<reference::Leaf>,
    #[serde(default)]
    area: Option<String>,
    from: String,
    #[serde(default)]
    days: Option<u16>,
    #[serde(default)]
    soak_min: Option<f64>,
}

/// What is given once for all rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Given {
    /// The site.
    Site,
    /// The label of the feed.
    Label,
    /// The water.
    Water,
}

/// How the rows of a table are asked of a call, and which columns an answer usually has.
#[derive(Debug)]
pub struct Tabular {
    /// What may be given once for all rows.
    pub takes: &'static [Given],
    /// The columns of an answer where none are named.
    pub usual: &'static [&'static str],
    row: fn(Once) -> Result<RowFunction, Given>,
}

impl Tabular {
    /// What answers the rows.
    ///
    /// # Errors
    /// What has to be given once and is missing.
    pub fn function(&self, once: Once) -> Result<RowFunction, Given> {
        (self.row)(once)
    }
}

/// The calls whose requests are flat enough for a row; all others take requests as JSON only.
///
/// ```
/// use guardcell::calls::find;
/// use guardcell_table::tabular;
/// assert!(tabular(find("convert").unwrap()).is_some());
/// assert!(tabular(find("round").unwrap()).is_none());
/// ```
#[must_use]
pub fn tabular(call: &AnyCall) -> Option<Tabular> {
    Some(match call.name() {
        "convert" => Tabular {
            takes: &[],
            usual: &["value", "unit", "basis", "notes"],
            row: |_| Ok(plain(units::convert)),
        },
        "air" => Tabular {
            takes: &[],
            usual: &[
                "dew_point_c",
                "wet_bulb_c",
                "vpd_kpa",
                "vapour_pressure_pa",
                "saturation_pressure_pa",
                "humidity_ratio_kg_kg",
                "density_kg_m3",
            ],
            row: |_| Ok(plain(film::air)),
        },
        "film" => Tabular {
            takes: &[],
            usual: &[
                "state",
                "dry_minutes",
                "leaf_temp_c",
                "residue_g_m2",
                "residue_probability",
                "peak_concentration_g_l",
                "dry_below_percent",
                "stays_wet_above_percent",
            ],
            row: |_| Ok(plain(film::film)),
        },
        "genus" => Tabular {
            takes: &[],
            usual: &[
                "outcome",
                "name",
                "rank",
                "pathway",
                "leaf",
                "opens",
                "evidence.grade",
                "evidence.sources",
                "message",
            ],
            row: |_| Ok(plain(reference::report)),
        },
        "solution" => Tabular {
            takes: &[],
            usual: &[
                "ph",
                "ec25_us_cm",
                "ec_us_cm",
                "ionic_strength_mol_kg",
                "osmolality_mosm_kg",
                "charge_imbalance_percent",
                "warnings",
            ],
            row: |_| Ok(plain(solution::analyse)),
        },
        "day" => Tabular {
            takes: &[],
            usual: &["sunrise", "sunset", "civil_dawn", "civil_dusk", "solar_noon"],
            row: |_| Ok(plain(clock::report)),
        },
        "water" => Tabular {
            takes: &[],
            usual: &[
                "ec25_us_cm",
                "ec25_from_ions_us_cm",
                "alkalinity_mg_l_caco3",
                "hardness_mg_l_caco3",
                "charge_imbalance_percent",
                "ph",
                "assumed",
                "warnings",
            ],
            row: |_| Ok(plain(solution::water)),
        },
        "meter" => Tabular {
            takes: &[Given::Label, Given::Water],
            usual: &[
                "feed_strength_mg_l.value",
                "feed_strength_mg_l.low",
                "feed_strength_mg_l.high",
                "n_mg_l.value",
                "n_mg_l.low",
                "n_mg_l.high",
                "ec25_us_cm",
                "warnings",
            ],
            row: meter,
        },
        "acid" => Tabular {
            takes: &[Given::Water],
            usual: &[
                "mass_g",
                "volume_ml",
                "ph_after",
                "alkalinity_after_mg_l_caco3",
                "n_mg_l",
                "p_mg_l",
                "s_mg_l",
                "warnings",
                "cautions",
            ],
            row: acid,
        },
        "advise" => Tabular {
            takes: &[Given::Site, Given::Label, Given::Water],
            usual: &[
                "plants.0.verdict",
                "plants.0.feed_strength_mg_l",
                "plants.0.passes",
                "plants.0.interval_days",
                "plants.0.residue_probability",
                "plants.0.windows.0.start",
                "plants.0.windows.0.end",
                "plants.0.pathway",
                "plants.0.opens",
                "plants.0.reasons",
            ],
            row: advise,
        },
        "rescue" => Tabular {
            takes: &[Given::Site],
            usual: &["pathway", "opens", "soaks", "reasons", "stop_when"],
            row: rescue,
        },
        _ => return None,
    })
}

fn meter(once: Once) -> Result<RowFunction, Given> {
    let label = once.label.ok_or(Given::Label)?;
    Ok(rows(move |row: MeterRow| {
        let mut request = MeterRequest::new(label.clone(), row.reading);
        request.water.clone_from(&once.water);
        request.uncompensated_at_c = row.uncompensated_at_c;
        request.accuracy_percent = row.accuracy_percent;
        solution::meter(&request)
    }))
}

fn acid(once: Once) -> Result<RowFunction, Given> {
    let water = once.water.ok_or(Given::Water)?;
    Ok(rows(move |row: AcidRow| {
        let mut request = AcidRequest::new(
            water.clone(),
            row.acid,
            row.strength_percent,
            row.target,
            row.volume_l,
        );
        request.density_kg_l = row.density_kg_l;
        solution::acid(&request)
    }))
}

fn advise(once: Once) -> Result<RowFunction, Given> {
    let site = once.site.ok_or(Given::Site)?;
    Ok(rows(move |row: AdviceRow| {
        let at = row.at.unwrap_or_else(|| row.reading.time.clone());
        advice::advise(
            &AdviceRequest::new(site.clone(), vec![row.reading], vec![row.plant], at)
                .with_hours(row.hours.unwrap_or(HOURS))
                .with_feed(once.label.clone())
                .with_water(once.water.clone()),
        )
    }))
}

fn rescue(once: Once) -> Result<RowFunction, Given> {
    let site = once.site.ok_or(Given::Site)?;
    Ok(rows(move |row: RescueRow| {
        advice::rescue(
            &RescueRequest::new(row.name, site.clone(), row.from, row.days.unwrap_or(DAYS))
                .with_leaf(row.leaf)
                .with_area(row.area)
                .with_soak_min(row.soak_min),
        )
    }))
}

fn plain<Q, A, E>(answer: fn(&Q) -> Result<A, E>) -> RowFunction
where
    Q: DeserializeOwned + JsonSchema + 'static,
    A: Serialize + 'static,
    E: Into<Error> + 'static,
{
    rows(move |request: Q| answer(&request))
}

fn rows<Q, A, E>(answer: impl Fn(Q) -> Result<A, E> + Send + Sync + 'static) -> RowFunction
where
    Q: DeserializeOwned + JsonSchema,
    A: Serialize,
    E: Into<Error>,
{
    let schema = schemars::schema_for!(Q).to_value();
    RowFunction {
        answer: Arc::new(move |tree, row| {
            let answer = answer(read(tree, row)?).map_err(Into::into)?;
            serde_json::to_value(answer)
                .map_err(|e| Error::internal(format!("the answer cannot be written: {e}")))
        }),
        fields: properties(&schema),
        needed: missing(&schema),
    }
}

/// The schema of the answer of a call.
#[must_use]
pub fn answer_schema(call: &AnyCall) -> Value {
    let mut generator = schemars::SchemaGenerator::default();
    call.response_schema(&mut generator, Form::Document).to_value()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fields::has_path;
    use guardcell::calls;

    /// A column that no answer has would stay blank for ever.
    #[test]
    fn the_usual_columns_are_in_the_schemas() {
        let mut tables = 0;
        for call in calls::ALL {
            let Some(tabular) = tabular(call) else { continue };
            tables += 1;
            let schema = answer_schema(call);
            for path in tabular.usual {
                assert!(has_path(&schema, path), "{} has no {path}", call.name());
            }
        }
        assert_eq!(tables, 11);
    }
}

//! Each function as what answers a line of NDJSON or a row of a table.

use super::cells::{self, Row, Tree};
use super::columns;
use super::convert;
use super::fields::{missing, properties};
use crate::args;
use guardcell::advice::{AdviceRequest, PlantEntry, Reading, RescueRequest, SiteDescription};
use guardcell::calls::{AnyCall, Form};
use guardcell::solution::acid::{AcidName, AcidTarget};
use guardcell::solution::meter::MeterReading;
use guardcell::solution::{AcidRequest, Label, MeterRequest, WaterReport};
use guardcell::units::ConvertRequest;
use guardcell::{Error, advice, clock, film, reference, solution};
use schemars::JsonSchema;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::ops::Range;
use std::sync::Arc;

/// Answers one line of NDJSON.
pub(crate) type Json = Box<dyn Fn(&[u8], &mut Vec<u8>) -> Result<(), Error> + Sync>;
/// Answers one row of a table: writes the cells of the answer, each with a comma before it.
pub(crate) type TableRow = Box<dyn FnMut(&Tree, &Cells<'_>, &mut Vec<u8>) -> Result<(), Error>>;
/// Makes what answers rows, one for each thread.
pub(crate) type Table = Box<dyn Fn() -> TableRow + Sync>;

/// The cells of a row of a table: where they stand in a text.
pub(crate) struct Cells<'a> {
    pub(crate) text: &'a str,
    pub(crate) cells: &'a [Range<usize>],
}

impl Row for Cells<'_> {
    fn cell(&self, index: usize) -> Option<&str> {
        let cell = self.text.get(self.cells.get(index)?.clone())?;
        let cell = match cell.as_bytes() {
            // Nothing to take off.
            [b'!'..=b'~', .., b'!'..=b'~'] => cell,
            _ => cell.trim(),
        };
        (!cell.is_empty()).then_some(cell)
    }
}

/// What is given once for all rows.
#[derive(Debug, Default, Serialize)]
pub(crate) struct Once {
    pub(crate) site: Option<SiteDescription>,
    pub(crate) label: Option<Label>,
    pub(crate) water: Option<WaterReport>,
}

/// What a row of a table may hold.
pub(crate) struct TableFunction {
    pub(crate) answer: Table,
    /// Fields of the request.
    pub(crate) fields: Vec<String>,
    /// Those without which no row can be answered.
    pub(crate) needed: Vec<String>,
}

/// Answers lines of NDJSON.
pub(crate) fn json(call: &'static AnyCall) -> Json {
    Box::new(move |bytes, out| {
        out.extend_from_slice(&call.run(bytes)?);
        out.push(b'\n');
        Ok(())
    })
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

/// What is given once for all rows, by a flag.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Given {
    Site,
    Label,
    Water,
}

/// How the rows of a table are asked of a call, and what is written of its answers.
pub(crate) struct Tabular {
    /// What may be given once for all rows.
    pub(crate) takes: &'static [Given],
    /// The columns of an answer that are written when none are named.
    pub(crate) usual: &'static [&'static str],
    /// What answers the rows; the error is the flag that is missing.
    pub(crate) table: fn(Once, Arc<[String]>) -> Result<TableFunction, &'static str>,
}

/// The calls whose requests are flat enough for a row; all others take NDJSON only.
pub(crate) fn tabular(call: &AnyCall) -> Option<Tabular> {
    Some(match call.name() {
        "convert" => Tabular {
            takes: &[],
            usual: &["value", "unit", "basis", "notes"],
            table: |_, columns| Ok(of_type::<ConvertRequest>(convert::rows(columns))),
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
            table: |_, columns| Ok(plain(columns, film::air)),
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
            table: |_, columns| Ok(plain(columns, film::film)),
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
            table: |_, columns| Ok(plain(columns, reference::report)),
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
            table: |_, columns| Ok(plain(columns, solution::analyse)),
        },
        "day" => Tabular {
            takes: &[],
            usual: &["sunrise", "sunset", "civil_dawn", "civil_dusk", "solar_noon"],
            table: |_, columns| Ok(plain(columns, clock::report)),
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
            table: |_, columns| Ok(plain(columns, solution::water)),
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
            table: meter,
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
            table: acid,
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
            table: advise,
        },
        "rescue" => Tabular {
            takes: &[Given::Site],
            usual: &["pathway", "opens", "soaks", "reasons", "stop_when"],
            table: rescue,
        },
        _ => return None,
    })
}

fn meter(once: Once, columns: Arc<[String]>) -> Result<TableFunction, &'static str> {
    let label = once.label.ok_or("--label")?;
    Ok(rows(columns, move |row: MeterRow| {
        let mut request = MeterRequest::new(label.clone(), row.reading);
        request.water.clone_from(&once.water);
        request.uncompensated_at_c = row.uncompensated_at_c;
        request.accuracy_percent = row.accuracy_percent;
        solution::meter(&request)
    }))
}

fn acid(once: Once, columns: Arc<[String]>) -> Result<TableFunction, &'static str> {
    let water = once.water.ok_or("--water")?;
    Ok(rows(columns, move |row: AcidRow| {
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

fn advise(once: Once, columns: Arc<[String]>) -> Result<TableFunction, &'static str> {
    let site = once.site.ok_or("--site")?;
    Ok(rows(columns, move |row: AdviceRow| {
        let at = row.at.unwrap_or_else(|| row.reading.time.clone());
        advice::advise(
            &AdviceRequest::new(site.clone(), vec![row.reading], vec![row.plant], at)
                .with_hours(row.hours.unwrap_or(args::HOURS))
                .with_feed(once.label.clone())
                .with_water(once.water.clone()),
        )
    }))
}

fn rescue(once: Once, columns: Arc<[String]>) -> Result<TableFunction, &'static str> {
    let site = once.site.ok_or("--site")?;
    Ok(rows(columns, move |row: RescueRow| {
        advice::rescue(
            &RescueRequest::new(row.name, site.clone(), row.from, row.days.unwrap_or(args::DAYS))
                .with_leaf(row.leaf)
                .with_area(row.area)
                .with_soak_min(row.soak_min),
        )
    }))
}

fn plain<Q, A, E>(columns: Arc<[String]>, answer: fn(&Q) -> Result<A, E>) -> TableFunction
where
    Q: DeserializeOwned + JsonSchema + 'static,
    A: Serialize + 'static,
    E: Into<Error> + 'static,
{
    rows(columns, move |request: Q| answer(&request))
}

fn rows<Q, A, E>(
    columns: Arc<[String]>,
    answer: impl Fn(Q) -> Result<A, E> + Send + Sync + 'static,
) -> TableFunction
where
    Q: DeserializeOwned + JsonSchema,
    A: Serialize,
    E: Into<Error>,
{
    let answer = Arc::new(answer);
    of_type::<Q>(Box::new(move || {
        let (answer, columns) = (Arc::clone(&answer), Arc::clone(&columns));
        Box::new(move |tree, cells, out| {
            let request: Q = cells::read(tree, cells)?;
            let answer = answer(request).map_err(Into::into)?;
            columns::write_all(&answer, &columns, out)
        })
    }))
}

fn of_type<Q: JsonSchema>(answer: Table) -> TableFunction {
    let schema = schema::<Q>();
    TableFunction { answer, fields: properties(&schema), needed: missing(&schema) }
}

fn schema<T: JsonSchema>() -> Value {
    schemars::schema_for!(T).to_value()
}

/// The schema of the answer of a call.
pub(crate) fn answer_schema(call: &AnyCall) -> Value {
    let mut generator = schemars::SchemaGenerator::default();
    call.response_schema(&mut generator, Form::Document).to_value()
}

#[cfg(test)]
mod tests {
    use super::super::fields::has_path;
    use super::*;
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

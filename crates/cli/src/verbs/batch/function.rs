//! Each function as what answers a line of NDJSON or a row of a table.

use super::cells::{self, Row, Tree};
use super::columns;
use super::fields::{missing, properties};
use crate::args::BatchFunction;
use crate::verbs::batch::convert;
use guardcell::advice::{AdviceRequest, PlantEntry, Reading, RescueRequest, SiteDescription};
use guardcell::calls::{self, AnyCall, Form};
use guardcell::solution::acid::{AcidName, AcidTarget};
use guardcell::solution::meter::MeterReading;
use guardcell::solution::{AcidRequest, Label, MeterRequest, WaterReport};
use guardcell::{Error, advice, clock, film, reference, solution, units};
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

/// The call of a function.
const fn call(function: BatchFunction) -> AnyCall {
    match function {
        BatchFunction::Convert => AnyCall::new::<calls::Convert>(),
        BatchFunction::Recipe => AnyCall::new::<calls::Recipe>(),
        BatchFunction::Water => AnyCall::new::<calls::Water>(),
        BatchFunction::Solution => AnyCall::new::<calls::Solution>(),
        BatchFunction::Meter => AnyCall::new::<calls::Meter>(),
        BatchFunction::Acid => AnyCall::new::<calls::Acid>(),
        BatchFunction::Tank => AnyCall::new::<calls::Tank>(),
        BatchFunction::Air => AnyCall::new::<calls::Air>(),
        BatchFunction::Film => AnyCall::new::<calls::Film>(),
        BatchFunction::Day => AnyCall::new::<calls::Day>(),
        BatchFunction::Genus => AnyCall::new::<calls::Genus>(),
        BatchFunction::Advise => AnyCall::new::<calls::Advise>(),
        BatchFunction::Round => AnyCall::new::<calls::Round>(),
        BatchFunction::Rescue => AnyCall::new::<calls::Rescue>(),
    }
}

/// Answers lines of NDJSON.
pub(crate) fn json(function: BatchFunction) -> Json {
    let call = call(function);
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

/// Hours that advice looks ahead and days that a rescue is planned for, as the verbs have them.
const HOURS: u16 = 36;
const DAYS: u16 = 14;

/// What answers rows of a table; none for functions whose requests are no table. The second is
/// what is missing among the things given once.
pub(crate) fn table(
    function: BatchFunction,
    once: Once,
    columns: &[String],
) -> Result<Option<TableFunction>, &'static str> {
    let columns = Arc::<[String]>::from(columns);
    Ok(Some(match function {
        BatchFunction::Convert => {
            let rows = convert::rows(columns);
            of_type::<units::convert::ConvertRequest>(rows)
        }
        BatchFunction::Water => plain(columns, solution::water),
        BatchFunction::Solution => plain(columns, solution::analyse),
        BatchFunction::Air => plain(columns, film::air),
        BatchFunction::Film => plain(columns, film::film),
        BatchFunction::Day => plain(columns, clock::report),
        BatchFunction::Genus => plain(columns, reference::report),
        BatchFunction::Meter => {
            let label = once.label.ok_or("--label")?;
            rows(columns, move |row: MeterRow| {
                let mut request = MeterRequest::new(label.clone(), row.reading);
                request.water.clone_from(&once.water);
                request.uncompensated_at_c = row.uncompensated_at_c;
                request.accuracy_percent = row.accuracy_percent;
                solution::meter(&request)
            })
        }
        BatchFunction::Acid => {
            let water = once.water.ok_or("--water")?;
            rows(columns, move |row: AcidRow| {
                let mut request = AcidRequest::new(
                    water.clone(),
                    row.acid,
                    row.strength_percent,
                    row.target,
                    row.volume_l,
                );
                request.density_kg_l = row.density_kg_l;
                solution::acid(&request)
            })
        }
        BatchFunction::Advise => {
            let site = once.site.ok_or("--site")?;
            rows(columns, move |row: AdviceRow| {
                advice::advise(&AdviceRequest {
                    site: site.clone(),
                    at: row.at.unwrap_or_else(|| row.reading.time.clone()),
                    readings: vec![row.reading],
                    plants: vec![row.plant],
                    feed: once.label.clone(),
                    water: once.water.clone(),
                    hours: row.hours.unwrap_or(HOURS),
                })
            })
        }
        BatchFunction::Rescue => {
            let site = once.site.ok_or("--site")?;
            rows(columns, move |row: RescueRow| {
                advice::rescue(&RescueRequest {
                    name: row.name,
                    leaf: row.leaf,
                    site: site.clone(),
                    area: row.area,
                    from: row.from,
                    days: row.days.unwrap_or(DAYS),
                    soak_min: row.soak_min,
                })
            })
        }
        BatchFunction::Recipe | BatchFunction::Tank | BatchFunction::Round => return Ok(None),
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

/// The schema of the answer of a function.
pub(crate) fn answer_schema(function: BatchFunction) -> Value {
    let mut generator = schemars::SchemaGenerator::default();
    call(function).response_schema(&mut generator, Form::Document).to_value()
}

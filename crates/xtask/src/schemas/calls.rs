//! Every function of the facade that has a request and a response.

use guardcell::{advice, clock, film, reference, solution, units};
use guardcell_journal::{self as journal, Draft, Entry, JournalError, Ledger, LedgerRequest};
use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// One function with its types.
pub struct Call {
    /// The name of the request, as in `schemas/<request>.schema.json`.
    pub request: &'static str,
    /// The name of the response.
    pub response: &'static str,
    /// The path it has over HTTP; those that take their request from the path and query begin
    /// with `GET`.
    pub path: &'static str,
    /// What it answers, in one line.
    pub summary: &'static str,
    pub(super) request_schema: fn(&mut SchemaGenerator) -> Schema,
    pub(super) response_schema: fn(&mut SchemaGenerator) -> Schema,
    pub(super) request_reference: fn(&mut SchemaGenerator) -> Schema,
    pub(super) response_reference: fn(&mut SchemaGenerator) -> Schema,
    /// Answers a request given as JSON; an error is the message of the function or of the reader.
    pub answer: fn(&Value) -> Result<Value, String>,
}

fn root<T: JsonSchema>(generator: &mut SchemaGenerator) -> Schema {
    generator.root_schema_for::<T>()
}

fn reference<T: JsonSchema>(generator: &mut SchemaGenerator) -> Schema {
    generator.subschema_for::<T>()
}

fn run<Q: DeserializeOwned, A: Serialize, E: std::fmt::Display>(
    request: &Value,
    answer: fn(&Q) -> Result<A, E>,
) -> Result<Value, String> {
    let request = Q::deserialize(request).map_err(|e| e.to_string())?;
    let answer = answer(&request).map_err(|e| e.to_string())?;
    serde_json::to_value(answer).map_err(|e| e.to_string())
}

macro_rules! calls {
    ($(#[$doc:meta])* $name:ident; $($path:literal $request:literal: $q:ty => $response:literal: $a:ty, $f:path, $summary:literal;)*) => {
        $(#[$doc])*
        pub const $name: &[Call] = &[$(Call {
            request: $request,
            response: $response,
            path: $path,
            summary: $summary,
            request_schema: root::<$q>,
            response_schema: root::<$a>,
            request_reference: reference::<$q>,
            response_reference: reference::<$a>,
            answer: |request| run::<$q, $a, _>(request, $f),
        }),*];
    };
}

calls! {
    /// Every call of the facade, in the order of the documentation.
    CALLS;
    "/v1/advice" "advice-request": advice::AdviceRequest => "advice": advice::AdviceResponse, advice::advise,
        "For each plant: feed, wait, water only or leave alone; when, how strong, and why";
    "/v1/rounds" "advice-request": advice::AdviceRequest => "round-plan": advice::round::RoundResponse, advice::round::round,
        "One bucket, the order of the plants and every mister fill; needs `feed`";
    "/v1/rescues" "rescue-request": advice::RescueRequest => "rescue-plan": advice::RescueResponse, advice::rescue,
        "The soaks of a rootless plant";
    "/v1/recipes" "recipe-request": solution::RecipeRequest => "recipe-response": solution::RecipeResponse, solution::recipe,
        "What to weigh of which product for a target, in this water";
    "/v1/waters" "water-request": solution::WaterRequest => "water-response": solution::WaterResponse, solution::water,
        "A water report completed, with headroom, blend and residue";
    "/v1/solutions" "solution-request": solution::SolutionRequest => "solution-response": solution::SolutionResponse, solution::analyse,
        "Conductivity, pH, species and saturation of one composition";
    "/v1/meters" "meter-request": solution::MeterRequest => "meter-response": solution::MeterResponse, solution::meter,
        "What a meter reading says of the feed strength";
    "/v1/acids" "acid-request": solution::AcidRequest => "acid-response": solution::AcidResponse, solution::acid,
        "How much acid brings a water to a target, with the cautions";
    "/v1/tanks" "tank-request": solution::TankRequest => "tank-response": solution::TankResponse, solution::tank,
        "Which concentrates may share a stock tank";
    "/v1/conversions" "convert-request": units::ConvertRequest => "convert": units::ConvertResponse, units::convert::convert,
        "A quantity of the trade in another unit or basis";
    "/v1/air" "air-request": film::AirRequest => "air-report": film::AirReport, film::air,
        "Dew point, wet bulb and vapour pressure deficit of moist air";
    "/v1/films" "film-request": film::FilmRequest => "film-report": film::FilmReport, film::film,
        "How one film dries and what it leaves";
    "/v1/days" "day-request": clock::DayRequest => "day-report": clock::DayReport, clock::report,
        "Sun, light and openings of one date";
    "/v1/charts/strength" "strength-chart-request": advice::chart::StrengthChartRequest => "strength-chart": advice::chart::StrengthChartResponse, advice::chart::strength_chart,
        "The highest feed strength that leaves acceptable residue, by humidity and air movement";
    "/v1/charts/day" "day-ribbon-request": advice::chart::DayRibbonRequest => "day-ribbon": advice::chart::DayRibbonResponse, advice::chart::ribbon,
        "The 24-hour ribbon of an area: light, humidity, openings and best windows";
    "/v1/taxa" "genus-request": reference::GenusRequest => "genus-response": reference::GenusResponse, reference::report,
        "The same look-up as `GET /v1/taxa/{name}`, for a name that no path can hold";
    "GET /v1/taxa/{name}" "genus-request": reference::GenusRequest => "genus-response": reference::GenusResponse, reference::report,
        "When a plant opens its stomata, how sure that is, and who measured it";
    "GET /v1/taxa" "search-request": reference::SearchRequest => "search-response": reference::SearchResponse, reference::search,
        "Names that begin as the query does";
}

calls! {
    /// The calls of the journal. A server has none, so they have no path.
    JOURNAL;
    "" "entry-draft": Draft => "entry": Entry, recorded,
        "What was done or seen, as it is recorded";
    "" "ledger-request": LedgerRequest => "ledger": Ledger, ledger,
        "What each plant got by week, and what is due";
    "" "threshold-request": journal::ThresholdRequest => "threshold-answer": journal::ThresholdAnswer, journal::learn_threshold,
        "The residue threshold of a grower, learned from what was seen";
    "" "adherence-request": journal::AdherenceRequest => "adherence": journal::Adherence, adherence,
        "A plan of soaks held against the journal";
}

/// The entry that a draft becomes, with an identifier where it has none.
fn recorded(draft: &Draft) -> Result<Entry, JournalError> {
    let id = draft.id.clone().unwrap_or_else(|| "5f0c9b2e7a41d836".into());
    let when = draft.recorded.clone().unwrap_or_else(|| "2026-06-21T06:00:00Z".into());
    draft.clone().checked(&id, &when)
}

/// A journal for the examples: a round, a look, a feed at the root, a flush, a soak.
const EXAMPLE: &str = r#"[
  {"at": "2026-06-15T05:10:00+01:00", "site": "Fernhollow", "event": {"kind": "round",
    "plants": [{"plant": "FH-011"}], "feed_strength_mg_l": 300, "n_mg_l": 45, "passes": 2,
    "volume_ml": 120}},
  {"at": "2026-06-15T18:30:00+01:00", "site": "Fernhollow", "event": {"kind": "residue",
    "plants": ["FH-011"], "level": "faint", "place": "leaf", "nature": "unknown"}},
  {"at": "2026-06-16T08:00:00+01:00", "site": "Fernhollow", "event": {"kind": "root_feed",
    "plants": [{"plant": "FH-012", "volume_ml": 200}], "feed_strength_mg_l": 300}},
  {"at": "2026-06-17T08:00:00+01:00", "site": "Fernhollow", "event": {"kind": "flush",
    "plants": ["FH-012"], "volume_ml": 1000}},
  {"at": "2026-06-21T06:10:00+01:00", "site": "Fernhollow", "event": {"kind": "soak",
    "plants": ["FH-015"], "feed_strength_mg_l": 50, "duration_min": 30}}
]"#;

fn entries() -> Result<Vec<Entry>, JournalError> {
    // It is a constant of this file, which a test reads.
    let drafts: Vec<Draft> = serde_json::from_str(EXAMPLE).unwrap_or_default();
    drafts
        .into_iter()
        .enumerate()
        .map(|(i, draft)| draft.checked(&format!("fh-{i}"), "2026-06-21T06:40:00Z"))
        .collect()
}

fn ledger(request: &LedgerRequest) -> Result<Ledger, JournalError> {
    journal::ledger(&entries()?, request)
}

fn adherence(request: &journal::AdherenceRequest) -> Result<journal::Adherence, JournalError> {
    journal::adherence(&entries()?, request)
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_journal_of_the_examples_can_be_read() {
        assert_eq!(super::entries().map(|e| e.len()).ok(), Some(5));
    }
}

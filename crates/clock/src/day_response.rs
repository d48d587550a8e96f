//! The answer about one date.

use crate::calendar::rfc3339;
use crate::code::Code;
use crate::day::day;
use crate::day_request::DayRequest;
use crate::light_hours::{Span, light_hours};
use crate::opening::{Opening, Openings};
use crate::phase::Phase;
use crate::predict::openings_in;
use crate::reason::Reason;
use crate::sun::SunCourse;
use crate::trait_view::TraitView;
use guardcell_error::Error;
use guardcell_reference::{Pathway, PeakTime};
use guardcell_units::uom::si::ratio::ratio;
use jiff::ZonedDateTime;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The sun, the light and the openings of one date.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct DayResponse {
    /// The date.
    pub date: String,
    /// The time zone.
    pub time_zone: String,
    /// What the sun does on this date.
    pub course: SunCourse,
    /// Sunrise, RFC 3339 with offset; null if the sun does not rise.
    pub sunrise: Option<String>,
    /// Sunset; null if the sun does not set.
    pub sunset: Option<String>,
    /// Start of civil twilight in the morning (sun at −6°); null if it does not start.
    pub civil_dawn: Option<String>,
    /// End of civil twilight in the evening; null if it does not end.
    pub civil_dusk: Option<String>,
    /// When the sun crosses the meridian.
    pub solar_noon: Option<String>,
    /// When the plants have light, sun or lamps.
    pub lit: Vec<LocalSpan>,
    /// When they have no light.
    pub dark: Vec<LocalSpan>,
    /// When stomata are expected open on this date, by pathway.
    pub openings: PathwayOpenings,
}

/// The openings of a date by pathway.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct PathwayOpenings {
    /// A C3 leaf.
    pub c3: OpeningList,
    /// A CAM leaf.
    pub cam: OpeningList,
    /// A plant that turns from C3 to CAM when short of water.
    pub facultative: OpeningList,
    /// A plant of unknown pathway.
    pub unknown: OpeningList,
}

/// The openings of one plant.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct OpeningList {
    /// The openings in order of time.
    pub openings: Vec<OpeningEntry>,
    /// What holds for the date as a whole.
    pub reasons: Vec<ReasonEntry>,
}

/// One opening.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct OpeningEntry {
    /// When it starts, RFC 3339 with offset.
    pub start: String,
    /// When it ends.
    pub end: String,
    /// Which opening it is.
    pub phase: Phase,
    /// The part of the day or night.
    pub part: Option<PeakTime>,
    /// Open by C3 and by CAM alike.
    pub either_pathway: bool,
    /// The probability that the stomata are open, 0 to 1: a judgement, not a measured frequency.
    pub probability: f64,
    /// How practice ranks it: 1 is best, from 4 on practice is against it.
    pub rank: u8,
    /// The code of that rank.
    pub rank_code: Code,
    /// Why.
    pub reasons: Vec<ReasonEntry>,
}

/// A span of local time.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct LocalSpan {
    /// When it starts, RFC 3339 with offset.
    pub start: String,
    /// When it ends.
    pub end: String,
}

/// One reason.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct ReasonEntry {
    /// The code.
    pub code: Code,
    /// What it means.
    pub message: String,
    /// The inputs it rests on, by name ending in the unit.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub inputs: BTreeMap<String, f64>,
    /// Keys of `data/sources.csv`; empty for common practice.
    pub sources: Vec<String>,
}

/// Answers a question about one date.
///
/// # Errors
/// With a pointer into the request: a bad location, zone, date, lamps or air.
///
/// ```
/// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } pub use guardcell_error::{Error}; }
/// use guardcell::clock::{DayRequest, report};
/// let response = report(&DayRequest::new(50.2, -5.1, "Europe/London", "2026-06-21"))?;
/// assert!(response.sunrise.is_some_and(|t| t.starts_with("2026-06-21T05:1")));
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn report(request: &DayRequest) -> Result<DayResponse, Error> {
    let site = request.site()?;
    let date = request.civil_date()?;
    let hours = request.air()?;
    let today = day(&site, date).map_err(|e| e.within("/date"))?;
    let light = light_hours(&site, today.start.timestamp(), today.end.timestamp())?;
    let list = |pathway| -> Result<OpeningList, Error> {
        let plant = TraitView::of(pathway);
        let found = openings_in(&plant, &light, &hours, request.water_status);
        Ok(OpeningList::from(&found.map_err(|e| e.within("/hours"))?))
    };
    let text = |t: &Option<ZonedDateTime>| t.as_ref().map(rfc3339);
    Ok(DayResponse {
        date: date.to_string(),
        time_zone: request.time_zone.clone(),
        course: today.sun.course,
        sunrise: text(&today.sun.sunrise),
        sunset: text(&today.sun.sunset),
        civil_dawn: text(&today.sun.civil_dawn),
        civil_dusk: text(&today.sun.civil_dusk),
        solar_noon: text(&today.sun.noon),
        lit: today.lit.iter().map(LocalSpan::from).collect(),
        dark: today.dark.iter().map(LocalSpan::from).collect(),
        openings: PathwayOpenings {
            c3: list(Pathway::C3)?,
            cam: list(Pathway::Cam)?,
            facultative: list(Pathway::Facultative)?,
            unknown: list(Pathway::Unknown)?,
        },
    })
}

impl From<&Span> for LocalSpan {
    fn from(s: &Span) -> Self {
        Self { start: rfc3339(&s.start), end: rfc3339(&s.end) }
    }
}

impl From<&Openings> for OpeningList {
    fn from(o: &Openings) -> Self {
        Self {
            openings: o.openings.iter().map(OpeningEntry::from).collect(),
            reasons: o.reasons.iter().map(ReasonEntry::from).collect(),
        }
    }
}

impl From<&Opening> for OpeningEntry {
    fn from(o: &Opening) -> Self {
        let mut reasons: Vec<ReasonEntry> = o.reasons.iter().map(ReasonEntry::from).collect();
        reasons.push(ReasonEntry::from(&Reason::new(o.preference.code)));
        Self {
            start: rfc3339(&o.start),
            end: rfc3339(&o.end),
            phase: o.phase,
            part: o.part,
            either_pathway: o.either_pathway,
            // Three digits: the numbers behind it bear no more.
            probability: (o.probability.get::<ratio>() * 1000.0).round() / 1000.0,
            rank: o.preference.rank,
            rank_code: o.preference.code,
            reasons,
        }
    }
}

impl From<&Reason> for ReasonEntry {
    fn from(r: &Reason) -> Self {
        Self {
            code: r.code,
            message: r.code.message().to_owned(),
            inputs: r.inputs.iter().map(|b| (b.name.to_owned(), b.value)).collect(),
            sources: r.code.sources().into_iter().map(str::to_owned).collect(),
        }
    }
}

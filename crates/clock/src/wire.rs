//! The question and answer of one day as JSON.

use crate::{
    AirHour, ClockError, Code, Lamps, Latitude, Light, Longitude, Opening, Openings, Pathway,
    PeakTime, Phase, Place, Reason, Shelter, Site, Span, SunCourse, TraitView, WaterStatus, day,
    light_hours, openings_in,
};
use guardcell_units::quantity::{Pressure, ThermodynamicTemperature};
use guardcell_units::uom::si::{
    pressure::kilopascal, ratio::ratio, thermodynamic_temperature::degree_celsius,
};
use jiff::{Timestamp, ZonedDateTime, civil};
use serde::{Deserialize, Serialize};

/// A question about one date at one place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct DayRequest {
    /// Latitude in degrees, north positive, −90 to 90.
    pub latitude_deg: f64,
    /// Longitude in degrees, east positive, −180 to 180.
    pub longitude_deg: f64,
    /// IANA time zone, such as `Europe/London`.
    pub time_zone: String,
    /// The local date, `YYYY-MM-DD`, 1900 to 2200.
    pub date: String,
    /// Where the light comes from.
    #[serde(default)]
    pub light: LightKind,
    /// Lamp hours; required when `light` has lamps.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lamps: Vec<LampRun>,
    /// Whether the plants are in the open.
    #[serde(default)]
    pub outdoors: bool,
    /// What the plants have had to drink.
    #[serde(default)]
    pub water_status: WaterStatus,
    /// The air hour by hour, in order of time; openings are not narrowed where it does not reach.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub hours: Vec<HourOfAir>,
}

/// Where the light of the plants comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum LightKind {
    /// The sun.
    #[default]
    Sun,
    /// Lamps alone.
    Lamps,
    /// The sun, lengthened by lamps.
    SunAndLamps,
}

/// One run of the lamps each day; `off` earlier than `on` runs over midnight.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct LampRun {
    /// When the lamps go on, local time, `HH:MM`.
    pub on: String,
    /// When they go off, local time, `HH:MM`.
    pub off: String,
}

/// The air of one hour.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct HourOfAir {
    /// When the hour starts, RFC 3339 with offset.
    pub start: String,
    /// Air temperature in °C, −50 to 70.
    pub temp_c: f64,
    /// Vapour pressure deficit in kPa, 0 to 20.
    pub vpd_kpa: f64,
}

/// The sun, the light and the openings of one date.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DayReport {
    /// The date.
    pub date: String,
    /// The time zone.
    pub time_zone: String,
    /// How the date stands to the sun.
    pub course: SunCourse,
    /// Sunrise, RFC 3339 with offset; null where there is none.
    pub sunrise: Option<String>,
    /// Sunset; null where there is none.
    pub sunset: Option<String>,
    /// Start of civil twilight in the morning (sun at −6°); null where there is none.
    pub civil_dawn: Option<String>,
    /// End of civil twilight in the evening; null where there is none.
    pub civil_dusk: Option<String>,
    /// When the sun crosses the meridian.
    pub solar_noon: Option<String>,
    /// When the plants have light, sun or lamps.
    pub lit: Vec<SpanReport>,
    /// When they have none.
    pub dark: Vec<SpanReport>,
    /// When stomata are expected open on this date, by pathway.
    pub openings: PathwayOpenings,
}

/// The openings of a date by pathway.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PathwayOpenings {
    /// A C3 leaf.
    pub c3: OpeningsReport,
    /// A CAM leaf.
    pub cam: OpeningsReport,
    /// A plant that turns from C3 to CAM when short of water.
    pub facultative: OpeningsReport,
    /// A plant of which nothing is known.
    pub unknown: OpeningsReport,
}

/// The openings of one plant.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct OpeningsReport {
    /// The openings in order of time.
    pub openings: Vec<OpeningReport>,
    /// What holds for the date as a whole.
    pub reasons: Vec<ReasonReport>,
}

/// One opening.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct OpeningReport {
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
    pub rank_code: String,
    /// Why.
    pub reasons: Vec<ReasonReport>,
}

/// An interval of local time.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SpanReport {
    /// When it starts, RFC 3339 with offset.
    pub start: String,
    /// When it ends.
    pub end: String,
}

/// One reason.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ReasonReport {
    /// The code, such as `cam-night-open`.
    pub code: String,
    /// What it means.
    pub says: String,
    /// The inputs it rests on, by name ending in the unit.
    #[serde(default, skip_serializing_if = "std::collections::BTreeMap::is_empty")]
    pub because: std::collections::BTreeMap<String, f64>,
    /// Keys of `data/sources.csv`; empty for common practice.
    pub sources: Vec<String>,
}

/// A local time as RFC 3339 with its offset, to the second.
///
/// ```
/// # fn main() -> Result<(), jiff::Error> {
/// let t: jiff::ZonedDateTime = "2026-06-21T05:00[Europe/London]".parse()?;
/// assert_eq!(guardcell_clock::wire::rfc3339(&t), "2026-06-21T05:00:00+01:00");
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn rfc3339(t: &ZonedDateTime) -> String {
    t.timestamp().display_with_offset(t.offset()).to_string()
}

/// A local clock time from `HH:MM` (or `HH:MM:SS`).
///
/// # Errors
/// [`ClockError::Text`] where it is none.
///
/// ```
/// assert!(guardcell_clock::wire::clock_time("05:30", "/lamps").is_ok());
/// assert!(guardcell_clock::wire::clock_time("25:00", "/lamps").is_err());
/// ```
pub fn clock_time(text: &str, at: &'static str) -> Result<civil::Time, ClockError> {
    text.trim().parse().map_err(|_| ClockError::Text {
        at,
        text: text.to_owned(),
        should: "a clock time from 00:00 to 23:59, such as 06:30",
    })
}

impl DayRequest {
    /// The site it asks about.
    ///
    /// # Errors
    /// [`ClockError::Latitude`], [`ClockError::Longitude`], [`ClockError::Zone`] for the place;
    /// [`ClockError::Text`], [`ClockError::LampTimes`] for the lamps.
    ///
    /// ```
    /// use guardcell_clock::{Light, wire::DayRequest};
    /// # fn main() -> Result<(), Box<dyn std::error::Error>> {
    /// let ask: DayRequest = serde_json::from_str(
    ///     r#"{"latitude_deg": 50.2, "longitude_deg": -5.1, "time_zone": "Europe/London",
    ///         "date": "2026-06-21"}"#)?;
    /// assert_eq!(ask.site()?.light, Light::Sun);
    /// # Ok(())
    /// # }
    /// ```
    pub fn site(&self) -> Result<Site, ClockError> {
        let place = Place::new(
            Latitude::from_degrees(self.latitude_deg)?,
            Longitude::from_degrees(self.longitude_deg)?,
            &self.time_zone,
        )?;
        let light = match self.light {
            LightKind::Sun => {
                // Lamps that are not used must be right all the same.
                if !self.lamps.is_empty() {
                    lamps(&self.lamps)?;
                }
                Light::Sun
            }
            LightKind::Lamps => Light::Lamps(lamps(&self.lamps)?),
            LightKind::SunAndLamps => Light::SunAndLamps(lamps(&self.lamps)?),
        };
        let shelter = if self.outdoors { Shelter::Outdoors } else { Shelter::UnderCover };
        Ok(Site { place, light, shelter })
    }
}

/// Lamps from their runs on the wire. A single run with the same time twice never goes out.
///
/// # Errors
/// [`ClockError::Text`] for a time that is none or for no run at all, [`ClockError::LampTimes`].
///
/// ```
/// use guardcell_clock::wire::{LampRun, lamps};
/// let run = LampRun { on: "06:00".into(), off: "20:00".into() };
/// assert!(lamps(&[run]).is_ok());
/// assert!(lamps(&[]).is_err());
/// ```
pub fn lamps(runs: &[LampRun]) -> Result<Lamps, ClockError> {
    let time = |run: &LampRun| -> Result<(civil::Time, civil::Time), ClockError> {
        Ok((clock_time(&run.on, "/lamps/on")?, clock_time(&run.off, "/lamps/off")?))
    };
    let Some((first, rest)) = runs.split_first() else {
        return Err(ClockError::Text {
            at: "/lamps",
            text: String::new(),
            should: "at least one run with an on and an off time, since the light has lamps",
        });
    };
    let (on, off) = time(first)?;
    let mut out =
        if on == off && rest.is_empty() { Lamps::always() } else { Lamps::between(on, off)? };
    for run in rest {
        let (on, off) = time(run)?;
        out = out.and_between(on, off)?;
    }
    Ok(out)
}

/// Answers a question about one date.
///
/// # Errors
/// Every [`ClockError`]: bad place, zone, date, lamps or air.
///
/// ```
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let ask = serde_json::from_str(
///     r#"{"latitude_deg": 50.2, "longitude_deg": -5.1, "time_zone": "Europe/London",
///         "date": "2026-06-21"}"#)?;
/// let report = guardcell_clock::report(&ask)?;
/// assert!(report.sunrise.is_some_and(|t| t.starts_with("2026-06-21T05:1")));
/// # Ok(())
/// # }
/// ```
pub fn report(ask: &DayRequest) -> Result<DayReport, ClockError> {
    let site = ask.site()?;
    let date: civil::Date = ask.date.trim().parse().map_err(|_| ClockError::Text {
        at: "/date",
        text: ask.date.clone(),
        should: "a date such as 2026-06-21",
    })?;
    let hours = ask.hours.iter().map(air_hour).collect::<Result<Vec<_>, _>>()?;
    let today = day(&site, date)?;
    let light = light_hours(&site, today.start.timestamp(), today.end.timestamp())?;
    let of = |pathway| -> Result<OpeningsReport, ClockError> {
        let plant = TraitView::of(pathway);
        Ok(openings_report(&openings_in(&plant, &light, &hours, ask.water_status)?))
    };
    let text = |t: &Option<ZonedDateTime>| t.as_ref().map(rfc3339);
    Ok(DayReport {
        date: date.to_string(),
        time_zone: ask.time_zone.clone(),
        course: today.sun.course,
        sunrise: text(&today.sun.sunrise),
        sunset: text(&today.sun.sunset),
        civil_dawn: text(&today.sun.civil_dawn),
        civil_dusk: text(&today.sun.civil_dusk),
        solar_noon: text(&today.sun.noon),
        lit: today.lit.iter().map(span).collect(),
        dark: today.dark.iter().map(span).collect(),
        openings: PathwayOpenings {
            c3: of(Pathway::C3)?,
            cam: of(Pathway::Cam)?,
            facultative: of(Pathway::Facultative)?,
            unknown: of(Pathway::Unknown)?,
        },
    })
}

fn air_hour(h: &HourOfAir) -> Result<AirHour, ClockError> {
    let start: Timestamp = h.start.parse().map_err(|_| ClockError::Text {
        at: "/hours/start",
        text: h.start.clone(),
        should: "a time with an offset, such as 2026-06-21T05:00:00+01:00",
    })?;
    Ok(AirHour {
        start,
        temperature: ThermodynamicTemperature::new::<degree_celsius>(h.temp_c),
        vpd: Pressure::new::<kilopascal>(h.vpd_kpa),
    })
}

fn span(s: &Span) -> SpanReport {
    SpanReport { start: rfc3339(&s.start), end: rfc3339(&s.end) }
}

/// Openings as they go on the wire.
///
/// ```
/// use guardcell_clock::{Openings, wire::openings_report};
/// assert!(openings_report(&Openings::default()).openings.is_empty());
/// ```
#[must_use]
pub fn openings_report(o: &Openings) -> OpeningsReport {
    OpeningsReport {
        openings: o.openings.iter().map(opening_report).collect(),
        reasons: o.reasons.iter().map(reason_report).collect(),
    }
}

fn opening_report(o: &Opening) -> OpeningReport {
    let mut reasons: Vec<ReasonReport> = o.reasons.iter().map(reason_report).collect();
    reasons.push(reason_report(&Reason { code: o.preference.code, because: Vec::new() }));
    OpeningReport {
        start: rfc3339(&o.start),
        end: rfc3339(&o.end),
        phase: o.phase,
        part: o.part,
        either_pathway: o.either_pathway,
        // three digits: the numbers behind it bear no more
        probability: (o.probability.get::<ratio>() * 1000.0).round() / 1000.0,
        rank: o.preference.rank,
        rank_code: o.preference.code.as_str().to_owned(),
        reasons,
    }
}

fn reason_report(r: &Reason) -> ReasonReport {
    let code: Code = r.code;
    ReasonReport {
        code: code.as_str().to_owned(),
        says: code.says().to_owned(),
        because: r.because.iter().map(|b| (b.name.to_owned(), b.value)).collect(),
        sources: code.sources().into_iter().map(str::to_owned).collect(),
    }
}

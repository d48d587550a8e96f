//! Where the sun is and when it rises and sets.
//!
//! Positions are those of the SPA (Reda & Andreas 2004) at sea level with a level horizon;
//! sunrise and sunset are when the centre of the disc is at −0.8333° (34′ of refraction and 16′
//! of radius), civil twilight at −6°. Hills, roofs and shade cloth are not known here.

use crate::{ClockError, Place};
use guardcell_units::uom::si::{angle::degree, f64::Angle};
use jiff::{Timestamp, ZonedDateTime, civil::Date};
use solar_positioning::time::JulianDate;
use solar_positioning::{Horizon, Location, SolarEvents, SolarPositions};

/// The years for which the sun is computed.
const FIRST_YEAR: i16 = 1900;
const LAST_YEAR: i16 = 2200;

/// What the sun does at an instant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SunEventKind {
    /// The sun's centre climbs through −6°.
    CivilDawn,
    /// The upper limb appears.
    Sunrise,
    /// The sun crosses the meridian.
    Noon,
    /// The upper limb disappears.
    Sunset,
    /// The sun's centre sinks through −6°.
    CivilDusk,
}

/// One instant of the sun.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SunEvent {
    /// When, to the second.
    pub time: Timestamp,
    /// What.
    pub kind: SunEventKind,
}

/// How a civil day stands to the sun.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum SunCourse {
    /// It rises and sets on this date.
    RisesAndSets,
    /// It rises and does not set again on this date.
    RisesOnly,
    /// It sets and does not rise on this date.
    SetsOnly,
    /// It stays up all day.
    PolarDay,
    /// It stays down all day, though there may be civil twilight.
    PolarNight,
}

/// The sun on one civil date.
#[derive(Clone, Debug, PartialEq)]
pub struct Sun {
    /// How the date stands to the sun.
    pub course: SunCourse,
    /// The first sunrise of the date.
    pub sunrise: Option<ZonedDateTime>,
    /// The last sunset of the date.
    pub sunset: Option<ZonedDateTime>,
    /// The first civil dawn of the date.
    pub civil_dawn: Option<ZonedDateTime>,
    /// The last civil dusk of the date.
    pub civil_dusk: Option<ZonedDateTime>,
    /// When the sun crosses the meridian.
    pub noon: Option<ZonedDateTime>,
}

pub(crate) fn julian(seconds: f64) -> f64 {
    // UTC stands for UT1 (they differ by less than 0.9 s); 2440587.5 is 1970-01-01T00:00Z.
    seconds / 86_400.0 + 2_440_587.5
}

pub(crate) fn seconds(julian: f64) -> i64 {
    ((julian - 2_440_587.5) * 86_400.0).round() as i64
}

pub(crate) fn check_years(t: Timestamp) -> Result<(), ClockError> {
    let date = t.to_zoned_datetime(jiff::tz::TimeZone::UTC).date();
    if (FIRST_YEAR..=LAST_YEAR).contains(&date.year()) {
        Ok(())
    } else {
        Err(ClockError::Year(date))
    }
}

pub(crate) fn location(place: &Place) -> Location {
    Location { latitude: place.latitude().degrees(), longitude: place.longitude().degrees() }
}

pub(crate) fn delta_t(seconds: i64) -> Result<f64, ClockError> {
    let year = 2000.0 + (julian(seconds as f64) - 2_451_544.5) / 365.242_5;
    Ok(solar_positioning::delta_t::estimate(year)?)
}

/// Every event of the sun in `from..to`, in order of time.
///
/// # Errors
/// [`ClockError::Year`] outside 1900 … 2200, [`ClockError::Window`] where `to` is before `from`,
/// [`ClockError::TooLong`] over 400 days.
///
/// ```
/// use guardcell_clock::{Latitude, Longitude, Place, SunEventKind, sun_events};
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let place = Place::new(
///     Latitude::from_degrees(0.0)?, Longitude::from_degrees(0.0)?, "Etc/UTC")?;
/// let events = sun_events(&place, "2026-03-20T00:00Z".parse()?, "2026-03-21T00:00Z".parse()?)?;
/// assert_eq!(events.len(), 5);
/// assert_eq!(events[0].kind, SunEventKind::CivilDawn);
/// # Ok(())
/// # }
/// ```
pub fn sun_events(
    place: &Place,
    from: Timestamp,
    to: Timestamp,
) -> Result<Vec<SunEvent>, ClockError> {
    crate::light::check_window(from, to)?;
    let (start, end, dt) = (
        julian(from.as_second() as f64),
        julian(to.as_second() as f64),
        delta_t(from.as_second())?,
    );
    let sun = SolarEvents::new();
    let horizon =
        sun.for_interval_from_julian(start, end, location(place), dt, Horizon::SunriseSunset)?;
    let civil =
        sun.for_interval_from_julian(start, end, location(place), dt, Horizon::CivilTwilight)?;
    let mut out = Vec::new();
    for (kind, times) in [
        (SunEventKind::CivilDawn, &civil.rises),
        (SunEventKind::Sunrise, &horizon.rises),
        (SunEventKind::Noon, &horizon.transits),
        (SunEventKind::Sunset, &horizon.sets),
        (SunEventKind::CivilDusk, &civil.sets),
    ] {
        for &t in times {
            // rounding to the second must not carry an event over the end
            let time = Timestamp::from_second(seconds(t).min(to.as_second() - 1))?;
            out.push(SunEvent { time, kind });
        }
    }
    out.sort_by_key(|e| (e.time, e.kind));
    Ok(out)
}

/// The sun on one civil date at a place.
///
/// # Errors
/// [`ClockError::Year`] outside 1900 … 2200.
///
/// ```
/// use guardcell_clock::{Latitude, Longitude, Place, SunCourse, sun_on};
/// # fn main() -> Result<(), guardcell_clock::ClockError> {
/// let svalbard = Place::new(
///     Latitude::from_degrees(78.2)?, Longitude::from_degrees(15.6)?, "Arctic/Longyearbyen")?;
/// let june = sun_on(&svalbard, jiff::civil::date(2026, 6, 21))?;
/// assert_eq!((june.course, june.sunrise), (SunCourse::PolarDay, None));
/// # Ok(())
/// # }
/// ```
pub fn sun_on(place: &Place, date: Date) -> Result<Sun, ClockError> {
    let (from, to) = crate::day::bounds(place, date)?;
    if to.timestamp() <= from.timestamp() {
        // a date that the zone skipped, such as 2011-12-30 in Samoa
        return Err(ClockError::Calendar(format!("{date} does not exist in this time zone")));
    }
    let events = sun_events(place, from.timestamp(), to.timestamp())?;
    let zoned = |e: &SunEvent| e.time.to_zoned_datetime(place.zone().clone());
    let first = |k| events.iter().find(|e| e.kind == k).map(zoned);
    let last = |k| events.iter().rev().find(|e| e.kind == k).map(zoned);
    let (sunrise, sunset) = (first(SunEventKind::Sunrise), last(SunEventKind::Sunset));
    let course = match (&sunrise, &sunset) {
        (Some(_), Some(_)) => SunCourse::RisesAndSets,
        (Some(_), None) => SunCourse::RisesOnly,
        (None, Some(_)) => SunCourse::SetsOnly,
        (None, None) => {
            let t = from.timestamp().as_second();
            let up = crate::sun_up::up(place, t, to.timestamp().as_second())?;
            if up.is_empty() { SunCourse::PolarNight } else { SunCourse::PolarDay }
        }
    };
    Ok(Sun {
        course,
        sunrise,
        sunset,
        civil_dawn: first(SunEventKind::CivilDawn),
        civil_dusk: last(SunEventKind::CivilDusk),
        noon: first(SunEventKind::Noon),
    })
}

/// The elevation of the sun's centre above the level horizon, without refraction.
///
/// # Errors
/// [`ClockError::Year`] outside 1900 … 2200.
///
/// ```
/// use guardcell_clock::{Latitude, Longitude, Place, sun_elevation};
/// use guardcell_units::uom::si::angle::degree;
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let place = Place::new(
///     Latitude::from_degrees(0.0)?, Longitude::from_degrees(0.0)?, "Etc/UTC")?;
/// let noon = sun_elevation(&place, "2026-03-20T12:07Z".parse()?)?;
/// assert!(noon.get::<degree>() > 89.0);
/// # Ok(())
/// # }
/// ```
pub fn sun_elevation(place: &Place, at: Timestamp) -> Result<Angle, ClockError> {
    check_years(at)?;
    let s = at.as_second();
    let time = JulianDate::new(julian(s as f64), delta_t(s)?)?;
    let position = SolarPositions::new().at_from_julian(time, location(place), 0.0, None)?;
    Ok(Angle::new::<degree>(position.elevation_angle()))
}

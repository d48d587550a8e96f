//! The events of the sun over a window.

use super::crossing::HalfDays;
use crate::calendar::{beyond, check_window};
use crate::location::Location;
use guardcell_error::Error;
use jiff::Timestamp;
use solar_positioning::Horizon;

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

/// One event of the sun.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct SunEvent {
    /// When, to the second.
    pub time: Timestamp,
    /// What.
    pub kind: SunEventKind,
}

/// Every event of the sun in `from..to`, in order of time.
///
/// # Errors
/// [`Code::OutOfRange`](guardcell_error::Code::OutOfRange) outside 1900 to 2200 or if `to` is not
/// after `from`, [`Code::TooMany`](guardcell_error::Code::TooMany) over 400 days.
///
/// ```
/// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } }
/// use guardcell::clock::{Latitude, Location, Longitude, SunEventKind, sun_events};
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let origin = Location::new(
///     Latitude::from_degrees(0.0)?, Longitude::from_degrees(0.0)?, "Etc/UTC")?;
/// let events = sun_events(&origin, "2026-03-20T00:00Z".parse()?, "2026-03-21T00:00Z".parse()?)?;
/// assert_eq!(events.len(), 5);
/// assert_eq!(events[0].kind, SunEventKind::CivilDawn);
/// # Ok(())
/// # }
/// ```
pub fn sun_events(
    location: &Location,
    from: Timestamp,
    to: Timestamp,
) -> Result<Vec<SunEvent>, Error> {
    check_window(from, to)?;
    let (from, to) = (from.as_second(), to.as_second());
    let half_days = HalfDays::new(location, from, to)?;
    let mut out = Vec::new();
    let mut push = |at_s: f64, kind| {
        // Rounding to the second must not carry an event out of the window.
        let second = (at_s.round() as i64).clamp(from, to - 1);
        let time = Timestamp::from_second(second).map_err(beyond)?;
        out.push(SunEvent { time, kind });
        Ok::<_, Error>(())
    };
    for (height, rise, set) in [
        (Horizon::SunriseSunset, SunEventKind::Sunrise, SunEventKind::Sunset),
        (Horizon::CivilTwilight, SunEventKind::CivilDawn, SunEventKind::CivilDusk),
    ] {
        for crossing in half_days.crossings(height)? {
            push(crossing.at_s, if crossing.rises { rise } else { set })?;
        }
    }
    for at_s in half_days.transits()? {
        push(at_s, SunEventKind::Noon)?;
    }
    out.sort_by_key(|e| (e.time, e.kind));
    Ok(out)
}

//! When the plants have light over a window: from the sun, from lamps, or from both.

use crate::calendar::{DAY_SECONDS, check_window};
use crate::site::{Light, Shelter, Site};
use crate::sun::HalfDays;
use guardcell_error::Error;
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};
use solar_positioning::Horizon;

/// Looked at on both sides of a window, so that a night or day it starts or ends in is either known
/// whole or seen to be longer than a day.
const PAD_SECONDS: i64 = DAY_SECONDS + 3600;

/// A span of local time, end exclusive.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Span {
    /// When it starts.
    pub start: ZonedDateTime,
    /// When it ends.
    pub end: ZonedDateTime,
}

/// The light of a site over a window, computed once and shared by all its plants.
#[derive(Clone, Debug, PartialEq)]
pub struct LightHours {
    pub(crate) zone: TimeZone,
    pub(crate) shelter: Shelter,
    /// The window asked for, in seconds.
    pub(crate) from: i64,
    pub(crate) to: i64,
    /// Light, sorted and disjoint, over the padded window.
    pub(crate) lit: Vec<(i64, i64)>,
    /// Dark between them, over the padded window.
    pub(crate) dark: Vec<(i64, i64)>,
    /// Sun above the horizon over the padded window; empty for a lamp-lit room under cover.
    pub(crate) sun: Vec<(i64, i64)>,
}

/// The light of a site over a window.
///
/// # Errors
/// [`Code::OutOfRange`](guardcell_error::Code::OutOfRange) if `to` is not after `from` or outside
/// 1900 to 2200, [`Code::TooMany`](guardcell_error::Code::TooMany) over 400 days.
///
/// ```
/// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } pub use jiff; }
/// use guardcell::clock::{Lamps, Latitude, Light, Location, Longitude, Shelter, Site, light_hours};
/// use guardcell::jiff::civil::time;
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let location = Location::new(
///     Latitude::from_degrees(50.0)?, Longitude::from_degrees(-5.0)?, "Europe/London")?;
/// let light = Light::Lamps(Lamps::between(time(20, 0, 0, 0), time(8, 0, 0, 0))?);
/// let shelf = Site { location, light, shelter: Shelter::UnderCover };
/// let hours = light_hours(
///     &shelf,
///     "2026-01-10T12:00Z".parse()?,
///     "2026-01-11T12:00Z".parse()?,
/// )?;
/// let lit = hours.lit();
/// assert_eq!((lit.len(), lit[0].start.hour(), lit[0].end.hour()), (1, 20, 8));
/// # Ok(())
/// # }
/// ```
pub fn light_hours(site: &Site, from: Timestamp, to: Timestamp) -> Result<LightHours, Error> {
    check_window(from, to)?;
    let (from, to) = (from.as_second(), to.as_second());
    let (start, end) = (from - PAD_SECONDS, to + PAD_SECONDS);
    let lamps_alone = matches!(site.light, Light::Lamps(_));
    let sun = if lamps_alone && site.shelter == Shelter::UnderCover {
        Vec::new()
    } else {
        HalfDays::new(&site.location, start, end)?.above(Horizon::SunriseSunset)?
    };
    let mut lit = if lamps_alone { Vec::new() } else { sun.clone() };
    if let Light::Lamps(lamps) | Light::SunAndLamps(lamps) = &site.light {
        lit.extend(lamps.spans(site.location.zone(), start, end)?);
    }
    let lit = merged(lit);
    let dark = gaps(&lit, start, end);
    let (zone, shelter) = (site.location.zone().clone(), site.shelter);
    Ok(LightHours { zone, shelter, from, to, lit, dark, sun })
}

fn merged(mut spans: Vec<(i64, i64)>) -> Vec<(i64, i64)> {
    spans.sort_unstable();
    let mut out: Vec<(i64, i64)> = Vec::with_capacity(spans.len());
    for (a, b) in spans {
        match out.last_mut() {
            Some(last) if a <= last.1 => last.1 = last.1.max(b),
            _ => out.push((a, b)),
        }
    }
    out
}

fn gaps(spans: &[(i64, i64)], start: i64, end: i64) -> Vec<(i64, i64)> {
    let mut out = Vec::with_capacity(spans.len() + 1);
    let mut at = start;
    for &(a, b) in spans {
        if a > at {
            out.push((at, a));
        }
        at = b;
    }
    if end > at {
        out.push((at, end));
    }
    out
}

/// Seconds of `spans` inside `from..to`.
pub(crate) fn overlap(spans: &[(i64, i64)], from: i64, to: i64) -> i64 {
    spans.iter().map(|&(a, b)| (b.min(to) - a.max(from)).max(0)).sum()
}

impl LightHours {
    /// The times with light, clipped to the window.
    ///
    /// ```
    /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } }
    /// use guardcell::clock::{Latitude, Light, Location, Longitude, Shelter, Site, light_hours};
    /// # fn main() -> Result<(), Box<dyn std::error::Error>> {
    /// let location = Location::new(
    ///     Latitude::from_degrees(0.0)?, Longitude::from_degrees(0.0)?, "Etc/UTC")?;
    /// let site = Site { location, light: Light::Sun, shelter: Shelter::Outdoors };
    /// let hours = light_hours(
    ///     &site, "2026-03-20T00:00Z".parse()?, "2026-03-21T00:00Z".parse()?)?;
    /// assert_eq!(hours.lit()[0].start.hour(), 6);
    /// assert_eq!(hours.dark().len(), 2);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub fn lit(&self) -> Vec<Span> {
        self.clipped(&self.lit)
    }

    /// The times without light, clipped to the window.
    #[must_use]
    pub fn dark(&self) -> Vec<Span> {
        self.clipped(&self.dark)
    }

    /// The longest time from one start of light to the next, in seconds; `None` if the light starts
    /// less than twice around the window.
    pub(crate) fn cycle(&self) -> Option<i64> {
        // The first span may be cut by the window.
        let starts: Vec<i64> = self.lit.iter().skip(1).map(|span| span.0).collect();
        starts.windows(2).map(|pair| pair[1] - pair[0]).max()
    }

    pub(crate) fn zoned(&self, seconds: i64) -> ZonedDateTime {
        // Inside 1899 to 2201 by construction, so the default is never taken.
        Timestamp::from_second(seconds).unwrap_or_default().to_zoned_datetime(self.zone.clone())
    }

    fn clipped(&self, spans: &[(i64, i64)]) -> Vec<Span> {
        spans
            .iter()
            .map(|&(a, b)| (a.max(self.from), b.min(self.to)))
            .filter(|(a, b)| a < b)
            .map(|(a, b)| Span { start: self.zoned(a), end: self.zoned(b) })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spans_that_touch_or_overlap_become_one() {
        assert_eq!(merged(vec![(5, 9), (0, 2), (2, 3), (7, 8)]), [(0, 3), (5, 9)]);
    }

    #[test]
    fn gaps_fill_what_spans_leave() {
        assert_eq!(gaps(&[(2, 3), (5, 9)], 0, 9), [(0, 2), (3, 5)]);
        assert_eq!(gaps(&[(0, 3)], 0, 10), [(3, 10)]);
        assert_eq!(gaps(&[], 1, 4), [(1, 4)]);
    }

    #[test]
    fn overlap_counts_only_what_is_inside() {
        assert_eq!(overlap(&[(0, 10), (20, 30)], 5, 25), 10);
        assert_eq!(overlap(&[(0, 10)], 10, 25), 0);
    }
}

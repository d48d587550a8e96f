//! When the plants have light: from the sun, from lamps, or from both.

use crate::{ClockError, Lamps, Shelter, Site, sun};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};

/// The longest window of one call: a bound on work, not on the model.
const LONGEST_WINDOW_DAYS: i64 = 400;
/// Looked at on both sides of a window, so that a night or day it starts or ends in is either known
/// whole or seen to be longer than a day.
const PAD_SECONDS: i64 = DAY_SECONDS + 3600;
pub(crate) const DAY_SECONDS: i64 = 86_400;

/// What lights the plants.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Light {
    /// The sun alone.
    Sun,
    /// Lamps alone: a room without daylight.
    Lamps(Lamps),
    /// The sun, and lamps on a timer.
    SunAndLamps(Lamps),
}

/// An interval of local time, end exclusive.
#[derive(Clone, Debug, PartialEq, Eq)]
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

pub(crate) fn check_window(from: Timestamp, to: Timestamp) -> Result<(), ClockError> {
    sun::check_years(from)?;
    sun::check_years(to)?;
    if to <= from {
        return Err(ClockError::Window { from: from.to_string(), to: to.to_string() });
    }
    let days = (to.as_second() - from.as_second()) / DAY_SECONDS;
    if days > LONGEST_WINDOW_DAYS {
        return Err(ClockError::TooLong { days, longest: LONGEST_WINDOW_DAYS });
    }
    Ok(())
}

/// The light of a site over a window.
///
/// # Errors
/// [`ClockError::Window`] where `to` is not after `from`, [`ClockError::TooLong`] over 400 days,
/// [`ClockError::Year`] outside 1900 … 2200.
///
/// ```
/// use guardcell_clock::{Lamps, Latitude, Light, Longitude, Place, Shelter, Site, light_hours};
/// use jiff::civil::time;
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let place = Place::new(
///     Latitude::from_degrees(50.0)?, Longitude::from_degrees(-5.0)?, "Europe/London")?;
/// let light = Light::Lamps(Lamps::between(time(20, 0, 0, 0), time(8, 0, 0, 0))?);
/// let shelf = Site { place, light, shelter: Shelter::UnderCover };
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
pub fn light_hours(site: &Site, from: Timestamp, to: Timestamp) -> Result<LightHours, ClockError> {
    check_window(from, to)?;
    let (from, to) = (from.as_second(), to.as_second());
    let (start, end) = (from - PAD_SECONDS, to + PAD_SECONDS);
    let lamps_alone = matches!(site.light, Light::Lamps(_));
    let sun = if lamps_alone && site.shelter == Shelter::UnderCover {
        Vec::new()
    } else {
        crate::sun_up::up(&site.place, start, end)?
    };
    let mut lit = if lamps_alone { Vec::new() } else { sun.clone() };
    if let Light::Lamps(lamps) | Light::SunAndLamps(lamps) = &site.light {
        lit.extend(runs(lamps, site.place.zone(), start, end)?);
    }
    let lit = merged(lit);
    let dark = gaps(&lit, start, end);
    Ok(LightHours {
        zone: site.place.zone().clone(),
        shelter: site.shelter,
        from,
        to,
        lit,
        dark,
        sun,
    })
}

/// The runs of lamps in `start..end`. A clock time that a change of clocks skips comes as much
/// later as the clocks go forward; one that comes twice is the first.
fn runs(
    lamps: &Lamps,
    zone: &TimeZone,
    start: i64,
    end: i64,
) -> Result<Vec<(i64, i64)>, ClockError> {
    let first = Timestamp::from_second(start - 2 * DAY_SECONDS)?;
    let last = Timestamp::from_second(end + DAY_SECONDS)?;
    let mut date = first.to_zoned_datetime(zone.clone()).date();
    let last = last.to_zoned_datetime(zone.clone()).date();
    let mut out = Vec::new();
    while date <= last {
        for (on, off, next_day) in lamps.runs(date) {
            let off_date = if next_day { date.tomorrow()? } else { date };
            let at = |d: jiff::civil::Date, t| -> Result<i64, ClockError> {
                let stamp = zone.to_ambiguous_timestamp(d.to_datetime(t));
                Ok(stamp.compatible()?.as_second())
            };
            let (a, b) = (at(date, on)?.max(start), at(off_date, off)?.min(end));
            if a < b {
                out.push((a, b));
            }
        }
        date = date.tomorrow()?;
    }
    Ok(out)
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
    /// use guardcell_clock::{Latitude, Light, Longitude, Place, Shelter, Site, light_hours};
    /// # fn main() -> Result<(), Box<dyn std::error::Error>> {
    /// let place = Place::new(
    ///     Latitude::from_degrees(0.0)?, Longitude::from_degrees(0.0)?, "Etc/UTC")?;
    /// let site = Site { place, light: Light::Sun, shelter: Shelter::Outdoors };
    /// let hours = light_hours(
    ///     &site, "2026-03-20T00:00Z".parse()?, "2026-03-21T00:00Z".parse()?)?;
    /// assert_eq!(hours.lit()[0].start.hour(), 6);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub fn lit(&self) -> Vec<Span> {
        self.spans(&self.lit)
    }

    /// The times without light, clipped to the window.
    ///
    /// ```
    /// use guardcell_clock::{Latitude, Light, Longitude, Place, Shelter, Site, light_hours};
    /// # fn main() -> Result<(), Box<dyn std::error::Error>> {
    /// let place = Place::new(
    ///     Latitude::from_degrees(0.0)?, Longitude::from_degrees(0.0)?, "Etc/UTC")?;
    /// let site = Site { place, light: Light::Sun, shelter: Shelter::Outdoors };
    /// let hours = light_hours(
    ///     &site, "2026-03-20T00:00Z".parse()?, "2026-03-21T00:00Z".parse()?)?;
    /// assert_eq!(hours.dark().len(), 2);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub fn dark(&self) -> Vec<Span> {
        self.spans(&self.dark)
    }

    /// The start of the window.
    ///
    /// ```
    /// use guardcell_clock::{Latitude, Light, Longitude, Place, Shelter, Site, light_hours};
    /// # fn main() -> Result<(), Box<dyn std::error::Error>> {
    /// let place = Place::new(
    ///     Latitude::from_degrees(0.0)?, Longitude::from_degrees(0.0)?, "Etc/UTC")?;
    /// let site = Site { place, light: Light::Sun, shelter: Shelter::Outdoors };
    /// let hours = light_hours(
    ///     &site, "2026-03-20T00:00Z".parse()?, "2026-03-21T00:00Z".parse()?)?;
    /// assert_eq!(hours.from().hour(), 0);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub fn from(&self) -> ZonedDateTime {
        self.zoned(self.from)
    }

    /// The end of the window.
    ///
    /// ```
    /// use guardcell_clock::{Latitude, Light, Longitude, Place, Shelter, Site, light_hours};
    /// # fn main() -> Result<(), Box<dyn std::error::Error>> {
    /// let place = Place::new(
    ///     Latitude::from_degrees(0.0)?, Longitude::from_degrees(0.0)?, "Etc/UTC")?;
    /// let site = Site { place, light: Light::Sun, shelter: Shelter::Outdoors };
    /// let hours = light_hours(
    ///     &site, "2026-03-20T00:00Z".parse()?, "2026-03-21T00:00Z".parse()?)?;
    /// assert_eq!(hours.to().day(), 21);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub fn to(&self) -> ZonedDateTime {
        self.zoned(self.to)
    }

    pub(crate) fn zoned(&self, seconds: i64) -> ZonedDateTime {
        // inside 1899 … 2201 by construction, so the default is never taken
        Timestamp::from_second(seconds).unwrap_or_default().to_zoned_datetime(self.zone.clone())
    }

    fn spans(&self, of: &[(i64, i64)]) -> Vec<Span> {
        of.iter()
            .map(|&(a, b)| (a.max(self.from), b.min(self.to)))
            .filter(|(a, b)| a < b)
            .map(|(a, b)| Span { start: self.zoned(a), end: self.zoned(b) })
            .collect()
    }
}

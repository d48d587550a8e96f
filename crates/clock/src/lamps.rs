//! Lamps on a timer.

use crate::calendar::{DAY_SECONDS, beyond};
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::clock as p;
use guardcell_units::quantity::Time as Duration;
use guardcell_units::uom::si::time::{hour, second};
use jiff::Timestamp;
use jiff::civil::{Date, Time};
use jiff::tz::TimeZone;

/// When lamps are on: at local clock times each day, or in cycles of any length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lamps(Schedule);

#[derive(Clone, Debug, PartialEq, Eq)]
enum Schedule {
    /// Runs of each day.
    Daily(Vec<Run>),
    /// Seconds of light and of dark in turn, from an instant on and back before it.
    Cycle { start: i64, light: i64, dark: i64 },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Run {
    on: Time,
    off: Time,
    /// The off time is on the next day.
    over_midnight: bool,
}

impl Lamps {
    /// Lamps from `on` to `off`, local time; over midnight if `off` is the earlier. An `off` of
    /// midnight is the end of the day.
    ///
    /// # Errors
    /// [`Code::Conflict`] if the two are the same, except from midnight to midnight, which is the
    /// whole day.
    ///
    /// ```
    /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } pub use jiff; }
    /// use guardcell::clock::Lamps;
    /// use guardcell::jiff::civil::time;
    /// assert!(Lamps::between(time(18, 0, 0, 0), time(6, 0, 0, 0)).is_ok()); // overnight
    /// assert!(Lamps::between(time(6, 0, 0, 0), time(6, 0, 0, 0)).is_err());
    /// ```
    pub fn between(on: Time, off: Time) -> Result<Self, Error> {
        Self(Schedule::Daily(Vec::new())).and_between(on, off)
    }

    /// The same lamps with a further run each day. Runs may touch or overlap.
    ///
    /// # Errors
    /// [`Code::Conflict`] if the two times are the same, or the lamps run in cycles.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod clock { pub use guardcell_clock::*; }
    /// #     pub use guardcell_error::{Error};
    /// #     pub use jiff;
    /// # }
    /// use guardcell::clock::Lamps;
    /// use guardcell::jiff::civil::time;
    /// # fn main() -> Result<(), guardcell::Error> {
    /// let ends = Lamps::between(time(5, 0, 0, 0), time(8, 0, 0, 0))?
    ///     .and_between(time(16, 0, 0, 0), time(19, 0, 0, 0))?;
    /// # let _ = ends;
    /// # Ok(())
    /// # }
    /// ```
    pub fn and_between(mut self, on: Time, off: Time) -> Result<Self, Error> {
        let Schedule::Daily(runs) = &mut self.0 else {
            return Err(Error::new(
                Code::Conflict,
                "lamps run in cycles and at clock times",
                "give a cycle or clock times, not both",
            ));
        };
        if on == off && on != Time::midnight() {
            return Err(Error::new(
                Code::Conflict,
                format!("lamps go on and off at {}", on.strftime("%H:%M")),
                "give two different times; for lamps that are always on, 00:00 to 24:00",
            ));
        }
        runs.push(Run { on, off, over_midnight: off <= on });
        Ok(self)
    }

    /// Lamps that are always on.
    ///
    /// ```
    /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } pub use jiff; }
    /// use guardcell::clock::Lamps;
    /// use guardcell::jiff::civil::Time;
    /// assert_eq!(Lamps::between(Time::midnight(), Time::midnight()), Ok(Lamps::always()));
    /// ```
    #[must_use]
    pub fn always() -> Self {
        let run = Run { on: Time::midnight(), off: Time::midnight(), over_midnight: true };
        Self(Schedule::Daily(vec![run]))
    }

    /// Lamps that are on and off in turn, whatever the clock says: 8 h and 8 h, 10 h and 10 h. One
    /// light period begins at `start`.
    ///
    /// # Errors
    /// [`Code::OutOfRange`] if either length is outside 0.25 to 72 h.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod clock { pub use guardcell_clock::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::clock::Lamps;
    /// use guardcell::units::{quantity::Time, uom::si::time::hour};
    /// # fn main() -> Result<(), Box<dyn std::error::Error>> {
    /// let ten = Time::new::<hour>(10.0);
    /// let lamps = Lamps::cycle("2026-03-01T06:00:00Z".parse()?, ten, ten)?;
    /// # let _ = lamps;
    /// # Ok(())
    /// # }
    /// ```
    pub fn cycle(start: Timestamp, light: Duration, dark: Duration) -> Result<Self, Error> {
        let seconds = |what: &str, length: Duration| {
            let (low, high) = (p::CYCLE_SHORTEST.hours(), p::CYCLE_LONGEST.hours());
            let h = length.get::<hour>();
            if (low..=high).contains(&h) {
                Ok(length.get::<second>().round() as i64)
            } else {
                Err(Error::new(
                    Code::OutOfRange,
                    format!("{h} h of {what} is out of range"),
                    format!("give {low} to {high} h"),
                ))
            }
        };
        let (light, dark) = (seconds("light", light)?, seconds("dark", dark)?);
        Ok(Self(Schedule::Cycle { start: start.as_second(), light, dark }))
    }

    /// When the lamps are on in `start..end`, in seconds; neither sorted nor disjoint.
    ///
    /// A clock time that a change of clocks skips comes as much later as the clocks go forward;
    /// one that comes twice is the first.
    pub(crate) fn spans(
        &self,
        zone: &TimeZone,
        start: i64,
        end: i64,
    ) -> Result<Vec<(i64, i64)>, Error> {
        match &self.0 {
            Schedule::Daily(runs) => daily(runs, zone, start, end),
            Schedule::Cycle { start: first, light, dark } => {
                let period = light + dark;
                let k = (start - first).div_euclid(period);
                Ok((0..)
                    .map(|i| first + (k + i) * period)
                    .take_while(|on| *on < end)
                    .map(|on| (on.max(start), (on + light).min(end)))
                    .filter(|(a, b)| a < b)
                    .collect())
            }
        }
    }
}

fn daily(runs: &[Run], zone: &TimeZone, start: i64, end: i64) -> Result<Vec<(i64, i64)>, Error> {
    let date_of = |seconds: i64| -> Result<Date, Error> {
        let stamp = Timestamp::from_second(seconds).map_err(beyond)?;
        Ok(stamp.to_zoned_datetime(zone.clone()).date())
    };
    let instant = |date: Date, time: Time| -> Result<i64, Error> {
        let stamp = zone.to_ambiguous_timestamp(date.to_datetime(time));
        Ok(stamp.compatible().map_err(beyond)?.as_second())
    };
    let mut date = date_of(start - 2 * DAY_SECONDS)?;
    let last = date_of(end + DAY_SECONDS)?;
    let mut out = Vec::new();
    while date <= last {
        let tomorrow = date.tomorrow().map_err(beyond)?;
        for run in runs {
            let off_date = if run.over_midnight { tomorrow } else { date };
            let (a, b) = (instant(date, run.on)?.max(start), instant(off_date, run.off)?.min(end));
            if a < b {
                out.push((a, b));
            }
        }
        date = tomorrow;
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    const HOUR: i64 = 3600;

    #[test]
    fn a_cycle_is_followed_before_and_after_its_start() {
        let start = Timestamp::from_second(100 * HOUR).expect("a time");
        let h = Duration::new::<hour>;
        let lamps = Lamps::cycle(start, h(8.0), h(10.0)).expect("valid");
        let spans = lamps.spans(&TimeZone::UTC, 80 * HOUR, 120 * HOUR).expect("valid");
        let hours: Vec<(i64, i64)> = spans.iter().map(|(a, b)| (a / HOUR, b / HOUR)).collect();
        assert_eq!(hours, [(82, 90), (100, 108), (118, 120)]);
    }

    #[test]
    fn lengths_of_a_cycle_have_bounds() {
        let h = Duration::new::<hour>;
        for (light, dark) in [(0.0, 8.0), (8.0, f64::NAN), (73.0, 8.0), (8.0, -1.0)] {
            assert!(Lamps::cycle(Timestamp::UNIX_EPOCH, h(light), h(dark)).is_err());
        }
    }

    #[test]
    fn midnight_as_the_end_is_the_end_of_the_day() {
        let lamps = Lamps::between(Time::constant(6, 0, 0, 0), Time::midnight()).expect("valid");
        let spans = lamps.spans(&TimeZone::UTC, 0, 24 * HOUR).expect("valid");
        assert_eq!(spans, [(6 * HOUR, 24 * HOUR)]);
    }
}

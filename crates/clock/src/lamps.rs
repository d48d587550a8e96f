//! Lamps on a timer.

use crate::ClockError;
use jiff::civil::{Date, Time};

/// A yearly season, both ends included; it may run over New Year.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Season {
    from: (i8, i8),
    to: (i8, i8),
}

impl Season {
    /// A season from a month and day to a month and day.
    ///
    /// # Errors
    /// [`ClockError::Season`] where a day does not exist in a leap year.
    ///
    /// ```
    /// use guardcell_clock::Season;
    /// use jiff::civil::date;
    /// # fn main() -> Result<(), guardcell_clock::ClockError> {
    /// let winter = Season::new((11, 1), (2, 28))?;
    /// assert!(winter.contains(date(2026, 12, 24)));
    /// assert!(!winter.contains(date(2026, 6, 24)));
    /// # Ok(())
    /// # }
    /// ```
    pub fn new(from: (i8, i8), to: (i8, i8)) -> Result<Self, ClockError> {
        for (month, day) in [from, to] {
            if Date::new(2024, month, day).is_err() {
                return Err(ClockError::Season { month, day });
            }
        }
        Ok(Self { from, to })
    }

    /// Whether the date is in the season.
    ///
    /// ```
    /// # fn main() -> Result<(), guardcell_clock::ClockError> {
    /// let s = guardcell_clock::Season::new((3, 1), (3, 31))?;
    /// assert!(s.contains(jiff::civil::date(2026, 3, 31)));
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub fn contains(&self, date: Date) -> bool {
        let day = (date.month(), date.day());
        if self.from <= self.to {
            (self.from..=self.to).contains(&day)
        } else {
            day >= self.from || day <= self.to
        }
    }
}

/// Lamps that go on and off at local clock times, once or several times a day. The off time may
/// be on the next day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lamps {
    runs: Vec<(Time, Time)>,
    off_season: Option<Season>,
}

impl Lamps {
    /// Lamps from `on` to `off`, local time; over midnight where `off` is the earlier.
    ///
    /// # Errors
    /// [`ClockError::LampTimes`] where the two are the same.
    ///
    /// ```
    /// use guardcell_clock::Lamps;
    /// use jiff::civil::time;
    /// assert!(Lamps::between(time(18, 0, 0, 0), time(6, 0, 0, 0)).is_ok()); // overnight
    /// assert!(Lamps::between(time(6, 0, 0, 0), time(6, 0, 0, 0)).is_err());
    /// ```
    pub fn between(on: Time, off: Time) -> Result<Self, ClockError> {
        Self { runs: Vec::new(), off_season: None }.and_between(on, off)
    }

    /// The same lamps with a further run each day. Runs may touch or overlap.
    ///
    /// # Errors
    /// [`ClockError::LampTimes`] where the two times are the same.
    ///
    /// ```
    /// use guardcell_clock::Lamps;
    /// use jiff::civil::time;
    /// # fn main() -> Result<(), guardcell_clock::ClockError> {
    /// let ends = Lamps::between(time(5, 0, 0, 0), time(8, 0, 0, 0))?
    ///     .and_between(time(16, 0, 0, 0), time(19, 0, 0, 0))?;
    /// # let _ = ends;
    /// # Ok(())
    /// # }
    /// ```
    pub fn and_between(mut self, on: Time, off: Time) -> Result<Self, ClockError> {
        if on == off {
            return Err(ClockError::LampTimes(on));
        }
        self.runs.push((on, off));
        Ok(self)
    }

    /// Lamps that never go out.
    ///
    /// ```
    /// assert_ne!(
    ///     guardcell_clock::Lamps::always(),
    ///     guardcell_clock::Lamps::between(
    ///         jiff::civil::time(6, 0, 0, 0),
    ///         jiff::civil::time(18, 0, 0, 0),
    ///     ).unwrap(),
    /// );
    /// ```
    #[must_use]
    pub fn always() -> Self {
        Self { runs: vec![(Time::midnight(), Time::midnight())], off_season: None }
    }

    /// The same lamps, left off on the dates of a season (an overnight run belongs to the date
    /// on which it starts).
    ///
    /// ```
    /// use guardcell_clock::{Lamps, Season};
    /// # fn main() -> Result<(), guardcell_clock::ClockError> {
    /// let summer_off = Lamps::always().off_in(Season::new((5, 1), (8, 31))?);
    /// assert_ne!(summer_off, Lamps::always());
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub const fn off_in(mut self, season: Season) -> Self {
        self.off_season = Some(season);
        self
    }

    /// The runs that start on this date: on, off, and whether off is on the next day.
    pub(crate) fn runs(&self, date: Date) -> impl Iterator<Item = (Time, Time, bool)> {
        let off = self.off_season.is_some_and(|s| s.contains(date));
        self.runs.iter().filter(move |_| !off).map(|&(on, off)| (on, off, off <= on))
    }
}

//! What can be wrong with a question to the clock.

use jiff::civil::Date;

/// Why the clock cannot answer.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum ClockError {
    /// The latitude is not on the globe.
    #[error("latitude {0}; it should be a number from -90 (south) to 90 (north) degrees")]
    Latitude(f64),
    /// The longitude is not on the globe.
    #[error("longitude {0}; it should be a number from -180 (west) to 180 (east) degrees")]
    Longitude(f64),
    /// The time zone is not in the IANA database.
    #[error(
        "time zone {0:?} is not known; it should be an IANA name such as \"Europe/London\" or \"America/Bogota\""
    )]
    Zone(String),
    /// The lamps go on and off at the same time.
    #[error(
        "lamps on at {0} and off at {0}; the two times should differ (for lamps that never go out say so with always on)"
    )]
    LampTimes(jiff::civil::Time),
    /// A season starts or ends on a day that no year has.
    #[error("month {month}, day {day} is not a day of the year; write for example month 11, day 1")]
    Season {
        /// The month given.
        month: i8,
        /// The day given.
        day: i8,
    },
    /// The date is outside the years the sun is computed for.
    #[error("{0} is outside the years 1900 to 2200 for which the sun is computed")]
    Year(Date),
    /// A window ends before it starts.
    #[error("the window ends at {to}, not after its start {from}; the end should be later")]
    Window {
        /// The start as given.
        from: String,
        /// The end as given.
        to: String,
    },
    /// A window is longer than the clock computes in one call.
    #[error("the window has {days} days; it should have at most {longest}: ask in parts")]
    TooLong {
        /// Its length.
        days: i64,
        /// The longest allowed.
        longest: i64,
    },
    /// The hours of air are not in order.
    #[error(
        "hour {index} of the air series starts at {start}, not after the hour before it; sort them and drop repeats"
    )]
    AirOrder {
        /// The place in the series, from 0.
        index: usize,
        /// The start as given.
        start: String,
    },
    /// A value of the air series cannot be.
    #[error("hour {index} of the air series: {what} is {value}; it should be {should}")]
    Air {
        /// The place in the series, from 0.
        index: usize,
        /// Which value.
        what: &'static str,
        /// The value in its unit.
        value: f64,
        /// What would be right.
        should: &'static str,
    },
    /// A share or probability is not between 0 and 1.
    #[error("{what} is {value}; it should be from 0 to 1")]
    Share {
        /// Which one.
        what: &'static str,
        /// The value.
        value: f64,
    },
    /// A duration of wetness or a temperature cannot be.
    #[error("{what} is {value}; it should be {should}")]
    Value {
        /// Which one.
        what: &'static str,
        /// The value in its unit.
        value: f64,
        /// What would be right.
        should: &'static str,
    },
    /// A date or time as text cannot be read.
    #[error("{at}: {text:?}; it should be {should}")]
    Text {
        /// JSON Pointer of the value.
        at: &'static str,
        /// The text as given.
        text: String,
        /// What would be right.
        should: &'static str,
    },
    /// The sun could not be computed.
    #[error("the sun could not be computed: {0}")]
    Sun(String),
    /// A time is beyond the calendar.
    #[error("a time is beyond the calendar: {0}")]
    Calendar(String),
}

impl From<jiff::Error> for ClockError {
    fn from(e: jiff::Error) -> Self {
        Self::Calendar(e.to_string())
    }
}

impl From<solar_positioning::Error> for ClockError {
    fn from(e: solar_positioning::Error) -> Self {
        Self::Sun(e.to_string())
    }
}

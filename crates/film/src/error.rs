//! What can be wrong with a request about a film.

/// Why a question about air or a film cannot be answered.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FilmError {
    /// A quantity lies outside the range the model is valid in.
    #[error("{pointer}: {what} is {value} {unit}; it should be from {low} to {high} {unit}")]
    OutOfRange {
        /// The JSON Pointer of the field in the request.
        pointer: &'static str,
        /// The quantity in words.
        what: &'static str,
        /// The number given, in `unit`.
        value: f64,
        /// The lowest number accepted.
        low: f64,
        /// The highest number accepted.
        high: f64,
        /// The unit of the three numbers.
        unit: &'static str,
    },
    /// Both a measured air speed and a word for it were given.
    #[error(
        "/air_words: both air_m_s and air_words are given; give the measured speed or the word, not both"
    )]
    AirTwice,
    /// A slice that must hold something is empty.
    #[error("{what} is empty; give at least one")]
    Empty {
        /// What was empty.
        what: &'static str,
    },
}

/// Checks a number against its range; NaN is out of every range.
pub(crate) fn in_range(
    pointer: &'static str,
    what: &'static str,
    value: f64,
    (low, high): (f64, f64),
    unit: &'static str,
) -> Result<f64, FilmError> {
    if value >= low && value <= high {
        Ok(value)
    } else {
        Err(FilmError::OutOfRange { pointer, what, value, low, high, unit })
    }
}

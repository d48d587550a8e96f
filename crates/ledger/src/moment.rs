//! Days of the grower's own calendar.

use guardcell_error::{Code, Error};
use jiff::civil::Date;

/// Reads `2026-06-21`.
pub(crate) fn date(text: &str) -> Result<Date, Error> {
    text.parse::<Date>().ok().filter(|d| d.to_string() == text).ok_or_else(|| {
        Error::new(
            Code::InvalidText,
            format!("{:?} is not a date", guardcell_error::excerpt(text, 60)),
            "write it like 2026-06-21",
        )
    })
}

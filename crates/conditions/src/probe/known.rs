//! What is known of an unknown file.

use crate::probe::stamp::DateOrder;
use jiff::Timestamp;

/// What is known of a file beside its text.
#[derive(Debug, Clone, Copy)]
pub struct Known<'a> {
    /// What messages call the file, and what the map names.
    pub file: &'a str,
    /// The time zone of a clock whose times have no offset.
    pub zone: Option<&'a str>,
    /// The area of the readings, where the file holds those of one.
    pub area: Option<&'a str>,
    /// Which of day and month is first, for a file that does not tell.
    pub date_order: Option<DateOrder>,
    /// The moment that ages are counted to.
    pub now: Timestamp,
}

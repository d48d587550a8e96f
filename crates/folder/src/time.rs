//! Hours of the day as people write them, and days of written times.

use jiff::civil::{Date, Time};

/// `7`, `7:00`, `07:30` as `HH:MM`; none for what is not a hour.
pub(crate) fn hour(text: &str) -> Option<String> {
    let text = text.trim();
    let (h, m) = text.split_once(':').unwrap_or((text, "0"));
    let number = |t: &str| t.parse::<i8>().ok().filter(|_| t.len() < 3);
    // Lamps that go off at midnight go off at 0.
    let h = if h == "24" { 0 } else { number(h)? };
    Time::new(h, number(m)?, 0, 0).ok().map(|t| t.strftime("%H:%M").to_string())
}

/// The day of a written time, on the clock it was written by.
pub(crate) fn day(text: &str) -> Option<Date> {
    text.get(..10)?.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::hour;

    #[test]
    fn hours_are_read() {
        assert_eq!(hour("7").as_deref(), Some("07:00"));
        assert_eq!(hour("7:05").as_deref(), Some("07:05"));
        assert_eq!(hour("24").as_deref(), Some("00:00"));
        for wrong in ["", "25", "7:60", "-1", "noon", "007", "7:"] {
            assert_eq!(hour(wrong), None, "{wrong}");
        }
    }
}

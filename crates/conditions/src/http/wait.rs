//! How long to wait before another try.

use reqwest::header::{DATE, HeaderMap};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::time::Duration;
use url::Url;

/// The first wait; each further one is twice as long.
const FIRST: Duration = Duration::from_millis(250);

/// A wait that doubles, spread by half either way so that many programs that failed together do
/// not come back together. The spread follows from the address and the number of the try.
pub(super) fn before(url: &Url, attempt: u32) -> Duration {
    let mut hasher = DefaultHasher::new();
    (url.as_str(), attempt, std::process::id()).hash(&mut hasher);
    let spread = 0.5 + (hasher.finish() % 1000) as f64 / 1000.0;
    FIRST.mul_f64(spread * f64::from(1_u32 << (attempt - 1).min(10)))
}

/// What `Retry-After` asks (RFC 9110, section 10.2.3): seconds, or a date, counted from the date
/// of the answer.
pub(super) fn asked(text: &str, headers: &HeaderMap) -> Option<Duration> {
    if let Ok(seconds) = text.trim().parse::<u32>() {
        return Some(Duration::from_secs(seconds.into()));
    }
    let date = |text: &str| jiff::fmt::rfc2822::parse(text.trim()).ok().map(|z| z.timestamp());
    let then = date(text)?;
    let now = headers.get(DATE).and_then(|v| v.to_str().ok()).and_then(date)?;
    Duration::try_from(then.duration_since(now)).ok().or(Some(Duration::ZERO))
}

#[cfg(test)]
mod tests {
    use super::*;
    use reqwest::header::HeaderValue;

    #[test]
    fn waits_double_within_their_spread() {
        let url = Url::parse("https://example.org").unwrap();
        for attempt in 1..5 {
            let wait = before(&url, attempt).as_secs_f64();
            let middle = 0.25 * f64::from(1 << (attempt - 1));
            assert!(wait >= middle * 0.5 && wait <= middle * 1.5, "{attempt}: {wait}");
        }
    }

    /// The two forms of RFC 9110, section 10.2.3.
    #[test]
    fn reads_both_forms_of_retry_after() {
        let mut headers = HeaderMap::new();
        assert_eq!(asked("120", &headers), Some(Duration::from_secs(120)));
        assert_eq!(asked("soon", &headers), None);
        headers.insert(DATE, HeaderValue::from_static("Fri, 31 Dec 1999 23:59:49 GMT"));
        assert_eq!(asked("Fri, 31 Dec 1999 23:59:59 GMT", &headers), Some(Duration::from_secs(10)));
    }
}

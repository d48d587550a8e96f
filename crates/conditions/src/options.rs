//! How a map is followed.

use jiff::Timestamp;

/// Options of following a map.
#[derive(Clone, Copy)]
pub struct Options<'a> {
    /// The moment that ages are counted to.
    pub now: Timestamp,
    /// Whether readings older than the map allows are accepted; the report says so.
    pub allow_stale: bool,
    /// Where `${NAME}` of addresses and headers comes from.
    pub environment: &'a dyn Fn(&str) -> Option<String>,
}

impl Options<'static> {
    /// Options at a moment: nothing stale, variables of the process.
    ///
    /// ```
    /// use guardcell_conditions::Options;
    /// let options = Options::at("2026-06-21T05:00:00Z".parse().unwrap());
    /// assert!(!options.allow_stale);
    /// ```
    #[must_use]
    pub fn at(now: Timestamp) -> Self {
        Self { now, allow_stale: false, environment: &|name| std::env::var(name).ok() }
    }
}

impl Options<'_> {
    /// The same, with stale readings allowed or not.
    ///
    /// ```
    /// use guardcell_conditions::Options;
    /// let options = Options::at("2026-06-21T05:00:00Z".parse().unwrap()).allowing_stale(true);
    /// assert!(options.allow_stale);
    /// ```
    #[must_use]
    pub const fn allowing_stale(self, allow_stale: bool) -> Self {
        Self { allow_stale, ..self }
    }
}

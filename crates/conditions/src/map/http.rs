//! How a map bounds what it asks of a network.

use super::within::within;
use guardcell::Error;
use serde::{Deserialize, Serialize};

/// Bounds of the connection. All of them may be left out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
pub struct HttpSettings {
    /// How long resolving the name and connecting may each take, in seconds, 0.1 to 60; 5 when
    /// left out.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.1, max = 60.0)))]
    pub connect_s: f64,
    /// How long one try may take in all, in seconds, 0.1 to 300; 20 by default.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.1, max = 300.0)))]
    pub total_s: f64,
    /// How often a try that failed is repeated (no connection, 429, 500, 502, 503, 504), 0 to 5; 2
    /// by default.
    #[cfg_attr(feature = "schema", schemars(range(min = 0, max = 5)))]
    pub retries: u32,
    /// The longest wait before a repeated try, in seconds, 0 to 120; 10 by default. A service
    /// that asks for more (Retry-After) is not asked again.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.0, max = 120.0)))]
    pub wait_most_s: f64,
    /// The largest answer taken, unpacked, in MiB, 0.001 to 256; 8 by default.
    #[cfg_attr(feature = "schema", schemars(range(min = 0.001, max = 256.0)))]
    pub most_mib: f64,
}

impl Default for HttpSettings {
    fn default() -> Self {
        Self { connect_s: 5.0, total_s: 20.0, retries: 2, wait_most_s: 10.0, most_mib: 8.0 }
    }
}

impl HttpSettings {
    pub(crate) fn check(&self) -> Result<(), Error> {
        let all = [
            ("connect_s", self.connect_s, 0.1, 60.0, "s"),
            ("total_s", self.total_s, 0.1, 300.0, "s"),
            ("retries", f64::from(self.retries), 0.0, 5.0, "tries"),
            ("wait_most_s", self.wait_most_s, 0.0, 120.0, "s"),
            ("most_mib", self.most_mib, 0.001, 256.0, "MiB"),
        ];
        for (key, value, low, high, unit) in all {
            within(key, Some(value), low, high, unit).map_err(|f| f.within("/http"))?;
        }
        Ok(())
    }
}

//! One reading of the air.

use guardcell_call::{Bound, bounds, setters};
use serde::{Deserialize, Serialize};

/// One reading (or forecast) of the air of an area.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Reading {
    /// When, RFC 3339 with offset.
    #[cfg_attr(feature = "schema", schemars(extend("format" = "date-time")))]
    pub time: String,
    /// The area it holds for; every area when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
    /// Air temperature in °C.
    pub temp_c: f64,
    /// Relative humidity in %.
    pub rh_percent: f64,
    /// Air speed at the leaves in m/s.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_m_s: Option<f64>,
    /// Global radiation at the leaves in W/m².
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radiation_w_m2: Option<f64>,
}

impl Reading {
    /// The air at a moment (RFC 3339 with offset): temperature in °C, relative humidity in %, for
    /// every area.
    #[must_use]
    pub fn new(time: impl Into<String>, temp_c: f64, rh_percent: f64) -> Self {
        Self {
            time: time.into(),
            area: None,
            temp_c,
            rh_percent,
            air_m_s: None,
            radiation_w_m2: None,
        }
    }
}

setters! { Reading {
    /// The same for one area alone.
    with_area(area?: String);
    /// The same with this air speed at the leaves in m/s.
    with_air_m_s(air_m_s?: f64);
    /// The same with this global radiation at the leaves in W/m².
    with_radiation_w_m2(radiation_w_m2?: f64);
} }

bounds! { Reading {
    time: Bound::text(1, 64),
    area: Bound::text(0, 100),
    temp_c: Reading::TEMP_C.bound(),
    rh_percent: Reading::RH_PERCENT.bound(),
    air_m_s: Reading::AIR_M_S.bound(),
    radiation_w_m2: Reading::RADIATION_W_M2.bound(),
} }

/// The range a number of a reading is accepted from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadingRange {
    /// The field of [`Reading`].
    pub field: &'static str,
    /// The lowest value accepted, in `unit`.
    pub low: f64,
    /// The highest value accepted, in `unit`.
    pub high: f64,
    /// The unit.
    pub unit: &'static str,
}

impl ReadingRange {
    const fn new(field: &'static str, low: f64, high: f64, unit: &'static str) -> Self {
        Self { field, low, high, unit }
    }

    const fn bound(self) -> Bound {
        Bound::number(self.low, self.high, self.unit)
    }
}

impl Reading {
    const TEMP_C: ReadingRange = ReadingRange::new("temp_c", -5.0, 50.0, "°C");
    const RH_PERCENT: ReadingRange = ReadingRange::new("rh_percent", 0.0, 100.0, "%");
    const AIR_M_S: ReadingRange = ReadingRange::new("air_m_s", 0.0, 30.0, "m/s");
    const RADIATION_W_M2: ReadingRange = ReadingRange::new("radiation_w_m2", 0.0, 1500.0, "W/m²");

    /// The ranges of temperature, humidity, air speed and radiation, in this order.
    ///
    /// ```
    /// # mod guardcell { pub mod advice { pub use guardcell_advice::*; } }
    /// use guardcell::advice::Reading;
    /// assert_eq!(Reading::RANGES[1].field, "rh_percent");
    /// ```
    pub const RANGES: [ReadingRange; 4] =
        [Self::TEMP_C, Self::RH_PERCENT, Self::AIR_M_S, Self::RADIATION_W_M2];
}

//! The ppm that a meter shows: EC at 25 °C times a factor of the meter's maker.
//!
//! Such a ppm is not a mass of anything. The trade has three scales, and the same water reads
//! differently on each.

use crate::conductivity::SpecificConductance;
use core::fmt;

/// A scale on which meters show EC as ppm.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Scale {
    /// 0.5 ppm per µS/cm.
    S500,
    /// 0.64 ppm per µS/cm.
    S640,
    /// 0.7 ppm per µS/cm.
    S700,
}

impl Scale {
    /// All scales of the trade.
    pub const ALL: [Self; 3] = [Self::S500, Self::S640, Self::S700];

    /// ppm shown per µS/cm at 25 °C. Definitions of the trade, exact; the factor 0.64 is also
    /// that of irrigation science (Ayers & Westcot 1985, FAO Irrigation and Drainage Paper 29:
    /// TDS mg/L ≈ 640 × EC dS/m).
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::tds_scale::Scale;
    /// assert_eq!(Scale::S700.ppm_per_us_cm(), 0.7);
    /// ```
    #[must_use]
    pub const fn ppm_per_us_cm(self) -> f64 {
        match self {
            Self::S500 => 0.5,
            Self::S640 => 0.64,
            Self::S700 => 0.7,
        }
    }

    /// The number growers call it by.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// assert_eq!(guardcell::units::tds_scale::Scale::S640.name(), "640");
    /// ```
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::S500 => "500",
            Self::S640 => "640",
            Self::S700 => "700",
        }
    }

    /// The scale of that name.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::tds_scale::Scale;
    /// assert_eq!(Scale::named("700"), Some(Scale::S700));
    /// assert_eq!(Scale::named("442"), None);
    /// ```
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|s| s.name() == name)
    }

    /// The EC that a meter on this scale shows as `ppm`.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::tds_scale::Scale;
    /// assert!((Scale::S500.ec(350.0).us_per_cm() - 700.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn ec(self, ppm: f64) -> SpecificConductance {
        SpecificConductance::from_us_per_cm(ppm / self.ppm_per_us_cm())
    }

    /// What a meter on this scale shows for an EC.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::conductivity::SpecificConductance;
    /// use guardcell::units::tds_scale::Scale;
    /// let ec = SpecificConductance::from_us_per_cm(1000.0);
    /// assert!((Scale::S640.ppm(ec) - 640.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn ppm(self, ec: SpecificConductance) -> f64 {
        ec.us_per_cm() * self.ppm_per_us_cm()
    }
}

impl fmt::Display for Scale {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

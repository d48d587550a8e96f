//! A point on the globe with its time zone.

use guardcell_error::{Code, Error, excerpt};
use jiff::tz::TimeZone;

/// A latitude, −90 to 90°, north positive.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Latitude(f64);

impl Latitude {
    /// A latitude from degrees north.
    ///
    /// # Errors
    /// [`Code::OutOfRange`] outside −90 to 90 or not a number.
    ///
    /// ```
    /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } }
    /// use guardcell::clock::Latitude;
    /// assert!(Latitude::from_degrees(-66.0).is_ok());
    /// assert!(Latitude::from_degrees(90.5).is_err());
    /// ```
    pub fn from_degrees(degrees: f64) -> Result<Self, Error> {
        if (-90.0..=90.0).contains(&degrees) {
            Ok(Self(degrees))
        } else {
            Err(out_of_range("latitude", degrees, "give -90 (south) to 90 (north) degrees"))
        }
    }

    /// The degrees north.
    ///
    /// ```
    /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } pub use guardcell_error::{Error}; }
    /// # fn main() -> Result<(), guardcell::Error> {
    /// assert_eq!(guardcell::clock::Latitude::from_degrees(1.5)?.degrees(), 1.5);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.0
    }
}

/// A longitude, −180 to 180°, east positive.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Longitude(f64);

impl Longitude {
    /// A longitude from degrees east.
    ///
    /// # Errors
    /// [`Code::OutOfRange`] outside −180 to 180 or not a number.
    ///
    /// ```
    /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } }
    /// use guardcell::clock::Longitude;
    /// assert!(Longitude::from_degrees(-180.0).is_ok());
    /// assert!(Longitude::from_degrees(f64::NAN).is_err());
    /// ```
    pub fn from_degrees(degrees: f64) -> Result<Self, Error> {
        if (-180.0..=180.0).contains(&degrees) {
            Ok(Self(degrees))
        } else {
            Err(out_of_range("longitude", degrees, "give -180 (west) to 180 (east) degrees"))
        }
    }

    /// The degrees east.
    ///
    /// ```
    /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } pub use guardcell_error::{Error}; }
    /// # fn main() -> Result<(), guardcell::Error> {
    /// assert_eq!(guardcell::clock::Longitude::from_degrees(-5.0)?.degrees(), -5.0);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.0
    }
}

fn out_of_range(what: &str, degrees: f64, hint: &str) -> Error {
    Error::new(Code::OutOfRange, format!("{what} {degrees}° is out of range"), hint)
}

/// A point on the globe with its time zone.
#[derive(Clone, Debug, PartialEq)]
pub struct Location {
    latitude: Latitude,
    longitude: Longitude,
    zone: TimeZone,
}

impl Location {
    /// A location in an IANA time zone (from the bundled database; the system's is not read).
    ///
    /// # Errors
    /// [`Code::InvalidText`] if the name is not in the database.
    ///
    /// ```
    /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } pub use guardcell_error::{Error}; }
    /// use guardcell::clock::{Latitude, Location, Longitude};
    /// # fn main() -> Result<(), guardcell::Error> {
    /// let (n, e) = (Latitude::from_degrees(37.8)?, Longitude::from_degrees(-25.5)?);
    /// assert!(Location::new(n, e, "Atlantic/Azores").is_ok());
    /// assert!(Location::new(n, e, "Atlantic/Atlantis").is_err());
    /// # Ok(())
    /// # }
    /// ```
    pub fn new(latitude: Latitude, longitude: Longitude, zone: &str) -> Result<Self, Error> {
        let zone = jiff::tz::db().get(zone).map_err(|e| {
            Error::new(
                Code::InvalidText,
                format!("unknown time zone {:?}", excerpt(zone, 60)),
                "give an IANA name such as \"Europe/London\" or \"America/Bogota\"",
            )
            .caused_by(e)
        })?;
        Ok(Self { latitude, longitude, zone })
    }

    /// The latitude.
    #[must_use]
    pub const fn latitude(&self) -> Latitude {
        self.latitude
    }

    /// The longitude.
    #[must_use]
    pub const fn longitude(&self) -> Longitude {
        self.longitude
    }

    /// The time zone.
    ///
    /// ```
    /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } pub use guardcell_error::{Error}; }
    /// use guardcell::clock::{Latitude, Location, Longitude};
    /// # fn main() -> Result<(), guardcell::Error> {
    /// let azores = Location::new(
    ///     Latitude::from_degrees(37.8)?, Longitude::from_degrees(-25.5)?, "Atlantic/Azores")?;
    /// assert_eq!((azores.latitude().degrees(), azores.longitude().degrees()), (37.8, -25.5));
    /// assert_eq!(azores.zone().iana_name(), Some("Atlantic/Azores"));
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub const fn zone(&self) -> &TimeZone {
        &self.zone
    }
}

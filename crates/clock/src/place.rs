//! Where the plants are.

use crate::{ClockError, Light};
use jiff::tz::TimeZone;

/// A latitude, −90 … 90°, north positive.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Latitude(f64);

impl Latitude {
    /// A latitude from degrees north.
    ///
    /// # Errors
    /// [`ClockError::Latitude`] outside −90 … 90 or not a number.
    ///
    /// ```
    /// use guardcell_clock::Latitude;
    /// assert!(Latitude::from_degrees(-66.0).is_ok());
    /// assert!(Latitude::from_degrees(90.5).is_err());
    /// ```
    pub fn from_degrees(degrees: f64) -> Result<Self, ClockError> {
        if (-90.0..=90.0).contains(&degrees) {
            Ok(Self(degrees))
        } else {
            Err(ClockError::Latitude(degrees))
        }
    }

    /// The degrees north.
    ///
    /// ```
    /// # fn main() -> Result<(), guardcell_clock::ClockError> {
    /// assert_eq!(guardcell_clock::Latitude::from_degrees(1.5)?.degrees(), 1.5);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.0
    }
}

/// A longitude, −180 … 180°, east positive.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Longitude(f64);

impl Longitude {
    /// A longitude from degrees east.
    ///
    /// # Errors
    /// [`ClockError::Longitude`] outside −180 … 180 or not a number.
    ///
    /// ```
    /// use guardcell_clock::Longitude;
    /// assert!(Longitude::from_degrees(-180.0).is_ok());
    /// assert!(Longitude::from_degrees(f64::NAN).is_err());
    /// ```
    pub fn from_degrees(degrees: f64) -> Result<Self, ClockError> {
        if (-180.0..=180.0).contains(&degrees) {
            Ok(Self(degrees))
        } else {
            Err(ClockError::Longitude(degrees))
        }
    }

    /// The degrees east.
    ///
    /// ```
    /// # fn main() -> Result<(), guardcell_clock::ClockError> {
    /// assert_eq!(guardcell_clock::Longitude::from_degrees(-5.0)?.degrees(), -5.0);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub const fn degrees(self) -> f64 {
        self.0
    }
}

/// A point on the globe with its time zone.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    latitude: Latitude,
    longitude: Longitude,
    zone: TimeZone,
}

impl Place {
    /// A place in an IANA time zone (the database is bundled, the system's is not read).
    ///
    /// # Errors
    /// [`ClockError::Zone`] where the name is not in the database.
    ///
    /// ```
    /// use guardcell_clock::{Latitude, Longitude, Place};
    /// # fn main() -> Result<(), guardcell_clock::ClockError> {
    /// let (n, e) = (Latitude::from_degrees(37.8)?, Longitude::from_degrees(-25.5)?);
    /// assert!(Place::new(n, e, "Atlantic/Azores").is_ok());
    /// assert!(Place::new(n, e, "Atlantic/Atlantis").is_err());
    /// # Ok(())
    /// # }
    /// ```
    pub fn new(latitude: Latitude, longitude: Longitude, zone: &str) -> Result<Self, ClockError> {
        let zone = jiff::tz::db().get(zone).map_err(|_| ClockError::Zone(zone.to_owned()))?;
        Ok(Self { latitude, longitude, zone })
    }

    /// The latitude.
    ///
    /// ```
    /// use guardcell_clock::{Latitude, Longitude, Place};
    /// # fn main() -> Result<(), guardcell_clock::ClockError> {
    /// let place = Place::new(
    ///     Latitude::from_degrees(37.8)?, Longitude::from_degrees(-25.5)?, "Atlantic/Azores")?;
    /// assert_eq!(place.latitude().degrees(), 37.8);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub const fn latitude(&self) -> Latitude {
        self.latitude
    }

    /// The longitude.
    ///
    /// ```
    /// use guardcell_clock::{Latitude, Longitude, Place};
    /// # fn main() -> Result<(), guardcell_clock::ClockError> {
    /// let place = Place::new(
    ///     Latitude::from_degrees(37.8)?, Longitude::from_degrees(-25.5)?, "Atlantic/Azores")?;
    /// assert_eq!(place.longitude().degrees(), -25.5);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub const fn longitude(&self) -> Longitude {
        self.longitude
    }

    /// The time zone.
    ///
    /// ```
    /// use guardcell_clock::{Latitude, Longitude, Place};
    /// # fn main() -> Result<(), guardcell_clock::ClockError> {
    /// let place = Place::new(
    ///     Latitude::from_degrees(37.8)?, Longitude::from_degrees(-25.5)?, "Atlantic/Azores")?;
    /// assert_eq!(place.zone().iana_name(), Some("Atlantic/Azores"));
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub const fn zone(&self) -> &TimeZone {
        &self.zone
    }
}

/// Whether winter reaches the plants.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Shelter {
    /// In a house, room or case.
    #[default]
    UnderCover,
    /// In the open: on trees, in beds.
    Outdoors,
}

/// A place with its light: what the plants take for day and night.
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    /// Where it is.
    pub place: Place,
    /// What lights it.
    pub light: Light,
    /// Whether it is under cover.
    pub shelter: Shelter,
}

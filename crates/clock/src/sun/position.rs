//! The position of the sun at an instant.

use crate::calendar::check_years;
use crate::location::Location;
use guardcell_error::Error;
use guardcell_units::uom::si::{angle::degree, f64::Angle};
use jiff::Timestamp;
use solar_positioning::time::JulianDate;
use solar_positioning::{PreparedPositions, SolarPositions};

/// Julian date of 1970-01-01T00:00Z.
const UNIX_EPOCH_JD: f64 = 2_440_587.5;
/// The years 2010 to 2110 for which algorithm 3 of Grena 2012 was made, in seconds.
const GRENA_S: core::ops::Range<f64> = 1_262_390_400.0..4_417_977_600.0;

/// UTC is taken as UT1 (they differ by less than 0.9 s).
pub(super) fn julian(seconds: f64) -> f64 {
    seconds / 86_400.0 + UNIX_EPOCH_JD
}

pub(super) fn seconds(julian: f64) -> f64 {
    (julian - UNIX_EPOCH_JD) * 86_400.0
}

pub(super) fn no_position(e: solar_positioning::Error) -> Error {
    Error::internal("the position of the sun could not be computed").caused_by(e)
}

/// The sun at an instant, seen from a location.
#[derive(Clone, Copy, Debug)]
pub(super) struct SunPosition {
    pub(super) at_s: f64,
    pub(super) elevation_deg: f64,
    pub(super) azimuth_deg: f64,
    pub(super) declination_deg: f64,
}

/// A location with the ΔT of its time, for positions of the sun.
#[derive(Clone, Copy, Debug)]
pub(super) struct Sky {
    pub(super) location: solar_positioning::Location,
    pub(super) delta_t: f64,
}

impl Sky {
    pub(super) fn new(location: &Location, at_s: i64) -> Result<Self, Error> {
        let year = 2000.0 + (julian(at_s as f64) - 2_451_544.5) / 365.242_5;
        Ok(Self {
            location: solar_positioning::Location {
                latitude: location.latitude().degrees(),
                longitude: location.longitude().degrees(),
            },
            delta_t: solar_positioning::delta_t::estimate(year).map_err(no_position)?,
        })
    }

    /// The same meridian at the equator, where the hour angle follows from any height.
    pub(super) fn at_equator(self) -> Self {
        let location = solar_positioning::Location { latitude: 0.0, ..self.location };
        Self { location, ..self }
    }

    /// The sun by SPA.
    pub(super) fn exact(&self, at_s: f64) -> Result<SunPosition, Error> {
        let time = JulianDate::new(julian(at_s), self.delta_t).map_err(no_position)?;
        self.position(at_s, &SolarPositions::new().for_time_from_julian(time).map_err(no_position)?)
    }

    /// The sun within 0.01°, several times faster in the years of Grena's algorithm.
    pub(super) fn quick(&self, at_s: f64) -> Result<SunPosition, Error> {
        if !GRENA_S.contains(&at_s) {
            return self.exact(at_s);
        }
        let time = JulianDate::new(julian(at_s), self.delta_t).map_err(no_position)?;
        self.position(
            at_s,
            &SolarPositions::grena3().for_time_from_julian(time).map_err(no_position)?,
        )
    }

    fn position(&self, at_s: f64, moment: &PreparedPositions) -> Result<SunPosition, Error> {
        let seen = moment.at(self.location, 0.0, None).map_err(no_position)?;
        Ok(SunPosition {
            at_s,
            elevation_deg: seen.elevation_angle(),
            azimuth_deg: seen.azimuth(),
            declination_deg: moment.declination(),
        })
    }
}

impl SunPosition {
    /// The hour angle at a latitude, degrees from −180 to 180, negative before noon.
    pub(super) fn hour_angle_deg(&self, latitude_deg: f64) -> f64 {
        let (sin_lat, cos_lat) = latitude_deg.to_radians().sin_cos();
        let (sin_el, cos_el) = self.elevation_deg.to_radians().sin_cos();
        let (sin_az, cos_az) = self.azimuth_deg.to_radians().sin_cos();
        (-sin_az * cos_el).atan2(sin_el * cos_lat - cos_az * cos_el * sin_lat).to_degrees()
    }
}

/// The elevation of the sun's centre above the level horizon, without refraction.
///
/// # Errors
/// [`Code::OutOfRange`](guardcell_error::Code::OutOfRange) outside 1900 to 2200.
///
/// ```
/// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } pub mod units { pub use guardcell_units::*; } }
/// use guardcell::clock::{Latitude, Location, Longitude, sun_elevation};
/// use guardcell::units::uom::si::angle::degree;
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let origin = Location::new(
///     Latitude::from_degrees(0.0)?, Longitude::from_degrees(0.0)?, "Etc/UTC")?;
/// let noon = sun_elevation(&origin, "2026-03-20T12:07Z".parse()?)?;
/// assert!(noon.get::<degree>() > 89.0);
/// # Ok(())
/// # }
/// ```
pub fn sun_elevation(location: &Location, at: Timestamp) -> Result<Angle, Error> {
    check_years(at)?;
    let position = Sky::new(location, at.as_second())?.exact(at.as_second() as f64)?;
    Ok(Angle::new::<degree>(position.elevation_deg))
}

//! A question about one date.

use crate::air::AirHour;
use crate::lamp_schedule::{LampCycle, LampRun, lamps};
use crate::location::{Latitude, Location, Longitude};
use crate::site::{Light, Shelter, Site};
use crate::trait_view::WaterStatus;
use guardcell_call::{Bound, Bounded, bounds};
use guardcell_error::{Code, Error, excerpt};
use guardcell_reference::parameters::clock as p;
use guardcell_units::quantity::{Pressure, ThermodynamicTemperature};
use guardcell_units::uom::si::{pressure::kilopascal, thermodynamic_temperature::degree_celsius};
use jiff::{Timestamp, civil};
use serde::{Deserialize, Serialize};

/// A question about one date at one location.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct DayRequest {
    /// Latitude in degrees, north positive.
    pub latitude_deg: f64,
    /// Longitude in degrees, east positive.
    pub longitude_deg: f64,
    /// IANA time zone, such as `Europe/London`.
    pub time_zone: String,
    /// The local date, `YYYY-MM-DD`, 1900 to 2200.
    #[cfg_attr(feature = "schema", schemars(extend("format" = "date")))]
    pub date: String,
    /// Where the light comes from.
    #[serde(default)]
    pub light: LightKind,
    /// Lamp hours; these or a cycle are required when `light` has lamps.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lamps: Vec<LampRun>,
    /// Lamps that are on and off in turn, instead of lamp hours.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lamp_cycle: Option<LampCycle>,
    /// Whether the plants are in the open.
    #[serde(default)]
    pub outdoors: bool,
    /// What the plants have had to drink.
    #[serde(default)]
    pub water_status: WaterStatus,
    /// The air hour by hour, in order of time; openings are not narrowed outside it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub hours: Vec<HourOfAir>,
}

bounds! { DayRequest {
    latitude_deg: Bound::number(-90.0, 90.0, "°"),
    longitude_deg: Bound::number(-180.0, 180.0, "°"),
    time_zone: Bound::text(1, 100),
    date: Bound::text(1, 40),
    lamps: Bound::items(0, 100),
    hours: Bound::items(0, 10_000),
} }

/// Where the light of the plants comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum LightKind {
    /// The sun.
    #[default]
    Sun,
    /// Lamps alone.
    Lamps,
    /// The sun, lengthened by lamps.
    SunAndLamps,
}

impl LightKind {
    /// The word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Sun => "sun",
            Self::Lamps => "lamps",
            Self::SunAndLamps => "sun_and_lamps",
        }
    }
}

/// The air of one hour.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct HourOfAir {
    /// When the hour starts, RFC 3339 with offset.
    #[cfg_attr(feature = "schema", schemars(extend("format" = "date-time")))]
    pub start: String,
    /// Air temperature in °C.
    pub temp_c: f64,
    /// Vapour pressure deficit in kPa.
    pub vpd_kpa: f64,
}

bounds! { HourOfAir {
    start: Bound::text(1, 64),
    temp_c: Bound::number(p::AIR_COLDEST.celsius(), p::AIR_WARMEST.celsius(), "°C"),
    vpd_kpa: Bound::number(0.0, p::VPD_HIGHEST.kpa(), "kPa"),
} }

guardcell_call::setters! { DayRequest {
    /// The same with this source of light.
    with_light(light: LightKind);
    /// The same with these lamp hours.
    with_lamps(lamps: Vec<LampRun>);
    /// The same with lamps in a cycle.
    with_lamp_cycle(lamp_cycle?: LampCycle);
    /// The same outdoors.
    with_outdoors(outdoors: bool);
    /// The same with plants supplied with water like this.
    with_water_status(water_status: WaterStatus);
    /// The same with this air.
    with_hours(hours: Vec<HourOfAir>);
} }

impl DayRequest {
    /// A sunlit place under cover on this date, with watered plants and unknown air.
    ///
    /// ```
    /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } pub use guardcell_error::{Error}; }
    /// use guardcell::clock::{DayRequest, Light};
    /// let request = DayRequest::new(50.2, -5.1, "Europe/London", "2026-06-21");
    /// assert_eq!(request.site()?.light, Light::Sun);
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    #[must_use]
    pub fn new(
        latitude_deg: f64,
        longitude_deg: f64,
        time_zone: impl Into<String>,
        date: impl Into<String>,
    ) -> Self {
        Self {
            latitude_deg,
            longitude_deg,
            time_zone: time_zone.into(),
            date: date.into(),
            light: LightKind::Sun,
            lamps: Vec::new(),
            lamp_cycle: None,
            outdoors: false,
            water_status: WaterStatus::Watered,
            hours: Vec::new(),
        }
    }

    /// The site it asks about.
    ///
    /// # Errors
    /// [`Code::OutOfRange`] or [`Code::InvalidText`] for the location, those of
    /// [`lamps`] and [`Code::Missing`] for the lamps; with a pointer.
    pub fn site(&self) -> Result<Site, Error> {
        self.check_bounds()?;
        let location = Location::new(
            Latitude::from_degrees(self.latitude_deg).map_err(|e| e.at("/latitude_deg"))?,
            Longitude::from_degrees(self.longitude_deg).map_err(|e| e.at("/longitude_deg"))?,
            &self.time_zone,
        )
        .map_err(|e| e.at("/time_zone"))?;
        // Lamps are checked even if the light does not use them.
        let lamps = lamps(&self.lamps, self.lamp_cycle.as_ref())?;
        let needed = || {
            lamps.clone().ok_or_else(|| {
                Error::new(
                    Code::Missing,
                    "the light has lamps and no lamp hours are given",
                    "give at least one run with on and off, or a lamp_cycle",
                )
                .at("/lamps")
            })
        };
        let light = match self.light {
            LightKind::Sun => Light::Sun,
            LightKind::Lamps => Light::Lamps(needed()?),
            LightKind::SunAndLamps => Light::SunAndLamps(needed()?),
        };
        let shelter = if self.outdoors { Shelter::Outdoors } else { Shelter::UnderCover };
        Ok(Site { location, light, shelter })
    }

    pub(crate) fn civil_date(&self) -> Result<civil::Date, Error> {
        self.date.trim().parse().map_err(|_| {
            Error::new(
                Code::InvalidText,
                format!("{:?} is not a date", excerpt(&self.date, 60)),
                "give a date such as 2026-06-21",
            )
            .at("/date")
        })
    }

    pub(crate) fn air(&self) -> Result<Vec<AirHour>, Error> {
        let hours = self.hours.iter().enumerate();
        hours.map(|(i, h)| h.checked().map_err(|e| e.within(&format!("/hours/{i}")))).collect()
    }
}

impl HourOfAir {
    fn checked(&self) -> Result<AirHour, Error> {
        self.check_bounds()?;
        let start: Timestamp = self.start.parse().map_err(|_| {
            Error::new(
                Code::InvalidText,
                format!("{:?} is not a time with an offset", excerpt(&self.start, 60)),
                "give a time such as 2026-06-21T05:00:00+01:00",
            )
            .at("/start")
        })?;
        Ok(AirHour {
            start,
            temperature: ThermodynamicTemperature::new::<degree_celsius>(self.temp_c),
            vpd: Pressure::new::<kilopascal>(self.vpd_kpa),
        })
    }
}

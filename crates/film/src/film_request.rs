//! A film to dry, on the wire.

use crate::air::AirRequest;
use crate::air_movement::{AirSpeed, AirWord};
use crate::bound;
use crate::dissolved::Dissolved;
use crate::leaf::{Leaf, WetSides};
use crate::mix::Mix;
use crate::moist_air::MoistAir;
use crate::residue::ResidueThreshold;
use crate::spraying::Spraying;
use guardcell_call::{Bound, Bounded, Limited, bounds};
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::film as data;
use guardcell_units::quantity::{ArealMassDensity, HeatFluxDensity, Length, Ratio, Velocity};
use guardcell_units::uom::si::{
    areal_mass_density::gram_per_square_meter, heat_flux_density::watt_per_square_meter,
    length::centimeter, ratio::percent, velocity::meter_per_second,
};
use serde::{Deserialize, Serialize};

/// A film to dry. Defaults: sea-level pressure, light air, a 5 cm leaf wet on one side, no net
/// radiation, 100 g/m², pure water, one pass, the shipped threshold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub struct FilmRequest {
    /// Air temperature in °C.
    pub temp_c: f64,
    /// Relative humidity in %.
    pub rh_percent: f64,
    /// Air pressure in kPa.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure_kpa: Option<f64>,
    /// Air speed at the leaf in m/s.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_m_s: Option<f64>,
    /// A word for the air movement, instead of the speed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_words: Option<AirWord>,
    /// Leaf dimension along the air flow in cm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leaf_cm: Option<f64>,
    /// The leaf is too stiff to flutter in wind; a fluttering leaf dries up to 1.4 times faster.
    #[serde(default)]
    pub stiff_leaf: bool,
    /// Sides of the leaf that are wet.
    #[serde(default)]
    pub wet_sides: WetSides,
    /// Net radiation absorbed by the leaf in W/m².
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub net_radiation_w_m2: Option<f64>,
    /// Film load after run-off per wet side in g/m².
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load_g_m2: Option<f64>,
    /// What is dissolved in the spray, feed and water together.
    #[serde(default)]
    pub composition: Dissolved,
    /// Passes of the feed, each laid when the one before has dried.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub passes: Option<u8>,
    /// A last pass of pure water.
    #[serde(default)]
    pub plain_water_pass: bool,
    /// A wetting agent is in the spray.
    #[serde(default)]
    pub wetting_agent: bool,
    /// Relative humidity in % of the driest air the leaf sees before the next spraying; by default
    /// that of the drying.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub driest_rh_percent: Option<f64>,
    /// This grower's residue threshold in g/m² instead of the shipped one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub threshold_g_m2: Option<f64>,
    /// Include the time course.
    #[serde(default)]
    pub course: bool,
}

bounds! { FilmRequest {
    temp_c: bound::TEMPERATURE,
    rh_percent: bound::HUMIDITY,
    pressure_kpa: bound::PRESSURE,
    air_m_s: bound::AIR_SPEED,
    leaf_cm: bound::LEAF_WIDTH,
    net_radiation_w_m2: bound::NET_RADIATION,
    load_g_m2: bound::LOAD,
    passes: bound::PASSES,
    driest_rh_percent: bound::HUMIDITY,
    threshold_g_m2: bound::THRESHOLD,
} }

/// A request as the model takes it.
pub(crate) struct FilmCase {
    pub(crate) air: MoistAir,
    pub(crate) driest: MoistAir,
    pub(crate) speed: AirSpeed,
    pub(crate) leaf: Leaf,
    pub(crate) mix: Mix,
    pub(crate) spraying: Spraying,
    pub(crate) threshold: ResidueThreshold,
}

guardcell_call::setters! { FilmRequest {
    /// The same at this air pressure in kPa.
    with_pressure_kpa(pressure_kpa?: f64);
    /// The same in air of this speed in m/s.
    with_air_m_s(air_m_s?: f64);
    /// The same in air that moves as this word says.
    with_air_words(air_words?: AirWord);
    /// The same on a leaf of this dimension in cm.
    with_leaf_cm(leaf_cm?: f64);
    /// The same wet on these sides.
    with_wet_sides(wet_sides: WetSides);
    /// The same absorbing this net radiation in W/m².
    with_net_radiation_w_m2(net_radiation_w_m2?: f64);
    /// The same with this film load in g/m².
    with_load_g_m2(load_g_m2?: f64);
    /// The same with this dissolved in the spray.
    with_composition(composition: Dissolved);
    /// The same in this many passes.
    with_passes(passes: u8);
    /// The same with drier air before the next spraying, in % relative humidity.
    with_driest_rh_percent(driest_rh_percent?: f64);
    /// The same with this grower's residue threshold in g/m².
    with_threshold_g_m2(threshold_g_m2?: f64);
} }

impl FilmRequest {
    /// A request for this temperature and humidity with everything else at its default.
    ///
    /// ```
    /// # mod guardcell { pub use guardcell_error::{Error}; pub mod film { pub use guardcell_film::*; } }
    /// use guardcell::film::{AirWord, FilmRequest, film};
    /// let request = FilmRequest::new(22.0, 60.0).with_air_words(AirWord::Fan);
    /// assert!(film(&request)?.dry_minutes.is_some());
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    #[must_use]
    pub fn new(temp_c: f64, rh_percent: f64) -> Self {
        Self {
            temp_c,
            rh_percent,
            pressure_kpa: None,
            air_m_s: None,
            air_words: None,
            leaf_cm: None,
            stiff_leaf: false,
            wet_sides: WetSides::One,
            net_radiation_w_m2: None,
            load_g_m2: None,
            composition: Dissolved::default(),
            passes: None,
            plain_water_pass: false,
            wetting_agent: false,
            driest_rh_percent: None,
            threshold_g_m2: None,
            course: false,
        }
    }

    /// The same on a leaf that does not flutter.
    #[must_use]
    pub fn with_stiff_leaf(mut self) -> Self {
        self.stiff_leaf = true;
        self
    }

    /// The same with a last pass of pure water.
    #[must_use]
    pub fn with_plain_water_pass(mut self) -> Self {
        self.plain_water_pass = true;
        self
    }

    /// The same with a wetting agent in the spray.
    #[must_use]
    pub fn with_wetting_agent(mut self) -> Self {
        self.wetting_agent = true;
        self
    }

    /// The same with its time course.
    #[must_use]
    pub fn with_course(mut self) -> Self {
        self.course = true;
        self
    }

    pub(crate) fn checked(&self) -> Result<FilmCase, Error> {
        self.check_bounds()?;
        let air = AirRequest {
            temp_c: self.temp_c,
            rh_percent: self.rh_percent,
            pressure_kpa: self.pressure_kpa,
        }
        .moist_air()?;
        let composition = self.composition.composition().map_err(|e| e.within("/composition"))?;
        let load = self.load_g_m2.unwrap_or(data::FILM_LOAD_DEFAULT.g_per_m2());
        Ok(FilmCase {
            driest: self.driest(&air)?,
            speed: self.speed()?,
            leaf: self.leaf()?,
            mix: Mix::new(&composition, air.temperature()),
            spraying: Spraying {
                passes: self.passes.unwrap_or(1),
                plain_water_pass: self.plain_water_pass,
                wetting_agent: self.wetting_agent,
                ..Spraying::one_pass(ArealMassDensity::new::<gram_per_square_meter>(load))
            },
            threshold: self.threshold(),
            air,
        })
    }

    fn speed(&self) -> Result<AirSpeed, Error> {
        match (self.air_m_s, self.air_words) {
            (Some(_), Some(_)) => Err(Error::new(
                Code::Conflict,
                "both air_m_s and air_words are given",
                "give the measured speed or the word, not both",
            )
            .at("/air_words")),
            (Some(v), None) => AirSpeed::measured(Velocity::new::<meter_per_second>(v)),
            (None, word) => Ok(word.unwrap_or(AirWord::Light).into()),
        }
    }

    fn leaf(&self) -> Result<Leaf, Error> {
        let cm = self.leaf_cm.unwrap_or(data::LEAF_WIDTH_DEFAULT.cm());
        let net = self.net_radiation_w_m2.unwrap_or(0.0);
        let leaf = Leaf::new(Length::new::<centimeter>(cm))?
            .wet_on(self.wet_sides)
            .absorbing(HeatFluxDensity::new::<watt_per_square_meter>(net))?;
        Ok(if self.stiff_leaf { leaf } else { leaf.fluttering() })
    }

    fn driest(&self, air: &MoistAir) -> Result<MoistAir, Error> {
        let Some(rh) = self.driest_rh_percent else { return Ok(*air) };
        let no_damper = Bound::number(data::HUMIDITY_LOWEST.percent(), self.rh_percent, "%");
        rh.check(&no_damper, "/driest_rh_percent")?;
        Ok(air.at_humidity(Ratio::new::<percent>(rh)))
    }

    fn threshold(&self) -> ResidueThreshold {
        let shipped = ResidueThreshold::shipped();
        self.threshold_g_m2.map_or(shipped, |g| {
            ResidueThreshold::new(
                ArealMassDensity::new::<gram_per_square_meter>(g),
                shipped.log_sd(),
            )
        })
    }
}

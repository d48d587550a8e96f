//! The wire function for one drying film.

use crate::air_movement::{AirSpeed, AirWord};
use crate::air_report::AirRequest;
use crate::burn::{burn, burn_limit, root_drop};
use crate::drying::{drying, drying_course};
use crate::error::{FilmError, in_range};
use crate::leaf::{Leaf, WetSides};
use crate::mix::{FilmState, Mix};
use crate::residue::{ResidueThreshold, Spraying, residue};
use guardcell_reference::parameters::film as data;
use guardcell_reference::{Composition, Solute};
use guardcell_units::quantity::{
    ArealMassDensity, HeatFluxDensity, Length, Ratio, Velocity, in_mg_per_l, mmol_per_l,
};
use guardcell_units::uom::si::{
    areal_mass_density::gram_per_square_meter,
    heat_flux_density::watt_per_square_meter,
    length::centimeter,
    ratio::{percent, ratio},
    thermodynamic_temperature::degree_celsius,
    time::minute,
    velocity::meter_per_second,
};
use serde::{Deserialize, Serialize};

/// What is dissolved in the spray, as analytical totals; what is not given is absent.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields, default)]
pub struct Dissolved {
    /// Calcium in mmol/L.
    pub ca_mmol_l: f64,
    /// Magnesium in mmol/L.
    pub mg_mmol_l: f64,
    /// Potassium in mmol/L.
    pub k_mmol_l: f64,
    /// Sodium in mmol/L.
    pub na_mmol_l: f64,
    /// Ammoniacal nitrogen in mmol/L.
    pub nh4_mmol_l: f64,
    /// Nitrate in mmol/L.
    pub no3_mmol_l: f64,
    /// Orthophosphate in mmol/L of P.
    pub p_mmol_l: f64,
    /// Sulfate in mmol/L.
    pub so4_mmol_l: f64,
    /// Chloride in mmol/L.
    pub cl_mmol_l: f64,
    /// Dissolved inorganic carbon (mostly hydrogencarbonate) in mmol/L.
    pub dic_mmol_l: f64,
    /// Urea in mmol/L of CO(NH2)2.
    pub urea_mmol_l: f64,
}

impl Dissolved {
    fn values(&self) -> [(&'static str, Solute, f64); 11] {
        [
            ("/composition/ca_mmol_l", Solute::Ca, self.ca_mmol_l),
            ("/composition/mg_mmol_l", Solute::Mg, self.mg_mmol_l),
            ("/composition/k_mmol_l", Solute::K, self.k_mmol_l),
            ("/composition/na_mmol_l", Solute::Na, self.na_mmol_l),
            ("/composition/nh4_mmol_l", Solute::Nh4, self.nh4_mmol_l),
            ("/composition/no3_mmol_l", Solute::No3, self.no3_mmol_l),
            ("/composition/p_mmol_l", Solute::P, self.p_mmol_l),
            ("/composition/so4_mmol_l", Solute::So4, self.so4_mmol_l),
            ("/composition/cl_mmol_l", Solute::Cl, self.cl_mmol_l),
            ("/composition/dic_mmol_l", Solute::Dic, self.dic_mmol_l),
            ("/composition/urea_mmol_l", Solute::Urea, self.urea_mmol_l),
        ]
    }

    /// The composition, checked: each amount from 0 to 1000 mmol/L.
    ///
    /// # Errors
    /// [`FilmError::OutOfRange`] with the pointer of the first amount that is not.
    ///
    /// ```
    /// use guardcell_film::Dissolved;
    /// assert!(Dissolved { ca_mmol_l: -1.0, ..Dissolved::default() }.composition().is_err());
    /// ```
    pub fn composition(&self) -> Result<Composition, FilmError> {
        let mut c = Composition::PURE_WATER;
        for (pointer, solute, value) in self.values() {
            let what = "amount dissolved";
            in_range(pointer, what, value, (0.0, data::AMOUNT_HIGHEST.value), "mmol/L")?;
            c[solute] = mmol_per_l(value);
        }
        Ok(c)
    }
}

impl From<&Composition> for Dissolved {
    fn from(c: &Composition) -> Self {
        let mmol = |s: Solute| guardcell_units::quantity::in_mmol_per_l(c[s]);
        Self {
            ca_mmol_l: mmol(Solute::Ca),
            mg_mmol_l: mmol(Solute::Mg),
            k_mmol_l: mmol(Solute::K),
            na_mmol_l: mmol(Solute::Na),
            nh4_mmol_l: mmol(Solute::Nh4),
            no3_mmol_l: mmol(Solute::No3),
            p_mmol_l: mmol(Solute::P),
            so4_mmol_l: mmol(Solute::So4),
            cl_mmol_l: mmol(Solute::Cl),
            dic_mmol_l: mmol(Solute::Dic),
            urea_mmol_l: mmol(Solute::Urea),
        }
    }
}

/// A film to dry. What is not given: sea-level pressure, light air, a 5 cm leaf wet on one side,
/// no net radiation, 100 g/m², pure water, one pass, the shipped threshold.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub struct FilmRequest {
    /// Air temperature in °C, −5 to 50.
    pub temp_c: f64,
    /// Relative humidity in %, 1 to 100.
    pub rh_percent: f64,
    /// Air pressure in kPa.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure_kpa: Option<f64>,
    /// Air speed at the leaf in m/s, 0 to 20.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_m_s: Option<f64>,
    /// A word for the air movement, instead of the speed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_words: Option<AirWord>,
    /// Leaf dimension along the air flow in cm, 0.2 to 60.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leaf_cm: Option<f64>,
    /// Sides of the leaf that are wet.
    #[serde(default)]
    pub wet_sides: WetSides,
    /// Net radiation absorbed by the leaf in W/m².
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub net_radiation_w_m2: Option<f64>,
    /// Film load after run-off per wet side in g/m², 0 to 1000.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub load_g_m2: Option<f64>,
    /// What is dissolved in the spray, feed and water together.
    #[serde(default)]
    pub composition: Dissolved,
    /// Passes of the feed, each laid when the one before has dried, 1 to 9.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub passes: Option<u8>,
    /// A last pass of pure water.
    #[serde(default)]
    pub plain_water_pass: bool,
    /// A wetting agent is in the spray.
    #[serde(default)]
    pub wetting_agent: bool,
    /// Relative humidity in % of the driest air the leaf sees before the next spraying; that of the
    /// drying where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub driest_rh_percent: Option<f64>,
    /// This grower's residue threshold in g/m² instead of the shipped one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub threshold_g_m2: Option<f64>,
    /// Include the time course.
    #[serde(default)]
    pub course: bool,
}

impl FilmRequest {
    /// A request for this temperature and humidity with everything else at its default.
    ///
    /// ```
    /// use guardcell_film::{FilmRequest, film};
    /// let report = film(&FilmRequest::new(22.0, 60.0))?;
    /// assert!(report.dry_minutes.is_some());
    /// # Ok::<(), guardcell_film::FilmError>(())
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

    fn speed(&self) -> Result<AirSpeed, FilmError> {
        match (self.air_m_s, self.air_words) {
            (Some(_), Some(_)) => Err(FilmError::AirTwice),
            (Some(v), None) => AirSpeed::measured(Velocity::new::<meter_per_second>(v)),
            (None, word) => Ok(word.unwrap_or(AirWord::Light).into()),
        }
    }

    fn leaf(&self) -> Result<Leaf, FilmError> {
        let cm = self.leaf_cm.unwrap_or(data::LEAF_WIDTH_DEFAULT.value);
        let net = self.net_radiation_w_m2.unwrap_or(0.0);
        Leaf::new(Length::new::<centimeter>(cm))?
            .wet_on(self.wet_sides)
            .absorbing(HeatFluxDensity::new::<watt_per_square_meter>(net))
    }
}

/// How one film dries and what it leaves.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub struct FilmReport {
    /// Minutes until the leaf is dry to the touch (1 % of the water or 1 g/m² is left, whichever is
    /// less; none for pure water); null where it stays wet.
    pub dry_minutes: Option<f64>,
    /// What is on the leaf in the end: `wet` (all salts dissolved), `partly-solid`, `dry`.
    pub state: FilmState,
    /// Solids left, feed salts and scale together, in g/m² of a wet side.
    pub residue_g_m2: f64,
    /// Of which feed salts.
    pub feed_residue_g_m2: f64,
    /// Of which carbonate scale of the water.
    pub scale_residue_g_m2: f64,
    /// About 1 chance in 10 that less is left.
    pub residue_low_g_m2: f64,
    /// About 1 chance in 10 that more is left.
    pub residue_high_g_m2: f64,
    /// Probability that the grower sees it, 0 to 1.
    pub residue_probability: f64,
    /// Highest concentration of everything dissolved that the film passes through, in g/L.
    pub peak_concentration_g_l: f64,
    /// Feed strength with what the water brings, in mg/L (scale formers as carbonates).
    pub strength_mg_l: f64,
    /// Liquid water left at equilibrium with the air, in g/m².
    pub liquid_left_g_m2: f64,
    /// Humidity at and above which every feed salt stays dissolved, in %.
    pub stays_wet_above_percent: f64,
    /// Humidity below which nothing liquid is left, in %; 0 where the mix does not dry in any room.
    pub dry_below_percent: f64,
    /// The soluble salt that forms first as the film dries.
    pub first_solid: Option<String>,
    /// What the leaf takes up of the feed in g/m², uncertain by a factor of about 3.
    pub taken_up_g_m2: f64,
    /// Lowest temperature of the leaf in °C.
    pub leaf_temp_c: f64,
    /// Highest concentration of a drop that hangs at a root tip, in g/L.
    pub root_drop_peak_g_l: f64,
    /// Minutes that drop is above the burn limit; null where it stays so.
    pub root_drop_minutes_above_limit: Option<f64>,
    /// The burn limit in g/L.
    pub burn_limit_g_l: f64,
    /// The root tip is at risk.
    pub burn_risk: bool,
    /// Charge of the composition that could not be closed and was left out, in %.
    pub charge_imbalance_percent: f64,
    /// The time course, where asked for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub course: Vec<FilmMoment>,
}

/// The film at one moment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub struct FilmMoment {
    /// Minutes since the film was laid.
    pub minutes: f64,
    /// Liquid water in g/m².
    pub water_g_m2: f64,
    /// Everything dissolved in g/L.
    pub concentration_g_l: f64,
    /// Solid feed salts with their water of crystallisation, in g/m².
    pub solids_g_m2: f64,
    /// Leaf temperature in °C.
    pub leaf_temp_c: f64,
}

/// Dries one film.
///
/// # Errors
/// [`FilmError`] with the JSON Pointer of the field that is out of range.
///
/// ```
/// use guardcell_film::{AirWord, Dissolved, FilmRequest, film};
/// let report = film(&FilmRequest {
///     air_words: Some(AirWord::Fan),
///     composition: Dissolved { k_mmol_l: 3.0, no3_mmol_l: 3.0, ..Dissolved::default() },
///     ..FilmRequest::new(22.0, 40.0)
/// })?;
/// assert_eq!(report.first_solid.as_deref(), Some("potassium nitrate"));
/// assert!(report.residue_g_m2 > 0.029);
/// # Ok::<(), guardcell_film::FilmError>(())
/// ```
pub fn film(request: &FilmRequest) -> Result<FilmReport, FilmError> {
    let air = AirRequest {
        temp_c: request.temp_c,
        rh_percent: request.rh_percent,
        pressure_kpa: request.pressure_kpa,
    }
    .moist_air()?;
    let speed = request.speed()?;
    let leaf = request.leaf()?;
    let load = request.load_g_m2.unwrap_or(data::FILM_LOAD_DEFAULT.value);
    let range = (0.0, data::FILM_LOAD_HIGHEST.value);
    in_range("/load_g_m2", "film load", load, range, "g/m²")?;
    let load = ArealMassDensity::new::<gram_per_square_meter>(load);
    let passes = request.passes.unwrap_or(1);
    in_range("/passes", "number of passes", f64::from(passes), (1.0, 9.0), "")?;
    let driest = match request.driest_rh_percent {
        None => air,
        Some(p) => {
            let range = (data::HUMIDITY_LOWEST.value, request.rh_percent);
            in_range("/driest_rh_percent", "driest relative humidity", p, range, "%")?;
            air.at_humidity(Ratio::new::<percent>(p))
        }
    };
    let threshold = match request.threshold_g_m2 {
        None => ResidueThreshold::shipped(),
        Some(g) => {
            in_range("/threshold_g_m2", "residue threshold", g, (1e-4, 100.0), "g/m²")?;
            ResidueThreshold::new(
                ArealMassDensity::new::<gram_per_square_meter>(g),
                ResidueThreshold::shipped().log_sd(),
            )
        }
    };
    let mix = Mix::new(&request.composition.composition()?, air.temperature());
    let spraying = Spraying {
        passes,
        plain_water_pass: request.plain_water_pass,
        wetting_agent: request.wetting_agent,
        ..Spraying::one_pass(load)
    };
    let dried = drying(&mix, &leaf, &air, speed.likely(), load);
    let left = residue(&mix, &leaf, &driest, &speed, &spraying, &threshold);
    let drop = burn(&mix, &air, speed.likely(), root_drop(), burn_limit());
    let course = if request.course {
        drying_course(&mix, &leaf, &air, speed.likely(), load)
            .into_iter()
            .map(|m| FilmMoment {
                minutes: m.time.get::<minute>(),
                water_g_m2: m.water.get::<gram_per_square_meter>(),
                concentration_g_l: in_mg_per_l(m.concentration) / 1000.0,
                solids_g_m2: (m.solids + m.bound).get::<gram_per_square_meter>(),
                leaf_temp_c: m.balance.leaf_temperature.get::<degree_celsius>(),
            })
            .collect()
    } else {
        Vec::new()
    };
    Ok(FilmReport {
        dry_minutes: dried.time_to_dry.map(|t| t.get::<minute>()),
        state: dried.state,
        residue_g_m2: left.total().get::<gram_per_square_meter>(),
        feed_residue_g_m2: left.feed.get::<gram_per_square_meter>(),
        scale_residue_g_m2: left.scale.get::<gram_per_square_meter>(),
        residue_low_g_m2: left.low.get::<gram_per_square_meter>(),
        residue_high_g_m2: left.high.get::<gram_per_square_meter>(),
        residue_probability: left.probability.get::<ratio>(),
        peak_concentration_g_l: in_mg_per_l(dried.peak_concentration) / 1000.0,
        strength_mg_l: in_mg_per_l(mix.strength()),
        liquid_left_g_m2: dried.liquid_left.get::<gram_per_square_meter>(),
        stays_wet_above_percent: mix.stays_wet_above().get::<percent>(),
        dry_below_percent: mix.dry_below().get::<percent>(),
        first_solid: mix.first_solid().map(|s| s.name.to_owned()),
        taken_up_g_m2: left.taken_up.get::<gram_per_square_meter>(),
        leaf_temp_c: dried.coldest.get::<degree_celsius>(),
        root_drop_peak_g_l: in_mg_per_l(drop.peak_concentration) / 1000.0,
        root_drop_minutes_above_limit: drop.above_limit.map(|t| t.get::<minute>()),
        burn_limit_g_l: in_mg_per_l(drop.limit) / 1000.0,
        burn_risk: drop.at_risk,
        charge_imbalance_percent: mix.charge_imbalance().get::<percent>(),
        course,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bad_input_is_named() {
        let refused = |r: FilmRequest| film(&r).expect_err("out of range").to_string();
        assert!(refused(FilmRequest::new(250.0, 50.0)).starts_with("/temp_c"));
        assert!(refused(FilmRequest::new(20.0, 140.0)).starts_with("/rh_percent"));
        assert!(refused(FilmRequest::new(20.0, f64::NAN)).starts_with("/rh_percent"));
        let both = FilmRequest {
            air_m_s: Some(1.0),
            air_words: Some(AirWord::Fan),
            ..FilmRequest::new(20.0, 50.0)
        };
        assert!(refused(both).starts_with("/air_words"));
        let negative = FilmRequest {
            composition: Dissolved { k_mmol_l: -1.0, ..Dissolved::default() },
            ..FilmRequest::new(20.0, 50.0)
        };
        assert!(refused(negative).starts_with("/composition/k_mmol_l"));
    }

    #[test]
    fn states_on_the_wire() {
        let json = |s: FilmState| serde_json::to_string(&s).expect("serialises");
        assert_eq!(json(FilmState::PartlySolid), "\"partly-solid\"");
        assert_eq!(json(FilmState::Wet), "\"wet\"");
        assert_eq!(json(FilmState::Dry), "\"dry\"");
    }

    #[test]
    fn no_number_is_nan() {
        for rh in [1.0, 30.0, 75.0, 100.0] {
            for k in [0.0, 1e-9, 3.0, 900.0] {
                let r = FilmRequest {
                    composition: Dissolved {
                        k_mmol_l: k,
                        no3_mmol_l: k,
                        urea_mmol_l: k,
                        ..Dissolved::default()
                    },
                    course: true,
                    ..FilmRequest::new(20.0, rh)
                };
                let text = serde_json::to_string(&film(&r).expect("valid")).expect("serialises");
                let value: serde_json::Value = serde_json::from_str(&text).expect("valid JSON");
                // serde_json writes NaN and infinity as null; only these two may be null.
                for (key, v) in value.as_object().expect("an object") {
                    let nullable = ["dry_minutes", "first_solid", "root_drop_minutes_above_limit"];
                    assert!(!v.is_null() || nullable.contains(&key.as_str()), "{key} {rh} {k}");
                }
                assert!(!text.contains("\"concentration_g_l\":null"));
            }
        }
    }
}

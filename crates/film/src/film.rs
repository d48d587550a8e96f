//! How one film dries and what it leaves.

use crate::burn::{Burn, burn, burn_limit, root_drop};
use crate::drying::{Drying, Moment, drying, drying_course};
use crate::film_request::{FilmCase, FilmRequest};
use crate::mix::{FilmState, Mix};
use crate::residue::{Residue, residue};
use guardcell_error::Error;
use guardcell_reference::parameters::film as data;
use guardcell_units::quantity::in_mg_per_l;
use guardcell_units::uom::si::{
    areal_mass_density::gram_per_square_meter,
    ratio::{percent, ratio},
    thermodynamic_temperature::degree_celsius,
    time::minute,
};
use serde::{Deserialize, Serialize};

/// How one film dries and what it leaves.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct FilmResponse {
    /// Minutes until the leaf is dry to the touch (1 % of the water or 1 g/m² is left, whichever is
    /// less; no water for pure water); null if it stays wet.
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
    /// Carbonate scale of the water, in mg/L of the spray.
    pub scale_mg_l: f64,
    /// Liquid water left at equilibrium with the air, in g/m².
    pub liquid_left_g_m2: f64,
    /// Humidity at and above which every feed salt stays dissolved, in %.
    pub stays_wet_above_percent: f64,
    /// Humidity below which nothing liquid is left, in %; 0 if the mix does not dry in any room.
    pub dry_below_percent: f64,
    /// The soluble salt that forms first as the film dries.
    pub first_solid: Option<String>,
    /// What the leaf takes up of the feed in g/m², uncertain by a factor of about 3.
    pub taken_up_g_m2: f64,
    /// Lowest temperature of the leaf in °C.
    pub leaf_temp_c: f64,
    /// Highest concentration of a drop that hangs at a root tip, in g/L.
    pub root_drop_peak_g_l: f64,
    /// Minutes that drop is above the burn limit; null if it stays so.
    pub root_drop_minutes_above_limit: Option<f64>,
    /// The burn limit in g/L.
    pub burn_limit_g_l: f64,
    /// The root tip is at risk.
    pub burn_risk: bool,
    /// Charge of the composition that could not be closed and was omitted, in % of all charges;
    /// positive for an excess of cations.
    pub charge_imbalance_percent: f64,
    /// What to know before relying on the answer.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notices: Vec<FilmNotice>,
    /// The time course, if asked for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub course: Vec<FilmMoment>,
}

/// What to know before relying on an answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct FilmNotice {
    /// The kind.
    pub code: FilmNoticeCode,
    /// In a sentence.
    pub message: String,
}

/// The kinds of notices.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum FilmNoticeCode {
    /// Cations and anions of the composition do not cancel.
    ChargeImbalance,
}

/// The film at one moment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
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
/// With a pointer: [`Code::OutOfRange`](guardcell_error::Code::OutOfRange) for a field outside its
/// range, [`Code::Conflict`](guardcell_error::Code::Conflict) for an air speed given twice.
///
/// ```
/// # mod guardcell { pub use guardcell_error::{Error}; pub mod film { pub use guardcell_film::*; } }
/// use guardcell::film::{AirWord, Dissolved, FilmRequest, film};
/// let feed = Dissolved { k_mmol_l: 3.0, no3_mmol_l: 3.0, ..Dissolved::default() };
/// let request =
///     FilmRequest::new(22.0, 40.0).with_air_words(AirWord::Fan).with_composition(feed);
/// let response = film(&request)?;
/// assert_eq!(response.first_solid.as_deref(), Some("potassium nitrate"));
/// assert!(response.residue_g_m2 > 0.029);
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn film(request: &FilmRequest) -> Result<FilmResponse, Error> {
    let case = request.checked()?;
    let FilmCase { air, driest, speed, leaf, mix, spraying, threshold } = &case;
    let dried = drying(mix, leaf, air, speed.likely(), spraying.load);
    let left = residue(mix, leaf, driest, speed, spraying, threshold);
    let drop = burn(mix, air, speed.likely(), root_drop(), burn_limit());
    let course = if request.course {
        drying_course(mix, leaf, air, speed.likely(), spraying.load)
            .iter()
            .map(FilmMoment::from)
            .collect()
    } else {
        Vec::new()
    };
    Ok(response(mix, &dried, &left, &drop, course))
}

fn response(
    mix: &Mix,
    dried: &Drying,
    left: &Residue,
    drop: &Burn,
    course: Vec<FilmMoment>,
) -> FilmResponse {
    FilmResponse {
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
        scale_mg_l: in_mg_per_l(mix.scale()),
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
        notices: notices(mix),
        course,
    }
}

fn notices(mix: &Mix) -> Vec<FilmNotice> {
    let imbalance = mix.charge_imbalance().get::<percent>();
    if imbalance.abs() <= data::IMBALANCE_NOTICE.percent() {
        return Vec::new();
    }
    let (more, less) = if imbalance > 0.0 { ("cations", "anions") } else { ("anions", "cations") };
    vec![FilmNotice {
        code: FilmNoticeCode::ChargeImbalance,
        message: format!(
            "The composition has {:.0} % more charge of {more} than of {less}: an amount is wrong or \
             missing, and the surplus is omitted from the answer.",
            imbalance.abs()
        ),
    }]
}

impl From<&Moment> for FilmMoment {
    fn from(m: &Moment) -> Self {
        Self {
            minutes: m.time.get::<minute>(),
            water_g_m2: m.water.get::<gram_per_square_meter>(),
            concentration_g_l: in_mg_per_l(m.concentration) / 1000.0,
            solids_g_m2: (m.solids + m.bound).get::<gram_per_square_meter>(),
            leaf_temp_c: m.balance.leaf_temperature.get::<degree_celsius>(),
        }
    }
}

#[cfg(test)]
mod tests;

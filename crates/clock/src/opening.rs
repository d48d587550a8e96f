//! Openings: when the stomata of one plant are expected open.

use crate::air::{self, AirHour, Hour};
use crate::light::DAY_SECONDS;
use crate::piece::{self, Piece};
use crate::{
    Because, ClockError, Code, LightHours, Pathway, Reason, Site, TraitView, WaterStatus, both, c3,
    cam, light_hours, preference,
};
use guardcell_reference::parameters::clock as p;
use guardcell_units::quantity::Ratio;
use guardcell_units::uom::si::ratio::ratio;
use jiff::ZonedDateTime;

/// Which opening of the day it is. The phases are those of CAM (Osmond 1978).
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub enum Phase {
    /// A C3 leaf in the light.
    #[serde(rename = "day-open")]
    DayOpen,
    /// A CAM leaf in the dark.
    #[serde(rename = "phase-i")]
    PhaseI,
    /// A CAM leaf after dawn.
    #[serde(rename = "phase-ii")]
    PhaseII,
    /// A CAM leaf before dusk.
    #[serde(rename = "phase-iv")]
    PhaseIV,
}

/// How practice ranks an opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Preference {
    /// 1 is best; from 4 on, practice is against it.
    pub rank: u8,
    /// Why.
    pub code: Code,
}

/// An interval of local time in which the stomata of one plant are expected open.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// When it starts, in the zone of the site.
    pub start: ZonedDateTime,
    /// When it ends.
    pub end: ZonedDateTime,
    /// Which opening it is. Where either pathway opens here, the CAM phase.
    pub phase: Phase,
    /// The part of the day or night; none in light without end.
    pub part: Option<crate::PeakTime>,
    /// Open by C3 and by CAM alike.
    pub either_pathway: bool,
    /// The probability that the stomata are open, mean over the interval. A judgement built on
    /// the factors of `data/clock.csv`, not a measured frequency.
    pub probability: Ratio,
    /// How practice ranks it.
    pub preference: Preference,
    /// Why it is there and as it is.
    pub reasons: Vec<Reason>,
}

/// The openings of a plant over a window.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Openings {
    /// In order of time, without overlaps.
    pub openings: Vec<Opening>,
    /// What holds for the window as a whole: why openings are missing, what is not known.
    pub reasons: Vec<Reason>,
}

impl Openings {
    /// The openings with the best first: by practice, then by probability, then by time.
    ///
    /// ```
    /// assert!(guardcell_clock::Openings::default().ranked().is_empty());
    /// ```
    #[must_use]
    pub fn ranked(&self) -> Vec<&Opening> {
        let mut all: Vec<&Opening> = self.openings.iter().collect();
        all.sort_by(|a, b| {
            a.preference
                .rank
                .cmp(&b.preference.rank)
                .then(b.probability.value.total_cmp(&a.probability.value))
                .then(a.start.cmp(&b.start))
        });
        all
    }
}

/// The openings of one plant at a site between two times.
///
/// `hours` is the air hour by hour, sorted; where it does not reach, neither dryness nor
/// temperature narrows the openings and they say so.
///
/// # Errors
/// [`ClockError::Window`], [`ClockError::TooLong`], [`ClockError::Year`] for the window,
/// [`ClockError::Air`], [`ClockError::AirOrder`] for the air, [`ClockError::Share`] for the share.
///
/// ```
/// use guardcell_clock::*;
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let place = Place::new(
///     Latitude::from_degrees(50.2)?, Longitude::from_degrees(-5.1)?, "Europe/London")?;
/// let site = Site { place, light: Light::Sun, shelter: Shelter::UnderCover };
/// let from = "2026-06-21T12:00[Europe/London]".parse()?;
/// let to = "2026-06-22T12:00[Europe/London]".parse()?;
/// let plant = TraitView::of(Pathway::Cam);
/// let found = openings(&plant, &site, &from, &to, &[], WaterStatus::Watered)?;
/// let best = found.ranked()[0];
/// assert_eq!((best.phase, best.part), (Phase::PhaseI, Some(PeakTime::PreDawn)));
/// # Ok(())
/// # }
/// ```
pub fn openings(
    plant: &TraitView,
    site: &Site,
    from: &ZonedDateTime,
    to: &ZonedDateTime,
    hours: &[AirHour],
    water: WaterStatus,
) -> Result<Openings, ClockError> {
    let light = light_hours(site, from.timestamp(), to.timestamp())?;
    openings_in(plant, &light, hours, water)
}

/// The same with the light already computed, for many plants at one site.
///
/// # Errors
/// [`ClockError::Air`], [`ClockError::AirOrder`], [`ClockError::Share`].
///
/// ```
/// use guardcell_clock::*;
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let place = Place::new(
///     Latitude::from_degrees(50.2)?, Longitude::from_degrees(-5.1)?, "Europe/London")?;
/// let site = Site { place, light: Light::Sun, shelter: Shelter::UnderCover };
/// let light = light_hours(
///     &site, "2026-06-21T00:00Z".parse()?, "2026-06-22T00:00Z".parse()?)?;
/// let plant = TraitView { leafless: true, ..TraitView::of(Pathway::Cam) };
/// let found = openings_in(&plant, &light, &[], WaterStatus::Watered)?;
/// assert!(found.openings.is_empty());
/// assert_eq!(found.reasons[0].code, Code::LeaflessRootOnly);
/// # Ok(())
/// # }
/// ```
pub fn openings_in(
    plant: &TraitView,
    light: &LightHours,
    hours: &[AirHour],
    water: WaterStatus,
) -> Result<Openings, ClockError> {
    let air = air::checked(hours)?;
    let (share, share_code) = cam_share(plant, water)?;
    let mut whole = share_code.map_or(0, Code::bit);
    if plant.leafless {
        return Ok(nothing(Code::LeaflessRootOnly));
    }
    if water == WaterStatus::SevereDrought {
        return Ok(nothing(Code::DroughtShuts));
    }
    let endless = |spans: &[(i64, i64)]| {
        spans.iter().any(|&(a, b)| b - a > DAY_SECONDS && a.max(light.from) < b.min(light.to))
    };
    if endless(&light.dark) {
        whole |= Code::NoLight.bit();
    }
    let mut pieces_of = |cam: bool| {
        let (candidates, limits) = if cam {
            (cam::pieces(light, plant.opens_peak, water), &piece::CAM)
        } else {
            (c3::pieces(light, plant.opens_peak, water), &piece::C3)
        };
        if cam && endless(&light.lit) {
            whole |= Code::NoNight.bit();
        }
        let (pieces, cut) = piece::narrow(&candidates, &air, limits);
        whole |= cut;
        pieces
    };
    let mixed = share > 0.0 && share < 1.0;
    let pieces = if mixed {
        let (cam, c3) = (pieces_of(true), pieces_of(false));
        both::weave(&cam, &c3, share)
    } else {
        pieces_of(share >= 1.0)
    };
    Ok(Openings {
        openings: pieces.iter().map(|p| opening(p, light, &air, mixed)).collect(),
        reasons: reasons(whole, None),
    })
}

fn nothing(code: Code) -> Openings {
    Openings { openings: Vec::new(), reasons: vec![Reason::plain(code)] }
}

/// The probability that the plant runs CAM, and why that is not 0 or 1.
fn cam_share(plant: &TraitView, water: WaterStatus) -> Result<(f64, Option<Code>), ClockError> {
    if let Some(share) = plant.cam_share {
        let value = share.get::<ratio>();
        if !(0.0..=1.0).contains(&value) {
            return Err(ClockError::Share { what: "the share of CAM species", value });
        }
    }
    Ok(match (plant.pathway, plant.cam_share) {
        (Pathway::C3, _) => (0.0, None),
        (Pathway::Cam, _) => (1.0, None),
        (Pathway::Facultative, _) => {
            let share = if water == WaterStatus::Watered {
                p::FACULTATIVE_CAM_SHARE_WATERED
            } else {
                p::FACULTATIVE_CAM_SHARE_DRY
            };
            (share.value, Some(Code::FacultativeSplit))
        }
        (Pathway::Variable, Some(share)) => (share.get::<ratio>(), Some(Code::VariableShare)),
        (Pathway::Variable, None) => (p::UNKNOWN_CAM_SHARE.value, Some(Code::VariableShareUnknown)),
        (Pathway::Unknown, _) => (p::UNKNOWN_CAM_SHARE.value, Some(Code::PathwayUnknown)),
    })
}

fn opening(piece: &Piece, light: &LightHours, air: &[Hour], mixed: bool) -> Opening {
    Opening {
        start: light.zoned(piece.start),
        end: light.zoned(piece.end),
        phase: piece.phase,
        part: piece.part,
        either_pathway: piece.either,
        probability: Ratio::new::<ratio>(piece.open.clamp(0.0, 1.0)),
        preference: preference::of(piece, light, air, mixed),
        reasons: reasons(piece.codes, Some(piece)),
    }
}

/// The reasons of a set of codes, in the order of the table.
fn reasons(codes: u64, piece: Option<&Piece>) -> Vec<Reason> {
    Code::ALL
        .iter()
        .filter(|c| codes & c.bit() != 0)
        .map(|&code| Reason {
            code,
            because: piece.and_then(|p| because(code, p)).into_iter().collect(),
        })
        .collect()
}

fn because(code: Code, piece: &Piece) -> Option<Because> {
    let (name, value) = match code {
        Code::VpdNarrows => ("driest_vpd_kpa", piece.air.driest_kpa),
        Code::ColdNarrows => ("coldest_c", piece.air.coldest_c),
        Code::HeatNarrows => ("warmest_c", piece.air.warmest_c),
        _ => return None,
    };
    value.is_finite().then_some(Because { name, value })
}

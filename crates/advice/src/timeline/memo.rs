//! What has been computed for a timeline already, and the shapes of the results.

use crate::air::KnownAir;
use crate::counterfactual::AirChange;
use guardcell_film::wetness::AirSpan;
use guardcell_film::{AirWord, Exposure};
use jiff::Timestamp;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// What a film leaves when it is sprayed at a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct FilmOutcome {
    pub(crate) residue_probability: f64,
    pub(crate) feed_g_m2: f64,
    pub(crate) scale_g_m2: f64,
    /// Standard deviation of the natural logarithm of the feed salts; `None` where none are left.
    pub(crate) feed_log_sd: Option<f64>,
    /// The driest air of the day that follows, which decides what turns solid.
    pub(crate) driest: KnownAir,
    pub(crate) driest_at: Timestamp,
}

/// The share of the feed that enters the leaf before it is dry, or within the hours that are
/// counted where it stays wet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct ShareTakenUp {
    /// Minutes until the leaf is dry to the touch; `None` where it stays wet.
    pub(crate) dry_minutes: Option<f64>,
    pub(crate) low: f64,
    pub(crate) likely: f64,
    pub(crate) high: f64,
    /// The likely share over that of a leaf that stays wet for all the hours counted.
    pub(crate) of_the_most: f64,
}

/// The drop that hangs at a root tip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct RootDrop {
    pub(crate) peak_g_l: f64,
    pub(crate) limit_g_l: f64,
    /// Minutes above the limit; `None` where it stays there.
    pub(crate) minutes_above: Option<f64>,
    pub(crate) at_risk: bool,
}

/// The last is the spread of the strength, bit by bit.
pub(super) type OutcomeKey = (usize, u64, u8, AirChange, u8, u64);
pub(super) type ExposureKey = (usize, i8, Option<AirWord>, u8);

/// What has been computed already.
#[derive(Debug, Default)]
pub(super) struct FilmMemo {
    pub(super) outcomes: RefCell<BTreeMap<OutcomeKey, FilmOutcome>>,
    /// The shaded leaf in the air of a step, at a node of its uncertain humidity.
    pub(super) exposures: RefCell<BTreeMap<ExposureKey, Exposure>>,
    pub(super) shares: RefCell<BTreeMap<(usize, u64, AirChange, u8), ShareTakenUp>>,
    pub(super) drops: RefCell<BTreeMap<(usize, u64), RootDrop>>,
    pub(super) velamen: RefCell<BTreeMap<(usize, AirChange), Option<f64>>>,
}

/// The nights of a timeline in air that may be changed.
#[derive(Debug)]
pub(super) struct Nights {
    /// The air of every hour from the start on, for the film.
    pub(super) spans: Vec<AirSpan>,
    /// When a film sprayed at a step is dry to the touch.
    pub(super) dry: Vec<Option<Timestamp>>,
    /// Whether a film sprayed at a step stays wet for too long.
    pub(super) too_long: Vec<Option<bool>>,
}

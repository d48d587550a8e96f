//! An opening: a stretch of local time in which stomata are expected open.

use crate::code::Code;
use crate::phase::Phase;
use crate::reason::Reason;
use guardcell_reference::PeakTime;
use guardcell_units::quantity::Ratio;
use jiff::ZonedDateTime;

/// How practice ranks an opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Preference {
    /// 1 is best; from 4 on, practice is against it.
    pub rank: u8,
    /// Why.
    pub code: Code,
}

/// A stretch of local time in which the stomata of one plant are expected open.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// When it starts, in the zone of the site.
    pub start: ZonedDateTime,
    /// When it ends.
    pub end: ZonedDateTime,
    /// Which opening it is. If either pathway opens here, the CAM phase.
    pub phase: Phase,
    /// The part of the day or night; `None` in light without end.
    pub part: Option<PeakTime>,
    /// Open by C3 and by CAM alike.
    pub either_pathway: bool,
    /// The probability that the stomata are open, mean over its time. A judgement built on the
    /// factors of `data/clock.csv`, not a measured frequency.
    pub probability: Ratio,
    /// How practice ranks it.
    pub preference: Preference,
    /// Why it is there and as it is.
    pub reasons: Vec<Reason>,
}

/// The openings of a plant over a window.
#[derive(Clone, Debug, Default, PartialEq)]
#[non_exhaustive]
pub struct Openings {
    /// In order of time, without overlaps.
    pub openings: Vec<Opening>,
    /// What holds for the window as a whole: why openings are missing, what is not known.
    pub reasons: Vec<Reason>,
}

impl Openings {
    /// No openings, for one reason.
    pub(crate) fn none(code: Code) -> Self {
        Self { openings: Vec::new(), reasons: vec![Reason::new(code)] }
    }

    /// The openings with the best first: by practice, then by probability, then by time.
    ///
    /// ```
    /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } }
    /// assert!(guardcell::clock::Openings::default().ranked().is_empty());
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

//! What is decided for plants that are alike.

use super::changes::{self, Possible};
use super::doses::Subject;
use super::near::{self, Near};
use super::search::{Candidate, Found, Horizon, Lowered, Obstacle, Search};
use super::unknown::{self, UnknownSpread};
use crate::counterfactual::Counterfactual;
use crate::openings::PlantOpenings;
use crate::timeline::AreaTimeline;
use guardcell_error::Error;
use std::rc::Rc;

/// What is decided for plants that are alike in all that decides.
#[derive(Debug)]
pub(crate) struct Decision {
    pub(crate) subject: Subject,
    pub(crate) openings: Rc<PlantOpenings>,
    /// Windows with feed, best first.
    pub(crate) fed: Vec<Candidate>,
    /// Windows for plain water, best first; only where no feed is possible.
    pub(crate) water: Vec<Candidate>,
    /// What stood in the way last, where no window was found.
    pub(crate) obstacle: Option<Obstacle>,
    /// Why the best window does not get the highest strength that practice allows the plant.
    pub(crate) lowered: Option<Lowered>,
    /// Limits that lie within the error of the instruments, and what lies beyond.
    pub(crate) near: Vec<Near>,
    /// What would make a window, cheapest first.
    pub(crate) changes: Vec<Possible>,
    /// What was not known of the area, and how far it moves the answer.
    pub(crate) unknowns: Vec<UnknownSpread>,
}

/// Decides for one kind of plant in one area.
pub(crate) fn decide(
    subject: Subject,
    openings: Rc<PlantOpenings>,
    timeline: &AreaTimeline<'_>,
) -> Result<Decision, Error> {
    let search = Search {
        timeline,
        openings: &openings.list,
        subject: &subject,
        horizon: Horizon::Asked,
        change: Counterfactual::default(),
    };
    let Found { fed, water, obstacle } = search.run()?;
    let lowered = match fed.first() {
        Some(best) => search.lowered(best)?,
        None => None,
    };
    let near = match fed.first() {
        Some(best) => near::of(&search, best, lowered.as_ref())?,
        None => near::of_nothing(&search, obstacle),
    };
    let changes = if fed.is_empty() { changes::of(&search, obstacle, &water)? } else { Vec::new() };
    let unknowns = match fed.first().or_else(|| water.first()) {
        Some(best) => unknown::of(timeline, best)?,
        None => Vec::new(),
    };
    Ok(Decision { subject, openings, fed, water, obstacle, lowered, near, changes, unknowns })
}

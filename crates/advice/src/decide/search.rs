//! Where opening, residue, night and working hours overlap: the windows of a plant, ranked by the
//! objective.

use super::doses::Subject;
use super::objective::{self, Terms};
use crate::counterfactual::Counterfactual;
use crate::dose::Dose;
use crate::request::Standing;
use crate::rule::{self, AirFacts, Constraint};
use crate::timeline::{AreaTimeline, FilmOutcome, RootDrop, ShareTakenUp};
use guardcell_clock::Opening;
use guardcell_error::Error;
use guardcell_reference::parameters::{film, practice as p};
use guardcell_units::uom::si::ratio::ratio;
use jiff::{SignedDuration, Timestamp};
use std::collections::BTreeMap;

/// What keeps a step of time from being used, in the order it is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Obstacle {
    /// What is free is shorter than the shortest window; whatever else cut it explains more.
    TooShort,
    /// The readings end too long before.
    NoReading,
    /// It is not due.
    NotDue,
    /// The dark months: in a room for this standing, or in the evening.
    DarkMonth,
    TooCold,
    /// Practice refuses the opening.
    Refused,
    TooSunny,
    NobodyThere,
    WetNight,
    /// The pot has no room for a useful dose.
    Weekly,
    /// The journal proposes less than a useful dose.
    Learned,
    /// The turn is one of plain water.
    WaterTurn,
    /// Feed is too much; plain water would do.
    Residue,
    /// Even the water alone is too much.
    Scale,
}

/// One usable stretch of time with a dose.
#[derive(Debug, Clone)]
pub(crate) struct Candidate {
    /// Index of its opening.
    pub(crate) opening: usize,
    pub(crate) start: Timestamp,
    pub(crate) end: Timestamp,
    pub(crate) dose: Dose,
    /// The worst outcome of its steps.
    pub(crate) worst: FilmOutcome,
    pub(crate) worst_step: usize,
    /// First step, middle step, and the one after the last.
    pub(crate) steps: (usize, usize, usize),
    /// What enters before the leaf is dry, sprayed in the middle of the window.
    pub(crate) share: ShareTakenUp,
    /// Minutes for which the velamen stays wet, for roots in the air; `None` where it does not dry.
    pub(crate) velamen_minutes: Option<Option<f64>>,
    pub(crate) terms: Terms,
    pub(crate) worth: f64,
}

/// The outcome of a search.
#[derive(Debug)]
pub(crate) struct Found {
    pub(crate) fed: Vec<Candidate>,
    pub(crate) water: Vec<Candidate>,
    /// The obstacle met last: the steps it took had passed all the others.
    pub(crate) obstacle: Option<Obstacle>,
}

/// A strength below what practice allows, and the constraint that bound it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Lowered {
    pub(crate) from_mg_l: f64,
    pub(crate) to_mg_l: f64,
    /// The next stronger feed, which was not advised.
    pub(crate) next_mg_l: f64,
    /// Its probability of visible residue at the worst hour of the window.
    pub(crate) next_residue_probability: f64,
    pub(crate) by: Constraint,
}

/// Which openings are searched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Horizon {
    /// Those that begin in the time looked at.
    Asked,
    /// Those that begin in the day after it.
    DayAfter,
}

/// A search for windows.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Search<'a> {
    pub(crate) timeline: &'a AreaTimeline<'a>,
    pub(crate) openings: &'a [Opening],
    pub(crate) subject: &'a Subject,
    pub(crate) horizon: Horizon,
    pub(crate) change: Counterfactual,
}

impl Search<'_> {
    pub(crate) fn run(&self) -> Result<Found, Error> {
        let doses = self.subject.doses();
        let mut found = Found { fed: Vec::new(), water: Vec::new(), obstacle: None };
        let mut blocked: BTreeMap<Obstacle, usize> = BTreeMap::new();
        for (index, opening) in self.openings.iter().enumerate() {
            if !self.is_searched(opening) {
                continue;
            }
            let free = self.free_steps(opening, &mut blocked)?;
            let before = found.fed.len();
            self.feed_windows(index, opening, &free, &doses, &mut found.fed)?;
            if found.fed.len() == before && !free.is_empty() {
                found.water.extend(self.runs(index, opening, &free, Dose::WATER)?.0);
                let why = if self.is_too_short(opening, &free) {
                    Obstacle::TooShort
                } else {
                    self.why_not(&free, &doses)?
                };
                *blocked.entry(why).or_default() += free.len();
            }
        }
        rank(&mut found.fed);
        rank(&mut found.water);
        self.drop_root_risks(&mut found.fed)?;
        found.obstacle = blocked.keys().next_back().copied().map(|last| {
            // Where the better opening is too cold, that practice refuses the other explains little.
            let cold = last == Obstacle::Refused && blocked.contains_key(&Obstacle::TooCold);
            if cold { Obstacle::TooCold } else { last }
        });
        Ok(found)
    }

    fn is_searched(&self, opening: &Opening) -> bool {
        let (start, end) = (opening.start.timestamp(), self.timeline.end());
        let day_after = end.saturating_add(SignedDuration::from_hours(24)).unwrap_or(end);
        match self.horizon {
            Horizon::Asked => start < end,
            Horizon::DayAfter => start >= end && start < day_after,
        }
    }

    /// The steps of an opening that nothing keeps from use, whatever the dose.
    fn free_steps(
        &self,
        opening: &Opening,
        blocked: &mut BTreeMap<Obstacle, usize>,
    ) -> Result<Vec<usize>, Error> {
        let steps = self.timeline.steps_in(opening.start.timestamp(), opening.end.timestamp());
        let mut free = Vec::with_capacity(steps.len());
        for step in steps {
            guardcell_call::checkpoint();
            match self.step_obstacle(step, opening)? {
                None => free.push(step),
                Some(obstacle) => *blocked.entry(obstacle).or_default() += 1,
            }
        }
        Ok(free)
    }

    fn step_obstacle(&self, step: usize, opening: &Opening) -> Result<Option<Obstacle>, Error> {
        let at = self.timeline.time(step);
        if !self.timeline.is_near_a_reading(step) {
            return Ok(Some(Obstacle::NoReading));
        }
        if self.subject.not_before.is_some_and(|t| at < t) {
            return Ok(Some(Obstacle::NotDue));
        }
        if self.rests(at)? {
            return Ok(Some(Obstacle::DarkMonth));
        }
        let air = self.timeline.air(step)?.air;
        if air.temp_c < p::FEED_TEMPERATURE_LEAST.celsius() {
            return Ok(Some(Obstacle::TooCold));
        }
        if objective::place(opening.preference.rank) <= 0.0 {
            return Ok(Some(Obstacle::Refused));
        }
        if air.radiation_w_m2.is_some_and(|r| r > p::SUN_RADIATION_MOST.w_per_m2()) {
            return Ok(Some(Obstacle::TooSunny));
        }
        if !self.change.any_hour && !self.timeline.at_work(at) {
            return Ok(Some(Obstacle::NobodyThere));
        }
        if self.timeline.wet_too_long(step, self.change.air)? {
            return Ok(Some(Obstacle::WetNight));
        }
        Ok(None)
    }

    /// Whether the dark months keep this plant dry at a moment.
    fn rests(&self, at: Timestamp) -> Result<bool, Error> {
        let dark = self.timeline.in_dark_month(at)?;
        let cared_for = matches!(self.subject.standing, Standing::Weak | Standing::Rootless);
        if dark && self.timeline.is_room() && !cared_for {
            return Ok(true);
        }
        Ok(dark && self.timeline.in_dark_evening(at)?)
    }

    /// The windows with feed of one opening.
    fn feed_windows(
        &self,
        index: usize,
        opening: &Opening,
        free: &[usize],
        doses: &[Dose],
        out: &mut Vec<Candidate>,
    ) -> Result<(), Error> {
        // The least that a window of this opening is worth, once a dose suits all free time.
        let mut settled: Option<f64> = None;
        for &dose in doses {
            guardcell_call::checkpoint();
            // Even without any residue and with all uptake this dose could not be worth more.
            let best_case = self.terms(dose, opening, 0.0, 1.0).worth();
            if settled.is_some_and(|least| best_case <= least) {
                continue;
            }
            let (found, good) = self.runs(index, opening, free, dose)?;
            if good == free.len() && !found.is_empty() {
                let least = found.iter().map(|f| f.worth).fold(f64::INFINITY, f64::min);
                settled = Some(settled.map_or(least, |l| l.max(least)));
            }
            out.extend(found);
        }
        Ok(())
    }

    /// From when to when a window over some steps of an opening lasts; `None` where it is too short
    /// to walk round for.
    fn span(&self, opening: &Opening, first: usize, last: usize) -> Option<(Timestamp, Timestamp)> {
        let start = self.timeline.time(first).max(opening.start.timestamp());
        let end = self.timeline.time_after(last).min(opening.end.timestamp());
        let seconds = end.duration_since(start).as_secs_f64();
        (seconds >= p::WINDOW_LEAST.minutes() * 60.0).then_some((start, end))
    }

    /// Whether free steps hold no window, whatever the dose.
    fn is_too_short(&self, opening: &Opening, free: &[usize]) -> bool {
        free.chunk_by(|a, b| *a + 1 == *b).all(|run| match run {
            [first, .., last] => self.span(opening, *first, *last).is_none(),
            [only] => self.span(opening, *only, *only).is_none(),
            [] => true,
        })
    }

    /// Why free steps hold no window with feed.
    fn why_not(&self, free: &[usize], doses: &[Dose]) -> Result<Obstacle, Error> {
        if doses.is_empty() && !self.subject.water_turn {
            let no_room = self
                .subject
                .weekly
                .is_some_and(|w| w.most_mg_l() < p::STRENGTH_LEAST_USEFUL.mg_per_l());
            return Ok(if no_room { Obstacle::Weekly } else { Obstacle::Learned });
        }
        let mut least = f64::INFINITY;
        for &step in free {
            guardcell_call::checkpoint();
            least = least.min(self.outcome(step, Dose::WATER)?.residue_probability);
        }
        Ok(match (rule::accepts(least, self.tolerance()), self.subject.water_turn) {
            (false, _) => Obstacle::Scale,
            (true, true) => Obstacle::WaterTurn,
            (true, false) => Obstacle::Residue,
        })
    }

    /// Runs of neighbouring steps on which the dose leaves acceptable residue, long enough to use,
    /// and on how many steps it does.
    fn runs(
        &self,
        index: usize,
        opening: &Opening,
        free: &[usize],
        dose: Dose,
    ) -> Result<(Vec<Candidate>, usize), Error> {
        let mut out = Vec::new();
        let mut good_steps = 0;
        let mut run: Vec<(usize, FilmOutcome)> = Vec::new();
        for &step in free {
            guardcell_call::checkpoint();
            let good = match rule::in_air(dose.mg_l, self.facts(step)?) {
                Ok(()) => Some(self.outcome(step, dose)?),
                Err(_) => None,
            };
            let good = good.filter(|o| rule::accepts(o.residue_probability, self.tolerance()));
            let neighbour = run.last().is_none_or(|(s, _)| *s + 1 == step);
            if good.is_none() || !neighbour {
                out.extend(self.close(std::mem::take(&mut run), index, opening, dose)?);
            }
            if let Some(outcome) = good {
                good_steps += 1;
                run.push((step, outcome));
            }
        }
        out.extend(self.close(run, index, opening, dose)?);
        Ok((out, good_steps))
    }

    /// A run of steps as a window; `None` where it is too short to walk round for.
    fn close(
        &self,
        run: Vec<(usize, FilmOutcome)>,
        index: usize,
        opening: &Opening,
        dose: Dose,
    ) -> Result<Option<Candidate>, Error> {
        let (Some(first), Some(last)) = (run.first(), run.last()) else { return Ok(None) };
        let Some((start, end)) = self.span(opening, first.0, last.0) else { return Ok(None) };
        let by_residue = |a: &&(usize, FilmOutcome), b: &&(usize, FilmOutcome)| {
            a.1.residue_probability.total_cmp(&b.1.residue_probability)
        };
        // Of equals the earlier counts.
        let worst = run.iter().rev().max_by(by_residue).unwrap_or(first);
        let middle = run.get(run.len() / 2).map_or(first.0, |(s, _)| *s);
        let share = self.timeline.share_taken_up(middle, dose, self.change)?;
        let velamen_minutes = if self.subject.exposed_roots {
            Some(self.timeline.velamen_minutes(middle, self.change.air)?)
        } else {
            None
        };
        let taken = objective::taken(share, velamen_minutes);
        let terms = self.terms(dose, opening, worst.1.residue_probability, taken);
        Ok(Some(Candidate {
            opening: index,
            start,
            end,
            dose,
            worst: worst.1,
            worst_step: worst.0,
            steps: (first.0, middle, last.0 + 1),
            share,
            velamen_minutes,
            terms,
            worth: terms.worth(),
        }))
    }

    fn terms(&self, dose: Dose, opening: &Opening, residue: f64, taken: f64) -> Terms {
        let of_the_window = Terms {
            open: opening.probability.get::<ratio>(),
            place: objective::place(opening.preference.rank),
            residue_cost: self.timeline.inputs().residue_cost(),
            ..Terms::default()
        };
        of_the_window.given(dose, residue, taken)
    }

    /// Omits the windows before the first whose dose spares a root tip. A drop that comes to rest
    /// with the humidity ends at a strength that no weaker dose changes: where every window is at
    /// risk, all stay, and the risk is a caution.
    fn drop_root_risks(&self, fed: &mut Vec<Candidate>) -> Result<(), Error> {
        if !self.subject.exposed_roots {
            return Ok(());
        }
        for (index, candidate) in fed.iter().enumerate() {
            guardcell_call::checkpoint();
            if !self.root_drop(candidate)?.at_risk {
                fed.drain(..index);
                break;
            }
        }
        Ok(())
    }

    pub(crate) fn root_drop(&self, c: &Candidate) -> Result<RootDrop, Error> {
        self.timeline.root_drop(c.steps.1, c.dose)
    }

    pub(crate) fn outcome(&self, step: usize, dose: Dose) -> Result<FilmOutcome, Error> {
        self.timeline.outcome(step, dose, self.change)
    }

    pub(crate) fn facts(&self, step: usize) -> Result<AirFacts, Error> {
        let air = self.timeline.air(step)?.air;
        let change = self.change.air;
        Ok(AirFacts {
            rh_percent: air.rh_percent.max(f64::from(change.humidity_least)),
            air_m_s: if change.still { Some(film::AIR_STILL.m_per_s()) } else { air.air_m_s },
            known_day: self.timeline.known_day(step),
        })
    }

    pub(crate) fn tolerance(&self) -> f64 {
        self.timeline.inputs().tolerance
    }

    /// The highest probability of residue of a dose on the steps of a window.
    pub(crate) fn worst_in(&self, c: &Candidate, dose: Dose) -> Result<f64, Error> {
        let mut worst: f64 = 0.0;
        for step in c.steps.0..c.steps.2 {
            guardcell_call::checkpoint();
            worst = worst.max(self.outcome(step, dose)?.residue_probability);
        }
        Ok(worst)
    }

    /// Why a window does not get the highest strength that practice allows in ordinary air.
    pub(crate) fn lowered(&self, best: &Candidate) -> Result<Option<Lowered>, Error> {
        let from_mg_l = self.subject.allowance.strength.mg_per_l();
        let Some(next) = self.subject.next_stronger(best.dose) else { return Ok(None) };
        let next_residue_probability = self.worst_in(best, next)?;
        let by = match self.subject.rules_out(next) {
            Some(by) => by,
            None if !rule::accepts(next_residue_probability, self.tolerance()) => {
                Constraint::Residue
            }
            None if self.subject.exposed_roots
                && self.timeline.root_drop(best.steps.1, next)?.at_risk =>
            {
                Constraint::RootTip
            }
            None => Constraint::Cost,
        };
        Ok(Some(Lowered {
            from_mg_l,
            to_mg_l: best.dose.mg_l,
            next_mg_l: next.mg_l,
            next_residue_probability,
            by,
        }))
    }
}

/// Best first; of windows worth the same to within a step, the earlier is the better.
fn rank(list: &mut [Candidate]) {
    list.sort_by(|a, b| {
        objective::step(b.worth)
            .total_cmp(&objective::step(a.worth))
            .then(a.start.cmp(&b.start))
            .then(b.worth.total_cmp(&a.worth))
    });
}

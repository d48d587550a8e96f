//! Where opening, residue, night and working hours overlap: the windows of one plant, ranked.
//!
//! The objective is stated: a window is worth the share of the full strength it gives (what goes
//! beyond counts little), times the
//! probability that the stomata are open, times the weight of its place in practice (before dawn
//! for CAM, morning for C3), times the probability that no residue is seen (a little less for a
//! dose that takes two passes), less the cost of a
//! residue (in full doses, `residue_cost` of `data/practice.csv`) times its probability. Nothing
//! else counts.

use crate::answer::{ModelledResidue, Window};
use crate::course::{Course, FilmOutcome};
use crate::moment::rfc3339;
use crate::practice;
use crate::request::Standing;
use guardcell_clock::{Opening, Phase};
use guardcell_error::Error;
use guardcell_reference::parameters::practice as p;
use guardcell_units::uom::si::ratio::ratio;
use jiff::Timestamp;

/// The models do not tell windows apart that differ by less in worth.
const WORTH_STEP: f64 = 0.02;

/// What keeps a step of time from being used, in the order it is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Block {
    NoReading,
    NotDue,
    Refused,
    TooCold,
    TooSunny,
    NobodyThere,
    WetNight,
    /// Feed is too much; plain water would do.
    Residue,
    /// Even the water alone is too much.
    Scale,
}

/// A feed strength with its passes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Dose {
    pub(crate) mg_l: f64,
    pub(crate) passes: u8,
}

impl Dose {
    pub(crate) const WATER: Self = Self { mg_l: 0.0, passes: 1 };

    fn amount(self) -> f64 {
        self.mg_l * f64::from(self.passes)
    }
}

/// The doses to try for a plant of this standing, strongest first, plain water last.
pub(crate) fn doses(standing: Standing) -> Vec<Dose> {
    let cap = practice::strength(standing).value;
    let passes = practice::passes(standing).value;
    let mut doses = Vec::new();
    if standing == Standing::Established {
        let humid = p::STRENGTH_ESTABLISHED_HUMID_SINGLE_PASS.value;
        doses.push(Dose { mg_l: humid, passes: 1 });
    }
    for mg_l in practice::steps_below(cap) {
        let mut n = passes;
        while n >= 1.0 {
            // A second pass is for the full strength: below it the weaker feed is the remedy.
            if n == 1.0 || mg_l >= cap {
                doses.push(Dose { mg_l, passes: n as u8 }); // 1 or 2 by the table
            }
            n -= 1.0;
        }
    }
    doses.push(Dose::WATER);
    doses
}

/// What a search is told to overlook, to find out what would make a window.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct Relax {
    pub(crate) hours: bool,
    pub(crate) still_air: bool,
    pub(crate) pure_water: bool,
}

/// What the search needs to know of the plant.
#[derive(Debug)]
pub(crate) struct Search<'a> {
    pub(crate) course: &'a Course<'a>,
    pub(crate) openings: &'a [Opening],
    pub(crate) standing: Standing,
    pub(crate) not_before: Option<Timestamp>,
    pub(crate) tolerance: f64,
    pub(crate) relax: Relax,
}

/// One usable stretch of time, before it is put into words.
#[derive(Debug, Clone)]
pub(crate) struct Found {
    pub(crate) opening: usize,
    pub(crate) start: Timestamp,
    pub(crate) end: Timestamp,
    pub(crate) dose: Dose,
    pub(crate) worst: FilmOutcome,
    /// The step with the worst outcome, and the one in the middle.
    pub(crate) worst_step: usize,
    pub(crate) middle_step: usize,
    pub(crate) worth: f64,
}

/// The outcome of a search.
#[derive(Debug, Default)]
pub(crate) struct Searched {
    /// Windows with feed, best first.
    pub(crate) fed: Vec<Found>,
    /// Windows for plain water, best first.
    pub(crate) water: Vec<Found>,
    /// How many steps of open time each obstacle took, in the order they are looked at.
    pub(crate) blocked: std::collections::BTreeMap<Block, usize>,
}

impl Searched {
    /// The obstacle met last: the steps it took had passed all the others.
    pub(crate) fn main_obstacle(&self) -> Option<Block> {
        self.blocked.keys().next_back().copied()
    }
}

impl Search<'_> {
    pub(crate) fn run(&self) -> Result<Searched, Error> {
        let mut searched = Searched::default();
        let doses = doses(self.standing);
        for (index, opening) in self.openings.iter().enumerate() {
            let steps = self.course.steps_in(opening.start.timestamp(), opening.end.timestamp());
            let mut free = Vec::new();
            for step in steps {
                match self.step_block(step, opening)? {
                    None => free.push(step),
                    Some(block) => *searched.blocked.entry(block).or_default() += 1,
                }
            }
            let before = searched.fed.len();
            // The least that a window of this opening is worth, once a dose suits all free time.
            let mut settled: Option<f64> = None;
            for &dose in doses.iter().filter(|d| d.mg_l > 0.0) {
                // Even without any residue this dose could not be worth more: leave it.
                if settled.is_some_and(|least| self.worth(dose, opening, 0.0) <= least) {
                    continue;
                }
                let (found, good) = self.runs(index, opening, &free, dose)?;
                if good == free.len() {
                    let least = found.iter().map(|f| f.worth).fold(f64::INFINITY, f64::min);
                    settled = Some(settled.map_or(least, |l| l.max(least)));
                }
                searched.fed.extend(found);
            }
            if searched.fed.len() == before {
                searched.water.extend(self.runs(index, opening, &free, Dose::WATER)?.0);
                for &step in &free {
                    let water = self.outcome(step, Dose::WATER)?.residue_probability;
                    let block = if water > self.tolerance { Block::Scale } else { Block::Residue };
                    *searched.blocked.entry(block).or_default() += 1;
                }
            }
        }
        // Of windows worth the same to within the step, the earlier is the better.
        let place = |f: &Found| (f.worth / WORTH_STEP).round();
        for list in [&mut searched.fed, &mut searched.water] {
            list.sort_by(|a, b| {
                place(b)
                    .total_cmp(&place(a))
                    .then(a.start.cmp(&b.start))
                    .then(b.worth.total_cmp(&a.worth))
            });
        }
        Ok(searched)
    }

    /// The stated objective.
    fn worth(&self, dose: Dose, opening: &Opening, residue_probability: f64) -> f64 {
        let cap = practice::strength(self.standing).value;
        let doses = dose.amount() / cap;
        // Growth does not double with the dose: what goes beyond one full strength counts little.
        let share = match dose.mg_l {
            x if x <= 0.0 => 1.0,
            _ if doses > 1.0 => 1.0 + p::DOUBLE_DOSE_BONUS.value * (doses - 1.0),
            _ => doses,
        };
        let walks = if dose.passes > 1 { p::SECOND_PASS_WORTH.value } else { 1.0 };
        share
            * walks
            * opening.probability.get::<ratio>()
            * rank_weight(opening.preference.rank)
            * (1.0 - residue_probability)
            - p::RESIDUE_COST.value * residue_probability
    }

    /// What keeps this step from any use, whatever the dose.
    fn step_block(&self, step: usize, opening: &Opening) -> Result<Option<Block>, Error> {
        let at = self.course.time(step);
        let Some(air) = self.course.air(step) else { return Ok(Some(Block::NoReading)) };
        if self.not_before.is_some_and(|t| at < t) {
            return Ok(Some(Block::NotDue));
        }
        if rank_weight(opening.preference.rank) <= 0.0 {
            return Ok(Some(Block::Refused));
        }
        if air.temp_c < p::FEED_TEMPERATURE_LEAST.value {
            return Ok(Some(Block::TooCold));
        }
        if air.radiation_w_m2.is_some_and(|r| r > p::SUN_RADIATION_MOST.value) {
            return Ok(Some(Block::TooSunny));
        }
        if !self.relax.hours && !self.course.at_work(at) {
            return Ok(Some(Block::NobodyThere));
        }
        if self.course.wet_too_long(step)? {
            return Ok(Some(Block::WetNight));
        }
        Ok(None)
    }

    /// Runs of neighbouring steps on which the dose leaves acceptable residue, long enough to use,
    /// and on how many steps it does.
    fn runs(
        &self,
        index: usize,
        opening: &Opening,
        free: &[usize],
        dose: Dose,
    ) -> Result<(Vec<Found>, usize), Error> {
        let mut out = Vec::new();
        let mut good_steps = 0;
        let mut run: Vec<(usize, FilmOutcome)> = Vec::new();
        for &step in free {
            let outcome = match self.allowed(step, dose) {
                true => Some(self.outcome(step, dose)?),
                false => None,
            };
            let good = outcome.filter(|o| o.residue_probability <= self.tolerance);
            let neighbour = run.last().is_none_or(|(s, _)| *s + 1 == step);
            if good.is_none() || !neighbour {
                self.close(&mut run, index, opening, dose, &mut out);
            }
            if let Some(outcome) = good {
                good_steps += 1;
                run.push((step, outcome));
            }
        }
        self.close(&mut run, index, opening, dose, &mut out);
        Ok((out, good_steps))
    }

    fn outcome(&self, step: usize, dose: Dose) -> Result<FilmOutcome, Error> {
        self.course.outcome(step, dose.mg_l, dose.passes, self.relax)
    }

    /// The double strength in one pass is for humid, lightly moving air only.
    fn allowed(&self, step: usize, dose: Dose) -> bool {
        if dose.mg_l <= practice::strength(self.standing).value {
            return true;
        }
        self.course.air(step).is_some_and(|air| {
            air.rh_percent >= p::HUMID_SINGLE_PASS_RH.value
                && air.air_m_s.is_some_and(|v| v <= p::HUMID_SINGLE_PASS_AIR_MOST.value)
        })
    }

    fn close(
        &self,
        run: &mut Vec<(usize, FilmOutcome)>,
        index: usize,
        opening: &Opening,
        dose: Dose,
        out: &mut Vec<Found>,
    ) {
        let steps = std::mem::take(run);
        let (Some(first), Some(last)) = (steps.first(), steps.last()) else { return };
        let start = self.course.time(first.0).max(opening.start.timestamp());
        let end = self
            .course
            .time(last.0)
            .saturating_add(self.course.step())
            .unwrap_or(Timestamp::MAX)
            .min(opening.end.timestamp());
        if end.duration_since(start).as_secs_f64() < p::WINDOW_LEAST.value * 60.0 {
            return;
        }
        let worst = steps
            .iter()
            .max_by(|a, b| a.1.residue_probability.total_cmp(&b.1.residue_probability))
            .unwrap_or(first);
        let middle_step = steps.get(steps.len() / 2).map_or(first.0, |(s, _)| *s);
        let worth = self.worth(dose, opening, worst.1.residue_probability);
        out.push(Found {
            opening: index,
            start,
            end,
            dose,
            worst: worst.1,
            worst_step: worst.0,
            middle_step,
            worth,
        });
    }
}

/// What the place of an opening in practice weighs.
pub(crate) const fn rank_weight(rank: u8) -> f64 {
    match rank {
        1 => p::WORTH_FIRST_CHOICE.value,
        2 => p::WORTH_SECOND_CHOICE.value,
        3 => p::WORTH_THIRD_CHOICE.value,
        _ => 0.0,
    }
}

/// The name of a phase on the wire.
pub(crate) const fn phase_word(phase: Phase) -> &'static str {
    match phase {
        Phase::DayOpen => "day-open",
        Phase::PhaseI => "phase-i",
        Phase::PhaseII => "phase-ii",
        Phase::PhaseIV => "phase-iv",
    }
}

/// The best window and the best of each other opening, best first.
pub(crate) fn ranked(
    found: &[Found],
    openings: &[Opening],
    course: &Course<'_>,
) -> Result<Vec<Window>, Error> {
    let Some(best) = found.first() else { return Ok(Vec::new()) };
    let mut seen = Vec::new();
    let mut out = Vec::new();
    for f in found {
        if seen.contains(&f.opening) {
            continue;
        }
        seen.push(f.opening);
        out.push(window(f, best, openings, course, Relax::default())?);
        if out.len() == MOST_WINDOWS {
            break;
        }
    }
    Ok(out)
}

/// Windows listed for a plant.
const MOST_WINDOWS: usize = 5;

pub(crate) fn window(
    f: &Found,
    best: &Found,
    openings: &[Opening],
    course: &Course<'_>,
    relax: Relax,
) -> Result<Window, Error> {
    let scale = course.scale_probability(f.worst_step, f.dose.passes, relax)?;
    let dries = course.dry_minutes(f.middle_step, f.dose.mg_l, relax)?;
    Ok(Window {
        start: rfc3339(&course.local(f.start)),
        end: rfc3339(&course.local(f.end)),
        phase: openings.get(f.opening).map_or("", |o| phase_word(o.phase)).to_owned(),
        feed_strength_mg_l: f.dose.mg_l,
        passes: f.dose.passes,
        residue_probability: three_digits(f.worst.residue_probability),
        scale_probability: three_digits(scale),
        modelled: modelled(&f.worst),
        dry_minutes: dries.map(f64::round),
        driest_rh_percent: f.worst.driest.rh_percent.round(),
        driest_at: rfc3339(&course.local(f.worst.driest_at)),
        worth: three_digits(f.worth),
        costs: costs(f, best, openings),
    })
}

fn modelled(o: &FilmOutcome) -> ModelledResidue {
    ModelledResidue {
        feed_g_m2: four_decimals(o.feed_g_m2),
        scale_g_m2: four_decimals(o.scale_g_m2),
        feed_log_sd: o.feed_log_sd.map(three_digits),
        temp_c: o.driest.temp_c,
        rh_percent: o.driest.rh_percent,
        air_m_s: o.driest.air_m_s,
    }
}

/// A tenth of a milligram on a square metre is far below what anybody sees.
fn four_decimals(v: f64) -> f64 {
    (v * 10_000.0).round() / 10_000.0
}

/// The models bear no more than three digits.
pub(crate) fn three_digits(v: f64) -> f64 {
    (v * 1000.0).round() / 1000.0
}

fn costs(f: &Found, best: &Found, openings: &[Opening]) -> String {
    let mut parts = Vec::new();
    let (a, b) = (f.dose.amount(), best.dose.amount());
    if b > 0.0 && a < b {
        parts.push(format!("{:.0} % less feed", (1.0 - a / b) * 100.0));
    }
    if let (Some(o), Some(first)) = (openings.get(f.opening), openings.get(best.opening)) {
        let (here, there) = (o.probability.get::<ratio>(), first.probability.get::<ratio>());
        if here + 0.005 < there {
            parts.push(format!(
                "open with {:.0} % instead of {:.0} % probability",
                here * 100.0,
                there * 100.0
            ));
        }
        if o.preference.rank > first.preference.rank {
            let says = o.preference.code.message();
            parts.push(lower_first(says.trim_end_matches('.')));
        }
    }
    let (r, s) = (f.worst.residue_probability, best.worst.residue_probability);
    if r > s + 0.005 {
        parts.push(format!("residue {:.0} % instead of {:.0} %", r * 100.0, s * 100.0));
    }
    parts.join("; ")
}

/// Lower case for the first letter, unless it begins an abbreviation.
fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    let (first, second) = (chars.next(), chars.next());
    match first {
        Some(c) if !second.is_some_and(char::is_uppercase) => {
            c.to_lowercase().chain(text.chars().skip(1)).collect()
        }
        _ => text.to_owned(),
    }
}

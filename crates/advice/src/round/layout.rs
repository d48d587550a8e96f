//! The sittings that a choice for every unit comes down to, and what they cost.
//!
//! The objective, to be made small, in full doses of one plant: the worth that plants forgo against
//! their best, the volume poured away, the fills, the minutes, the walk; and minutes that do not fit
//! the window. Each weight is a row of `data/practice.csv`.

use super::choice::Choice;
use super::fills::{Mister, Step};
use super::pace::{Pace, Work};
use super::span::Span;
use super::unit::Unit;
use guardcell_reference::parameters::practice as p;
use guardcell_units::quantity::{Volume, mg_per_l};
use guardcell_units::uom::si::volume::milliliter;
use jiff::{SignedDuration, Timestamp};
use std::collections::BTreeSet;

/// A rule that is broken weighs more than anything that is gained by it.
const RULE: f64 = 1_000.0;

/// The units that are served in one walk.
#[derive(Debug, Clone)]
pub(super) struct Group {
    pub(super) span: Span,
    pub(super) units: Vec<usize>,
    /// Minutes of work as known while it is put together.
    rough: f64,
}

impl Group {
    /// Minutes of work, about.
    pub(super) const fn rough(&self) -> f64 {
        self.rough
    }
}

/// One strength of a sitting.
#[derive(Debug, Clone)]
pub(super) struct Class {
    pub(super) mg_l: f64,
    pub(super) passes: u8,
    pub(super) units: Vec<usize>,
}

/// What is fixed while a plan is sought.
#[derive(Debug, Clone, Copy)]
pub(super) struct Ground<'a> {
    pub(super) units: &'a [Unit],
    pub(super) pace: Pace,
    pub(super) mister_ml: f64,
}

/// What a plan costs.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Cost {
    pub(super) worth_lost: f64,
    pub(super) poured_ml: f64,
    pub(super) fills: usize,
    pub(super) minutes: f64,
    pub(super) visits: usize,
    pub(super) overrun_minutes: f64,
    /// Rules that are broken.
    pub(super) broken: usize,
}

impl Cost {
    /// In full doses of one plant.
    pub(super) fn total(self) -> f64 {
        self.worth_lost
            + p::ROUND_COST_POURED.number() * self.poured_ml
            + p::ROUND_COST_FILL.number() * self.fills as f64
            + p::ROUND_COST_MINUTE.number() * self.minutes
            + p::ROUND_COST_WALK.number() * self.visits as f64
            + p::ROUND_COST_OVERRUN.number() * self.overrun_minutes
            + RULE * self.broken as f64
    }
}

impl<'a> Ground<'a> {
    /// The choice picked for a unit.
    pub(super) fn choice(&self, unit: usize, picks: &[usize]) -> Option<&'a Choice> {
        self.units.get(unit)?.choices.get(*picks.get(unit)?)
    }

    /// The fewest sittings for the windows picked: the window that closes first takes every other
    /// that is open then, as far as the time lasts; in order of time.
    pub(super) fn sittings(&self, picks: &[usize]) -> Vec<Group> {
        let mut order: Vec<(Span, usize)> =
            (0..self.units.len()).filter_map(|u| Some((self.choice(u, picks)?.span, u))).collect();
        order.sort_by_key(|(span, u)| (span.end, span.start, *u));
        let mut out: Vec<Group> = Vec::new();
        for (span, u) in order {
            guardcell_call::checkpoint();
            let work = self.rough_minutes(u, picks);
            let workable = |g: &&mut Group| g.span.meet(span).is_workable();
            let fits =
                |g: &&mut Group| workable(g) && g.span.meet(span).minutes() >= g.rough + work;
            let home = match out.iter_mut().find(fits) {
                Some(home) => Some(home),
                None => {
                    let later = self.after_the_others(span, &out);
                    if later.is_workable() {
                        let rough =
                            p::PACE_SITTING.minutes() + self.pace.fill + p::PACE_AREA.minutes();
                        out.push(Group { span: later, units: vec![u], rough: rough + work });
                        continue;
                    }
                    out.iter_mut().find(workable)
                }
            };
            match home {
                Some(home) => {
                    home.span = home.span.meet(span);
                    home.rough += work;
                    home.units.push(u);
                }
                None => out.push(Group { span, units: vec![u], rough: work }),
            }
        }
        out.sort_by_key(|g| (g.span.start, g.span.end));
        out
    }

    /// What is left of a window once the sittings that share it are done.
    fn after_the_others(&self, span: Span, others: &[Group]) -> Span {
        let busy = others.iter().filter(|g| g.span.meet(span).is_workable()).filter_map(|g| {
            g.span.start.checked_add(SignedDuration::from_secs_f64(g.rough * 60.0)).ok()
        });
        Span { start: busy.fold(span.start, Timestamp::max), end: span.end }
    }

    fn rough_minutes(&self, unit: usize, picks: &[usize]) -> f64 {
        let (Some(u), Some(choice)) = (self.units.get(unit), self.choice(unit, picks)) else {
            return 0.0;
        };
        let passes = f64::from(choice.window.dose.passes);
        passes
            * (u.plants.len() as f64 * self.pace.plant
                + u.one_pass_ml / self.mister_ml.max(1.0) * self.pace.fill)
    }

    /// The strengths of a sitting, strongest first.
    pub(super) fn classes(&self, group: &Group, picks: &[usize]) -> Vec<Class> {
        let mut out: Vec<Class> = Vec::new();
        for &u in &group.units {
            let Some(choice) = self.choice(u, picks) else { continue };
            let dose = choice.window.dose;
            match out.iter_mut().find(|c| c.mg_l == dose.mg_l && c.passes == dose.passes) {
                Some(class) => class.units.push(u),
                None => out.push(Class { mg_l: dose.mg_l, passes: dose.passes, units: vec![u] }),
            }
        }
        for class in &mut out {
            class.units.sort_unstable();
        }
        out.sort_by(|a, b| b.mg_l.total_cmp(&a.mg_l).then(b.passes.cmp(&a.passes)));
        out
    }

    /// The volume a class sprays, all passes together, mL.
    pub(super) fn volume_ml(&self, class: &Class) -> f64 {
        let one: f64 =
            class.units.iter().filter_map(|u| self.units.get(*u)).map(|u| u.one_pass_ml).sum();
        one * f64::from(class.passes)
    }

    pub(super) fn plants(&self, units: &[usize]) -> usize {
        units.iter().filter_map(|u| self.units.get(*u)).map(|u| u.plants.len()).sum()
    }

    /// The areas in the order they are gone to, class by class: a class begins where the one before
    /// it ended, where it has plants there.
    pub(super) fn walk(&self, classes: &[Class]) -> Vec<Vec<usize>> {
        let mut last = None;
        let mut out = Vec::with_capacity(classes.len());
        for class in classes {
            let areas: BTreeSet<usize> =
                class.units.iter().filter_map(|u| self.units.get(*u)).map(|u| u.area).collect();
            let mut order: Vec<usize> = areas.iter().copied().collect();
            if let Some(last) = last.filter(|l| areas.contains(l)) {
                order.sort_by_key(|a| (*a != last, *a));
            }
            last = order.last().copied().or(last);
            out.push(order);
        }
        out
    }

    /// What is done in a sitting with so many fills.
    pub(super) fn work(
        &self,
        classes: &[Class],
        fills: usize,
        mixes: bool,
        picks: &[usize],
    ) -> Work {
        let mut work = Work { fills, mixes, ..Work::default() };
        for class in classes {
            let plants = self.plants(&class.units) as f64;
            work.sprayings += plants * f64::from(class.passes);
            if class.passes > 1 {
                let dry = class.units.iter().filter_map(|u| self.choice(*u, picks));
                let dry = dry
                    .map(|c| c.window.share.dry_minutes.unwrap_or(p::PACE_STAYS_WET.minutes()))
                    .fold(0.0, f64::max);
                work.waiting += (dry - plants * self.pace.plant).max(0.0);
            }
        }
        let mut at = None;
        for area in self.walk(classes).into_iter().flatten() {
            if at != Some(area) {
                work.visits += 1;
            }
            at = Some(area);
        }
        work
    }

    /// How many of the sittings, from one on, one bucket serves: those that are over within its
    /// keeping time, counted from the start of the first.
    pub(super) fn served_by_one_bucket(&self, sittings: &[(Span, f64)]) -> usize {
        let Some((first, _)) = sittings.first() else { return 0 };
        let keeps = p::BUCKET_KEEPS.hours();
        let over = |(span, minutes): &(Span, f64)| {
            let needed = span.start.checked_add(SignedDuration::from_secs_f64(minutes * 60.0));
            let end = needed.unwrap_or(span.end).max(span.start);
            Span { start: span.start, end }.ends_within(keeps, first.start)
        };
        sittings.iter().take_while(|s| over(s)).count().max(1)
    }

    /// What the picks cost.
    pub(super) fn cost(&self, picks: &[usize]) -> Cost {
        let groups = self.sittings(picks);
        let mut cost = Cost { worth_lost: self.worth_lost(picks), ..Cost::default() };
        let classes: Vec<Vec<Class>> = groups.iter().map(|g| self.classes(g, picks)).collect();
        let rough: Vec<(Span, f64)> = groups.iter().map(|g| (g.span, g.rough)).collect();
        let mut from = 0;
        while let Some(rest) = rough.get(from..).filter(|r| !r.is_empty()) {
            let n = self.served_by_one_bucket(rest);
            let (own, spans) = (classes.get(from..from + n), rest.get(..n));
            self.add_bucket(own.unwrap_or_default(), spans.unwrap_or_default(), picks, &mut cost);
            from += n;
        }
        cost.broken = self.broken(&groups, &classes, picks);
        cost
    }

    fn worth_lost(&self, picks: &[usize]) -> f64 {
        self.units
            .iter()
            .zip(picks)
            .filter_map(|(u, pick)| {
                let lost = u.choices.first()?.worth() - u.choices.get(*pick)?.worth();
                Some(lost * u.plants.len() as f64)
            })
            .sum()
    }

    /// What the sittings of one bucket cost.
    fn add_bucket(
        &self,
        sittings: &[Vec<Class>],
        spans: &[(Span, f64)],
        picks: &[usize],
        cost: &mut Cost,
    ) {
        let strongest = sittings.iter().flatten().map(|c| c.mg_l).fold(0.0, f64::max);
        let ml = Volume::new::<milliliter>;
        let mut feed = 0.0;
        let mut mixes = strongest > 0.0;
        for (classes, (span, _)) in sittings.iter().zip(spans) {
            guardcell_call::checkpoint();
            let mut mister = Mister::empty(ml(self.mister_ml), ml(p::MISTER_MARK.ml()));
            let mut fills = 0;
            for class in classes {
                let step =
                    Step { strength: mg_per_l(class.mg_l), volume: ml(self.volume_ml(class)) };
                for fill in mister.fill(mg_per_l(strongest), step) {
                    fills += 1;
                    feed += fill.feed_ml;
                    cost.poured_ml += fill.pour_out_ml;
                }
            }
            cost.poured_ml += mister.left().0.get::<milliliter>();
            let work = self.work(classes, fills, mixes, picks);
            mixes = false;
            let minutes = self.pace.minutes(work);
            cost.fills += fills;
            cost.visits += work.visits;
            cost.minutes += minutes;
            cost.overrun_minutes += (minutes - span.minutes()).max(0.0);
        }
        cost.poured_ml += feed * p::BUCKET_SPARE.number();
    }

    /// Rules that the picks break: a weaker plant with more than a stronger; a sitting of one or
    /// two plants, or a fill below the smallest, where another would do.
    fn broken(&self, groups: &[Group], classes: &[Vec<Class>], picks: &[usize]) -> usize {
        let amount = |u: usize| self.choice(u, picks).map_or(0.0, Choice::amount);
        let unfair = self.units.iter().enumerate().map(|(u, unit)| {
            unit.over.iter().filter(|weaker| amount(**weaker) > amount(u)).count()
        });
        let mut out: usize = unfair.sum();
        for (i, group) in groups.iter().enumerate() {
            let small = self.plants(&group.units) <= 2;
            if small && self.elsewhere(i, groups, picks).is_some() {
                out += 1;
            }
            let own = classes.get(i).map_or(&[][..], Vec::as_slice);
            let tiny = |c: &&Class| self.volume_ml(c) < p::MISTER_FILL_LEAST.ml();
            let joins = |c: &&Class| {
                own.iter().any(|other| self.joined(c, other, group.span, true, picks).is_some())
            };
            out += own.iter().filter(tiny).filter(joins).count();
        }
        out
    }

    /// The picks that serve every unit of a sitting in others, where none of its plants forgoes
    /// more than a small share of its worth.
    fn elsewhere(&self, i: usize, groups: &[Group], picks: &[usize]) -> Option<Vec<usize>> {
        self.dissolved(i, groups, picks).filter(|moved| {
            groups.get(i).is_some_and(|g| {
                g.units.iter().all(|u| {
                    let best = self.units.get(*u).and_then(|u| u.choices.first());
                    let lost = |b: &Choice, c: &Choice| b.worth() - c.worth();
                    match (best, self.choice(*u, moved)) {
                        (Some(b), Some(c)) => {
                            lost(b, c) < p::SITTING_LOSS_SMALL.number() * b.worth().abs()
                        }
                        _ => false,
                    }
                })
            })
        })
    }

    /// The picks with every unit of a sitting in its best window that reaches into another.
    pub(super) fn dissolved(
        &self,
        i: usize,
        groups: &[Group],
        picks: &[usize],
    ) -> Option<Vec<usize>> {
        let mut out = picks.to_vec();
        for &u in &groups.get(i)?.units {
            let unit = self.units.get(u)?;
            let found = unit.choices.iter().enumerate().filter(|(_, c)| {
                groups.iter().enumerate().any(|(j, g)| j != i && g.span.meet(c.span).is_workable())
            });
            // Of equals the first counts.
            let (index, _) = found.reduce(|a, b| if b.1.worth() > a.1.worth() { b } else { a })?;
            *out.get_mut(u)? = index;
        }
        Some(out)
    }

    /// The picks with every unit of a class at the weaker dose of another, in the same sitting;
    /// `cheaply`: none of them forgoes more than a small share of its worth.
    pub(super) fn joined(
        &self,
        class: &Class,
        other: &Class,
        span: Span,
        cheaply: bool,
        picks: &[usize],
    ) -> Option<Vec<usize>> {
        let amount = |c: &Class| c.mg_l * f64::from(c.passes);
        if amount(other) >= amount(class) || (other.mg_l <= 0.0) != (class.mg_l <= 0.0) {
            return None;
        }
        let mut out = picks.to_vec();
        for &u in &class.units {
            let unit = self.units.get(u)?;
            let now = self.choice(u, picks)?.worth();
            let found = unit.choices.iter().enumerate().filter(|(_, c)| {
                let dose = c.window.dose;
                (dose.mg_l, dose.passes) == (other.mg_l, other.passes)
                    && c.span.meet(span).is_workable()
                    && (!cheaply || now - c.worth() < p::SITTING_LOSS_SMALL.number() * now.abs())
            });
            let (index, _) = found.reduce(|a, b| if b.1.worth() > a.1.worth() { b } else { a })?;
            *out.get_mut(u)? = index;
        }
        Some(out)
    }
}

#[cfg(test)]
mod tests;

//! A plan worked out: buckets, sittings, every fill, every plant.

use super::answer::{Bucket, RoundGroup, RoundPlant, RoundStep, Sitting};
use super::bucket::FeedInWater;
use super::choice::{self, Choice};
use super::fills::{Fill, Mister, Step};
use super::group::{self, Group, Member, Planned};
use super::layout::{Class, Ground, Group as Seated};
use super::span::Span;
use super::{part_of_day, shared, surplus, volume};
use crate::advise::Judged;
use crate::answer::AdviceResponse;
use crate::explain;
use crate::moment::rfc3339;
use crate::reason::{Draft, Reason};
use crate::reason_code::ReasonCode;
use guardcell_error::Error;
use guardcell_reference::parameters::practice as p;
use guardcell_solution::Bounds;
use guardcell_units::quantity::{Volume, in_mg_per_l, mg_per_l};
use guardcell_units::uom::si::volume::milliliter;
use jiff::{SignedDuration, Timestamp};
use std::collections::BTreeSet;
use std::rc::Rc;

/// What a plan is written from.
pub(super) struct Sheet<'a> {
    pub(super) judged: &'a Judged<'a>,
    pub(super) advice: &'a AdviceResponse,
    /// None where the turn is one of plain water.
    pub(super) brew: Option<FeedInWater<'a>>,
    pub(super) ground: Ground<'a>,
    pub(super) picks: &'a [usize],
}

/// A plan, written out.
#[derive(Debug)]
pub(super) struct Written {
    pub(super) bucket: Option<Bucket>,
    pub(super) sittings: Vec<Sitting>,
}

impl Written {
    pub(super) fn buckets(&self) -> impl Iterator<Item = &Bucket> {
        self.bucket.iter().chain(self.sittings.iter().filter_map(|s| s.bucket.as_ref()))
    }
}

/// A sitting with the fills of each of its strengths.
struct Filled<'a> {
    seated: &'a Seated,
    classes: Vec<Class>,
    fills: Vec<Vec<Fill>>,
    left: (f64, f64),
}

impl Filled<'_> {
    fn feed_ml(&self) -> f64 {
        self.fills.iter().flatten().map(|f| f.feed_ml).sum()
    }
}

impl Sheet<'_> {
    pub(super) fn written(&self) -> Result<Written, Error> {
        let seated = self.ground.sittings(self.picks);
        let spans: Vec<(Span, f64)> = seated.iter().map(|s| (s.span, s.rough())).collect();
        let mut out = Written { bucket: None, sittings: Vec::new() };
        let mut from = 0;
        while let Some(rest) = spans.get(from..).filter(|r| !r.is_empty()) {
            guardcell_call::checkpoint();
            let n = self.ground.served_by_one_bucket(rest);
            let (bucket, filled) = self.bucket(seated.get(from..from + n).unwrap_or_default())?;
            let mut own = bucket;
            let first = filled.first().map(|f| f.seated.span.start);
            for (i, one) in filled.iter().enumerate() {
                let mixes = i == 0 && own.is_some();
                let mut sitting = self.sitting(one, mixes, first)?;
                if mixes {
                    // The first of all is the bucket of the round.
                    if out.bucket.is_none() {
                        out.bucket = own.take();
                    } else {
                        let fresh = own.take();
                        sitting.notes.extend(fresh.as_ref().map(fresh_bucket));
                        sitting.bucket = fresh;
                    }
                }
                out.sittings.push(sitting);
            }
            from += n;
        }
        Ok(out)
    }

    /// The bucket of some sittings, and every fill from it; none where only water is given.
    fn bucket<'s>(&self, seated: &'s [Seated]) -> Result<(Option<Bucket>, Vec<Filled<'s>>), Error> {
        let of = |s| self.ground.classes(s, self.picks);
        let strongest = seated.iter().flat_map(of).map(|c| c.mg_l).fold(0.0, f64::max);
        let filled = |mg_l: f64| -> Vec<Filled<'s>> {
            seated.iter().map(|s| self.filled(s, mg_l)).collect()
        };
        let feed = |filled: &[Filled<'_>]| filled.iter().map(Filled::feed_ml).sum::<f64>();
        let mut out = filled(strongest);
        if strongest <= 0.0 {
            return Ok((None, out));
        }
        let scale = self.judged.request.site.grower.scale_g;
        let mut least_ml = feed(&out) * (1.0 + p::BUCKET_SPARE.number());
        // A bucket that comes out a little weaker is drawn on a little more.
        loop {
            guardcell_call::checkpoint();
            let mut bucket = self.brew()?.bucket(strongest, least_ml / 1000.0, scale)?;
            out = filled(bucket.feed_strength_mg_l);
            let left = bucket.water_l * 1000.0 - feed(&out);
            if left >= 0.0 {
                let request = self.judged.request;
                bucket.surplus = surplus::of(&bucket, left, request, self.advice);
                return Ok((Some(bucket), out));
            }
            least_ml = feed(&out) + p::JUG_MARK.ml();
        }
    }

    /// The fills of a sitting from a bucket. It starts with an empty mister: what was left hours
    /// ago has been emptied.
    fn filled<'s>(&self, seated: &'s Seated, bucket_mg_l: f64) -> Filled<'s> {
        let ml = Volume::new::<milliliter>;
        let mut mister = Mister::empty(ml(self.ground.mister_ml), ml(p::MISTER_MARK.ml()));
        let classes = self.ground.classes(seated, self.picks);
        let fills = classes
            .iter()
            .map(|class| {
                let volume = ml(self.ground.volume_ml(class));
                let step = Step { strength: mg_per_l(class.mg_l), volume };
                mister.fill(mg_per_l(bucket_mg_l), step)
            })
            .collect();
        let (left, strength) = mister.left();
        let left = (left.get::<milliliter>(), in_mg_per_l(strength));
        Filled { seated, classes, fills, left }
    }

    fn sitting(
        &self,
        filled: &Filled<'_>,
        mixes: bool,
        mixed_at: Option<Timestamp>,
    ) -> Result<Sitting, Error> {
        let n = filled.fills.iter().map(Vec::len).sum();
        let work = self.ground.work(&filled.classes, n, mixes, self.picks);
        let minutes = self.ground.pace.minutes(work).ceil();
        let span = kept(filled.seated.span, minutes, mixed_at);
        let order = self.ground.walk(&filled.classes);
        let mut steps = Vec::new();
        for ((class, fills), areas) in filled.classes.iter().zip(&filled.fills).zip(order) {
            steps.push(self.step(class, fills, &areas)?);
        }
        let units = filled.seated.units.iter().filter_map(|u| self.ground.units.get(*u));
        let areas: BTreeSet<usize> = units.map(|u| u.area).collect();
        Ok(Sitting {
            start: self.local(span.start),
            end: self.local(span.end),
            part_of_day: part_of_day::of(span, &areas, self.judged.site)?.to_owned(),
            steps,
            bucket: None,
            minutes,
            notes: too_long(span, minutes).into_iter().collect(),
            left_over_ml: filled.left.0.round(),
            left_over_mg_l: filled.left.1.round(),
        })
    }

    fn step(&self, class: &Class, fills: &[Fill], areas: &[usize]) -> Result<RoundStep, Error> {
        let (n_mg_l, ec25_us_cm) = self.reads(class.mg_l)?;
        let mut groups = Vec::new();
        for area in areas {
            let members = self.members(class, *area)?;
            for group in group::groups(members) {
                groups.extend(self.group(&group));
            }
        }
        Ok(RoundStep {
            feed_strength_mg_l: class.mg_l,
            n_mg_l,
            ec25_us_cm,
            passes: class.passes,
            spray_ml: self.ground.volume_ml(class).round(),
            fills: fills.to_vec(),
            groups,
        })
    }

    /// The plants of a strength in an area, with what is planned for them.
    fn members(&self, class: &Class, area: usize) -> Result<Vec<Member<'_>>, Error> {
        let mut out = Vec::new();
        for &u in &class.units {
            let Some(unit) = self.ground.units.get(u).filter(|unit| unit.area == area) else {
                continue;
            };
            let (Some(choice), Some(best)) =
                (self.ground.choice(u, self.picks), unit.choices.first())
            else {
                continue;
            };
            let Some(&first) = unit.plants.first() else { continue };
            let Some(planned) = self.planned(first, area, choice, best)? else { continue };
            let planned = Rc::new(planned);
            for &i in &unit.plants {
                guardcell_call::checkpoint();
                let entry = self.judged.plants.get(i).map(|p| p.entry);
                if let (Some(entry), Some(advice)) = (entry, self.advice.plants.get(i)) {
                    out.push(Member { entry, advice, planned: Rc::clone(&planned) });
                }
            }
        }
        Ok(out)
    }

    /// What is planned for a kind of plant: its window, why, and what that costs against its best.
    fn planned(
        &self,
        plant: usize,
        area: usize,
        choice: &Choice,
        best: &Choice,
    ) -> Result<Option<Planned>, Error> {
        let (Some((_, explained)), Some(timeline)) =
            (self.judged.decided(plant), self.judged.timeline(area))
        else {
            return Ok(None);
        };
        // With a strength that is unsure the advised window may be no choice any more.
        let advised = choice::advised(explained).first().unwrap_or(&best.window);
        let hours = Span { start: advised.start, end: advised.end };
        let most = if best.span == hours { best.worth() } else { advised.worth.max(best.worth()) };
        let lost = ((most - choice.worth()) / most.abs().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
        let worth_lost = (lost * 1000.0).round() / 1000.0;
        let window = explain::planned_window(&choice.window, &explained.decision, timeline)?;
        let (mut reasons, mut otherwise) = (Vec::new(), None);
        if choice.window.opening != best.window.opening || choice.span.meet(hours).minutes() <= 0.0
        {
            let costs = window.costs.as_str();
            otherwise = Some(ReasonCode::MovedInRound);
            let moved = Draft::new(ReasonCode::MovedInRound)
                .with("best_from", self.local(hours.start))
                .with("best_to", self.local(hours.end))
                .with("best_mg_l", advised.dose.mg_l)
                .with("worth_lost", worth_lost)
                .with("costs", costs)
                .with_parameter(p::SITTING_WORTH_LEAST);
            reasons.push(moved.variant(if costs.is_empty() { "plain" } else { "" }));
        } else if choice.amount() < best.amount() {
            otherwise = Some(ReasonCode::WeakerInRound);
            let weaker = Draft::new(ReasonCode::WeakerInRound)
                .with("best_mg_l", best.window.dose.mg_l)
                .with("best_passes", best.window.dose.passes)
                .with("to_mg_l", choice.window.dose.mg_l)
                .with("worth_lost", worth_lost)
                .with_parameter(p::SITTING_WORTH_LEAST);
            let passes = best.window.dose.passes > choice.window.dose.passes;
            reasons.push(weaker.variant(if passes { "passes" } else { "" }));
        }
        reasons.extend(explain::planned(explained, &choice.window, timeline));
        Ok(Some(Planned { window, span: choice.span, reasons, otherwise, worth_lost }))
    }

    /// A group in words; none where nobody is in it.
    fn group(&self, group: &Group<'_>) -> Option<RoundGroup> {
        let first = group.members.first()?;
        let windows = || group.members.iter().map(|m| &m.planned.window);
        let worst =
            windows().max_by(|a, b| a.residue_probability.total_cmp(&b.residue_probability))?;
        let own = &first.planned.window;
        let other =
            first.advice.windows.iter().find(|w| (&w.start, &w.end) != (&own.start, &own.end));
        Some(RoundGroup {
            group: group.words(),
            area: first.entry.area.clone(),
            bench: first.entry.bench.clone(),
            plants: group.members.iter().map(round_plant).collect(),
            verdict: first.advice.verdict,
            start: self.local(group.span.start),
            end: self.local(group.span.end),
            residue_probability: worst.residue_probability,
            modelled: worst.modelled,
            dry_minutes: own.dry_minutes,
            driest_rh_percent: own.driest_rh_percent,
            driest_at: own.driest_at.clone(),
            worth: windows().map(|w| w.worth).fold(f64::INFINITY, f64::min),
            worth_lost: group.members.iter().map(|m| m.planned.worth_lost).fold(0.0, f64::max),
            reasons: shared::reasons(group),
            runner_up: other.cloned(),
        })
    }

    /// Nitrogen and meter reading at a strength in this water.
    fn reads(&self, strength_mg_l: f64) -> Result<(f64, Bounds), Error> {
        if strength_mg_l > 0.0 {
            let r = self.brew()?.recipe(strength_mg_l, 1.0)?;
            return Ok((r.profile_mg_l.get("n").map_or(0.0, |e| e.from_products), r.ec25_us_cm));
        }
        let water = self.judged.water_ec25_us_cm();
        Ok((0.0, Bounds { low: water, value: Some(water), high: water }))
    }

    fn brew(&self) -> Result<FeedInWater<'_>, Error> {
        self.brew.ok_or_else(|| Error::internal("a strength is planned without a product"))
    }

    fn local(&self, t: Timestamp) -> String {
        rfc3339(&self.judged.site.local(t))
    }
}

/// The window of a sitting, ended where the bucket is too old.
fn kept(span: Span, minutes: f64, mixed_at: Option<Timestamp>) -> Span {
    let keeps = SignedDuration::from_secs_f64(p::BUCKET_KEEPS.hours() * 3600.0);
    let Some(old) = mixed_at.and_then(|t| t.checked_add(keeps).ok()) else { return span };
    let end = span.end.min(old);
    let needed = SignedDuration::from_secs_f64(minutes * 60.0);
    // The start is such that the work is done by then; rounding of the estimate is let pass.
    let least = span.start.checked_add(needed).unwrap_or(end).min(span.end);
    Span { start: span.start, end: end.max(least.min(old)).max(span.start) }
}

/// That a sitting does not fit its window.
fn too_long(span: Span, minutes: f64) -> Option<Reason> {
    let has = span.minutes();
    (minutes > has).then(|| {
        Draft::new(ReasonCode::SittingTooLong)
            .with("minutes", minutes)
            .with("window_minutes", has.floor())
            .with_parameter(p::PACE_PLANT)
            .done()
    })
}

fn fresh_bucket(b: &Bucket) -> Reason {
    Draft::new(ReasonCode::FreshBucket)
        .with("keeps_hours", b.keeps_hours)
        .with_parameter(p::BUCKET_KEEPS)
        .done()
}

fn round_plant(m: &Member<'_>) -> RoundPlant {
    let spray_ml = volume::one_pass_ml(m.entry) * f64::from(m.planned.window.passes);
    RoundPlant {
        id: m.entry.id.clone(),
        name: m.entry.name.clone(),
        spray_ml: (spray_ml * 10.0).round() / 10.0,
        worth_lost: m.planned.worth_lost,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // bucket_keeps of data/practice.csv: 24 h.
    #[test]
    fn a_sitting_ends_where_the_bucket_is_too_old() {
        let t = |text: &str| text.parse::<Timestamp>().unwrap();
        let span = Span { start: t("2026-06-22T04:00:00Z"), end: t("2026-06-22T06:00:00Z") };
        let end = |minutes, mixed: Option<&str>| kept(span, minutes, mixed.map(t)).end;
        assert_eq!(end(30.0, None), span.end);
        assert_eq!(end(30.0, Some("2026-06-21T06:00:00Z")), span.end);
        assert_eq!(end(30.0, Some("2026-06-22T04:00:00Z")), span.end);
        for minutes in [30.0, 60.0, 90.0] {
            let old = t("2026-06-22T05:00:00Z");
            assert_eq!(end(minutes, Some("2026-06-21T05:00:00Z")), old, "{minutes}");
        }
        // Too old before it begins: nothing is left of it, and it does not end before its start.
        assert_eq!(end(30.0, Some("2026-06-21T03:00:00Z")), span.start);
    }
}

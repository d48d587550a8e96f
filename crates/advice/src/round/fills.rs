//! One bucket stepped down mister by mister: how much feed and how much top-up go into each fill.
//!
//! Strengths here are feed strengths, so the top-up water counts as zero feed; what the water
//! itself holds is counted where residue and meter readings are computed.

use guardcell_reference::parameters::practice;
use guardcell_units::quantity::{MassConcentration, Volume, in_mg_per_l, mg_per_l};
use guardcell_units::uom::si::volume::milliliter;
use serde::{Deserialize, Serialize};

/// One fill of the mister.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Fill {
    /// What is still in the mister from the fill before, mL.
    pub left_in_mister_ml: f64,
    /// What to pour out first, because the rest is stronger than this step needs, mL.
    pub pour_out_ml: f64,
    /// Feed to take from the bucket, mL.
    pub feed_ml: f64,
    /// Water to top up with, mL.
    pub top_up_ml: f64,
    /// How full the mister is after the feed went in, in eighths.
    pub feed_to_eighths: f64,
    /// How full it is after the top-up, in eighths.
    pub full_to_eighths: f64,
    /// The feed strength that this gives after rounding to the marks, mg/L.
    pub feed_strength_mg_l: f64,
    /// What is sprayed from this fill, mL.
    pub spray_ml: f64,
}

/// What a step of the round needs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// The feed strength.
    pub strength: MassConcentration,
    /// The volume to spray, all passes together.
    pub volume: Volume,
}

/// A mister with what is left in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mister {
    capacity_ml: f64,
    mark_ml: f64,
    least_ml: f64,
    left_ml: f64,
    left_mg_l: f64,
}

/// A fill rounded to marks.
#[derive(Debug, Clone, Copy)]
struct Marked {
    feed: f64,
    top_up: f64,
    volume: f64,
    strength: f64,
}

impl Marked {
    /// How far it is off, too strong counting double.
    fn off(&self, target: f64) -> f64 {
        if target <= 0.0 {
            return if self.strength > 0.0 { f64::INFINITY } else { 0.0 };
        }
        let error = self.strength / target - 1.0;
        if error > 0.0 { 2.0 * error } else { -error }
    }
}

impl Mister {
    /// An empty mister of this capacity, filled to marks of this volume, with at least the
    /// smallest fill of the practice table.
    #[must_use]
    pub fn empty(capacity: Volume, mark: Volume) -> Self {
        Self {
            capacity_ml: capacity.get::<milliliter>(),
            mark_ml: mark.get::<milliliter>(),
            least_ml: practice::MISTER_FILL_LEAST.ml(),
            left_ml: 0.0,
            left_mg_l: 0.0,
        }
    }

    /// What is left in it.
    #[must_use]
    pub fn left(&self) -> (Volume, MassConcentration) {
        (Volume::new::<milliliter>(self.left_ml), mg_per_l(self.left_mg_l))
    }

    /// The fills for one step from a bucket of strength `bucket`: as few as the mister allows, and
    /// all about as large, so that none is too small to mix. What is left goes into the next step.
    ///
    /// ```
    /// # mod guardcell { pub mod advice { pub use guardcell_advice::*; } pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::advice::round::{Mister, Step};
    /// use guardcell::units::quantity::{Volume, mg_per_l};
    /// use guardcell::units::uom::si::volume::milliliter;
    /// let ml = Volume::new::<milliliter>;
    /// let mut mister = Mister::empty(ml(1000.0), ml(5.0));
    /// let step = Step { strength: mg_per_l(150.0), volume: ml(800.0) };
    /// let fills = mister.fill(mg_per_l(300.0), step);
    /// assert_eq!((fills[0].feed_ml, fills[0].top_up_ml), (400.0, 400.0));
    /// ```
    pub fn fill(&mut self, bucket: MassConcentration, step: Step) -> Vec<Fill> {
        let bucket = in_mg_per_l(bucket);
        let target = in_mg_per_l(step.strength).clamp(0.0, bucket.max(0.0));
        let mut needed = step.volume.get::<milliliter>();
        let mut fills = Vec::new();
        // Every turn sprays at least one mark or all that is needed, so this ends.
        while needed > 1e-9 && self.capacity_ml > 0.0 {
            guardcell_call::checkpoint();
            let fill = self.one_fill(bucket, target, needed);
            needed -= fill.spray_ml;
            fills.push(fill);
        }
        fills
    }

    fn one_fill(&mut self, bucket: f64, target: f64, needed: f64) -> Fill {
        let least = self.least_ml.min(self.capacity_ml);
        // With something left in it, marks do not bring it quite to the brim.
        let room =
            if self.left_ml > 0.0 { self.capacity_ml - self.mark_ml } else { self.capacity_ml };
        let fills = (needed / room.max(least)).ceil().max(1.0);
        let wanted = self.up_to_mark((needed / fills).max(least)).min(self.capacity_ml);
        let (pour_out, smallest) = self.fit(bucket, target, wanted);
        let left = self.left_ml - pour_out;
        let mix = self.readable(bucket, target, left, smallest);
        let spray = mix.volume.min(needed);
        let fill = Fill {
            left_in_mister_ml: self.left_ml,
            pour_out_ml: pour_out,
            feed_ml: mix.feed,
            top_up_ml: mix.top_up,
            feed_to_eighths: (left + mix.feed) / self.capacity_ml * 8.0,
            full_to_eighths: mix.volume / self.capacity_ml * 8.0,
            feed_strength_mg_l: mix.strength,
            spray_ml: spray,
        };
        self.left_ml = mix.volume - spray;
        self.left_mg_l = mix.strength;
        fill
    }

    /// The smallest fill from `smallest` up whose marks give the target within the tolerance and
    /// not more than it; where none does, the one that comes closest.
    fn readable(&self, bucket: f64, target: f64, left: f64, smallest: f64) -> Marked {
        let mut best = self.marked(bucket, target, left, smallest);
        let mut total = smallest;
        while best.off(target) > practice::FILL_TOLERANCE.number() && self.mark_ml > 0.0 {
            total += self.mark_ml;
            if total > self.capacity_ml {
                break;
            }
            let next = self.marked(bucket, target, left, total);
            if next.off(target) < best.off(target) {
                best = next;
            }
        }
        best
    }

    /// Feed and top-up rounded to the marks, for a fill of about `total`.
    fn marked(&self, bucket: f64, target: f64, left: f64, total: f64) -> Marked {
        let feed = if bucket > 0.0 {
            self.at_mark((target * total - self.left_mg_l * left) / bucket).max(0.0)
        } else {
            0.0
        };
        let mut feed = feed.min(self.down_to_mark(self.capacity_ml - left));
        let mut top_up = self.up_to_mark(total - left - feed).max(0.0);
        // Rounding never fills it beyond the brim.
        if left + feed + top_up > self.capacity_ml {
            top_up = self.down_to_mark(self.capacity_ml - left - feed).max(0.0);
        }
        if left + feed + top_up <= 0.0 {
            // A mister smaller than a mark is filled without marks.
            feed = if bucket > 0.0 { (target * total / bucket).clamp(0.0, total) } else { 0.0 };
            top_up = total - feed;
        }
        let volume = left + feed + top_up;
        let strength =
            if volume > 0.0 { (self.left_mg_l * left + bucket * feed) / volume } else { 0.0 };
        Marked { feed, top_up, volume, strength }
    }

    /// How much to pour out and how much to fill to, so that what is left can be brought to
    /// `target` with bucket and water alone.
    fn fit(&self, bucket: f64, target: f64, wanted: f64) -> (f64, f64) {
        let ratio = if self.left_mg_l > target {
            // Too strong: water it down; one mL of it makes this many mL.
            if target > 0.0 { self.left_mg_l / target } else { f64::INFINITY }
        } else if bucket > target {
            (bucket - self.left_mg_l) / (bucket - target)
        } else if self.left_mg_l < target {
            f64::INFINITY // the bucket itself is wanted and the rest is weaker
        } else {
            1.0
        };
        if self.left_ml <= 0.0 {
            return (0.0, wanted);
        }
        if !ratio.is_finite() {
            return (self.left_ml, wanted);
        }
        let total = (self.left_ml * ratio).max(wanted);
        if total <= self.capacity_ml {
            (0.0, total)
        } else {
            ((self.left_ml - self.capacity_ml / ratio).max(0.0), self.capacity_ml)
        }
    }

    fn at_mark(&self, ml: f64) -> f64 {
        if self.mark_ml > 0.0 { (ml / self.mark_ml).round() * self.mark_ml } else { ml }
    }

    fn down_to_mark(&self, ml: f64) -> f64 {
        if self.mark_ml > 0.0 { (ml / self.mark_ml + 1e-9).floor() * self.mark_ml } else { ml }
    }

    fn up_to_mark(&self, ml: f64) -> f64 {
        if self.mark_ml > 0.0 { (ml / self.mark_ml - 1e-9).ceil() * self.mark_ml } else { ml }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn ml(v: f64) -> Volume {
        Volume::new::<milliliter>(v)
    }

    fn step(strength: f64, volume: f64) -> Step {
        Step { strength: mg_per_l(strength), volume: ml(volume) }
    }

    #[test]
    fn left_over_goes_into_the_weaker_step() {
        let mut mister = Mister::empty(ml(1000.0), ml(5.0));
        let first = mister.fill(mg_per_l(300.0), step(300.0, 403.0));
        assert_eq!(first.len(), 1);
        assert_eq!(first[0].feed_ml, 405.0);
        let second = mister.fill(mg_per_l(300.0), step(150.0, 300.0));
        assert!((second[0].left_in_mister_ml - 2.0).abs() < 1e-9);
        assert!((second[0].feed_strength_mg_l - 150.0).abs() < 3.0);
    }

    #[test]
    fn pours_out_what_is_too_strong_to_water_down() {
        let mut mister =
            Mister { left_ml: 600.0, left_mg_l: 300.0, ..Mister::empty(ml(1000.0), ml(5.0)) };
        let fills = mister.fill(mg_per_l(300.0), step(50.0, 200.0));
        assert!(fills[0].pour_out_ml > 400.0, "{fills:?}");
        assert!((fills[0].feed_strength_mg_l - 50.0).abs() < 2.0, "{fills:?}");
    }

    // Too strong counts double; where plain water is wanted any feed is too much.
    #[test]
    fn too_strong_is_worse_than_too_weak() {
        let off = |strength, target| {
            Marked { feed: 50.0, top_up: 50.0, volume: 100.0, strength }.off(target)
        };
        for (strength, target, expected) in
            [(100.0, 100.0, 0.0), (95.0, 100.0, 0.05), (105.0, 100.0, 0.1), (0.0, 100.0, 1.0)]
        {
            assert!((off(strength, target) - expected).abs() < 1e-9, "{strength} {target}");
        }
        assert_eq!((off(0.0, 0.0), off(1.0, 0.0)), (0.0, f64::INFINITY));
    }

    // By hand, marks of 5 mL, the smallest fill 20 mL: 50 mg/L from 300 mg/L want a sixth of feed.
    // 5 mL in 20 or 25 mL are 75 or 60 mg/L, more than the 5 % that a fill may be off; in 30 mL they
    // are 50. A mister of 3 mL is filled without marks.
    #[test]
    fn a_fill_grows_until_its_marks_give_the_strength() {
        for (capacity, strength, volume, feed, top_up) in [
            (1000.0, 50.0, 18.0, 5.0, 25.0),
            (1000.0, 75.0, 18.0, 5.0, 15.0),
            (3.0, 150.0, 3.0, 1.5, 1.5),
        ] {
            let mut mister = Mister::empty(ml(capacity), ml(5.0));
            let fills = mister.fill(mg_per_l(300.0), step(strength, volume));
            let [fill] = &fills[..] else { panic!("{fills:?}") };
            assert_eq!((fill.feed_ml, fill.top_up_ml), (feed, top_up), "{fill:?}");
            assert!((fill.feed_strength_mg_l - strength).abs() < 1e-9);
        }
    }

    // By hand: 600 mL of 100 mg/L with 300 mg/L from the bucket: each mL makes (300 - 100) / (300 -
    // 200) = 2 mL of 200 mg/L, so that 500 mL of it fill the litre, with 500 mL of feed.
    #[test]
    fn pours_out_what_is_too_weak_to_be_brought_up() {
        let mut mister =
            Mister { left_ml: 600.0, left_mg_l: 100.0, ..Mister::empty(ml(1000.0), ml(5.0)) };
        let fills = mister.fill(mg_per_l(300.0), step(200.0, 900.0));
        let [fill] = &fills[..] else { panic!("{fills:?}") };
        assert_eq!((fill.pour_out_ml, fill.feed_ml, fill.top_up_ml), (100.0, 500.0, 0.0));
        assert!((fill.feed_strength_mg_l - 200.0).abs() < 1e-9);
    }

    /// 1200 mL are two fills of 600, 2500 mL three of about 833, not two full ones and a rest.
    #[test]
    fn fills_of_a_step_are_as_few_and_as_even_as_can_be() {
        for (volume, fills) in [(900.0, 1), (1200.0, 2), (2500.0, 3)] {
            let mut mister = Mister::empty(ml(1000.0), ml(5.0));
            let each = mister.fill(mg_per_l(300.0), step(300.0, volume));
            assert_eq!(each.len(), fills);
            for fill in &each {
                // To a mark of 5 mL, and what the fill before left of one.
                assert!((fill.spray_ml - volume / fills as f64).abs() <= 10.0, "{each:?}");
            }
        }
    }

    proptest! {
        #[test]
        fn conserves_feed_and_meets_the_need(
            capacity in 250.0..3000.0_f64,
            bucket in 100.0..600.0_f64,
            shares in proptest::collection::vec((0.05..1.0_f64, 10.0..4000.0_f64), 1..6),
        ) {
            let mut shares = shares;
            shares.sort_by(|a, b| b.0.total_cmp(&a.0));
            let mut mister = Mister::empty(ml(capacity), ml(5.0));
            for (share, volume) in shares {
                let target = share * bucket;
                let before = (mister.left_ml, mister.left_mg_l);
                let fills = mister.fill(mg_per_l(bucket), step(target, volume));
                let sprayed: f64 = fills.iter().map(|f| f.spray_ml).sum();
                prop_assert!((sprayed - volume).abs() < 1e-6);
                let feed_in: f64 = fills.iter().map(|f| f.feed_ml * bucket).sum::<f64>()
                    + before.0 * before.1;
                let mut poured = 0.0;
                let mut last = before.1;
                let mut out = 0.0;
                for f in &fills {
                    poured += f.pour_out_ml * last;
                    out += f.spray_ml * f.feed_strength_mg_l;
                    last = f.feed_strength_mg_l;
                    prop_assert!(f.full_to_eighths <= 8.0 + 1e-9);
                    prop_assert!(f.feed_ml >= 0.0 && f.top_up_ml >= 0.0 && f.pour_out_ml >= 0.0);
                    // a mark is 5 mL: the strength is off by at most that share of the fill
                    let volume = f.full_to_eighths / 8.0 * capacity;
                    if volume > 99.0 {
                        prop_assert!((f.feed_strength_mg_l - target).abs() <= bucket * 8.0 / volume);
                    }
                }
                let left = mister.left_ml * mister.left_mg_l;
                prop_assert!((feed_in - poured - out - left).abs() < 1e-6 * feed_in.max(1.0));
            }
        }
    }
}

//! What a film does in the air of a timeline: what it leaves, how much enters before it is dry,
//! how strong the drop at a root tip becomes.

use super::area::AreaTimeline;
use super::memo::{ExposureKey, FilmOutcome, RootDrop, ShareTakenUp};
use crate::air::{Air, KnownAir};
use crate::counterfactual::{AirChange, Counterfactual};
use crate::dose::Dose;
use crate::inputs::MixWater;
use crate::request::Shelter;
use guardcell_error::Error;
use guardcell_film::uptake::{Entering, share_taken_up};
use guardcell_film::{
    AirSpeed, AirWord, Exposure, Leaf, ResidueThreshold, Spraying, WetSides, burn, drying,
};
use guardcell_reference::parameters::{film, practice as p, uptake};
use guardcell_units::quantity::{ArealMassDensity, Ratio, Time, in_mg_per_l};
use guardcell_units::uom::si::{
    areal_mass_density::gram_per_square_meter,
    ratio::ratio,
    time::{hour, minute},
};

/// What one residue probability is asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Variation {
    /// Points added to the humidity.
    pub(crate) humidity: f64,
    /// Whether air that was not read is taken to be as sure as a hygrometer.
    pub(crate) as_read: bool,
    /// Air speed other than that of the timeline.
    pub(crate) moved: Option<AirWord>,
    pub(crate) water: MixWater,
    /// The threshold moved by so many of its standard deviations.
    pub(crate) threshold_sds: f64,
}

impl Variation {
    pub(crate) const NONE: Self = Self {
        humidity: 0.0,
        as_read: false,
        moved: None,
        water: MixWater::OWN,
        threshold_sds: 0.0,
    };
}

/// Nodes and weights of a normal distribution, three points (Abramowitz & Stegun 1972, 25.4.46).
const NORMAL_3: [(f64, f64); 3] =
    [(-1.732_050_807_568_877_2, 1.0 / 6.0), (0.0, 2.0 / 3.0), (1.732_050_807_568_877_2, 1.0 / 6.0)];
/// One-sided tenth of the normal distribution.
const Z_TENTH: f64 = 1.281_551_6;

/// What is left on a leaf, in one air.
#[derive(Debug, Clone, Copy)]
struct Left {
    probability: f64,
    feed_g_m2: f64,
    scale_g_m2: f64,
    feed_log_sd: Option<f64>,
}

impl AreaTimeline<'_> {
    /// What a film of a dose leaves when it is sprayed at a step; the same for every plant of the
    /// area. It is decided by the driest air from then to the end of the day that follows, because
    /// salts dry far faster than they enter. Shade is taken then: where sun warms the leaves, the
    /// air over them is drier still.
    pub(crate) fn outcome(
        &self,
        step: usize,
        dose: Dose,
        change: Counterfactual,
    ) -> Result<FilmOutcome, Error> {
        let driest = self.driest_after(step);
        let key = (driest, dose.micrograms(), dose.passes, change.air, change.rain_percent, 0);
        if let Some(known) = self.films.outcomes.borrow().get(&key) {
            return Ok(*known);
        }
        let outcome = self.outcome_seen(driest, dose, change, &self.inputs.threshold)?;
        self.films.outcomes.borrow_mut().insert(key, outcome);
        Ok(outcome)
    }

    /// The same where the strength itself is not sure: what is left goes with the strength, so
    /// that the spread of its logarithm adds to that of the threshold.
    pub(crate) fn outcome_of_unsure(
        &self,
        step: usize,
        dose: Dose,
        strength_log_sd: f64,
    ) -> Result<FilmOutcome, Error> {
        if strength_log_sd <= 0.0 {
            return self.outcome(step, dose, Counterfactual::default());
        }
        let driest = self.driest_after(step);
        let air = AirChange::default();
        let key = (driest, dose.micrograms(), dose.passes, air, 0, strength_log_sd.to_bits());
        if let Some(known) = self.films.outcomes.borrow().get(&key) {
            return Ok(*known);
        }
        let own = &self.inputs.threshold;
        let log_sd = own.log_sd().get::<ratio>().hypot(strength_log_sd);
        let wider = ResidueThreshold::new(own.median(), Ratio::new::<ratio>(log_sd));
        let outcome = self.outcome_seen(driest, dose, Counterfactual::default(), &wider)?;
        self.films.outcomes.borrow_mut().insert(key, outcome);
        Ok(outcome)
    }

    /// What is left in the air of a step, and how likely it is seen.
    fn outcome_seen(
        &self,
        driest: usize,
        dose: Dose,
        change: Counterfactual,
        threshold: &ResidueThreshold,
    ) -> Result<FilmOutcome, Error> {
        let known = self.air(driest)?;
        let least = f64::from(change.air.humidity_least);
        let air = known.air.with_humidity(known.air.rh_percent.max(least));
        // Kept humidity is as sure as a hygrometer, not as a guess.
        let rh_sd = if known.air.rh_percent < least { 0.0 } else { known.rh_sd };
        let moved = change.air.still.then_some(AirWord::Still);
        let at = |node: i8, rh: f64| -> Result<Left, Error> {
            let key = (driest, node, moved, change.air.humidity_least);
            let exposure = self.exposure(Some(key), air.with_humidity(rh), moved)?;
            Ok(self.left(&exposure, dose, air.temp_c, change.water(), threshold))
        };
        let middle = at(0, air.rh_percent)?;
        let probability = over_humidity(middle.probability, rh_sd, |node, points| {
            Ok(at(node, air.rh_percent + points)?.probability)
        })?;
        Ok(FilmOutcome {
            residue_probability: probability,
            feed_g_m2: middle.feed_g_m2,
            scale_g_m2: middle.scale_g_m2,
            feed_log_sd: middle.feed_log_sd,
            driest: KnownAir { air, rh_sd, ..known },
            driest_at: self.time(driest),
        })
    }

    /// The probability that the water alone would leave something to see.
    pub(crate) fn scale_probability(
        &self,
        step: usize,
        passes: u8,
        change: Counterfactual,
    ) -> Result<f64, Error> {
        let water = Dose { mg_l: 0.0, passes };
        Ok(self.outcome(step, water, change)?.residue_probability)
    }

    /// The probability of visible residue with one thing varied.
    pub(crate) fn varied(&self, step: usize, dose: Dose, vary: Variation) -> Result<f64, Error> {
        let known = self.air(self.driest_after(step))?;
        let rh_percent = known.air.rh_percent + vary.humidity;
        let threshold = moved_by(&self.inputs.threshold, vary.threshold_sds);
        let at = |points: f64| -> Result<f64, Error> {
            let air = known.air.with_humidity(rh_percent + points);
            let exposure = self.exposure(None, air, vary.moved)?;
            Ok(self.left(&exposure, dose, air.temp_c, vary.water, &threshold).probability)
        };
        let rh_sd = if vary.as_read { 0.0 } else { known.rh_sd };
        over_humidity(at(0.0)?, rh_sd, |_, points| at(points))
    }

    /// The share of the feed that enters before the leaf is dry, sprayed at a step.
    pub(crate) fn share_taken_up(
        &self,
        step: usize,
        dose: Dose,
        change: Counterfactual,
    ) -> Result<ShareTakenUp, Error> {
        let key = (step, dose.micrograms(), change.air, change.rain_percent);
        if let Some(known) = self.films.shares.borrow().get(&key) {
            return Ok(*known);
        }
        let (air, speed) = self.changed_air(step, change.air)?;
        let mix = self.inputs.nearest_mix(dose.mg_l, air.temp_c, change.water());
        let moist = air.moist(self.inputs.pressure)?;
        let leaf = self.leaf().absorbing(air.net_radiation());
        let leaf = leaf.map_err(|e| crate::error::below("/readings", e))?;
        let dried = drying(&mix, &leaf, &moist, speed.likely(), load());
        let dry = dried.time_to_dry.map(|t| t.get::<minute>());
        let share = self.uptake().share(dry);
        self.films.shares.borrow_mut().insert(key, share);
        Ok(share)
    }

    /// Minutes for which the filled velamen of a root stays wet; `None` where it does not dry.
    /// It fills within seconds, so air movement does not limit the filling (Zotz & Winkler 2013).
    pub(crate) fn velamen_minutes(
        &self,
        step: usize,
        change: AirChange,
    ) -> Result<Option<f64>, Error> {
        if let Some(known) = self.films.velamen.borrow().get(&(step, change)) {
            return Ok(*known);
        }
        let (air, speed) = self.changed_air(step, change)?;
        let held = ArealMassDensity::new::<gram_per_square_meter>(p::VELAMEN_LOAD.g_per_m2());
        let moist = air.moist(self.inputs.pressure)?;
        let root = wet_leaf(Shelter::Room);
        let dried = drying(&self.inputs.plain, &root, &moist, speed.likely(), held);
        let minutes = dried.time_to_dry.map(|t| t.get::<minute>());
        self.films.velamen.borrow_mut().insert((step, change), minutes);
        Ok(minutes)
    }

    /// The drop that hangs at a root tip after spraying at a step.
    pub(crate) fn root_drop(&self, step: usize, dose: Dose) -> Result<RootDrop, Error> {
        let key = (step, dose.micrograms());
        if let Some(known) = self.films.drops.borrow().get(&key) {
            return Ok(*known);
        }
        let (air, speed) = self.changed_air(step, AirChange::default())?;
        let mix = self.inputs.nearest_mix(dose.mg_l, air.temp_c, MixWater::OWN);
        let moist = air.moist(self.inputs.pressure)?;
        let limit = burn::burn_limit();
        let burnt = burn::burn(&mix, &moist, speed.likely(), burn::root_drop(), limit);
        let drop = RootDrop {
            peak_g_l: in_mg_per_l(burnt.peak_concentration) / 1000.0,
            limit_g_l: in_mg_per_l(limit) / 1000.0,
            minutes_above: burnt.above_limit.map(|t| t.get::<minute>()),
            at_risk: burnt.at_risk,
        };
        self.films.drops.borrow_mut().insert(key, drop);
        Ok(drop)
    }

    /// A wet leaf of the area.
    pub(super) fn leaf(&self) -> Leaf {
        wet_leaf(self.area.description.shelter)
    }

    pub(crate) fn uptake(&self) -> Uptake {
        Uptake { urea: self.inputs.urea_share() }
    }

    /// The air of a step with a change, and how fast it moves.
    fn changed_air(&self, step: usize, change: AirChange) -> Result<(Air, AirSpeed), Error> {
        let air = self.air(step)?.air;
        let air = air.with_humidity(air.rh_percent.max(f64::from(change.humidity_least)));
        let speed = if change.still { AirSpeed::from(AirWord::Still) } else { air.speed()? };
        Ok((air, speed))
    }

    /// The shaded leaf in some air, from the memo where it has a key.
    fn exposure(
        &self,
        key: Option<ExposureKey>,
        air: Air,
        moved: Option<AirWord>,
    ) -> Result<Exposure, Error> {
        if let Some(known) = key.and_then(|k| self.films.exposures.borrow().get(&k).copied()) {
            return Ok(known);
        }
        let speed = moved.map_or_else(|| air.speed(), |word| Ok(AirSpeed::from(word)))?;
        let exposure = Exposure::new(&self.leaf(), &air.moist(self.inputs.pressure)?, &speed);
        if let Some(key) = key {
            self.films.exposures.borrow_mut().insert(key, exposure);
        }
        Ok(exposure)
    }

    /// What is left on an exposed leaf, interpolated between the mixes around the temperature.
    fn left(
        &self,
        exposure: &Exposure,
        dose: Dose,
        temp_c: f64,
        water: MixWater,
        threshold: &ResidueThreshold,
    ) -> Left {
        let mixes = self.inputs.mixes(dose.mg_l, temp_c, water);
        let spraying = Spraying::one_pass(load()).passes(dose.passes);
        let of = |mix| {
            let r = exposure.residue(mix, &spraying, threshold);
            Left {
                probability: r.probability.get::<ratio>(),
                feed_g_m2: r.feed.get::<gram_per_square_meter>(),
                scale_g_m2: r.scale.get::<gram_per_square_meter>(),
                feed_log_sd: r.feed_log_sd.map(|sd| sd.get::<ratio>()),
            }
        };
        let lower = of(&mixes.lower);
        if mixes.towards_upper <= 0.0 {
            return lower;
        }
        let upper = of(&mixes.upper);
        let mix = |a: f64, b: f64| a + (b - a) * mixes.towards_upper;
        Left {
            probability: mix(lower.probability, upper.probability),
            feed_g_m2: mix(lower.feed_g_m2, upper.feed_g_m2),
            scale_g_m2: mix(lower.scale_g_m2, upper.scale_g_m2),
            feed_log_sd: match (lower.feed_log_sd, upper.feed_log_sd) {
                (Some(a), Some(b)) => Some(mix(a, b)),
                (a, b) => a.or(b),
            },
        }
    }
}

/// How much of a feed enters a leaf in a time: first order, salts and urea apart.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Uptake {
    /// The share of the feed that is urea, by mass.
    pub(crate) urea: f64,
}

impl Uptake {
    /// The share that enters until the leaf is dry, or in all the hours counted.
    pub(crate) fn share(self, dry_minutes: Option<f64>) -> ShareTakenUp {
        let most = film::UPTAKE_HOURS.hours();
        let wet = dry_minutes.map_or(most, |m| (m / 60.0).min(most));
        // A rate higher by a factor is the same as a longer time.
        let end = (uptake::RATE_LOG_SD.number() * Z_TENTH).exp();
        let likely = self.in_hours(wet);
        ShareTakenUp {
            dry_minutes,
            low: self.in_hours(wet / end),
            likely,
            high: self.in_hours(wet * end),
            of_the_most: likely / self.in_hours(most).max(f64::MIN_POSITIVE),
        }
    }

    fn in_hours(self, hours: f64) -> f64 {
        let share = |what| {
            let wet = Ratio::new::<ratio>(1.0);
            share_taken_up(what, Time::new::<hour>(hours), wet, false).get::<ratio>()
        };
        self.urea * share(Entering::Urea) + (1.0 - self.urea) * share(Entering::Salts)
    }
}

/// A probability averaged over a humidity that is not sure: `at` is asked at each node, in points from
/// the middle, of which the probability is known.
fn over_humidity(
    middle: f64,
    rh_sd: f64,
    at: impl Fn(i8, f64) -> Result<f64, Error>,
) -> Result<f64, Error> {
    if rh_sd <= 0.0 {
        return Ok(middle);
    }
    let mut sum = 0.0;
    for (node, (z, weight)) in (-1..=1).zip(NORMAL_3) {
        guardcell_call::checkpoint();
        sum += weight * if node == 0 { middle } else { at(node, z * rh_sd)? };
    }
    Ok(sum)
}

/// A threshold moved by its own standard deviations.
fn moved_by(t: &ResidueThreshold, sds: f64) -> ResidueThreshold {
    let factor = (t.log_sd().get::<ratio>() * sds).exp();
    ResidueThreshold::new(t.median() * factor, t.log_sd())
}

/// Sprayed leaves are wet on both sides; those in the open flutter in wind and dry the faster.
pub(super) fn wet_leaf(shelter: Shelter) -> Leaf {
    let leaf = Leaf::default().wet_on(WetSides::Both);
    if shelter == Shelter::Outdoors { leaf.fluttering() } else { leaf }
}

pub(super) fn load() -> ArealMassDensity {
    ArealMassDensity::new::<gram_per_square_meter>(film::FILM_LOAD_DEFAULT.g_per_m2())
}

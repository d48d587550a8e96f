//! A grower's sixty rounds, and the sums over many growers.

use super::world::{Asks, Follows, Happens, Logs, Threshold, World};
use crate::study_random::Random;
use guardcell_ledger::{
    Level, NextStrengthRequest, Observation, Prior, SprayedRound, ThresholdRequest, UsualDay,
    learn_threshold,
};
use jiff::ToSpan as _;
use jiff::civil::{Date, date};

pub(super) const ROUNDS: usize = 60;
/// After these rounds the interval is held against the truth.
pub(super) const CHECKED: [usize; 5] = [10, 20, 30, 40, 60];
const CHANGE_AT: usize = 20;
const DRY_DAY_AT: usize = 15;
const TOLERANCE: f64 = 0.1;
const CAP: f64 = 300.0;
const LEAST: f64 = 25.0;
const SLIPS: f64 = 0.03;
const ODD_SHARE: f64 = 0.12;
/// Residue of 1 mg/L in g/m² where half of the film sets to a crust, at 42.5 % humidity.
const SLOPE: f64 = 0.0161 / 300.0;
/// The usual air of a round, % humidity.
const HUMIDITY: (f64, f64) = (25.0, 60.0);
const USUAL_DAYS: usize = 10;

/// Residue of 1 mg/L in this air, as the model has it: below 75 % a growing share sets, all of it
/// at 25 %.
fn slope(humidity: f64) -> f64 {
    SLOPE * (75.0 - humidity) / 32.5
}

/// How far the residue seen is from the modelled one, for one kind of house: its distribution,
/// from many draws, in steps of a hundredth.
struct House {
    above: Vec<f64>,
}

const HOUSE_DRAWS: usize = 400_000;
const HOUSE_HALF: f64 = 8.0;

impl House {
    fn new(odd_days: bool, day_sd: f64, wavers: f64) -> Self {
        let mut random = Random::new(0x686f_7573_6573);
        let steps = (2.0 * HOUSE_HALF * 100.0) as usize + 1;
        let mut counts = vec![0.0; steps];
        for _ in 0..HOUSE_DRAWS {
            let error = day(odd_days, day_sd, &mut random) + random.logistic(wavers);
            let at = ((error + HOUSE_HALF) * 100.0).clamp(0.0, (steps - 1) as f64) as usize;
            if let Some(count) = counts.get_mut(at) {
                *count += 1.0;
            }
        }
        let mut above = 0.0;
        for count in counts.iter_mut().rev() {
            above += *count / HOUSE_DRAWS as f64;
            *count = above;
        }
        Self { above: counts }
    }

    /// The chance that white is seen where the modelled residue stands so far over the threshold.
    fn white(&self, over: f64) -> f64 {
        let at = ((HOUSE_HALF - over) * 100.0).clamp(0.0, (self.above.len() - 1) as f64) as usize;
        self.above.get(at).copied().unwrap_or(0.0)
    }

    /// The same at one strength over the usual air.
    fn chance(&self, strength: f64, threshold: f64) -> f64 {
        const STEPS: u32 = 20;
        if strength <= 0.0 {
            return 0.0;
        }
        let step = (HUMIDITY.1 - HUMIDITY.0) / f64::from(STEPS);
        let sum: f64 = (0..STEPS)
            .map(|i| HUMIDITY.0 + (f64::from(i) + 0.5) * step)
            .map(|h| self.white((strength * slope(h) / threshold).ln()))
            .sum();
        sum / f64::from(STEPS)
    }

    /// The best constant strength of somebody who knows both threshold and house.
    fn best(&self, threshold: f64) -> f64 {
        let (mut low, mut high) = (LEAST, CAP);
        if self.chance(high, threshold) <= TOLERANCE {
            return high;
        }
        for _ in 0..20 {
            let middle = f64::midpoint(low, high);
            if self.chance(middle, threshold) <= TOLERANCE { low = middle } else { high = middle }
        }
        low
    }
}

/// The error of a day: its spread, and now and then far out.
fn day(odd_days: bool, sd: f64, random: &mut Random) -> f64 {
    let odd = random.unit() < ODD_SHARE;
    let far = random.normal();
    let far = if odd && odd_days { 3.0_f64.ln() + 0.7 * far } else { 0.0 };
    far + sd * random.normal()
}

/// The houses of the worlds, each made once.
pub(super) struct Houses {
    plain: House,
    odd: House,
    heavy: House,
    wavering: House,
}

impl Houses {
    pub(super) fn new() -> Self {
        Self {
            plain: House::new(false, 0.33, 0.15),
            odd: House::new(true, 0.33, 0.15),
            heavy: House::new(false, 0.52, 0.15),
            wavering: House::new(false, 0.33, 0.5),
        }
    }

    fn of(&self, world: &World) -> &House {
        if world.odd_days {
            &self.odd
        } else if world.day_sd > 0.5 {
            &self.heavy
        } else if world.wavers > 0.3 {
            &self.wavering
        } else {
            &self.plain
        }
    }
}

/// Sums over the growers of one world, by round.
#[derive(Debug)]
pub(super) struct Tally {
    growers: f64,
    covered: Vec<f64>,
    white: Vec<f64>,
    chance: Vec<f64>,
    told: Vec<f64>,
    dose: Vec<f64>,
}

impl Tally {
    pub(super) fn new() -> Self {
        let zeros = || vec![0.0; ROUNDS + 1];
        Self {
            growers: 0.0,
            covered: zeros(),
            white: zeros(),
            chance: zeros(),
            told: zeros(),
            dose: zeros(),
        }
    }

    fn mean(&self, of: &[f64], from: usize, to: usize) -> f64 {
        let sum: f64 = of.iter().take(to).skip(from).sum();
        sum / (to - from) as f64 / self.growers
    }

    pub(super) fn coverage(&self, round: usize) -> f64 {
        self.covered.get(round).copied().unwrap_or(0.0) / self.growers
    }

    pub(super) fn white(&self, from: usize, to: usize) -> f64 {
        self.mean(&self.white, from, to)
    }

    pub(super) fn chance(&self, from: usize, to: usize) -> f64 {
        self.mean(&self.chance, from, to)
    }

    pub(super) fn told(&self) -> f64 {
        self.mean(&self.told, 40, 60)
    }

    pub(super) fn dose(&self) -> f64 {
        self.mean(&self.dose, 40, 60)
    }
}

/// What is true of a grower in a round: the residue of the usual hand from which half of the
/// reports say something.
fn threshold_at(world: &World, start: f64, round: usize) -> f64 {
    let factor = match world.happens {
        Happens::Change { factor, .. } if round >= CHANGE_AT => factor,
        Happens::Drift => {
            let share = (round as f64 - 10.0).clamp(0.0, 40.0) / 40.0;
            0.5_f64.powf(share)
        }
        _ => 1.0,
    };
    start * factor
}

/// One grower's rounds in one world.
pub(super) fn live(
    world: &World,
    houses: &Houses,
    random: &mut Random,
    tally: &mut Tally,
) -> Result<(), String> {
    let house = houses.of(world);
    let prior = Prior::shipped();
    let start = match world.threshold {
        Threshold::AsShipped => prior.median_g_m2 * (prior.log_sd * random.normal()).exp(),
        Threshold::Of(t) => t,
    };
    let mut air: Vec<f64> =
        (0..USUAL_DAYS).map(|_| slope(random.between(HUMIDITY.0, HUMIDITY.1))).collect();
    let mut request = ThresholdRequest {
        logs_only_white: world.logs == Logs::WhiteOnly,
        ..ThresholdRequest::default()
    };
    let mut strength = CAP;
    tally.growers += 1.0;
    for round in 0..ROUNDS {
        // The model does not know of a heavy hand: to it the threshold is that much lower.
        let truth = threshold_at(world, start, round) / world.load;
        let today = on(world, round);
        let slope = slope(random.between(HUMIDITY.0, HUMIDITY.1));
        request.day = Some(today.to_string());
        let told = propose(world, round, slope, &air, &mut request, &mut strength)?;
        let dry = world.happens == Happens::DryDay && round == DRY_DAY_AT;
        let error =
            day(world.odd_days, world.day_sd, random) + if dry { 4.0_f64.ln() } else { 0.0 };
        let over = (strength * slope / truth).ln() + error + random.logistic(world.wavers);
        let level = report(over, random);
        let missing = random.unit();
        let logged = match world.logs {
            Logs::All => true,
            Logs::WhiteOnly => level > Level::None,
            Logs::Missing(share) => missing >= share,
        };
        log(world, round, (strength, slope), logged.then_some(level), &mut request);
        air.push(slope);
        if CHECKED.contains(&(round + 1)) {
            check(round + 1, truth, &mut request, tally)?;
        }
        let set = |sums: &mut Vec<f64>, value: f64| {
            if let Some(sum) = sums.get_mut(round) {
                *sum += value;
            }
        };
        set(&mut tally.white, f64::from(u8::from(level > Level::None)));
        let chance = match world.asks {
            Asks::ForTheDay => house.white((strength * slope / truth).ln()),
            _ => house.chance(strength, truth),
        };
        set(&mut tally.chance, chance);
        set(&mut tally.told, told);
        if round >= 40 {
            set(&mut tally.dose, strength / house.best(truth));
        }
    }
    Ok(())
}

fn on(world: &World, round: usize) -> Date {
    let days = world.gap * i32::try_from(round).unwrap_or(0);
    date(2026, 1, 1).saturating_add(days.days())
}

/// Asks for the strength of a round; the chance of white that comes with it.
fn propose(
    world: &World,
    round: usize,
    today: f64,
    air: &[f64],
    request: &mut ThresholdRequest,
    strength: &mut f64,
) -> Result<f64, String> {
    if world.asks == Asks::EachFifth && !round.is_multiple_of(5) {
        return Ok(0.0);
    }
    let usual = |slope: &f64| UsualDay::new(*slope);
    let usual_days = match world.asks {
        Asks::ForTheDay => vec![UsualDay::new(today)],
        _ => air.iter().rev().take(USUAL_DAYS).map(usual).collect(),
    };
    request.next = Some(NextStrengthRequest {
        usual_days,
        tolerance: Some(TOLERANCE),
        cap_mg_l: Some(CAP),
        present_mg_l: None,
    });
    let next = learn_threshold(request).map_err(|e| e.to_string())?.next.ok_or("no strength")?;
    if !(world.asks == Asks::EachFifth && round == 0) {
        *strength = match world.follows {
            Follows::Proposal => next.proposed_mg_l,
            Follows::ReportsAlone => next.allowed_mg_l,
        }
        .unwrap_or(0.0);
    }
    // Asked for again where the guard was not followed: the chance at what the reports allow.
    if world.follows == Follows::ReportsAlone {
        if let Some(n) = request.next.as_mut() {
            n.present_mg_l = Some(*strength);
        }
        let next =
            learn_threshold(request).map_err(|e| e.to_string())?.next.ok_or("no strength")?;
        return Ok(next.probability_at_present.unwrap_or(0.0));
    }
    Ok(next.probability.unwrap_or(0.0))
}

fn report(over: f64, random: &mut Random) -> Level {
    let slip = random.unit() < SLIPS;
    let any = (random.unit() * 4.0) as usize;
    if slip {
        return Level::ALL.get(any).copied().unwrap_or(Level::None);
    }
    if over < 0.0 {
        Level::None
    } else if over < 2.0_f64.ln() {
        Level::Faint
    } else if over < 4.0_f64.ln() {
        Level::Clear
    } else {
        Level::Heavy
    }
}

fn log(
    world: &World,
    round: usize,
    (strength, slope): (f64, f64),
    seen: Option<Level>,
    request: &mut ThresholdRequest,
) {
    let recorded = matches!(world.happens, Happens::Change { recorded: true, .. });
    let product = if recorded && round >= CHANGE_AT { "another" } else { "first" };
    let day = on(world, round).to_string();
    request.rounds.push(SprayedRound {
        feed_g_m2: Some(strength * slope),
        product: Some(product.into()),
        ..SprayedRound::new(day.clone(), strength)
    });
    if let Some(level) = seen {
        request.observations.push(Observation {
            feed_g_m2: Some(strength * slope),
            feed_strength_mg_l: Some(strength),
            ..Observation::new(day, level)
        });
    }
}

/// Whether the interval holds the truth after a round's own look.
fn check(
    round: usize,
    truth: f64,
    request: &mut ThresholdRequest,
    tally: &mut Tally,
) -> Result<(), String> {
    request.next = None;
    let e = learn_threshold(request).map_err(|e| e.to_string())?.posterior;
    if let Some(covered) = tally.covered.get_mut(round) {
        *covered += f64::from(u8::from((e.low_g_m2..=e.high_g_m2).contains(&truth)));
    }
    Ok(())
}

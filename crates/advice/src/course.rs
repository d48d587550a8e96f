//! The course of the air in one area over the time looked at, in steps, with what a film does at
//! each: computed once for an area and shared by its plants.

use crate::error::below;
use crate::readings::{Air, Series};
use crate::site::{CheckedArea, CheckedSite};
use crate::situation::{MixKey, Situation};
use crate::windows::Relax;
use guardcell_clock::{
    AirHour, LightHours, WaterStatus, WetNightVerdict, light_hours, wet_in_the_dark, wet_night,
};
use guardcell_error::{Code, Error};
use guardcell_film::wetness::{AirSpan, wetness};
use guardcell_film::{
    AirSpeed, AirWord, Exposure, Leaf, Mix, MoistAir, Residue, ResidueThreshold, Spraying,
    WetSides, drying,
};
use guardcell_reference::parameters::{film, practice as p};
use guardcell_units::quantity::{
    ArealMassDensity, HeatFluxDensity, Pressure, Ratio, ThermodynamicTemperature, Time, Velocity,
};
use guardcell_units::uom::si::{
    areal_mass_density::gram_per_square_meter, heat_flux_density::watt_per_square_meter,
    ratio::percent, ratio::ratio, thermodynamic_temperature::degree_celsius, time::minute,
    time::second, velocity::meter_per_second,
};
use jiff::{SignedDuration, Timestamp, ZonedDateTime};
use std::cell::RefCell;
use std::collections::{BTreeMap, VecDeque};
use std::ops::Range;

/// Length of a step.
const STEP_MINUTES: i64 = 15;
/// Steps of an hour.
const HOUR_STEPS: usize = 4;
/// Steps between films whose drying is always followed: three hours.
const NIGHT_STEPS: usize = 12;

/// What a film leaves when it is sprayed at a step.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct FilmOutcome {
    pub(crate) residue_probability: f64,
    pub(crate) feed_g_m2: f64,
    pub(crate) scale_g_m2: f64,
    /// Standard deviation of the natural logarithm of the feed salts; none where none are left.
    pub(crate) feed_log_sd: Option<f64>,
    /// The driest air of the day that follows, which decides what turns solid.
    pub(crate) driest: Air,
    pub(crate) driest_at: Timestamp,
}

/// One step.
#[derive(Debug, Clone, Copy)]
struct Point {
    air: Option<Air>,
}

/// What makes one outcome differ from another: the step of the driest air, the mix, the passes,
/// whether the air is stilled.
type Key = (usize, MixKey, u8, bool);

/// The course of one area.
#[derive(Debug)]
pub(crate) struct Course<'a> {
    situation: &'a Situation<'a>,
    site: &'a CheckedSite,
    area: &'a CheckedArea,
    start: Timestamp,
    end: Timestamp,
    points: Vec<Point>,
    hours: Vec<AirHour>,
    light: LightHours,
    /// The air of every hour that has one, for the film; `hourly` says where an hour stands.
    spans: Vec<AirSpan>,
    hourly: Vec<Option<usize>>,
    /// For every step, that of the driest air from it to the end of the day that follows.
    driest: Vec<usize>,
    dry: RefCell<BTreeMap<usize, Timestamp>>,
    outcomes: RefCell<BTreeMap<Key, FilmOutcome>>,
    /// The shaded leaf in the air of a step, moved as it is or as a word says.
    exposures: RefCell<BTreeMap<(usize, Option<AirWord>), Exposure>>,
}

impl<'a> Course<'a> {
    pub(crate) fn new(
        situation: &'a Situation<'a>,
        site: &'a CheckedSite,
        area: &'a CheckedArea,
        series: Series,
        start: Timestamp,
        end: Timestamp,
    ) -> Result<Self, Error> {
        let light = light_hours(&area.site, start, end).map_err(|e| below("/site", e))?;
        let step = SignedDuration::from_mins(STEP_MINUTES);
        let mut points = Vec::new();
        let mut at = start;
        while at < end {
            points.push(Point { air: series.at(at).map(|a| with_air_speed(a, area)) });
            at = at.saturating_add(step).unwrap_or(end);
        }
        let hours = air_hours(&points, start, situation.pressure)?;
        let mut course = Self {
            situation,
            site,
            area,
            start,
            end,
            driest: driest(&points),
            points,
            hours,
            light,
            spans: Vec::new(),
            hourly: Vec::new(),
            dry: RefCell::default(),
            outcomes: RefCell::default(),
            exposures: RefCell::default(),
        };
        for step in (0..course.points.len()).step_by(HOUR_STEPS) {
            // The air in the middle of the hour stands for all of it.
            let Some(air) = course.air(step + HOUR_STEPS / 2).or(course.air(step)) else {
                course.hourly.push(None);
                continue;
            };
            let (_, moist, speed) = course.surroundings(air)?;
            course.hourly.push(Some(course.spans.len()));
            course.spans.push(AirSpan {
                air: moist,
                speed: speed.likely(),
                net_radiation: net_radiation(air),
                lasts: Time::new::<minute>(60.0),
            });
        }
        Ok(course)
    }

    pub(crate) fn end(&self) -> Timestamp {
        self.end
    }

    pub(crate) fn light(&self) -> &LightHours {
        &self.light
    }

    pub(crate) fn air_hours(&self) -> &[AirHour] {
        &self.hours
    }

    pub(crate) fn water_status(&self) -> WaterStatus {
        self.area.description.water_status
    }

    pub(crate) fn area(&self) -> &CheckedArea {
        self.area
    }

    pub(crate) fn local(&self, t: Timestamp) -> ZonedDateTime {
        self.site.local(t)
    }

    pub(crate) fn at_work(&self, t: Timestamp) -> bool {
        self.site.at_work(t)
    }

    pub(crate) fn step(&self) -> SignedDuration {
        SignedDuration::from_mins(STEP_MINUTES)
    }

    pub(crate) fn time(&self, step: usize) -> Timestamp {
        let minutes = i64::try_from(step).unwrap_or(i64::MAX).saturating_mul(STEP_MINUTES);
        self.start.saturating_add(SignedDuration::from_mins(minutes)).unwrap_or(self.end)
    }

    pub(crate) fn air(&self, step: usize) -> Option<Air> {
        self.points.get(step).and_then(|q| q.air)
    }

    /// The step that holds a moment.
    pub(crate) fn at(&self, t: Timestamp) -> usize {
        let minutes = t.duration_since(self.start).as_mins().max(0) / STEP_MINUTES;
        usize::try_from(minutes).unwrap_or(usize::MAX).min(self.points.len().saturating_sub(1))
    }

    /// The steps whose start lies in an interval, or that hold its start.
    pub(crate) fn steps_in(&self, from: Timestamp, to: Timestamp) -> Range<usize> {
        if to <= self.start || from >= self.end {
            return 0..0;
        }
        let first = self.at(from.max(self.start));
        let after = self.points.len().min(self.at(to.min(self.end)) + 1);
        let last = if self.time(after.saturating_sub(1)) >= to { after - 1 } else { after };
        first..last.max(first)
    }

    /// Whether leaves sprayed at a step stay wet in the dark for too long.
    ///
    /// What is sprayed later dries no sooner. So the drying of films sprayed a few hours apart
    /// bounds that of all between, and only where the bounds disagree is a step followed itself.
    pub(crate) fn wet_too_long(&self, step: usize) -> Result<bool, Error> {
        let earlier = step - step % NIGHT_STEPS;
        let later = (earlier + NIGHT_STEPS).min(self.points.len().saturating_sub(1));
        let bounded = self.air(earlier).is_some() && self.air(later).is_some();
        if bounded {
            if !self.dark_too_long(step, self.dry_at(later))? {
                return Ok(false);
            }
            if self.dark_too_long(step, self.dry_at(earlier))? {
                return Ok(true);
            }
        }
        self.dark_too_long(step, self.dry_at(step))
    }

    /// When a film sprayed at a step is dry to the touch, followed through the changing air; the
    /// end of what is known where it is not dry by then.
    fn dry_at(&self, step: usize) -> Timestamp {
        if let Some(known) = self.dry.borrow().get(&step) {
            return *known;
        }
        let spell = wetness(&self.situation.plain, &self.leaf(), load(), self.spans_from(step));
        let until = spell.dry_after.map_or(self.end, |t| {
            self.time(step)
                .saturating_add(SignedDuration::from_secs_f64(t.get::<second>()))
                .unwrap_or(self.end)
        });
        self.dry.borrow_mut().insert(step, until);
        until
    }

    fn dark_too_long(&self, step: usize, until: Timestamp) -> Result<bool, Error> {
        let from = self.time(step);
        let wet = wet_in_the_dark(&self.light, from, until.max(from));
        let mean = self.mean_c(step, self.at(until)).unwrap_or(20.0);
        let night = wet_night(wet, ThermodynamicTemperature::new::<degree_celsius>(mean))
            .map_err(|e| below("/site", e))?;
        Ok(night.verdict == WetNightVerdict::TooLong)
    }

    /// The air from the hour of a step on, up to the first hour without readings.
    fn spans_from(&self, step: usize) -> &[AirSpan] {
        let hour = step / HOUR_STEPS;
        let after = self.hourly.get(hour).copied().flatten();
        let Some(first) = after else { return &[] };
        let gap = self.hourly.iter().skip(hour).position(Option::is_none);
        let last = gap.map_or(self.spans.len(), |n| first + n);
        self.spans.get(first..last.min(self.spans.len())).unwrap_or_default()
    }

    /// The mean temperature from one step to another, both counted.
    fn mean_c(&self, first: usize, last: usize) -> Option<f64> {
        let temperatures: Vec<f64> =
            (first..=last.max(first)).filter_map(|s| self.air(s)).map(|a| a.temp_c).collect();
        let n = temperatures.len();
        (n > 0).then(|| temperatures.iter().sum::<f64>() / n as f64)
    }

    /// What a film of a strength leaves when it is sprayed at a step; the same for every plant of
    /// the area. It is decided by the driest air from then to the end of the day that follows,
    /// because salts dry far faster than they enter. Shade is taken then: where sun warms the
    /// leaves, the air over them is drier still.
    pub(crate) fn outcome(
        &self,
        step: usize,
        mg_l: f64,
        passes: u8,
        relax: Relax,
    ) -> Result<FilmOutcome, Error> {
        let driest = self.driest_after(step)?;
        let air = self.known_air(driest)?;
        let mix = self.situation.key(mg_l, air.temp_c, relax.pure_water);
        let key = (driest, mix, passes, relax.still_air);
        if let Some(known) = self.outcomes.borrow().get(&key) {
            return Ok(*known);
        }
        let moved = relax.still_air.then_some(AirWord::Still);
        let mixes = self.situation.mixes(mix);
        let left = self.residue(driest, moved, &mixes, passes, &self.situation.threshold)?;
        let outcome = FilmOutcome {
            residue_probability: left.probability.get::<ratio>(),
            feed_g_m2: left.feed.get::<gram_per_square_meter>(),
            scale_g_m2: left.scale.get::<gram_per_square_meter>(),
            feed_log_sd: left.feed_log_sd.map(|sd| sd.get::<ratio>()),
            driest: air,
            driest_at: self.time(driest),
        };
        self.outcomes.borrow_mut().insert(key, outcome);
        Ok(outcome)
    }

    /// Minutes until a film of a strength, sprayed at a step, is dry to the touch; none where it
    /// stays wet.
    pub(crate) fn dry_minutes(
        &self,
        step: usize,
        mg_l: f64,
        relax: Relax,
    ) -> Result<Option<f64>, Error> {
        let air = self.known_air(step)?;
        // The mix that decides the residue serves: temperature hardly moves the drying of water.
        let driest = self.known_air(self.driest_after(step)?)?;
        let mix = self.situation.mixes(self.situation.key(mg_l, driest.temp_c, relax.pure_water));
        let (leaf, moist, own) = self.surroundings(air)?;
        let speed = if relax.still_air { AirSpeed::from(AirWord::Still) } else { own };
        let dried = drying(&mix, &leaf, &moist, speed.likely(), load());
        Ok(dried.time_to_dry.map(|t| t.get::<minute>()))
    }

    /// The probability that the water alone would leave something to see.
    pub(crate) fn scale_probability(
        &self,
        step: usize,
        passes: u8,
        relax: Relax,
    ) -> Result<f64, Error> {
        Ok(self.outcome(step, 0.0, passes, relax)?.residue_probability)
    }

    /// The probability of visible residue with one thing varied.
    pub(crate) fn varied(
        &self,
        step: usize,
        mg_l: f64,
        passes: u8,
        vary: Vary,
    ) -> Result<f64, Error> {
        let driest = self.driest_after(step)?;
        let air = self.known_air(driest)?;
        let mut key = self.situation.key(mg_l, air.temp_c, false);
        let threshold = &self.situation.threshold;
        let (mut moved, mut shifted) = (None, *threshold);
        match vary {
            Vary::None => {}
            Vary::AirStill => moved = Some(AirWord::Still),
            Vary::AirFan => moved = Some(AirWord::Fan),
            Vary::HardWater => key = key.hard_water(),
            Vary::ThresholdLow => shifted = shift(threshold, -1.0),
            Vary::ThresholdHigh => shifted = shift(threshold, 1.0),
        }
        let mixes = self.situation.mixes(key);
        let left = self.residue(driest, moved, &mixes, passes, &shifted)?;
        Ok(left.probability.get::<ratio>())
    }

    /// What is left in the air of a step, in shade, moved as it is or as a word says.
    fn residue(
        &self,
        step: usize,
        moved: Option<AirWord>,
        mix: &Mix,
        passes: u8,
        threshold: &ResidueThreshold,
    ) -> Result<Residue, Error> {
        let spraying = Spraying::one_pass(load()).passes(passes);
        Ok(self.exposure(step, moved)?.residue(mix, &spraying, threshold))
    }

    fn exposure(&self, step: usize, moved: Option<AirWord>) -> Result<Exposure, Error> {
        if let Some(known) = self.exposures.borrow().get(&(step, moved)) {
            return Ok(*known);
        }
        let shaded = Air { radiation_w_m2: None, ..self.known_air(step)? };
        let (leaf, moist, own) = self.surroundings(shaded)?;
        let exposure = Exposure::new(&leaf, &moist, &moved.map_or(own, AirSpeed::from));
        self.exposures.borrow_mut().insert((step, moved), exposure);
        Ok(exposure)
    }

    fn known_air(&self, step: usize) -> Result<Air, Error> {
        self.air(step).ok_or_else(|| {
            Error::new(Code::Missing, "there is no air at this time", "give readings for it")
                .at("/readings")
        })
    }

    /// The step of the driest air from this one to the end of the day that follows.
    fn driest_after(&self, step: usize) -> Result<usize, Error> {
        self.known_air(step)?;
        Ok(self.driest.get(step).copied().unwrap_or(step))
    }

    /// Leaves in the open flutter in wind and dry the faster.
    fn leaf(&self) -> Leaf {
        match self.area.site.shelter {
            guardcell_clock::Shelter::Outdoors => leaf().fluttering(),
            guardcell_clock::Shelter::UnderCover => leaf(),
        }
    }

    fn surroundings(&self, air: Air) -> Result<(Leaf, MoistAir, AirSpeed), Error> {
        let leaf = self.leaf().absorbing(net_radiation(air)).map_err(|e| below("/readings", e))?;
        let moist = moist(air, self.situation.pressure)?;
        let speed = match air.air_m_s {
            Some(v) => AirSpeed::measured(Velocity::new::<meter_per_second>(v))
                .map_err(|e| below("/readings", e))?,
            None => AirSpeed::from(AirWord::Light),
        };
        Ok((leaf, moist, speed))
    }

    /// Whether the air speed of a step is assumed.
    pub(crate) fn air_speed_assumed(&self, step: usize) -> bool {
        self.air(step).is_some_and(|a| a.air_m_s.is_none())
    }
}

/// For every step, that of the driest air from it to the end of the day that follows.
fn driest(points: &[Point]) -> Vec<usize> {
    const DAY: usize = (24 * 60 / STEP_MINUTES) as usize; // 96
    // Steps that can still be the driest of a later window, the driest in front.
    let mut candidates: VecDeque<(usize, f64)> = VecDeque::new();
    let mut out = vec![0; points.len()];
    for (step, slot) in out.iter_mut().enumerate().rev() {
        if let Some(air) = points.get(step).and_then(|q| q.air) {
            // Of equals the earlier counts.
            while candidates.back().is_some_and(|(_, rh)| *rh >= air.rh_percent) {
                candidates.pop_back();
            }
            candidates.push_back((step, air.rh_percent));
        }
        while candidates.front().is_some_and(|(s, _)| *s >= step + DAY) {
            candidates.pop_front();
        }
        *slot = candidates.front().map_or(step, |(s, _)| *s);
    }
    out
}

/// One thing varied, to see how far an answer moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Vary {
    None,
    ThresholdLow,
    ThresholdHigh,
    AirStill,
    AirFan,
    HardWater,
}

/// A threshold moved by its own standard deviations.
fn shift(t: &ResidueThreshold, sds: f64) -> ResidueThreshold {
    let factor = (t.log_sd().get::<ratio>() * sds).exp();
    ResidueThreshold::new(t.median() * factor, t.log_sd())
}

/// Sprayed leaves are wet on both sides.
fn leaf() -> Leaf {
    Leaf::default().wet_on(WetSides::Both)
}

fn load() -> ArealMassDensity {
    ArealMassDensity::new::<gram_per_square_meter>(film::FILM_LOAD_DEFAULT.value)
}

/// Net radiation from what falls on the leaf; none at night.
fn net_radiation(air: Air) -> HeatFluxDensity {
    let absorbed = air.radiation_w_m2.unwrap_or(0.0) * p::LEAF_ABSORBS.value;
    HeatFluxDensity::new::<watt_per_square_meter>(absorbed.min(film::NET_RADIATION_HIGHEST.value))
}

fn moist(air: Air, pressure: Pressure) -> Result<MoistAir, Error> {
    MoistAir::new(
        ThermodynamicTemperature::new::<degree_celsius>(air.temp_c),
        Ratio::new::<percent>(air.rh_percent),
        pressure,
    )
    .map_err(|e| below("/readings", e))
}

fn with_air_speed(air: Air, area: &CheckedArea) -> Air {
    Air { air_m_s: air.air_m_s.or(area.description.air_m_s), ..air }
}

/// The air for the clock: one entry a step, where it is known.
fn air_hours(
    points: &[Point],
    start: Timestamp,
    pressure: Pressure,
) -> Result<Vec<AirHour>, Error> {
    let mut out = Vec::new();
    for (i, point) in points.iter().enumerate() {
        let Some(air) = point.air else { continue };
        let minutes = i64::try_from(i).unwrap_or(i64::MAX).saturating_mul(STEP_MINUTES);
        out.push(AirHour {
            start: start.saturating_add(SignedDuration::from_mins(minutes)).unwrap_or(start),
            temperature: ThermodynamicTemperature::new::<degree_celsius>(air.temp_c),
            vpd: moist(air, pressure)?.vapour_pressure_deficit(),
        });
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_driest_step_of_the_day_that_follows() {
        let point = |rh_percent: f64| Point {
            air: Some(Air { temp_c: 20.0, rh_percent, air_m_s: None, radiation_w_m2: None }),
        };
        // Three days in which humidity runs in a saw of 100 steps.
        let points: Vec<Point> = (0..288).map(|i| point(f64::from((i * 37 + 11) % 100))).collect();
        for (step, found) in driest(&points).into_iter().enumerate() {
            let slow = (step..points.len().min(step + 96))
                .min_by(|a, b| {
                    let rh = |i: &usize| points[*i].air.unwrap().rh_percent;
                    rh(a).total_cmp(&rh(b)).then(a.cmp(b))
                })
                .unwrap();
            assert_eq!(found, slow, "{step}");
        }
    }
}

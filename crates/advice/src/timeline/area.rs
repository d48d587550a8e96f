//! The air and the light of one area over time, in steps, with what a film does at each: computed
//! once for an area and shared by its plants.
//!
//! It reaches a day past the end of the last window that can be judged, so that what decides a
//! window (the driest air that follows, the night it may stay wet in) is never cut off.

use super::memo::{FilmMemo, Nights};
use crate::air::{Air, AirBasis, KnownAir};
use crate::assumed::AreaAir;
use crate::counterfactual::AirChange;
use crate::error::below;
use crate::inputs::Inputs;
use crate::request::{Shelter, Winter};
use crate::series::{Series, hours};
use crate::site::{CheckedArea, CheckedSite};
use guardcell_clock::LightKind;
use guardcell_clock::{AirHour, LightHours, SunCourse, light_hours, sun_on};
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::{clock, practice as p};
use guardcell_units::quantity::ThermodynamicTemperature;
use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;
use jiff::civil::Date;
use jiff::{SignedDuration, Timestamp, ZonedDateTime};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::ops::Range;

/// Length of a step.
const STEP_MINUTES: i64 = 15;
/// Steps of an hour.
pub(super) const HOUR_STEPS: usize = 4;
/// Steps of a day.
const DAY_STEPS: usize = 24 * HOUR_STEPS;
/// Past the time looked at, the timeline holds the longest window that may begin before its end
/// and the day that follows that window.
const REACH_HOURS: i64 = 48;

/// The timeline of one area.
#[derive(Debug)]
pub(crate) struct AreaTimeline<'a> {
    pub(super) inputs: &'a Inputs<'a>,
    site: &'a CheckedSite,
    pub(super) area: &'a CheckedArea,
    start: Timestamp,
    /// End of the time looked at: windows begin before it.
    end: Timestamp,
    pub(super) steps: Vec<KnownAir>,
    /// For every step, that of the driest air from it to the end of the day that follows.
    driest: Vec<usize>,
    /// For every step, the first from it on whose air is assumed.
    assumed_from: Vec<usize>,
    /// Sums of the temperature before each step, for means.
    warmth: Vec<f64>,
    air_hours: Vec<AirHour>,
    pub(super) light: LightHours,
    dark: Vec<(Timestamp, Timestamp)>,
    known_until: Option<Timestamp>,
    repeats: bool,
    pub(super) films: FilmMemo,
    pub(super) nights: RefCell<BTreeMap<AirChange, Nights>>,
    dark_months: RefCell<BTreeMap<Date, bool>>,
}

impl<'a> AreaTimeline<'a> {
    pub(crate) fn new(
        inputs: &'a Inputs<'a>,
        site: &'a CheckedSite,
        area: &'a CheckedArea,
        series: Series,
        (start, end): (Timestamp, Timestamp),
    ) -> Result<Self, Error> {
        let limit = end
            .checked_add(SignedDuration::from_hours(REACH_HOURS))
            .map_err(|_| past_the_calendar())?;
        let light = light_hours(&area.site, start, limit).map_err(|e| below("/site", e))?;
        let repeats = series.ends_in_a_full_day();
        let shelter = area.description.shelter;
        // From a day before on, so that the day or night the start lies in is known whole.
        let before = start.checked_sub(SignedDuration::from_hours(25)).unwrap_or(start);
        let around = light_hours(&area.site, before, limit).map_err(|e| below("/site", e))?;
        let air = AreaAir::new(series, shelter, &around, start, inputs.pressure);
        let mut steps = Vec::new();
        let mut at = start;
        while at < limit {
            guardcell_call::checkpoint();
            let known = air.at(at)?.ok_or_else(|| {
                Error::new(Code::Missing, "no readings", "give at least one reading")
                    .at("/readings")
            })?;
            let air_m_s = known.air.air_m_s.or(area.description.air_m_s);
            steps.push(KnownAir { air: Air { air_m_s, ..known.air }, ..known });
            at = at.saturating_add(step()).unwrap_or(limit);
        }
        Ok(Self {
            driest: driest(&steps),
            assumed_from: first_assumed(&steps),
            warmth: sums(&steps),
            air_hours: air_hours(&steps, start, inputs)?,
            dark: around.dark().iter().map(|s| (s.start.timestamp(), s.end.timestamp())).collect(),
            known_until: air.known_until(),
            inputs,
            site,
            area,
            start,
            end,
            steps,
            light,
            repeats,
            films: FilmMemo::default(),
            nights: RefCell::default(),
            dark_months: RefCell::default(),
        })
    }

    pub(crate) const fn start(&self) -> Timestamp {
        self.start
    }

    pub(crate) const fn end(&self) -> Timestamp {
        self.end
    }

    pub(crate) const fn light(&self) -> &LightHours {
        &self.light
    }

    pub(crate) fn air_hours(&self) -> &[AirHour] {
        &self.air_hours
    }

    pub(crate) const fn area(&self) -> &CheckedArea {
        self.area
    }

    pub(crate) const fn inputs(&self) -> &Inputs<'a> {
        self.inputs
    }

    /// The last reading, where there is one.
    pub(crate) const fn known_until(&self) -> Option<Timestamp> {
        self.known_until
    }

    /// Whether the last full day is repeated after the last reading.
    pub(crate) const fn repeats(&self) -> bool {
        self.repeats
    }

    /// From when on nothing is advised, because the readings end too long before.
    pub(crate) fn advised_until(&self) -> Option<Timestamp> {
        self.known_until?.checked_add(hours(p::ASSUMED_WINDOW_MOST.hours())).ok()
    }

    pub(crate) fn local(&self, t: Timestamp) -> ZonedDateTime {
        self.site.local(t)
    }

    pub(crate) fn at_work(&self, t: Timestamp) -> bool {
        self.site.at_work(t)
    }

    pub(crate) fn time(&self, step: usize) -> Timestamp {
        let minutes = i64::try_from(step).unwrap_or(i64::MAX).saturating_mul(STEP_MINUTES);
        self.start.saturating_add(SignedDuration::from_mins(minutes)).unwrap_or(Timestamp::MAX)
    }

    /// The end of a step.
    pub(crate) fn time_after(&self, step: usize) -> Timestamp {
        self.time(step.saturating_add(1))
    }

    /// The air of a step; that of the last step past it.
    pub(crate) fn air(&self, step: usize) -> Result<KnownAir, Error> {
        self.steps.get(step).or_else(|| self.steps.last()).copied().ok_or_else(|| {
            Error::new(Code::Missing, "no readings", "give at least one reading").at("/readings")
        })
    }

    /// The step that holds a moment.
    pub(crate) fn step_at(&self, t: Timestamp) -> usize {
        let minutes = t.duration_since(self.start).as_mins().max(0) / STEP_MINUTES;
        usize::try_from(minutes).unwrap_or(usize::MAX).min(self.steps.len().saturating_sub(1))
    }

    /// The steps whose start lies in an interval, or that hold its start.
    pub(crate) fn steps_in(&self, from: Timestamp, to: Timestamp) -> Range<usize> {
        if to <= self.start || to <= from {
            return 0..0;
        }
        let first = self.step_at(from.max(self.start));
        let after = self.steps.len().min(self.step_at(to) + 1);
        let last = if self.time(after.saturating_sub(1)) >= to { after - 1 } else { after };
        first..last.max(first)
    }

    /// Whether the air of a step and of the day that follows is read or forecast.
    pub(crate) fn known_day(&self, step: usize) -> bool {
        self.assumed_from.get(step).is_some_and(|first| *first >= step + DAY_STEPS)
    }

    /// How the air from one step to another is known: the weakest of them.
    pub(crate) fn basis(&self, steps: Range<usize>) -> AirBasis {
        let of = |k: &KnownAir| k.basis;
        self.steps.get(steps).and_then(|s| s.iter().map(of).max()).unwrap_or(AirBasis::Assumed)
    }

    /// Whether the readings reach near enough to a step to advise on it.
    pub(crate) fn is_near_a_reading(&self, step: usize) -> bool {
        self.steps.get(step).is_some_and(|k| k.hours_away <= p::ASSUMED_WINDOW_MOST.hours())
    }

    /// The step of the driest air from this one to the end of the day that follows.
    pub(crate) fn driest_after(&self, step: usize) -> usize {
        self.driest.get(step).copied().unwrap_or(step)
    }

    /// The mean temperature from one step to another, both counted.
    pub(crate) fn mean_c(&self, first: usize, last: usize) -> Option<f64> {
        let after = (last.max(first) + 1).min(self.steps.len());
        let n = after.checked_sub(first).filter(|n| *n > 0)?;
        Some((self.warmth.get(after)? - self.warmth.get(first)?) / n as f64)
    }

    /// The mean temperature of the dark that a moment lies in or comes before.
    pub(crate) fn night_mean_c(&self, t: Timestamp) -> Option<f64> {
        let next = self.dark.partition_point(|(_, end)| *end <= t);
        let (from, to) = self.dark.get(next)?;
        let steps = self.steps_in(*from, *to);
        (!steps.is_empty()).then(|| self.mean_c(steps.start, steps.end - 1)).flatten()
    }

    /// Whether a moment lies in an evening of the dark months: under cover, lit by the sun alone,
    /// on a short day; shortly before the dark or in its first half.
    pub(crate) fn in_dark_evening(&self, t: Timestamp) -> Result<bool, Error> {
        if !self.in_dark_month(t)? {
            return Ok(false);
        }
        let before = hours(p::DARK_EVENING_BEFORE.hours());
        Ok(self.dark.iter().any(|(from, to)| {
            let middle = from.saturating_add(to.duration_since(*from) / 2).unwrap_or(*to);
            from.saturating_sub(before).unwrap_or(*from) <= t && t < middle
        }))
    }

    /// Whether a moment lies in the dark months of an area that rests in them: under cover, lit by
    /// the sun alone, on a day shorter than the stated length.
    pub(crate) fn in_dark_month(&self, t: Timestamp) -> Result<bool, Error> {
        if !self.rests_in_winter() {
            return Ok(false);
        }
        let date = self.local(t).date();
        if let Some(known) = self.dark_months.borrow().get(&date) {
            return Ok(*known);
        }
        let dark = self.day_length_h(date)? < clock::WINTER_DAY_LENGTH.hours();
        self.dark_months.borrow_mut().insert(date, dark);
        Ok(dark)
    }

    /// Whether the dark months matter in this area at all.
    fn rests_in_winter(&self) -> bool {
        let d = &self.area.description;
        d.winter == Winter::Rest && d.light == LightKind::Sun && d.shelter != Shelter::Outdoors
    }

    pub(crate) fn is_room(&self) -> bool {
        self.area.description.shelter == Shelter::Room
    }

    /// The first date after a moment on which the days are long enough again.
    pub(crate) fn dark_months_end(&self, t: Timestamp) -> Result<Option<Date>, Error> {
        let mut date = self.local(t).date();
        for _ in 0..366 {
            let Ok(next) = date.tomorrow() else { return Ok(None) };
            date = next;
            if self.day_length_h(date)? >= clock::WINTER_DAY_LENGTH.hours() {
                return Ok(Some(date));
            }
        }
        Ok(None)
    }

    fn day_length_h(&self, date: Date) -> Result<f64, Error> {
        let sun = sun_on(&self.area.site.location, date).map_err(|e| below("/site", e))?;
        Ok(match (sun.course, &sun.sunrise, &sun.sunset) {
            (SunCourse::PolarNight, _, _) => 0.0,
            (_, Some(up), Some(down)) => {
                let h = down.timestamp().duration_since(up.timestamp()).as_secs_f64() / 3600.0;
                // Far west of the meridian of its zone the sun may set after midnight.
                if h < 0.0 { h + 24.0 } else { h }
            }
            _ => 24.0,
        })
    }
}

fn past_the_calendar() -> Error {
    Error::new(Code::OutOfRange, "the time is past the calendar", "give an earlier time").at("/at")
}

pub(crate) fn step() -> SignedDuration {
    SignedDuration::from_mins(STEP_MINUTES)
}

/// The air for the clock: one entry a step.
fn air_hours(
    steps: &[KnownAir],
    start: Timestamp,
    inputs: &Inputs<'_>,
) -> Result<Vec<AirHour>, Error> {
    let mut at = start;
    let mut out = Vec::with_capacity(steps.len());
    for known in steps {
        out.push(AirHour {
            start: at,
            temperature: ThermodynamicTemperature::new::<degree_celsius>(known.air.temp_c),
            vpd: known.air.moist(inputs.pressure)?.vapour_pressure_deficit(),
        });
        at = at.saturating_add(step()).unwrap_or(at);
    }
    Ok(out)
}

fn sums(steps: &[KnownAir]) -> Vec<f64> {
    let mut sum = 0.0;
    let mut out = vec![0.0];
    out.extend(steps.iter().map(|k| {
        sum += k.air.temp_c;
        sum
    }));
    out
}

/// For every step, the first from it on whose air is assumed; past all where none is.
fn first_assumed(steps: &[KnownAir]) -> Vec<usize> {
    let mut next = usize::MAX;
    let mut out = vec![0; steps.len()];
    for ((i, known), slot) in steps.iter().enumerate().zip(&mut out).rev() {
        if known.hours_away > 0.0 {
            next = i;
        }
        *slot = next;
    }
    out
}

/// For every step, that of the driest air from it to the end of the day that follows; air that was
/// not read counts as drier by its standard deviation.
fn driest(steps: &[KnownAir]) -> Vec<usize> {
    // Steps that can still be the driest of a later window, the driest in front.
    let mut candidates: std::collections::VecDeque<(usize, f64)> =
        std::collections::VecDeque::new();
    let mut out = vec![0; steps.len()];
    for ((step, known), slot) in steps.iter().enumerate().zip(&mut out).rev() {
        let rh = known.air.rh_percent - known.rh_sd;
        // Of equals the earlier counts.
        while candidates.back().is_some_and(|(_, other)| *other >= rh) {
            candidates.pop_back();
        }
        candidates.push_back((step, rh));
        while candidates.front().is_some_and(|(s, _)| *s >= step + DAY_STEPS) {
            candidates.pop_front();
        }
        *slot = candidates.front().map_or(step, |(s, _)| *s);
    }
    out
}

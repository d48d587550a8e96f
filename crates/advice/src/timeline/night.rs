//! Whether leaves sprayed at a step stay wet in the dark for too long.

use super::area::{AreaTimeline, HOUR_STEPS};
use super::film::load;
use super::memo::Nights;
use crate::counterfactual::AirChange;
use crate::error::below;
use guardcell_clock::{WetNight, WetNightVerdict, wet_in_the_dark, wet_night};
use guardcell_error::Error;
use guardcell_film::wetness::{AirSpan, wetness};
use guardcell_film::{AirSpeed, AirWord};
use guardcell_units::quantity::{ThermodynamicTemperature, Time};
use guardcell_units::uom::si::{
    thermodynamic_temperature::degree_celsius, time::minute, time::second,
};
use jiff::{SignedDuration, Timestamp};

/// Steps between films whose drying is always followed: three hours.
const NIGHT_STEPS: usize = 12;

impl AreaTimeline<'_> {
    /// Whether leaves sprayed at a step stay wet in the dark for too long.
    ///
    /// What is sprayed later dries no sooner. So the drying of films sprayed a few hours apart
    /// bounds that of all between, and only where the bounds disagree is a step followed itself.
    pub(crate) fn wet_too_long(&self, step: usize, change: AirChange) -> Result<bool, Error> {
        let mut nights = self.nights.borrow_mut();
        let nights = match nights.entry(change) {
            std::collections::btree_map::Entry::Occupied(known) => known.into_mut(),
            std::collections::btree_map::Entry::Vacant(slot) => {
                slot.insert(self.nights_in(change)?)
            }
        };
        if let Some(known) = nights.too_long.get(step).copied().flatten() {
            return Ok(known);
        }
        let earlier = step - step % NIGHT_STEPS;
        let later = (earlier + NIGHT_STEPS).min(self.steps.len().saturating_sub(1));
        let at_most = self.dry_at(nights, later);
        let answer = if !self.dark_too_long(step, at_most)? {
            false
        } else {
            let at_least = self.dry_at(nights, earlier);
            if self.dark_too_long(step, at_least)? {
                true
            } else {
                let dry = self.dry_at(nights, step);
                self.dark_too_long(step, dry)?
            }
        };
        if let Some(slot) = nights.too_long.get_mut(step) {
            *slot = Some(answer);
        }
        Ok(answer)
    }

    /// The hours of every span, with the air changed.
    fn nights_in(&self, change: AirChange) -> Result<Nights, Error> {
        let mut spans = Vec::new();
        for first in (0..self.steps.len()).step_by(HOUR_STEPS) {
            // The air in the middle of the hour stands for all of it.
            let air = self.air(first + HOUR_STEPS / 2)?.air;
            let air = air.with_humidity(air.rh_percent.max(f64::from(change.humidity_least)));
            let speed = if change.still { AirSpeed::from(AirWord::Still) } else { air.speed()? };
            spans.push(AirSpan {
                air: air.moist(self.inputs.pressure)?,
                speed: speed.likely(),
                net_radiation: air.net_radiation(),
                lasts: Time::new::<minute>(60.0),
            });
        }
        let n = self.steps.len();
        Ok(Nights { spans, dry: vec![None; n], too_long: vec![None; n] })
    }

    /// When a film sprayed at a step is dry to the touch, followed through the changing air; the
    /// end of the timeline where it is not dry by then.
    fn dry_at(&self, nights: &mut Nights, step: usize) -> Timestamp {
        if let Some(known) = nights.dry.get(step).copied().flatten() {
            return known;
        }
        let spans = nights.spans.get(step / HOUR_STEPS..).unwrap_or_default();
        let spell = wetness(&self.inputs.plain, &self.leaf(), load(), spans);
        let end = self.time(self.steps.len());
        let until = spell.dry_after.map_or(end, |t| {
            self.time(step)
                .saturating_add(SignedDuration::from_secs_f64(t.get::<second>()))
                .unwrap_or(end)
        });
        if let Some(slot) = nights.dry.get_mut(step) {
            *slot = Some(until);
        }
        until
    }

    fn dark_too_long(&self, step: usize, until: Timestamp) -> Result<bool, Error> {
        Ok(self.night_of(step, until)?.verdict == WetNightVerdict::TooLong)
    }

    fn night_of(&self, step: usize, until: Timestamp) -> Result<WetNight, Error> {
        let from = self.time(step);
        let wet = wet_in_the_dark(&self.light, from, until.max(from));
        let last = self.step_at(until);
        let mean = match self.mean_c(step, last) {
            Some(mean) => mean,
            None => self.air(step)?.air.temp_c,
        };
        wet_night(wet, ThermodynamicTemperature::new::<degree_celsius>(mean))
            .map_err(|e| below("/site", e))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trial::House;

    /// The bounds by films a few hours apart say of each step what following it itself says.
    #[test]
    fn bounds_by_other_films_say_what_the_film_itself_says() {
        let mut turns = 0;
        // Damp nights from 18:00 to 06:00, drier days.
        for night in [88.0, 92.0, 95.0, 97.0] {
            let damp =
                move |h: i64| if (6..18).contains(&(h + 12).rem_euclid(24)) { 75.0 } else { night };
            let house =
                House::new("2026-06-21T12:00:00Z", 36, -30..=84, move |h| (14.0, damp(h), 0.1));
            house.timeline(|line| {
                let change = AirChange::default();
                let mut before = None;
                for step in 0..line.steps.len() {
                    let bounded = line.wet_too_long(step, change).unwrap();
                    let mut nights = line.nights.borrow_mut();
                    let dry = line.dry_at(nights.get_mut(&change).unwrap(), step);
                    drop(nights);
                    assert_eq!(bounded, line.dark_too_long(step, dry).unwrap(), "{night} {step}");
                    turns += usize::from(
                        before.is_some_and(|b| b != bounded) && step % NIGHT_STEPS != 0,
                    );
                    before = Some(bounded);
                }
            });
        }
        assert!(turns >= 4, "{turns}: hardly a verdict turns between the films");
    }
}

//! When the sun is up over a window: the few positions that openings need, found quickly.
//!
//! Half days from mean midnight to mean noon and back are looked at by their ends. Where the sun
//! is well above at one and well below at the other, it crosses the horizon once between, found by
//! Newton steps, the last of them on the SPA elevation. The steps before and the ends need less: in
//! its years the algorithm 3 of Grena 2012 serves, which is within 0.01°. Where it grazes the horizon at either end, the slower search
//! of the solar library, which cannot miss a crossing, looks through that half day.

use crate::sun::{delta_t, julian, location, seconds};
use crate::{ClockError, Place};
use solar_positioning::time::JulianDate;
use solar_positioning::{Horizon, Location, PreparedPositions, SolarEvents, SolarPositions};

const HALF_DAY_S: i64 = 43_200;
/// Degrees from the horizon within which an end of a half day counts as grazing. Mean noon is at
/// most 17 minutes from true noon, which changes the height by under 0.2°, and the declination
/// drifts by 0.2° in half a day.
const GRAZING_DEG: f64 = 1.5;
/// Mean motion of the hour angle, degrees a second.
const TURN_DEG_S: f64 = 360.0 / 86_400.0;
/// A crossing known to within this ends the search, seconds.
const CLOSE_S: f64 = 0.3;
/// The years that Grena's algorithm was made for, 2010 to 2110, in seconds.
const GRENA_S: core::ops::Range<f64> = 1_262_390_400.0..4_417_977_600.0;

/// Spans of seconds in which the sun is up, clipped to `from..to`.
pub(crate) fn up(place: &Place, from: i64, to: i64) -> Result<Vec<(i64, i64)>, ClockError> {
    let sky = Sky { location: location(place), delta_t: delta_t(from)? };
    let east_s = (place.longitude().degrees() / 360.0 * 86_400.0).round() as i64;
    // half days counted from a local mean midnight: even at midnight, odd at noon
    let first = (from + east_s).div_euclid(HALF_DAY_S);
    let last = (to + east_s).div_euclid(HALF_DAY_S) + 1;
    let at = |k: i64| k * HALF_DAY_S - east_s;
    let mut before = sky.glance(at(first) as f64)?;
    let mut since = (before.above > 0.0).then_some(at(first));
    let mut spans = Vec::with_capacity(usize::try_from(last - first).unwrap_or(0) / 2 + 1);
    for k in first..last {
        let after = sky.glance(at(k + 1) as f64)?;
        let noon = if k % 2 == 0 { after } else { before };
        for (t, rises) in sky.crossings((at(k), before), (at(k + 1), after), noon)? {
            if rises {
                since = since.or(Some(t));
            } else if let Some(start) = since.take() {
                spans.push((start, t));
            }
        }
        before = after;
    }
    spans.extend(since.map(|start| (start, at(last))));
    Ok(spans.into_iter().map(|(a, b)| (a.max(from), b.min(to))).filter(|(a, b)| a < b).collect())
}

struct Sky {
    location: Location,
    delta_t: f64,
}

/// The sun at an instant.
#[derive(Clone, Copy)]
struct Look {
    at_s: f64,
    /// Degrees above the height at which it rises.
    above: f64,
    azimuth_deg: f64,
    declination_deg: f64,
}

impl Sky {
    /// The sun by SPA.
    fn look(&self, at_s: f64) -> Result<Look, ClockError> {
        let time = JulianDate::new(julian(at_s), self.delta_t)?;
        self.seen(at_s, SolarPositions::new().for_time_from_julian(time)?)
    }

    /// The sun within 0.01°.
    fn glance(&self, at_s: f64) -> Result<Look, ClockError> {
        if !GRENA_S.contains(&at_s) {
            return self.look(at_s);
        }
        let time = JulianDate::new(julian(at_s), self.delta_t)?;
        self.seen(at_s, SolarPositions::grena3().for_time_from_julian(time)?)
    }

    fn seen(&self, at_s: f64, moment: PreparedPositions) -> Result<Look, ClockError> {
        let seen = moment.at(self.location, 0.0, None)?;
        Ok(Look {
            at_s,
            above: seen.elevation_angle() - Horizon::SunriseSunset.elevation_angle(),
            azimuth_deg: seen.azimuth(),
            declination_deg: moment.declination(),
        })
    }

    /// Crossings of the horizon in a half day, in order, with whether the sun rises.
    fn crossings(
        &self,
        (start, first): (i64, Look),
        (end, last): (i64, Look),
        noon: Look,
    ) -> Result<Vec<(i64, bool)>, ClockError> {
        let grazes = first.above.abs() < GRAZING_DEG || last.above.abs() < GRAZING_DEG;
        if !grazes {
            let rises = last.above > 0.0;
            if rises == (first.above > 0.0) {
                return Ok(Vec::new());
            }
            if let Some(t) = self.newton(noon, rises, (start as f64, end as f64))? {
                return Ok(vec![(t.round() as i64, rises)]);
            }
        }
        let events = SolarEvents::new().for_interval_from_julian(
            julian(start as f64),
            julian(end as f64),
            self.location,
            self.delta_t,
            Horizon::SunriseSunset,
        )?;
        let mut out: Vec<(i64, bool)> = events
            .rises
            .iter()
            .map(|&t| (seconds(t), true))
            .chain(events.sets.iter().map(|&t| (seconds(t), false)))
            .collect();
        out.sort_unstable();
        Ok(out)
    }

    /// The one crossing between the ends of a half day, or none where the steps leave it.
    fn newton(
        &self,
        noon: Look,
        rises: bool,
        (start, end): (f64, f64),
    ) -> Result<Option<f64>, ClockError> {
        let (sin_lat, cos_lat) = self.location.latitude.to_radians().sin_cos();
        let (sin_dec, cos_dec) = noon.declination_deg.to_radians().sin_cos();
        let horizon = Horizon::SunriseSunset.elevation_angle();
        let (sin_noon, cos_noon) = (noon.above + horizon).to_radians().sin_cos();
        // hour angle at mean noon, then the one at which that declination meets the horizon
        let (sin_az, cos_az) = noon.azimuth_deg.to_radians().sin_cos();
        let at_noon = (-sin_az * cos_noon)
            .atan2(sin_noon * cos_lat - cos_az * cos_noon * sin_lat)
            .to_degrees();
        let cosine = (horizon.to_radians().sin() - sin_lat * sin_dec) / (cos_lat * cos_dec);
        let half_arc = cosine.clamp(-1.0, 1.0).acos().to_degrees();
        let hour_angle = if rises { -half_arc } else { half_arc };
        let mut t = (noon.at_s + (hour_angle - at_noon) / TURN_DEG_S).clamp(start, end);
        for step in 0..8 {
            let here = if step == 0 { self.glance(t)? } else { self.look(t)? };
            let (sin_az, cos_az) = here.azimuth_deg.to_radians().sin_cos();
            let late = here.above / (TURN_DEG_S * cos_lat * sin_az);
            // What a Newton step misses goes with its square: near the horizon the second
            // derivative of the height over the first is the turn times sin lat over tan az.
            let missed = late * late * TURN_DEG_S.to_radians() * (sin_lat * cos_az / sin_az) / 2.0;
            t -= late;
            if !late.is_finite() || t < start || t > end {
                return Ok(None);
            }
            if step > 0 && missed.abs() < CLOSE_S {
                return Ok(Some(t));
            }
        }
        Ok(None)
    }
}

#[cfg(test)]
mod tests {
    use super::up;
    use crate::{Latitude, Longitude, Place, SunEventKind, sun_events};
    use jiff::Timestamp;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(96))]

        /// The quick way and the search that cannot miss a crossing agree, to the poles.
        #[test]
        fn agrees_with_the_full_search(
            lat in prop_oneof![-90.0..=90.0f64, 60.0..=90.0f64, -90.0..=-60.0f64],
            lon in -180.0..=180.0f64,
            from in -2_100_000_000i64..7_000_000_000,
        ) {
            let place = Place::new(
                Latitude::from_degrees(lat).unwrap(),
                Longitude::from_degrees(lon).unwrap(),
                "Etc/UTC",
            ).unwrap();
            let to = from + 3 * 86_400;
            let stamp = |s| Timestamp::from_second(s).unwrap();
            let edges: Vec<i64> = up(&place, from, to).unwrap().into_iter()
                .flat_map(|(a, b)| [a, b]).filter(|t| *t > from && *t < to).collect();
            let events: Vec<i64> = sun_events(&place, stamp(from), stamp(to)).unwrap().iter()
                .filter(|e| matches!(e.kind, SunEventKind::Sunrise | SunEventKind::Sunset))
                .map(|e| e.time.as_second()).filter(|t| *t > from + 2 && *t < to - 2).collect();
            for e in &events {
                prop_assert!(edges.iter().any(|t| (t - e).abs() <= 2), "{events:?} {edges:?}");
            }
            prop_assert!(edges.len() <= events.len() + 2, "{events:?} {edges:?}");
        }
    }
}

//! When the sun crosses a height above or below the horizon, and the meridian.
//!
//! A window is cut into half days from mean midnight to mean noon and back, and the sun is looked
//! at where they meet. Where it is well above the height at one end and well below at the other,
//! it crosses once between, found by Newton steps, the last of them on the SPA elevation. The
//! positions before that need less: algorithm 3 of Grena 2012, within 0.01°, serves in its years.
//! Where the sun grazes the height at either end, the slower search of the solar library, which
//! cannot miss a crossing, looks through that half day.

use super::position::{Sky, SunPosition, julian, no_position, seconds};
use crate::calendar::DAY_SECONDS;
use crate::location::Location;
use guardcell_error::Error;
use solar_positioning::{Horizon, SolarEvents};

const HALF_DAY_S: i64 = DAY_SECONDS / 2;
/// Degrees from a height within which an end of a half day counts as grazing. Mean noon is at
/// most 17 minutes from true noon, which changes the height by under 0.2°, and the declination
/// drifts by 0.2° in half a day.
const GRAZING_DEG: f64 = 1.5;
/// Mean motion of the hour angle, degrees a second.
const TURN_DEG_S: f64 = 360.0 / 86_400.0;
/// A crossing known to within this ends the search, seconds.
const CLOSE_S: f64 = 0.1;

/// A crossing of a height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Crossing {
    pub(crate) at_s: f64,
    pub(crate) rises: bool,
}

/// The sun at every mean noon and midnight around a window.
pub(crate) struct HalfDays {
    sky: Sky,
    from: i64,
    to: i64,
    /// Instants and positions where half days meet.
    ends: Vec<(i64, SunPosition)>,
    /// Whether the first of them is a mean noon.
    starts_at_noon: bool,
}

impl HalfDays {
    pub(crate) fn new(location: &Location, from: i64, to: i64) -> Result<Self, Error> {
        let sky = Sky::new(location, from)?;
        let east_s = (sky.location.longitude / 360.0 * DAY_SECONDS as f64).round() as i64;
        // Half days counted from a local mean midnight: even at midnight, odd at noon.
        let first = (from + east_s).div_euclid(HALF_DAY_S);
        let last = (to + east_s).div_euclid(HALF_DAY_S) + 1;
        let ends = (first..=last)
            .map(|k| k * HALF_DAY_S - east_s)
            .map(|at| Ok((at, sky.quick(at as f64)?)))
            .collect::<Result<_, Error>>()?;
        Ok(Self { sky, from, to, ends, starts_at_noon: first.rem_euclid(2) == 1 })
    }

    /// Spans of seconds in which the sun is above a height, clipped to the window.
    pub(crate) fn above(&self, height: Horizon) -> Result<Vec<(i64, i64)>, Error> {
        let Some((start, position)) = self.ends.first() else { return Ok(Vec::new()) };
        let mut since = (position.elevation_deg > height.elevation_angle()).then_some(*start);
        let mut spans = Vec::with_capacity(self.ends.len() / 2 + 1);
        for crossing in self.all_crossings(height)? {
            let at = crossing.at_s.round() as i64;
            if crossing.rises {
                since = since.or(Some(at));
            } else if let Some(start) = since.take() {
                spans.push((start, at));
            }
        }
        let end = self.ends.last().map_or(self.to, |(at, _)| *at);
        spans.extend(since.map(|start| (start, end)));
        Ok(spans
            .into_iter()
            .map(|(a, b)| (a.max(self.from), b.min(self.to)))
            .filter(|(a, b)| a < b)
            .collect())
    }

    /// The crossings of a height inside the window, in order.
    pub(crate) fn crossings(&self, height: Horizon) -> Result<Vec<Crossing>, Error> {
        let mut all = self.all_crossings(height)?;
        all.retain(|c| self.holds(c.at_s));
        Ok(all)
    }

    /// When the sun crosses the meridian inside the window, in order.
    pub(crate) fn transits(&self) -> Result<Vec<f64>, Error> {
        let sky = self.sky.at_equator();
        let mut out = Vec::new();
        for (at, _) in self.ends.iter().skip(usize::from(!self.starts_at_noon)).step_by(2) {
            let mut t = *at as f64;
            // The hour angle is nearly straight in time: the first step leaves under a second.
            t -= sky.quick(t)?.hour_angle_deg(0.0) / TURN_DEG_S;
            t -= sky.exact(t)?.hour_angle_deg(0.0) / TURN_DEG_S;
            if self.holds(t) {
                out.push(t);
            }
        }
        Ok(out)
    }

    fn holds(&self, at_s: f64) -> bool {
        at_s >= self.from as f64 && at_s < self.to as f64
    }

    fn all_crossings(&self, height: Horizon) -> Result<Vec<Crossing>, Error> {
        let mut out = Vec::new();
        let mut noon_last = self.starts_at_noon;
        for pair in self.ends.windows(2) {
            let &[before, after] = pair else { continue };
            // One end of every half day is a mean noon.
            let noon = if noon_last { before.1 } else { after.1 };
            noon_last = !noon_last;
            self.half_day(before, after, noon, height, &mut out)?;
        }
        Ok(out)
    }

    fn half_day(
        &self,
        (start, first): (i64, SunPosition),
        (end, last): (i64, SunPosition),
        noon: SunPosition,
        height: Horizon,
        out: &mut Vec<Crossing>,
    ) -> Result<(), Error> {
        let above = |p: &SunPosition| p.elevation_deg - height.elevation_angle();
        if above(&first).abs() >= GRAZING_DEG && above(&last).abs() >= GRAZING_DEG {
            let rises = above(&last) > 0.0;
            if rises == (above(&first) > 0.0) {
                return Ok(());
            }
            let span = (start as f64, end as f64);
            if let Some(at_s) = newton(&self.sky, &noon, rises, span, height.elevation_angle())? {
                out.push(Crossing { at_s, rises });
                return Ok(());
            }
        }
        let from = out.len();
        let events = SolarEvents::new()
            .for_interval_from_julian(
                julian(start as f64),
                julian(end as f64),
                self.sky.location,
                self.sky.delta_t,
                height,
            )
            .map_err(no_position)?;
        out.extend(events.rises.iter().map(|&t| Crossing { at_s: seconds(t), rises: true }));
        out.extend(events.sets.iter().map(|&t| Crossing { at_s: seconds(t), rises: false }));
        out[from..].sort_by(|a, b| a.at_s.total_cmp(&b.at_s));
        Ok(())
    }
}

/// The one crossing between the ends of a half day; `None` if the steps leave it.
fn newton(
    sky: &Sky,
    noon: &SunPosition,
    rises: bool,
    (start, end): (f64, f64),
    height_deg: f64,
) -> Result<Option<f64>, Error> {
    let latitude = sky.location.latitude;
    let (sin_lat, cos_lat) = latitude.to_radians().sin_cos();
    let (sin_dec, cos_dec) = noon.declination_deg.to_radians().sin_cos();
    // Start from the hour angle at which the declination of noon meets the height.
    let cosine = (height_deg.to_radians().sin() - sin_lat * sin_dec) / (cos_lat * cos_dec);
    let half_arc = cosine.clamp(-1.0, 1.0).acos().to_degrees();
    let hour_angle = if rises { -half_arc } else { half_arc };
    let to_go = hour_angle - noon.hour_angle_deg(latitude);
    let mut t = (noon.at_s + to_go / TURN_DEG_S).clamp(start, end);
    for step in 0..8 {
        let here = if step == 0 { sky.quick(t)? } else { sky.exact(t)? };
        let (sin_az, cos_az) = here.azimuth_deg.to_radians().sin_cos();
        let late = (here.elevation_deg - height_deg) / (TURN_DEG_S * cos_lat * sin_az);
        // What a Newton step misses goes with its square: near the horizon the second derivative
        // of the height over the first is the turn times sin lat over tan az.
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::location::{Latitude, Longitude};
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(96))]

        /// The quick search and the search that cannot miss a crossing agree, to the poles.
        #[test]
        fn agrees_with_the_full_search(
            lat in prop_oneof![-90.0..=90.0f64, 60.0..=90.0f64, -90.0..=-60.0f64],
            lon in -180.0..=180.0f64,
            from in -2_100_000_000i64..7_000_000_000,
            civil in any::<bool>(),
        ) {
            let height = if civil { Horizon::CivilTwilight } else { Horizon::SunriseSunset };
            let location = Location::new(
                Latitude::from_degrees(lat).expect("valid"),
                Longitude::from_degrees(lon).expect("valid"),
                "Etc/UTC",
            ).expect("valid");
            let to = from + 3 * DAY_SECONDS;
            let half_days = HalfDays::new(&location, from, to).expect("in range");
            let quick = half_days.crossings(height).expect("found");
            let full = SolarEvents::new().for_interval_from_julian(
                julian(from as f64), julian(to as f64), half_days.sky.location,
                half_days.sky.delta_t, height,
            ).expect("found");
            // Near the poles the sun crosses the horizon so slowly that a height that is the same to
            // a ten-thousandth of a degree is a second of time.
            let off = (0.05 / lat.to_radians().cos()).max(0.5);
            for (times, rises) in [(&full.rises, true), (&full.sets, false)] {
                for t in times.iter().map(|t| seconds(*t)).filter(|t| (t - from as f64).min(to as f64 - t) > 1.0) {
                    prop_assert!(
                        quick.iter().any(|c| c.rises == rises && (c.at_s - t).abs() < off),
                        "{t} {rises}: {quick:?}"
                    );
                }
            }
            prop_assert!(quick.len() <= full.rises.len() + full.sets.len() + 1);
            let transits = half_days.transits().expect("found");
            for t in full.transits.iter().map(|t| seconds(*t)) {
                prop_assert!(transits.iter().any(|q| (q - t).abs() < 0.1), "{t}: {transits:?}");
            }
            prop_assert!(transits.len().abs_diff(full.transits.len()) <= 1);
        }
    }
}

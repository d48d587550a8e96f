//! The air of an area over time: readings checked, ordered and bridged.

use crate::request::Reading;
use guardcell_call::Bounded;
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::practice;
use jiff::{SignedDuration, Timestamp};

/// The air at one moment, in the units its fields name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Air {
    pub(crate) temp_c: f64,
    pub(crate) rh_percent: f64,
    pub(crate) air_m_s: Option<f64>,
    pub(crate) radiation_w_m2: Option<f64>,
}

/// Ordered readings of one area.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Series(Vec<(Timestamp, Air)>);

impl Series {
    /// The readings that hold for `area`. A reading without an area holds for all; where an area
    /// has readings of its own they stand alone.
    pub(crate) fn of_area(readings: &[(Timestamp, &Reading)], area: &str) -> Self {
        let own = readings.iter().any(|(_, r)| r.area.as_deref() == Some(area));
        let mut points: Vec<(Timestamp, Air)> = readings
            .iter()
            .filter(|(_, r)| if own { r.area.as_deref() == Some(area) } else { r.area.is_none() })
            .map(|(t, r)| {
                (
                    *t,
                    Air {
                        temp_c: r.temp_c,
                        rh_percent: r.rh_percent,
                        air_m_s: r.air_m_s,
                        radiation_w_m2: r.radiation_w_m2,
                    },
                )
            })
            .collect();
        points.sort_by_key(|(t, _)| *t);
        points.dedup_by_key(|(t, _)| *t);
        Self(points)
    }

    /// The only reading, where there is just one.
    pub(crate) fn single(&self) -> Option<(Timestamp, Air)> {
        match self.0.as_slice() {
            [one] => Some(*one),
            _ => None,
        }
    }

    pub(crate) fn last(&self) -> Option<Timestamp> {
        self.0.last().map(|(t, _)| *t)
    }

    pub(crate) fn covers_any(&self, from: Timestamp, to: Timestamp) -> bool {
        self.0.iter().any(|(t, _)| *t >= from && *t <= to) || self.at(from).is_some()
    }

    /// The air at `t`: interpolated between neighbours no further apart than the stated gap, held
    /// for the stated age after a single reading, none elsewhere.
    pub(crate) fn at(&self, t: Timestamp) -> Option<Air> {
        let after = self.0.partition_point(|(p, _)| *p <= t);
        let before = after.checked_sub(1).and_then(|i| self.0.get(i))?;
        if before.0 == t {
            return Some(before.1);
        }
        let Some(next) = self.0.get(after) else {
            let age = t.duration_since(before.0);
            let hold = if self.0.len() == 1 {
                hours(practice::READING_AGE_MOST.value)
            } else {
                self.step().unwrap_or(SignedDuration::ZERO)
            };
            return (age <= hold).then_some(before.1);
        };
        let gap = next.0.duration_since(before.0);
        if gap > hours(practice::READING_GAP_MOST.value) {
            return None;
        }
        let f = t.duration_since(before.0).as_secs_f64() / gap.as_secs_f64();
        let mix = |a: f64, b: f64| a + (b - a) * f;
        let mix_some = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => Some(mix(a, b)),
            (a, b) => a.or(b),
        };
        Some(Air {
            temp_c: mix(before.1.temp_c, next.1.temp_c),
            rh_percent: mix(before.1.rh_percent, next.1.rh_percent),
            air_m_s: mix_some(before.1.air_m_s, next.1.air_m_s),
            radiation_w_m2: mix_some(before.1.radiation_w_m2, next.1.radiation_w_m2),
        })
    }

    /// The last reading stands for one step of the series more.
    fn step(&self) -> Option<SignedDuration> {
        let n = self.0.len();
        let (a, b) = (self.0.get(n.checked_sub(2)?)?, self.0.last()?);
        Some(b.0.duration_since(a.0))
    }
}

fn hours(h: f64) -> SignedDuration {
    SignedDuration::from_secs_f64(h * 3600.0)
}

/// Checks every reading and gives it its time.
pub(crate) fn checked(readings: &[Reading]) -> Result<Vec<(Timestamp, &Reading)>, Error> {
    readings
        .iter()
        .enumerate()
        .map(|(i, r)| {
            let at = |field: &str| format!("/readings/{i}/{field}");
            r.check_bounds().map_err(|e| e.within(&format!("/readings/{i}")))?;
            let time: Timestamp = r.time.parse().map_err(|_| {
                Error::new(
                    Code::InvalidText,
                    format!("{:?} is not a time with an offset", r.time),
                    "write it like 2026-06-21T05:00:00+01:00",
                )
                .at(at("time"))
            })?;
            Ok((time, r))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reading(time: &str, rh: f64) -> Reading {
        Reading {
            time: time.into(),
            area: None,
            temp_c: 20.0,
            rh_percent: rh,
            air_m_s: None,
            radiation_w_m2: None,
        }
    }

    #[test]
    fn bridges_short_gaps_and_not_long_ones() {
        let rs = [
            reading("2026-06-21T00:00:00Z", 60.0),
            reading("2026-06-21T02:00:00Z", 80.0),
            reading("2026-06-21T08:00:00Z", 40.0),
        ];
        let series = Series::of_area(&checked(&rs).unwrap(), "house");
        let at = |s: &str| series.at(s.parse().unwrap());
        assert!((at("2026-06-21T01:00:00Z").unwrap().rh_percent - 70.0).abs() < 1e-9);
        assert_eq!(at("2026-06-21T05:00:00Z"), None);
        assert_eq!(at("2026-06-20T23:00:00Z"), None);
    }

    #[test]
    fn refuses_impossible_air() {
        for (rh, ok) in [(140.0, false), (f64::NAN, false), (100.0, true)] {
            let rs = [reading("2026-06-21T00:00:00Z", rh)];
            assert_eq!(checked(&rs).is_ok(), ok, "{rh}");
        }
        let rs = [reading("yesterday", 50.0)];
        let says = checked(&rs).unwrap_err().to_string();
        assert!(says.starts_with("/readings/0/time"), "{says}");
    }
}

//! The readings of one area, ordered, and bridged where they are close enough.

use crate::air::Air;
use crate::request::Reading;
use guardcell_call::Bounded;
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::practice as p;
use jiff::{SignedDuration, Timestamp};

/// Ordered readings of one area.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Series(Vec<(Timestamp, Air)>);

/// The readings on both sides of a moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Neighbours {
    pub(crate) before: Option<(Timestamp, Air)>,
    pub(crate) after: Option<(Timestamp, Air)>,
}

impl Series {
    /// The readings that hold for `area`. A reading without an area holds for all; an area with
    /// readings of its own uses only those.
    pub(crate) fn of_area(readings: &[(Timestamp, &Reading)], area: &str) -> Self {
        let own = readings.iter().any(|(_, r)| r.area.as_deref() == Some(area));
        let mut points: Vec<(Timestamp, Air)> = readings
            .iter()
            .filter(|(_, r)| if own { r.area.as_deref() == Some(area) } else { r.area.is_none() })
            .map(|(t, r)| (*t, Air::from_reading(r)))
            .collect();
        points.sort_by_key(|(t, _)| *t);
        points.dedup_by_key(|(t, _)| *t);
        Self(points)
    }

    pub(crate) fn first(&self) -> Option<(Timestamp, Air)> {
        self.0.first().copied()
    }

    pub(crate) fn last(&self) -> Option<(Timestamp, Air)> {
        self.0.last().copied()
    }

    pub(crate) fn neighbours(&self, t: Timestamp) -> Neighbours {
        let after = self.0.partition_point(|(p, _)| *p <= t);
        Neighbours {
            before: after.checked_sub(1).and_then(|i| self.0.get(i)).copied(),
            after: self.0.get(after).copied(),
        }
    }

    /// Whether the readings say anything of a time that starts at `from`: the newest is not too
    /// old by then, and the first is not later than `to`.
    pub(crate) fn reaches(&self, from: Timestamp, to: Timestamp) -> bool {
        let oldest = from.saturating_sub(hours(p::READING_AGE_MOST.hours())).unwrap_or(from);
        self.last().is_some_and(|(t, _)| t >= oldest) && self.first().is_some_and(|(t, _)| t <= to)
    }

    /// The air at `t` from readings alone: interpolated between neighbours no further apart than
    /// the longest gap that is bridged; `None` elsewhere.
    pub(crate) fn read(&self, t: Timestamp) -> Option<Air> {
        let Neighbours { before, after } = self.neighbours(t);
        let before = before?;
        if before.0 == t {
            return Some(before.1);
        }
        let after = after?;
        let gap = after.0.duration_since(before.0);
        if gap > hours(p::READING_GAP_MOST.hours()) {
            return None;
        }
        let f = t.duration_since(before.0).as_secs_f64() / gap.as_secs_f64();
        Some(before.1.towards(after.1, f))
    }

    /// Whether the day that ends at the last reading is known without a gap.
    pub(crate) fn ends_in_a_full_day(&self) -> bool {
        let Some((last, _)) = self.last() else { return false };
        let from = last.saturating_sub(SignedDuration::from_hours(24)).unwrap_or(last);
        let most = hours(p::READING_GAP_MOST.hours());
        let start = self.0.partition_point(|(t, _)| *t <= from);
        let Some(start) = start.checked_sub(1) else { return false };
        self.0.get(start..).is_some_and(|day| {
            day.windows(2).all(|w| matches!(w, [a, b] if b.0.duration_since(a.0) <= most))
        })
    }
}

pub(crate) fn hours(h: f64) -> SignedDuration {
    SignedDuration::from_secs_f64(h * 3600.0)
}

/// Checks every reading and gives it its time.
pub(crate) fn checked(readings: &[Reading]) -> Result<Vec<(Timestamp, &Reading)>, Error> {
    let all = timed(readings)?;
    without_contradiction(&all)?;
    Ok(all)
}

fn timed(readings: &[Reading]) -> Result<Vec<(Timestamp, &Reading)>, Error> {
    readings
        .iter()
        .enumerate()
        .map(|(i, r)| {
            guardcell_call::checkpoint();
            let pointer = || format!("/readings/{i}");
            r.check_bounds().map_err(|e| e.within(&pointer()))?;
            let time: Timestamp = r.time.parse().map_err(|_| {
                Error::new(
                    Code::InvalidText,
                    format!("{:?} is not a time with an offset", r.time),
                    "write it like 2026-06-21T05:00:00+01:00",
                )
                .at(format!("{}/time", pointer()))
            })?;
            Ok((time, r))
        })
        .collect()
}

/// Refuses two readings of one area and moment that differ: which of them held, nobody can say,
/// and the order of rows must not decide. Copies do no harm.
fn without_contradiction(all: &[(Timestamp, &Reading)]) -> Result<(), Error> {
    let mut order: Vec<usize> = (0..all.len()).collect();
    let key = |i: &usize| all.get(*i).map(|(t, r)| (*t, r.area.as_deref()));
    order.sort_by_key(key);
    for pair in order.windows(2) {
        let [a, b] = pair else { continue };
        let (Some((_, one)), Some((_, other))) = (all.get(*a), all.get(*b)) else { continue };
        if key(a) == key(b) && Air::from_reading(one) != Air::from_reading(other) {
            return Err(Error::new(
                Code::Conflict,
                format!("the reading /readings/{a} of this area and time differs"),
                "keep one of them",
            )
            .at(format!("/readings/{b}")));
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn contradicting_readings_are_refused_in_any_order() {
        let one = reading("2026-06-21T05:00:00+01:00", 70.0);
        let other = reading("2026-06-21T04:00:00Z", 40.0);
        let between = reading("2026-06-21T06:00:00Z", 60.0);
        for list in [[&one, &between, &other], [&other, &between, &one]] {
            let list: Vec<Reading> = list.into_iter().cloned().collect();
            let error = checked(&list).unwrap_err();
            assert_eq!((error.code(), error.pointer()), (Code::Conflict, "/readings/2"));
        }
        assert!(checked(&[one.clone(), between, one.clone()]).is_ok());
        let elsewhere = Reading { area: Some("house".into()), ..other };
        assert!(checked(&[one, elsewhere]).is_ok());
    }

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
        let at = |s: &str| series.read(s.parse().unwrap());
        assert!((at("2026-06-21T01:00:00Z").unwrap().rh_percent - 70.0).abs() < 1e-9);
        assert_eq!(at("2026-06-21T05:00:00Z"), None);
        assert_eq!(at("2026-06-20T23:00:00Z"), None);
        assert!(!series.ends_in_a_full_day());
    }

    #[test]
    fn a_full_day_has_no_gap_and_24_hours() {
        let hourly = |n: i64| -> Vec<Reading> {
            let start: Timestamp = "2026-06-20T00:00:00Z".parse().unwrap();
            (0..=n)
                .map(|h| reading(&(start + SignedDuration::from_hours(h)).to_string(), 60.0))
                .collect()
        };
        let full =
            |rs: &[Reading]| Series::of_area(&checked(rs).unwrap(), "house").ends_in_a_full_day();
        assert!(full(&hourly(24)));
        assert!(!full(&hourly(23)));
        let mut gap = hourly(30);
        gap.drain(10..14);
        assert!(!full(&gap));
    }

    #[test]
    fn an_old_logger_does_not_reach() {
        let series =
            Series::of_area(&checked(&[reading("2026-06-21T00:00:00Z", 60.0)]).unwrap(), "house");
        let t = |s: &str| s.parse::<Timestamp>().unwrap();
        assert!(series.reaches(t("2026-06-21T03:00:00Z"), t("2026-06-22T00:00:00Z")));
        assert!(!series.reaches(t("2026-06-21T03:01:00Z"), t("2026-06-22T00:00:00Z")));
        assert!(!series.reaches(t("2026-06-20T03:00:00Z"), t("2026-06-20T20:00:00Z")));
    }

    #[test]
    fn refuses_impossible_air() {
        for (rh, ok) in [(140.0, false), (f64::NAN, false), (100.0, true)] {
            let rs = [reading("2026-06-21T00:00:00Z", rh)];
            assert_eq!(checked(&rs).is_ok(), ok, "{rh}");
        }
        let rs = [reading("yesterday", 50.0)];
        assert_eq!(checked(&rs).unwrap_err().pointer(), "/readings/0/time");
    }
}

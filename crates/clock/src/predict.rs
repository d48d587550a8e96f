//! When the stomata of one plant are expected open.

use crate::air::{self, AirHour, Hour};
use crate::calendar::DAY_SECONDS;
use crate::code::Code;
use crate::interval::{Interval, hours};
use crate::light_hours::{LightHours, light_hours};
use crate::opening::{Opening, Openings};
use crate::reason::{Input, Reason};
use crate::site::Site;
use crate::trait_view::{TraitView, WaterStatus};
use crate::{c3, cam, either, narrow, preference};
use guardcell_error::Error;
use guardcell_reference::Pathway;
use guardcell_reference::parameters::clock as p;
use guardcell_reference::parameters::pathway as rule;
use guardcell_units::quantity::Ratio;
use guardcell_units::uom::si::ratio::ratio;
use jiff::ZonedDateTime;

/// The openings of one plant at a site between two times.
///
/// `hours` is the air hour by hour, sorted; where it does not reach, neither dryness nor
/// temperature narrows the openings and they say so.
///
/// # Errors
/// [`Code::OutOfRange`](guardcell_error::Code::OutOfRange) or
/// [`Code::TooMany`](guardcell_error::Code::TooMany) for the window, and those of [`openings_in`].
///
/// ```
/// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } }
/// use guardcell::clock::*;
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let location = Location::new(
///     Latitude::from_degrees(50.2)?, Longitude::from_degrees(-5.1)?, "Europe/London")?;
/// let site = Site { location, light: Light::Sun, shelter: Shelter::UnderCover };
/// let from = "2026-06-21T12:00[Europe/London]".parse()?;
/// let to = "2026-06-22T12:00[Europe/London]".parse()?;
/// let plant = TraitView::of(Pathway::Cam);
/// let found = openings(&plant, &site, &from, &to, &[], WaterStatus::Watered)?;
/// let best = found.ranked()[0];
/// assert_eq!((best.phase, best.part), (Phase::PhaseI, Some(PeakTime::PreDawn)));
/// # Ok(())
/// # }
/// ```
pub fn openings(
    plant: &TraitView,
    site: &Site,
    from: &ZonedDateTime,
    to: &ZonedDateTime,
    hours: &[AirHour],
    water: WaterStatus,
) -> Result<Openings, Error> {
    let light = light_hours(site, from.timestamp(), to.timestamp())?;
    openings_in(plant, &light, hours, water)
}

/// The same with the light already computed, for many plants at one site.
///
/// # Errors
/// [`Code::OutOfRange`](guardcell_error::Code::OutOfRange) for a value of the air or the share,
/// [`Code::Conflict`](guardcell_error::Code::Conflict) for hours that are not in order; pointers
/// are relative to the hours.
///
/// ```
/// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } }
/// use guardcell::clock::*;
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let location = Location::new(
///     Latitude::from_degrees(50.2)?, Longitude::from_degrees(-5.1)?, "Europe/London")?;
/// let site = Site { location, light: Light::Sun, shelter: Shelter::UnderCover };
/// let light = light_hours(
///     &site, "2026-06-21T00:00Z".parse()?, "2026-06-22T00:00Z".parse()?)?;
/// let plant = TraitView { leafless: true, ..TraitView::of(Pathway::Cam) };
/// let found = openings_in(&plant, &light, &[], WaterStatus::Watered)?;
/// assert!(found.openings.is_empty());
/// assert_eq!(found.reasons[0].code, Code::LeaflessRootOnly);
/// # Ok(())
/// # }
/// ```
pub fn openings_in(
    plant: &TraitView,
    light: &LightHours,
    hours: &[AirHour],
    water: WaterStatus,
) -> Result<Openings, Error> {
    let air = air::checked(hours)?;
    let (share, share_code) = cam_share(plant, light, water)?;
    let mut whole = share_code.map_or(0, Code::bit);
    if plant.leafless {
        return Ok(Openings::none(Code::LeaflessRootOnly));
    }
    if water == WaterStatus::SevereDrought {
        return Ok(Openings::none(Code::DroughtShuts));
    }
    let endless = |spans: &[(i64, i64)]| {
        spans.iter().any(|&(a, b)| b - a > DAY_SECONDS && a.max(light.from) < b.min(light.to))
    };
    if endless(&light.dark) {
        whole |= Code::NoLight.bit();
    }
    let mut intervals_of = |cam: bool| {
        let (candidates, limits) = if cam {
            (cam::intervals(light, plant.opens_peak, water), &narrow::CAM)
        } else {
            (c3::intervals(light, plant.opens_peak, water), &narrow::C3)
        };
        if cam && endless(&light.lit) {
            whole |= Code::NoNight.bit();
        }
        let (intervals, cut) = narrow::narrow(&candidates, &air, limits);
        whole |= cut;
        intervals
    };
    let mixed = share > 0.0 && share < 1.0;
    let intervals = if mixed {
        let (cam, c3) = (intervals_of(true), intervals_of(false));
        either::weave(&cam, &c3, share)
    } else {
        intervals_of(share >= 1.0)
    };
    Ok(Openings {
        openings: intervals.iter().map(|i| opening(i, light, &air, mixed)).collect(),
        reasons: reasons(whole, None),
    })
}

/// The probability that the plant runs CAM, and why that is not 0 or 1.
fn cam_share(
    plant: &TraitView,
    light: &LightHours,
    water: WaterStatus,
) -> Result<(f64, Option<Code>), Error> {
    if let Some(share) = plant.cam_share {
        let value = share.get::<ratio>();
        if !(0.0..=1.0).contains(&value) {
            return Err(Error::new(
                guardcell_error::Code::OutOfRange,
                format!("a share of CAM species of {value} is out of range"),
                "give 0 to 1",
            ));
        }
    }
    Ok(match (plant.pathway, plant.cam_share) {
        (Pathway::C3 | Pathway::WeakCam, Some(share))
            if 1.0 - share.get::<ratio>() < rule::CERTAIN.number() =>
        {
            (share.get::<ratio>(), Some(Code::VariableShare))
        }
        (Pathway::C3 | Pathway::WeakCam, _) => (0.0, None),
        (Pathway::Cam, Some(share)) if share.get::<ratio>() < rule::CERTAIN.number() => {
            (share.get::<ratio>(), Some(Code::VariableShare))
        }
        (Pathway::Cam, _) => (1.0, None),
        (Pathway::Facultative, _)
            if light.cycle().is_some_and(|s| s <= hours(p::FACULTATIVE_C3_CYCLE.hours())) =>
        {
            (0.0, Some(Code::FacultativeShortCycle))
        }
        (Pathway::Facultative, _) => {
            let share = if water == WaterStatus::Watered {
                p::FACULTATIVE_CAM_SHARE_WATERED
            } else {
                p::FACULTATIVE_CAM_SHARE_DRY
            };
            (share.number(), Some(Code::FacultativeSplit))
        }
        (Pathway::Variable | Pathway::Unknown, Some(share)) => {
            (share.get::<ratio>(), Some(Code::VariableShare))
        }
        (Pathway::Variable, None) => {
            (p::UNKNOWN_CAM_SHARE.number(), Some(Code::VariableShareUnknown))
        }
        (Pathway::Unknown, None) => (p::UNKNOWN_CAM_SHARE.number(), Some(Code::PathwayUnknown)),
    })
}

fn opening(interval: &Interval, light: &LightHours, air: &[Hour], mixed: bool) -> Opening {
    Opening {
        start: light.zoned(interval.start),
        end: light.zoned(interval.end),
        phase: interval.phase,
        part: interval.part,
        either_pathway: interval.either,
        probability: Ratio::new::<ratio>(interval.open.clamp(0.0, 1.0)),
        preference: preference::rank(interval, light, air, mixed),
        reasons: reasons(interval.codes, Some(interval)),
    }
}

/// The reasons of a set of codes, in the order of the table.
fn reasons(codes: u64, interval: Option<&Interval>) -> Vec<Reason> {
    Code::ALL
        .iter()
        .filter(|c| codes & c.bit() != 0)
        .map(|&code| Reason {
            code,
            inputs: interval.and_then(|i| input(code, i)).into_iter().collect(),
        })
        .collect()
}

fn input(code: Code, interval: &Interval) -> Option<Input> {
    let (name, value) = match code {
        Code::VpdNarrows => ("driest_vpd_kpa", interval.air.driest_kpa),
        Code::ColdNarrows => ("coldest_c", interval.air.coldest_c),
        Code::HeatNarrows => ("warmest_c", interval.air.warmest_c),
        _ => return None,
    };
    value.is_finite().then_some(Input { name, value })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lamps::Lamps;
    use crate::location::{Latitude, Location, Longitude};
    use crate::site::{Light, Shelter};
    use guardcell_units::quantity::Time;
    use guardcell_units::uom::si::time::hour;
    use jiff::Timestamp;

    fn shelf(light_h: f64, dark_h: f64) -> LightHours {
        let start = Timestamp::from_second(1_772_000_000).expect("a time");
        let h = Time::new::<hour>;
        let location = Location::new(
            Latitude::from_degrees(0.0).expect("valid"),
            Longitude::from_degrees(0.0).expect("valid"),
            "Etc/UTC",
        )
        .expect("valid");
        let light = Light::Lamps(Lamps::cycle(start, h(light_h), h(dark_h)).expect("valid"));
        let site = Site { location, light, shelter: Shelter::UnderCover };
        let end = Timestamp::from_second(1_772_000_000 + 86_400).expect("a time");
        light_hours(&site, start, end).expect("valid")
    }

    /// Cheng et al. 2019 (abstract): *Dendrobium officinale* and *D. primulinum* run CAM in 12 h of
    /// light and 12 of dark, and are C3-like in 4 and 4.
    #[test]
    fn facultative_plants_turn_c3_in_short_cycles() {
        let plant = TraitView::of(Pathway::Facultative);
        let phases = |light_h, dark_h| {
            let light = shelf(light_h, dark_h);
            let found = openings_in(&plant, &light, &[], WaterStatus::Watered).expect("valid");
            let night = found.openings.iter().any(|o| o.phase == crate::phase::Phase::PhaseI);
            (night, found.reasons.iter().any(|r| r.code == Code::FacultativeShortCycle))
        };
        assert_eq!(phases(12.0, 12.0), (true, false));
        assert_eq!(phases(4.0, 4.0), (false, true));
    }

    #[test]
    fn shares_that_are_not_shares_are_refused() {
        let light = shelf(12.0, 12.0);
        let plant = |share| TraitView {
            cam_share: Some(Ratio::new::<ratio>(share)),
            ..TraitView::of(Pathway::Variable)
        };
        let ask = |share| openings_in(&plant(share), &light, &[], WaterStatus::Watered);
        assert!(ask(1.01).is_err() && ask(-0.01).is_err() && ask(f64::NAN).is_err());
        let night_only = ask(1.0).expect("valid");
        assert!(night_only.openings.iter().all(|o| o.phase != crate::phase::Phase::DayOpen));
    }

    /// An inferred C3 plant with 10 % for CAM keeps both openings; one with 3 % opens by day alone,
    /// for `certain` is 0.95 in data/pathway.csv.
    #[test]
    fn a_pathway_that_is_not_certain_is_weighed() {
        let light = shelf(12.0, 12.0);
        let at_night = |pathway, share| {
            let plant =
                TraitView { cam_share: Some(Ratio::new::<ratio>(share)), ..TraitView::of(pathway) };
            let found = openings_in(&plant, &light, &[], WaterStatus::Watered).expect("valid");
            let of = |phase| found.openings.iter().find(|o| o.phase == phase).cloned();
            let night = of(crate::phase::Phase::PhaseI).map(|o| o.probability.get::<ratio>());
            (night, of(crate::phase::Phase::DayOpen).is_some())
        };
        for pathway in [Pathway::C3, Pathway::WeakCam] {
            let (night, day) = at_night(pathway, 0.1);
            let expected = 0.1 * p::PROBABILITY_CAM_NIGHT.number();
            assert!(night.is_some_and(|x| (x - expected).abs() < 1e-9) && day, "{pathway}");
            assert_eq!(at_night(pathway, 0.03), (None, true), "{pathway}");
        }
        assert!(at_night(Pathway::Cam, 0.9).1);
        assert!(!at_night(Pathway::Cam, 0.97).1);
    }

    /// The share of CAM weighs the openings: 0.4 × 0.85 by night, 0.6 × 0.9 by day.
    #[test]
    fn the_share_weighs_the_openings() {
        let light = shelf(12.0, 12.0);
        let plant = TraitView {
            cam_share: Some(Ratio::new::<ratio>(0.4)),
            ..TraitView::of(Pathway::Variable)
        };
        let found = openings_in(&plant, &light, &[], WaterStatus::Watered).expect("valid");
        let of = |phase| {
            let all: Vec<f64> = found
                .openings
                .iter()
                .filter(|o| o.phase == phase && !o.either_pathway)
                .map(|o| o.probability.get::<ratio>())
                .collect();
            all
        };
        let night = 0.4 * p::PROBABILITY_CAM_NIGHT.number();
        let day = 0.6 * p::PROBABILITY_C3_LIGHT.number();
        assert!(of(crate::phase::Phase::PhaseI).iter().all(|x| (x - night).abs() < 1e-9));
        assert!(of(crate::phase::Phase::DayOpen).iter().all(|x| (x - day).abs() < 1e-9));
    }
}

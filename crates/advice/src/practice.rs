//! The practice table: strength, passes and interval by standing, size and setting.
//!
//! Every number is in `data/practice.csv`, marked `common practice, no source`. The models of
//! film and dose can only lower what it allows.

use crate::request::{PlantEntry, Setting, SizeClass, Standing};
use guardcell_reference::Parameter;
use guardcell_reference::parameters::{practice as p, unit};

/// What practice allows for a plant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Allowance {
    /// The highest feed strength in one pass of ordinary air.
    pub(crate) strength: Parameter<unit::MilligramPerLitre>,
    /// Whether its size, not its standing, decides that.
    pub(crate) by_size: bool,
    /// The strength in one pass of humid, lightly moving air, where practice allows more.
    pub(crate) humid_single_pass: Option<Parameter<unit::MilligramPerLitre>>,
    /// Passes in one round at most.
    pub(crate) passes: Parameter<unit::One>,
    /// Days between rounds.
    pub(crate) interval_days: f64,
    /// The parameter behind the interval.
    pub(crate) interval: Parameter,
}

/// What practice allows for a plant of this standing and size, grown this way.
///
/// Large and specimen established plants get the full strength in up to two passes, the double
/// strength once in humid air, and up to two rounds a day with their roots in the air; medium
/// established plants the full strength; ordinary ones half of it; small plants of any standing,
/// seedlings and weak plants a third, every second day.
pub(crate) fn allowance(standing: Standing, size: SizeClass, setting: Setting) -> Allowance {
    let small = size == SizeClass::Small;
    let large = matches!(size, SizeClass::Large | SizeClass::Specimen);
    let strength = strength(standing);
    let by_size = small && p::STRENGTH_WEAK.mg_per_l() < strength.mg_per_l();
    let established = standing == Standing::Established;
    let (interval, interval_days) = interval(standing, size, setting);
    Allowance {
        strength: if by_size { p::STRENGTH_WEAK } else { strength },
        by_size,
        humid_single_pass: (established && large)
            .then_some(p::STRENGTH_ESTABLISHED_HUMID_SINGLE_PASS),
        passes: if established && large { p::PASSES_ESTABLISHED } else { p::PASSES_OTHER },
        interval_days,
        interval,
    }
}

/// What practice allows a plant, as plain numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Practice {
    /// The highest feed strength in one pass of ordinary air, mg/L.
    pub strength_mg_l: f64,
    /// Days between rounds; below 1 where more than one a day is allowed.
    pub interval_days: f64,
}

/// What practice allows a plant of this standing, size and setting (`data/practice.csv`, common
/// practice, no source).
///
/// ```
/// # mod guardcell { pub mod advice { pub use guardcell_advice::*; } }
/// let plant: guardcell::advice::PlantEntry = serde_json::from_str(r#"{"id": "F1", "name": "Vanda",
///     "area": "house", "setting": "basket", "standing": "weak"}"#).unwrap();
/// assert_eq!(guardcell::advice::practice_of(&plant).strength_mg_l, 100.0);
/// ```
#[must_use]
pub fn practice_of(plant: &PlantEntry) -> Practice {
    let allowance = allowance(plant.standing, plant.size, plant.setting);
    Practice {
        strength_mg_l: allowance.strength.mg_per_l(),
        interval_days: allowance.interval_days,
    }
}

/// The highest feed strength by standing alone.
const fn strength(standing: Standing) -> Parameter<unit::MilligramPerLitre> {
    match standing {
        Standing::Established => p::STRENGTH_ESTABLISHED,
        Standing::Ordinary => p::STRENGTH_ORDINARY,
        Standing::Seedling | Standing::Weak => p::STRENGTH_WEAK,
        Standing::Rootless => p::STRENGTH_ROOTLESS,
    }
}

/// Days between rounds, with the parameter that decides them.
fn interval(standing: Standing, size: SizeClass, setting: Setting) -> (Parameter, f64) {
    let daily = standing == Standing::Established && setting != Setting::Potted;
    match (daily, size) {
        (true, SizeClass::Large | SizeClass::Specimen) if setting.roots_exposed() => {
            let a_day = p::ROUNDS_A_DAY_ESTABLISHED_EXPOSED;
            (a_day.any(), p::INTERVAL_ESTABLISHED_EXPOSED.days() / a_day.number())
        }
        (true, SizeClass::Medium | SizeClass::Large | SizeClass::Specimen) => {
            (p::INTERVAL_ESTABLISHED_EXPOSED.any(), p::INTERVAL_ESTABLISHED_EXPOSED.days())
        }
        _ => (p::INTERVAL_OTHER.any(), p::INTERVAL_OTHER.days()),
    }
}

/// Leaf area of one side, by size.
pub(crate) const fn leaf_area(size: SizeClass) -> Parameter<unit::SquareCentimetre> {
    match size {
        SizeClass::Small => p::AREA_SMALL,
        SizeClass::Medium => p::AREA_MEDIUM,
        SizeClass::Large => p::AREA_LARGE,
        SizeClass::Specimen => p::AREA_SPECIMEN,
    }
}

/// The strengths to try below a cap, highest first: the cap itself and the steps of the practice
/// table, down to the least useful one; none where the cap is less than that.
pub(crate) fn steps_below(cap_mg_l: f64) -> Vec<f64> {
    let table = [
        p::STRENGTH_ESTABLISHED.mg_per_l(),
        p::STRENGTH_ORDINARY.mg_per_l(),
        p::STRENGTH_WEAK.mg_per_l(),
        p::STRENGTH_ROOTLESS.mg_per_l(),
        p::STRENGTH_LEAST_USEFUL.mg_per_l(),
    ];
    let mut steps: Vec<f64> = table.into_iter().filter(|s| *s <= cap_mg_l).collect();
    let useful = cap_mg_l >= p::STRENGTH_LEAST_USEFUL.mg_per_l();
    if useful && steps.first().is_none_or(|s| *s < cap_mg_l) {
        steps.insert(0, cap_mg_l);
    }
    steps
}

#[cfg(test)]
mod tests {
    use super::*;
    use Setting::{Basket, Landscape, Mounted, Potted};
    use SizeClass::{Large, Medium, Small, Specimen};
    use Standing::{Established, Ordinary, Rootless, Seedling, Weak};

    // Common practice, no source: large and specimen established 300 in up to two passes, 600 once
    // in humid air; medium established 300; ordinary 150; small, seedling, weak 100; rootless 50.
    #[test]
    fn strength_by_standing_and_size() {
        for (standing, size, mg_l, single, passes) in [
            (Established, Specimen, 300.0, Some(600.0), 2.0),
            (Established, Large, 300.0, Some(600.0), 2.0),
            (Established, Medium, 300.0, None, 1.0),
            (Established, Small, 100.0, None, 1.0),
            (Ordinary, Large, 150.0, None, 1.0),
            (Ordinary, Medium, 150.0, None, 1.0),
            (Ordinary, Small, 100.0, None, 1.0),
            (Seedling, Medium, 100.0, None, 1.0),
            (Weak, Large, 100.0, None, 1.0),
            (Rootless, Small, 50.0, None, 1.0),
        ] {
            let a = allowance(standing, size, Mounted);
            assert_eq!(
                (
                    a.strength.mg_per_l(),
                    a.humid_single_pass.map(|s| s.mg_per_l()),
                    a.passes.number()
                ),
                (mg_l, single, passes),
                "{standing:?} {size:?}"
            );
        }
    }

    // Common practice, no source: twice a day for large exposed established plants, daily for
    // medium ones, every second day for potted, small, weak and seedling.
    #[test]
    fn interval_by_standing_size_and_setting() {
        for (standing, size, setting, days) in [
            (Established, Specimen, Basket, 0.5),
            (Established, Large, Mounted, 0.5),
            (Established, Large, Landscape, 1.0),
            (Established, Medium, Mounted, 1.0),
            (Established, Small, Mounted, 2.0),
            (Established, Large, Potted, 2.0),
            (Ordinary, Large, Mounted, 2.0),
            (Weak, Medium, Mounted, 2.0),
        ] {
            let got = allowance(standing, size, setting).interval_days;
            assert_eq!(got, days, "{standing:?} {size:?} {setting:?}");
        }
    }

    #[test]
    fn steps_go_down_from_the_cap() {
        assert_eq!(steps_below(300.0), [300.0, 150.0, 100.0, 50.0, 25.0]);
        assert_eq!(steps_below(220.0), [220.0, 150.0, 100.0, 50.0, 25.0]);
        assert_eq!(steps_below(30.0), [30.0, 25.0]);
        assert!(steps_below(20.0).is_empty());
    }
}

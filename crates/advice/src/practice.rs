//! The practice table: strength, passes and interval by standing and setting.
//!
//! Every number is in `data/practice.csv`, marked `common practice, no source`. The models of
//! film and dose can only lower what stands here.

use crate::request::{Setting, SizeClass, Standing};
use guardcell_reference::Parameter;
use guardcell_reference::parameters::{practice as p, unit};

/// The highest feed strength in one pass of ordinary air.
pub(crate) const fn strength(standing: Standing) -> Parameter<unit::MilligramPerLitre> {
    match standing {
        Standing::Established => p::STRENGTH_ESTABLISHED,
        Standing::Ordinary => p::STRENGTH_ORDINARY,
        Standing::Seedling | Standing::Weak => p::STRENGTH_WEAK,
        Standing::Rootless => p::STRENGTH_ROOTLESS,
    }
}

/// Passes in one round at most.
pub(crate) const fn passes(standing: Standing) -> Parameter<unit::One> {
    match standing {
        Standing::Established => p::PASSES_ESTABLISHED,
        _ => p::PASSES_OTHER,
    }
}

/// Days between rounds.
pub(crate) const fn interval(standing: Standing, setting: Setting) -> Parameter<unit::Day> {
    match (standing, setting) {
        (Standing::Established, Setting::Mounted | Setting::Basket | Setting::Landscape) => {
            p::INTERVAL_ESTABLISHED_EXPOSED
        }
        _ => p::INTERVAL_OTHER,
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

/// The strengths to try below a cap, highest first: the steps of the practice table, then halves,
/// down to the least useful one.
pub(crate) fn steps_below(cap_mg_l: f64) -> Vec<f64> {
    let table = [
        p::STRENGTH_ESTABLISHED_HUMID_SINGLE_PASS.value,
        p::STRENGTH_ESTABLISHED.value,
        p::STRENGTH_ORDINARY.value,
        p::STRENGTH_WEAK.value,
        p::STRENGTH_ROOTLESS.value,
        p::STRENGTH_LEAST_USEFUL.value,
    ];
    let mut steps: Vec<f64> = table.into_iter().filter(|s| *s <= cap_mg_l).collect();
    if steps.first().is_none_or(|s| *s < cap_mg_l) && cap_mg_l > 0.0 {
        steps.insert(0, cap_mg_l);
    }
    steps
}

#[cfg(test)]
mod tests {
    use super::*;

    // Practice of DESIGN §8 (common practice, no source): 300, 150, 100, 50 mg/L; daily for
    // established plants in the air, every second day for the rest.
    #[test]
    fn the_table_of_common_practice() {
        assert_eq!(strength(Standing::Established).value, 300.0);
        assert_eq!(strength(Standing::Ordinary).value, 150.0);
        assert_eq!(strength(Standing::Seedling).value, 100.0);
        assert_eq!(strength(Standing::Rootless).value, 50.0);
        assert_eq!(interval(Standing::Established, Setting::Mounted).value, 1.0);
        assert_eq!(interval(Standing::Established, Setting::Potted).value, 2.0);
        assert_eq!(interval(Standing::Weak, Setting::Mounted).value, 2.0);
    }

    #[test]
    fn steps_go_down_from_the_cap() {
        assert_eq!(steps_below(300.0), [300.0, 150.0, 100.0, 50.0, 25.0]);
        assert_eq!(steps_below(220.0)[0], 220.0);
        assert!(steps_below(0.0).is_empty());
    }
}

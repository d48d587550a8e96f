//! How long a sitting takes, estimated from a stated pace.

use crate::request::GrowerSettings;
use guardcell_reference::parameters::practice as p;

/// The pace of a grower, in minutes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pace {
    pub(super) plant: f64,
    pub(super) fill: f64,
}

/// What is done in a sitting.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Work {
    /// Plants, each counted once a pass.
    pub(super) sprayings: f64,
    pub(super) fills: usize,
    /// Visits to areas.
    pub(super) visits: usize,
    /// Whether a bucket is mixed for it.
    pub(super) mixes: bool,
    /// Minutes of waiting for leaves to dry between two passes.
    pub(super) waiting: f64,
}

impl Pace {
    pub(super) fn of(grower: &GrowerSettings) -> Self {
        Self {
            plant: grower.seconds_per_plant.map_or(p::PACE_PLANT.minutes(), |s| s / 60.0),
            fill: grower.minutes_per_fill.unwrap_or(p::PACE_FILL.minutes()),
        }
    }

    /// Minutes of a sitting.
    pub(super) fn minutes(self, work: Work) -> f64 {
        let bucket = if work.mixes { p::PACE_BUCKET.minutes() } else { 0.0 };
        p::PACE_SITTING.minutes()
            + bucket
            + work.sprayings * self.plant
            + work.fills as f64 * self.fill
            + work.visits as f64 * p::PACE_AREA.minutes()
            + work.waiting
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // By hand, from data/practice.csv: 5 + 5 + 30 × 20 s + 2 × 3 + 3 × 2 + 0 = 32 min.
    #[test]
    fn minutes_by_hand() {
        let pace = Pace::of(&GrowerSettings::default());
        let work = Work { sprayings: 30.0, fills: 2, visits: 3, mixes: true, waiting: 0.0 };
        assert!((pace.minutes(work) - 32.0).abs() < 1e-3);
        // A slower grower, 60 s a plant and 4 min a fill: 5 + 30 + 8 + 6 = 49 min, and 12 to wait.
        let grower = GrowerSettings {
            seconds_per_plant: Some(60.0),
            minutes_per_fill: Some(4.0),
            ..GrowerSettings::default()
        };
        let work = Work { mixes: false, waiting: 12.0, ..work };
        assert!((Pace::of(&grower).minutes(work) - 61.0).abs() < 1e-9);
    }
}

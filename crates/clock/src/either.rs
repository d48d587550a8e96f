//! Plants that may run either pathway: both candidate openings with their chances, and the
//! overlap in which it does not matter.

use crate::code::Code;
use crate::interval::{Interval, push};

/// Weaves the openings of the two pathways into one series without overlaps. `cam_share` is the
/// probability that the plant runs CAM; both inputs are sorted and disjoint.
pub(crate) fn weave(cam: &[Interval], c3: &[Interval], cam_share: f64) -> Vec<Interval> {
    let mut edges: Vec<i64> = cam.iter().chain(c3).flat_map(|p| [p.start, p.end]).collect();
    edges.sort_unstable();
    edges.dedup();
    let mut out = Vec::with_capacity(edges.len());
    for pair in edges.windows(2) {
        let &[start, end] = pair else { continue };
        let by_cam = covering(cam, start, end);
        let by_c3 = covering(c3, start, end);
        let woven = match (by_cam, by_c3) {
            (Some(a), Some(b)) => Interval {
                open: a.open * cam_share + b.open * (1.0 - cam_share),
                either: true,
                codes: a.codes | b.codes | Code::EitherPathway.bit(),
                air: a.air.with(b.air),
                ..*a
            },
            (Some(a), None) => Interval { open: a.open * cam_share, ..*a },
            (None, Some(b)) => Interval { open: b.open * (1.0 - cam_share), ..*b },
            (None, None) => continue,
        };
        if woven.open > 0.0 {
            push(&mut out, Interval { start, end, ..woven });
        }
    }
    out
}

/// The interval that covers `start..end`, into which no edge falls.
fn covering(intervals: &[Interval], start: i64, end: i64) -> Option<&Interval> {
    let i = intervals.partition_point(|p| p.end <= start);
    intervals.get(i).filter(|p| p.start <= start && end <= p.end)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::interval::AirRange;
    use crate::phase::Phase;

    fn interval(start: i64, end: i64, phase: Phase, open: f64) -> Interval {
        Interval {
            start,
            end,
            phase,
            part: None,
            open,
            either: false,
            codes: 0,
            air: AirRange::EMPTY,
        }
    }

    /// With 30 % CAM: CAM alone 0.3 × 0.6, the overlap 0.3 × 0.6 + 0.7 × 0.9, C3 alone 0.7 × 0.9.
    #[test]
    fn the_share_weighs_each_pathway() {
        let cam = [interval(0, 20, Phase::PhaseII, 0.6)];
        let c3 = [interval(10, 30, Phase::DayOpen, 0.9)];
        let woven = weave(&cam, &c3, 0.3);
        let found: Vec<(i64, i64, bool, Phase)> =
            woven.iter().map(|i| (i.start, i.end, i.either, i.phase)).collect();
        assert_eq!(
            found,
            [
                (0, 10, false, Phase::PhaseII),
                (10, 20, true, Phase::PhaseII),
                (20, 30, false, Phase::DayOpen)
            ]
        );
        for (i, expected) in woven.iter().zip([0.18, 0.18 + 0.63, 0.63]) {
            assert!((i.open - expected).abs() < 1e-12, "{i:?}");
        }
    }
}

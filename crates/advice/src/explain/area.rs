//! Each area as a whole: its air, who is fed, and the changes that would serve most.

use super::change;
use super::plant::Explained;
use crate::answer::{AreaAdvice, AreaChange};
use crate::decide::{ChangeKind, Possible};
use crate::moment::rfc3339;
use crate::timeline::AreaTimeline;
use std::mem::Discriminant;

/// What plants alike share, with how many there are.
pub(crate) type Share<'a> = (&'a Explained, usize);

/// The answer for an area.
pub(crate) fn area(timeline: &AreaTimeline<'_>, shares: &[Share<'_>]) -> AreaAdvice {
    let not_fed: Vec<&Share<'_>> =
        shares.iter().filter(|(e, _)| e.decision.fed.is_empty()).collect();
    let plants = |of: &[&Share<'_>]| of.iter().map(|(_, n)| n).sum::<usize>();
    let description = &timeline.area().description;
    let end = timeline.step_at(timeline.end());
    let all: usize = shares.iter().map(|(_, n)| n).sum();
    AreaAdvice {
        area: description.id.clone(),
        name: description.name.clone(),
        basis: timeline.basis(0..end.max(1)),
        readings_until: timeline.known_until().map(|t| rfc3339(&timeline.local(t))),
        fed: all - plants(&not_fed),
        not_fed: plants(&not_fed),
        changes: changes(&not_fed, timeline),
    }
}

/// The changes that would help the plants of an area, each once at the figure that serves all of
/// those it helps, cheapest first.
fn changes(not_fed: &[&Share<'_>], timeline: &AreaTimeline<'_>) -> Vec<AreaChange> {
    let mut by_kind: Vec<(Discriminant<ChangeKind>, &Possible, usize)> = Vec::new();
    for (explained, n) in not_fed {
        for possible in &explained.decision.changes {
            let kind = std::mem::discriminant(&possible.kind);
            match by_kind.iter_mut().find(|(k, _, _)| *k == kind) {
                Some((_, most, plants)) => {
                    *plants += n;
                    if demands_more(possible, most) {
                        *most = possible;
                    }
                }
                None => by_kind.push((kind, possible, *n)),
            }
        }
    }
    by_kind.sort_by_key(|(_, p, _)| p.kind);
    by_kind
        .into_iter()
        .map(|(_, possible, plants)| {
            let reason = change::reason(possible, timeline);
            AreaChange { code: reason.code, message: reason.message, inputs: reason.inputs, plants }
        })
        .collect()
}

/// Whether one change of a kind asks for more than another, so that it serves both.
fn demands_more(a: &Possible, b: &Possible) -> bool {
    match (a.kind, b.kind) {
        // The first to come is the one to know of.
        (ChangeKind::Due(x), ChangeKind::Due(y)) => x < y,
        (ChangeKind::Later, _) | (ChangeKind::AnyHour, _) => {
            let start = |p: &Possible| p.best.as_ref().map(|c| c.start);
            start(a) < start(b)
        }
        (ChangeKind::StillAir, _) => {
            let minutes = |p: &Possible| {
                p.best.as_ref().map(|c| c.share.dry_minutes.unwrap_or(f64::INFINITY))
            };
            minutes(a) > minutes(b)
        }
        (x, y) => x > y,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::counterfactual::Counterfactual;
    use crate::decide::a_window;
    use crate::trial::t;

    /// Of two changes of a kind that one is named which serves both plants.
    #[test]
    fn the_change_that_serves_both_is_the_one_that_asks_for_more() {
        let plain = |kind| Possible { kind, change: Counterfactual::default(), best: None };
        let with = |kind, start: &str, dry_minutes| {
            let mut window = a_window();
            window.start = t(start);
            window.share.dry_minutes = dry_minutes;
            Possible { best: Some(window), ..plain(kind) }
        };
        let (early, late) = ("2026-06-22T05:00:00Z", "2026-06-22T09:00:00Z");
        let of = |kind, start| with(kind, start, Some(30.0));
        for (more, less) in [
            // The first to come is the one to know of.
            (plain(ChangeKind::Due(t(early))), plain(ChangeKind::Due(t(late)))),
            (of(ChangeKind::Later, early), of(ChangeKind::Later, late)),
            (of(ChangeKind::AnyHour, early), of(ChangeKind::AnyHour, late)),
            // Fans stand still until the last leaf is dry, one that stays wet longest of all.
            (
                with(ChangeKind::StillAir, late, Some(90.0)),
                with(ChangeKind::StillAir, early, Some(60.0)),
            ),
            (
                with(ChangeKind::StillAir, late, None),
                with(ChangeKind::StillAir, early, Some(600.0)),
            ),
            // More rain, damper air and longer days do for both.
            (plain(ChangeKind::Rain(60)), plain(ChangeKind::Rain(20))),
            (plain(ChangeKind::Humidity(80)), plain(ChangeKind::Humidity(65))),
        ] {
            assert!(demands_more(&more, &less), "{more:?}");
            assert!(!demands_more(&less, &more), "{less:?}");
            assert!(!demands_more(&more, &more), "{more:?}");
        }
    }
}

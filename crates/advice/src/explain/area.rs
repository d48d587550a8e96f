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

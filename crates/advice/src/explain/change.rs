//! What would make a window, in words.

use super::window;
use crate::answer::Change;
use crate::decide::{ChangeKind, Decision, Possible};
use crate::moment::rfc3339;
use crate::reason::{Draft, Reason};
use crate::reason_code::ReasonCode;
use crate::timeline::AreaTimeline;
use guardcell_error::Error;
use jiff::Timestamp;

/// Every change of a decision, cheapest first.
pub(super) fn all(decision: &Decision, timeline: &AreaTimeline<'_>) -> Result<Vec<Change>, Error> {
    decision.changes.iter().map(|c| one(c, decision, timeline)).collect()
}

fn one(
    possible: &Possible,
    decision: &Decision,
    timeline: &AreaTimeline<'_>,
) -> Result<Change, Error> {
    let Reason { code, message, inputs, .. } = reason(possible, timeline);
    let window = match &possible.best {
        Some(best) => Some(window::one(best, best, decision, timeline, possible.change)?),
        None => None,
    };
    Ok(Change { code, message, inputs, window })
}

/// A change as a reason: its code, its figures, its words.
pub(super) fn reason(possible: &Possible, timeline: &AreaTimeline<'_>) -> Reason {
    let said = |t: Timestamp| rfc3339(&timeline.local(t));
    let draft = |code| {
        let draft = Draft::new(code);
        match &possible.best {
            Some(best) => draft
                .with("from", said(best.start))
                .with("to", said(best.end))
                .with("strength_mg_l", best.dose.mg_l),
            None => draft,
        }
    };
    match possible.kind {
        ChangeKind::Due(t) => draft(ReasonCode::WaitUntilDue).with("from", said(t)).done(),
        ChangeKind::Spring(date) => {
            draft(ReasonCode::WaitForLongerDays).with("from", date.to_string()).done()
        }
        ChangeKind::Later => draft(ReasonCode::WaitForWindow).done(),
        ChangeKind::PlainWater => draft(ReasonCode::PlainWater).done(),
        ChangeKind::AnyHour => draft(ReasonCode::BeThere).done(),
        ChangeKind::StillAir => {
            let minutes = possible.best.as_ref().and_then(|b| b.share.dry_minutes);
            match minutes {
                Some(m) => draft(ReasonCode::StillTheAir).with("minutes", m.ceil()).done(),
                None => draft(ReasonCode::StillTheAir).variant("hours"),
            }
        }
        ChangeKind::Rain(percent) => draft(ReasonCode::AddRain)
            .with("rain_percent", percent)
            .with("own_percent", 100_u8.saturating_sub(percent))
            .variant(if percent >= 100 { "all" } else { "" }),
        ChangeKind::Humidity(percent) => {
            draft(ReasonCode::KeepHumid).with("rh_percent", percent).done()
        }
        ChangeKind::AskAgain(t) => draft(ReasonCode::AskAgain).with("from", said(t)).done(),
    }
}

/// Until when to wait, where that is known.
pub(super) fn until(decision: &Decision, timeline: &AreaTimeline<'_>) -> Option<String> {
    decision.changes.iter().find_map(|c| match (c.kind, &c.best) {
        (ChangeKind::Due(t) | ChangeKind::AskAgain(t), _) => Some(rfc3339(&timeline.local(t))),
        (ChangeKind::Spring(date), _) => Some(date.to_string()),
        (ChangeKind::Later, Some(best)) => Some(rfc3339(&timeline.local(best.start))),
        _ => None,
    })
}

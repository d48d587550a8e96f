//! What the plants of a group have in common, said once.

use super::group::Group;
use crate::reason::Reason;
use crate::reason_code::ReasonCode;

/// Reasons about the pathway of a plant, which differ in wording from plant to plant.
const PATHWAY: [ReasonCode; 4] = [
    ReasonCode::OpensByDay,
    ReasonCode::OpensAtNight,
    ReasonCode::OpensEither,
    ReasonCode::NoLeafOpening,
];

/// Reasons about the plant itself or its pot, which hold whatever the hour.
const OF_PLANT: [ReasonCode; 5] = [
    ReasonCode::RuleOfThumb,
    ReasonCode::NameMended,
    ReasonCode::ParentsDisagree,
    ReasonCode::WeeklyCeiling,
    ReasonCode::FlushDue,
];
/// Wordings of one reason that are said side by side.
const MOST_WORDINGS: usize = 3;

/// The pathway of all, with how well it is known of whom, then every other reason that all share:
/// those of the plants, and those of the hour and dose planned. What holds for every group alike is
/// left to the cautions of the round.
pub(super) fn reasons(group: &Group<'_>) -> Vec<Reason> {
    let mut out: Vec<Reason> = PATHWAY.into_iter().filter_map(|c| pathway(group, c)).collect();
    let of_plants: Vec<Vec<&Reason>> = group
        .members
        .iter()
        .map(|m| {
            let carried = |r: &&Reason| OF_PLANT.iter().any(|c| c.as_str() == r.code);
            m.planned.reasons.iter().chain(m.advice.reasons.iter().filter(carried)).collect()
        })
        .collect();
    let Some((first, rest)) = of_plants.split_first() else { return out };
    let mut done: Vec<&str> = vec![ReasonCode::TimingInferred.as_str()];
    for r in first {
        if done.contains(&r.code.as_str()) || PATHWAY.iter().any(|c| c.as_str() == r.code) {
            continue;
        }
        done.push(&r.code);
        if rest.iter().all(|others| others.iter().any(|o| o.code == r.code)) {
            out.extend(wordings(&of_plants, &r.code));
        }
    }
    out
}

/// The different wordings of a reason that every plant of a group has.
fn wordings(of_plants: &[Vec<&Reason>], code: &str) -> Vec<Reason> {
    let mut out: Vec<Reason> = Vec::new();
    for r in of_plants.iter().flatten().filter(|r| r.code == code) {
        if out.len() < MOST_WORDINGS && !out.iter().any(|known| known.message == r.message) {
            out.push((*r).clone());
        }
    }
    out
}

fn pathway(group: &Group<'_>, code: ReasonCode) -> Option<Reason> {
    let of_plants: Vec<(&str, &Reason)> = group
        .members
        .iter()
        .filter_map(|m| {
            let r = m.advice.reasons.iter().find(|r| r.code == code.as_str())?;
            Some((m.entry.id.as_str(), r))
        })
        .collect();
    if of_plants.is_empty() {
        return None;
    }
    let says = match code {
        ReasonCode::OpensByDay => "Stomata open by day (C3)",
        ReasonCode::OpensAtNight => "Stomata open at night (CAM)",
        ReasonCode::OpensEither => "Either C3 or CAM, so both openings are weighed",
        _ => "No leaves to open: the roots take up the feed",
    };
    let mut grades = Vec::new();
    for grade in ["measured", "reported", "inferred", "unknown"] {
        let n = of_plants
            .iter()
            .filter(|(_, r)| r.inputs.get("grade").and_then(|g| g.as_str()) == Some(grade))
            .count();
        if n > 0 {
            grades.push((grade, n));
        }
    }
    let grades_words: Vec<String> = match grades.as_slice() {
        [(grade, _)] => vec![(*grade).to_owned()],
        many => many.iter().map(|(grade, n)| format!("{grade} for {n}")).collect(),
    };
    let mut reason = Reason::new(code, format!("{says}: {}.", grades_words.join(", ")));
    for (grade, n) in grades {
        reason = reason.with(grade, n);
    }
    for (_, r) in of_plants {
        for key in &r.sources {
            reason = reason.source(key);
        }
    }
    Some(reason)
}

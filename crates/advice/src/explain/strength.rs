//! Why this strength: what practice allows, what lowered it, what it leaves, what enters.

use super::window::three_digits;
use crate::decide::{Candidate, Decision};
use crate::reason::{Draft, Reason};
use crate::reason_code::ReasonCode;
use crate::rule::Constraint;
use guardcell_reference::parameters::{film, practice as p};

pub(super) fn reasons(decision: &Decision, best: &Candidate, tolerance: f64) -> Vec<Reason> {
    let subject = &decision.subject;
    let cap = subject.allowance.strength;
    if best.dose.mg_l > cap.mg_per_l() {
        return vec![
            Draft::new(ReasonCode::HumidSinglePass)
                .with("rh_least_percent", p::HUMID_SINGLE_PASS_RH.percent())
                .with("air_most_m_s", p::HUMID_SINGLE_PASS_AIR_MOST.m_per_s())
                .with("to_mg_l", best.dose.mg_l)
                .with_parameter(p::STRENGTH_ESTABLISHED_HUMID_SINGLE_PASS)
                .done(),
        ];
    }
    let passes = subject.allowance.passes.number();
    let word = subject.standing.word();
    let mut out = vec![
        Draft::new(ReasonCode::StrengthByStanding)
            .with("standing", word)
            .with("Standing", capital(word))
            .with("cap_mg_l", cap.mg_per_l())
            .with("passes_most", passes)
            .with_parameter(cap)
            .variant(match (subject.allowance.by_size, passes > 1.0) {
                (true, _) => "small",
                (false, true) => "passes",
                (false, false) => "",
            }),
    ];
    if let Some(lowered) = &decision.lowered {
        let weekly = subject.weekly;
        out.push(
            Draft::new(ReasonCode::StrengthLowered)
                .with("from_mg_l", lowered.from_mg_l)
                .with("to_mg_l", lowered.to_mg_l)
                .with("next_mg_l", lowered.next_mg_l)
                .with("next_residue_probability", three_digits(lowered.next_residue_probability))
                .with("tolerance", tolerance)
                .with("constraint", constraint(lowered.by))
                .with("ceiling_mg_week", weekly.map(|w| w.ceiling_mg))
                .with("root_mg_week", weekly.map(|w| w.root_mg))
                .with("white_at_mg_l", subject.white_at_mg_l)
                .variant(match (lowered.by, subject.white_at_mg_l) {
                    (Constraint::Learned, Some(_)) => "after-white",
                    (by, _) => constraint(by),
                }),
        );
    }
    out
}

/// The same for a window of a round: what lowered the best dose is said only where it is given.
pub(super) fn planned(decision: &Decision, window: &Candidate, tolerance: f64) -> Vec<Reason> {
    let mut out = reasons(decision, window, tolerance);
    let best = decision.fed.first().map(|c| c.dose);
    if best != Some(window.dose) {
        out.retain(|r| r.code != ReasonCode::StrengthLowered.as_str());
    }
    out
}

/// The constraint on the wire, and the variant of its words.
const fn constraint(c: Constraint) -> &'static str {
    match c {
        Constraint::NotHumid => "not-humid",
        Constraint::AirMoves => "air-moves",
        Constraint::AirSpeedUnknown => "air-speed-unknown",
        Constraint::AirAssumed => "air-assumed",
        Constraint::Residue => "residue",
        Constraint::Cost => "cost",
        Constraint::Weekly => "weekly",
        Constraint::Learned => "learned",
        Constraint::RootTip => "root-tip",
    }
}

fn capital(word: &str) -> String {
    let mut chars = word.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().chain(chars).collect())
}

pub(super) fn residue(best: &Candidate, tolerance: f64) -> Reason {
    Draft::new(ReasonCode::ResidueAcceptable)
        .with("residue_probability", three_digits(best.worst.residue_probability))
        .with("residue_g_m2", three_digits(best.worst.feed_g_m2 + best.worst.scale_g_m2))
        .with("tolerance", tolerance)
        .with_parameter(film::RESIDUE_THRESHOLD_MEDIAN)
        .done()
}

pub(super) fn drying(best: &Candidate) -> Reason {
    let share = best.share;
    let code = match share.dry_minutes {
        Some(_) => ReasonCode::DriesBeforeUptake,
        None => ReasonCode::StaysWet,
    };
    let draft = Draft::new(code)
        .with("share_likely", three_digits(share.likely))
        .with("share_low", three_digits(share.low))
        .with("share_high", three_digits(share.high))
        .with_parameter(guardcell_reference::parameters::uptake::SALT_RATE);
    match share.dry_minutes {
        Some(m) => draft.with("dry_minutes", m.round()).done(),
        None => draft
            .with("uptake_hours", film::UPTAKE_HOURS.hours())
            .with("driest_rh_percent", best.worst.driest.air.rh_percent.round())
            .done(),
    }
}

/// What the velamen of hanging roots does, where the plant has them.
pub(super) fn velamen(best: &Candidate) -> Option<Reason> {
    let minutes = best.velamen_minutes?;
    let draft = Draft::new(ReasonCode::VelamenDrinks)
        .source("zotz2013aerial")
        .source("rothnebelsick2018velamen");
    Some(match minutes {
        Some(m) if m < 120.0 => draft.with("velamen_minutes", m.round()).done(),
        Some(m) => draft.with("velamen_hours", (m / 60.0).round()).variant("hours"),
        None => draft.variant("long"),
    })
}

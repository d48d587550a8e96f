//! What stood in the way where nothing is fed.

use super::opening::preference;
use crate::air::AirBasis;
use crate::decide::{Decision, Obstacle};
use crate::moment::rfc3339;
use crate::reason::{Draft, Reason};
use crate::reason_code::ReasonCode;
use crate::timeline::AreaTimeline;
use guardcell_error::Error;
use guardcell_reference::parameters::{clock, practice as p};

pub(super) fn reason(decision: &Decision, timeline: &AreaTimeline<'_>) -> Result<Reason, Error> {
    let tolerance = timeline.inputs().tolerance;
    let subject = &decision.subject;
    let Some(obstacle) = decision.obstacle else {
        let said = decision.openings.reasons.first().map(Reason::from);
        return Ok(said.unwrap_or_else(|| Draft::new(ReasonCode::NoLeafOpening).done()));
    };
    Ok(match obstacle {
        Obstacle::TooShort => Draft::new(ReasonCode::NoLeafOpening)
            .with("least_minutes", p::WINDOW_LEAST.minutes())
            .with_parameter(p::WINDOW_LEAST)
            .variant("short"),
        Obstacle::NoReading => {
            Draft::new(ReasonCode::ReadingsEnd).with_parameter(p::ASSUMED_WINDOW_MOST).done()
        }
        Obstacle::NotDue => {
            let due = subject.not_before.map(|t| rfc3339(&timeline.local(t))).unwrap_or_default();
            Draft::new(ReasonCode::FedRecently)
                .with("due", due)
                .with("interval_days", subject.allowance.interval_days)
                .with("interval_words", interval_words(subject.allowance.interval_days))
                .with_parameter(subject.allowance.interval)
                .done()
        }
        Obstacle::DarkMonth => Draft::new(ReasonCode::DarkMonth)
            .with("day_length_h", clock::WINTER_DAY_LENGTH.hours())
            .with_parameter(clock::WINTER_DAY_LENGTH)
            .variant(if timeline.is_room() { "" } else { "evening" }),
        Obstacle::TooCold => Draft::new(ReasonCode::TooCold)
            .with("temp_least_c", p::FEED_TEMPERATURE_LEAST.celsius())
            .with_parameter(p::FEED_TEMPERATURE_LEAST)
            .done(),
        Obstacle::Refused => {
            let refused = decision.openings.list.iter().find(|o| o.preference.rank > 3);
            refused.map_or_else(
                || Draft::new(ReasonCode::NoLeafOpening).variant("refused"),
                preference,
            )
        }
        Obstacle::TooSunny => Draft::new(ReasonCode::TooSunny)
            .with("radiation_most_w_m2", p::SUN_RADIATION_MOST.w_per_m2())
            .with_parameter(p::SUN_RADIATION_MOST)
            .done(),
        Obstacle::NobodyThere => Draft::new(ReasonCode::OutsideWorkingHours).done(),
        Obstacle::WetNight => {
            let end = timeline.step_at(timeline.end());
            let assumed = timeline.basis(0..end + 1) == AirBasis::Assumed;
            Draft::new(ReasonCode::WetNight).source("sirjusingh1996effect").variant(if assumed {
                "assumed"
            } else {
                ""
            })
        }
        Obstacle::Weekly => {
            let weekly = subject.weekly;
            Draft::new(ReasonCode::WeeklyCeiling)
                .with("root_mg_week", weekly.map(|w| w.root_mg))
                .with("ceiling_mg_week", weekly.map(|w| w.ceiling_mg))
                .with_parameter(p::POT_WEEKLY_SALTS)
                .variant("full")
        }
        Obstacle::Learned => Draft::new(ReasonCode::JournalProposesLess)
            .with("least_mg_l", p::STRENGTH_LEAST_USEFUL.mg_per_l())
            .with("white_at_mg_l", subject.white_at_mg_l)
            .with_parameter(p::STRENGTH_LEAST_USEFUL)
            .variant(if subject.white_at_mg_l.is_some() { "after-white" } else { "" }),
        Obstacle::WaterTurn => {
            Draft::new(ReasonCode::WaterTurn).source("common practice, no source").done()
        }
        Obstacle::Scale => {
            Draft::new(ReasonCode::ScaleFromWater).with("tolerance", tolerance).done()
        }
        Obstacle::Residue => Draft::new(ReasonCode::ResidueTooLikely)
            .with("least_mg_l", p::STRENGTH_LEAST_USEFUL.mg_per_l())
            .with("tolerance", tolerance)
            .with_parameter(p::STRENGTH_LEAST_USEFUL)
            .done(),
    })
}

fn interval_words(days: f64) -> String {
    if days < 1.0 {
        format!("{:.0} hours", days * 24.0)
    } else if days > 1.0 {
        format!("{days:.0} days")
    } else {
        "a day".into()
    }
}

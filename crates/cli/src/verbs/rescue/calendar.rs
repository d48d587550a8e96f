//! The soaks of a rescue as a calendar.

use crate::print::calendar::{self, Appointment, slug};
use guardcell::Error;
use guardcell::advice::{RescueRequest, RescueResponse};

/// The calendar as text.
pub(crate) fn text(
    plan: &RescueResponse,
    request: &RescueRequest,
    plant: Option<&str>,
    alarm_min: f64,
) -> Result<String, Error> {
    let area =
        request.area.as_deref().or_else(|| request.site.areas.first().map(|a| a.id.as_str()));
    let who = match plant {
        Some(id) => format!("{id} {}", plan.name),
        None => plan.name.clone(),
    };
    let place = [Some(request.site.name.as_str()), area, Some(&who)];
    let of = place.into_iter().flatten().map(slug).collect::<Vec<_>>().join(".");
    let description = description(plan);
    let soaks: Vec<Appointment<'_>> = plan
        .soaks
        .iter()
        .map(|soak| Appointment {
            of: of.clone(),
            start: &soak.start,
            end: &soak.end,
            summary: match soak.plain_water {
                true => format!("Soak {who} in plain water"),
                false => format!("Soak {who}"),
            },
            description: description.clone(),
        })
        .collect();
    // The day the plan begins stands for the day it was made: the clock stays out of the file.
    let made = format!("{}T00:00:00Z", request.from.trim());
    calendar::text("rescue", &format!("Soaks for {who}"), &made, &soaks, alarm_min)
}

/// What to do and when to stop, with the limits in it.
fn description(plan: &RescueResponse) -> String {
    let mut lines = plan.steps.clone();
    lines.push("Stop or change when:".into());
    lines.extend(plan.stop_when.iter().cloned());
    lines.push("Common practice, no source. The label of the product comes first.".into());
    lines.join("\n")
}

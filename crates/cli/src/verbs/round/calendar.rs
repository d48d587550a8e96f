//! The sittings of a round as a calendar.

use crate::print::calendar::{self, Appointment, slug};
use crate::print::today;
use guardcell::Error;
use guardcell::advice::round::{RoundResponse, Sitting};

/// The calendar as text.
pub(crate) fn text(plan: &RoundResponse, alarm_min: f64) -> Result<String, Error> {
    // A sitting that has no bucket of its own is served by the one before.
    let mut bucket = plan.bucket.as_ref();
    let sittings: Vec<Appointment<'_>> = plan
        .sittings
        .iter()
        .map(|sitting| {
            let own = sitting.bucket.as_ref();
            bucket = own.or(bucket);
            let mut lines = bucket.map_or_else(Vec::new, today::mix);
            lines.extend(sitting.steps.iter().map(today::strength));
            lines.extend(sitting.notes.iter().map(|note| note.message.clone()));
            lines.push("Ask again before you mix: the air may have changed.".into());
            Appointment {
                of: format!("{}.round", slug(&plan.site)),
                start: &sitting.start,
                end: &sitting.end,
                summary: summary(sitting),
                description: lines.join("\n"),
            }
        })
        .collect();
    calendar::text("round", &format!("Rounds at {}", plan.site), &plan.from, &sittings, alarm_min)
}

/// `Spray 9 plants, about 25 min`.
fn summary(s: &Sitting) -> String {
    format!("Spray {}, about {}", today::plants(s), crate::print::text::minutes(s.minutes))
}

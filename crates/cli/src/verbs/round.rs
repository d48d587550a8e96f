//! `round`: one bucket, the order of the plants, every mister fill.

mod calendar;

use crate::args;
use crate::backend::Backend;
use crate::home::Home;
use crate::print::calendar::minutes_before;
use crate::print::{self, Out, file};
use crate::verbs::Outcome;
use crate::verbs::journal::learned;
use crate::verbs::situation::{self, Situation};
use guardcell::Error;
use guardcell::calls::Round;

pub(crate) fn run(
    args: &args::Round,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<Outcome, Error> {
    let Situation { read, learned, turn } = situation::read(&args.situation, home)?;
    let plan = backend.ask::<Round>(&read.request).map_err(|e| read.locate(e))?;
    if let Some(path) = &args.calendar.ics {
        file::write(path, &calendar::text(&plan, minutes_before(&args.calendar.alarm)?)?)?;
    }
    if out.json() {
        out.value(&plan)?;
    } else {
        let detail = print::round::Detail { why: args.why, sources: args.sources };
        print::round::print(&plan, &read.request, (turn.as_ref(), detail), out);
    }
    learned::print(learned.as_ref(), out);
    let negative = args.check && plan.bucket.is_none();
    Ok(if negative { Outcome::Negative } else { Outcome::Answer })
}

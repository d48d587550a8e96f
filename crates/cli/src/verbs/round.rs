//! `round`: one bucket, the order of the plants, every mister fill.

use crate::answers::Answers;
use crate::args;
use crate::error::CliError;
use crate::print::{self, Out};
use crate::verbs::journal::learned;
use crate::verbs::{Outcome, situation};

pub(crate) fn run(
    args: &args::Round,
    answers: &Answers,
    out: &mut Out,
) -> Result<Outcome, CliError> {
    let mut read = situation::read(&args.situation)?;
    let known = learned::apply(&args.learned, &mut read.request)?;
    let plan = answers.round(&read.request).map_err(|e| read.fault(e))?;
    if out.json() {
        out.value(&plan)?;
    } else {
        print::round::print(&plan, &read.request, out);
    }
    learned::print(&known, out);
    let negative = args.check && plan.bucket.is_none();
    Ok(if negative { Outcome::Negative } else { Outcome::Answer })
}

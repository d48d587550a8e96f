//! `round`: one bucket, the order of the plants, every mister fill.

use crate::args;
use crate::error::CliError;
use crate::print::{self, Out};
use crate::verbs::{Outcome, situation};
use guardcell::advice::round;

pub(crate) fn run(args: &args::Round, out: &mut Out) -> Result<Outcome, CliError> {
    let read = situation::read(&args.situation)?;
    let plan = round(&read.request).map_err(|e| read.fault(&e))?;
    if out.json() {
        out.value(&plan)?;
    } else {
        print::round::print(&plan, &read.request, out);
    }
    let negative = args.check && plan.bucket.is_none();
    Ok(if negative { Outcome::Negative } else { Outcome::Answer })
}

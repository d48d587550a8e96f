//! `round`: one bucket, the order of the plants, every mister fill.

use crate::args;
use crate::backend::Backend;
use crate::print::{self, Out};
use crate::verbs::journal::learned;
use crate::verbs::{Outcome, inputs};
use guardcell::Error;
use guardcell::calls::Round;

pub(crate) fn run(args: &args::Round, backend: &Backend, out: &mut Out) -> Result<Outcome, Error> {
    let mut read = inputs::read(&args.inputs)?;
    let known = learned::apply(&args.learned, &mut read.request)?;
    let plan = backend.ask::<Round>(&read.request).map_err(|e| read.locate(e))?;
    if out.json() {
        out.value(&plan)?;
    } else {
        print::round::print(&plan, &read.request, out);
    }
    learned::print(&known, out);
    let negative = args.check && plan.bucket.is_none();
    Ok(if negative { Outcome::Negative } else { Outcome::Answer })
}

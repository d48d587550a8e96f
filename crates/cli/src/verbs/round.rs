//! `round`: one bucket, the order of the plants, every mister fill.

use crate::args;
use crate::backend::Backend;
use crate::home::Home;
use crate::print::{self, Out};
use crate::verbs::journal::learned;
use crate::verbs::{Outcome, inputs};
use guardcell::Error;
use guardcell::calls::Round;

pub(crate) fn run(
    args: &args::Round,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<Outcome, Error> {
    let mut read = inputs::read(&args.inputs, home)?;
    read.keep(&args.only)?;
    let known = learned::apply(&args.learned, home, &mut read.request)?;
    let plan = backend.ask::<Round>(&read.request).map_err(|e| read.locate(e))?;
    if out.json() {
        out.value(&plan)?;
    } else {
        let detail = print::round::Detail { why: args.why, sources: args.sources };
        print::round::print(&plan, &read.request, detail, out);
    }
    learned::print(&known, out);
    let negative = args.check && plan.bucket.is_none();
    Ok(if negative { Outcome::Negative } else { Outcome::Answer })
}

//! `advise`: each plant on its own, with its reasons.

use crate::args;
use crate::backend::Backend;
use crate::error::argument;
use crate::print::{self, Out};
use crate::verbs::journal::learned;
use crate::verbs::{Outcome, inputs};
use guardcell::Error;
use guardcell::advice::Verdict;
use guardcell::calls::Advise;

pub(crate) fn run(args: &args::Advise, backend: &Backend, out: &mut Out) -> Result<Outcome, Error> {
    let mut read = inputs::read(&args.inputs)?;
    let known = learned::apply(&args.learned, &mut read.request)?;
    if let Some(unknown) =
        args.plant.iter().find(|id| !read.request.plants.iter().any(|p| p.id == **id))
    {
        return Err(argument(
            "--plant",
            format!("no plant has the id {unknown:?}"),
            format!("name an id of {}", args.inputs.collection.display()),
        ));
    }
    read.keep_plants(&args.plant);
    let advice = backend.ask::<Advise>(&read.request).map_err(|e| read.locate(e))?;
    if out.json() {
        out.value(&advice)?;
    } else {
        print::advise::print(&advice, out);
    }
    learned::print(&known, out);
    let fed = advice.plants.iter().any(|p| p.verdict == Verdict::Feed);
    Ok(if args.check && !fed { Outcome::Negative } else { Outcome::Answer })
}

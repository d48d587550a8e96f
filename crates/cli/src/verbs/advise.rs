//! `advise`: each plant on its own, with its reasons.

use crate::args;
use crate::backend::Backend;
use crate::home::Home;
use crate::print::{self, Out};
use crate::verbs::Outcome;
use crate::verbs::journal::learned;
use crate::verbs::situation::{self, Situation};
use guardcell::Error;
use guardcell::advice::Verdict;
use guardcell::calls::Advise;

pub(crate) fn run(
    args: &args::Advise,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<Outcome, Error> {
    let Situation { read, learned, turn } = situation::read(&args.situation, home)?;
    let advice = backend.ask::<Advise>(&read.request).map_err(|e| read.locate(e))?;
    if out.json() {
        out.value(&advice)?;
    } else {
        print::advise::print(&advice, turn.as_ref(), out);
    }
    learned::print(learned.as_ref(), out);
    let fed = advice.plants.iter().any(|p| p.verdict == Verdict::Feed);
    Ok(if args.check && !fed { Outcome::Negative } else { Outcome::Answer })
}

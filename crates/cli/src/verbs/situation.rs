//! A situation to judge, read from files, typed air and the journal.

use crate::args;
use crate::home::Home;
use crate::verbs::inputs::{self, Read};
use crate::verbs::journal::learned::{self, Learned};
use guardcell::Error;

/// The request for the plants that are asked for, and what the journal put into it.
pub(crate) fn read(args: &args::Situation, home: &Home) -> Result<(Read, Option<Learned>), Error> {
    let mut read = inputs::read(&args.inputs, home)?;
    read.keep(&args.only)?;
    let learned = learned::learn(&args.learned, home, &mut read.request)?;
    Ok((read, learned))
}

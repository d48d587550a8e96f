//! A situation to judge, read from files, typed air and the journal.

use crate::args;
use crate::home::Home;
use crate::verbs::inputs::{self, Read};
use crate::verbs::journal::learned::{self, Learned};
use guardcell::Error;
use guardcell_folder::Turn;

/// What is asked, and what it was made from.
pub(crate) struct Situation {
    /// The request for the plants that are asked for.
    pub(crate) read: Read,
    /// What the journal put into it.
    pub(crate) learned: Option<Learned>,
    /// The turn of the rota that it is for, where the site has one.
    pub(crate) turn: Option<Turn>,
}

pub(crate) fn read(args: &args::Situation, home: &Home) -> Result<Situation, Error> {
    of(&args.inputs, &args.learned, &args.only, home)
}

/// The same from its parts.
pub(crate) fn of(
    inputs: &args::Inputs,
    from: &args::FromJournal,
    only: &args::Only,
    home: &Home,
) -> Result<Situation, Error> {
    let mut read = inputs::read(inputs, home)?;
    read.keep(only)?;
    let learned = learned::learn(from, home, &mut read.request)?;
    let entries = learned.as_ref().map_or(&[][..], |l| l.entries.as_slice());
    let turn = read.take_turn(entries)?;
    Ok(Situation { read, learned, turn })
}

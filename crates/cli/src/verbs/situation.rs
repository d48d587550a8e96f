//! A situation to judge, read from files, typed air and the journal.

use crate::args;
use crate::home::Home;
use crate::verbs::inputs::{self, Grower, Read};
use crate::verbs::journal::learned::{self, Kept, Learned};
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
    let grower = inputs::grower(&args.inputs, home)?;
    let kept = learned::kept(&args.learned, home, &grower.site.name);
    of(&args.inputs, &args.learned, &args.only, (grower, kept), home)
}

/// The same for a place and a journal that have been read; a fault of the journal is said where
/// those of the other files are, behind them.
pub(crate) fn of(
    inputs: &args::Inputs,
    from: &args::FromJournal,
    only: &args::Only,
    (grower, kept): (Grower, Result<Option<Kept>, Error>),
    home: &Home,
) -> Result<Situation, Error> {
    let mut read = inputs::with(inputs, grower, home)?;
    read.keep(only)?;
    let learned = learned::learn(from, kept?, &mut read.request)?;
    let entries = learned.as_ref().map_or(&[][..], |l| l.entries.as_slice());
    let turn = read.take_turn(entries)?;
    Ok(Situation { read, learned, turn })
}

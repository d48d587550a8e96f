//! A piece that has been answered.

use super::failed::Failed;
use crate::print::spreadsheet;
use guardcell::Error;

/// A piece that has been answered.
#[derive(Default)]
pub(crate) struct Done {
    pub(crate) out: Vec<u8>,
    pub(crate) failed: Vec<Failed>,
    pub(crate) rows: u64,
    pub(crate) lines: u64,
    /// Where the next piece begins in the input.
    pub(crate) end: u64,
    /// Why none of it could be answered, which ends the run.
    pub(crate) broke: Option<Error>,
    /// What the piece stood in, to be filled again.
    pub(crate) spent: Vec<u8>,
}

impl Done {
    /// Rewrites the answers for a spreadsheet.
    pub(crate) fn disarm(&mut self) {
        match spreadsheet::disarmed(&self.out) {
            Ok(rows) => self.out = rows.into_bytes(),
            // Rewriting in memory has nothing to fail on; were it otherwise, no row passes as is.
            Err(error) => {
                self.failed = vec![Failed::new(1, Some(1), error, &self.out)];
                self.out.clear();
            }
        }
    }
}

//! Each function as what answers a line of NDJSON or a row of a table.

use super::columns;
use super::convert;
use guardcell::Error;
use guardcell::calls::AnyCall;
use guardcell_table::{Cell, Row, RowFunction, Tree};
use std::ops::Range;
use std::sync::Arc;

/// Answers one line of NDJSON.
pub(crate) type Json = Box<dyn Fn(&[u8], &mut Vec<u8>) -> Result<(), Error> + Sync>;
/// Answers one row of a table: writes the cells of the answer, each with a comma before it.
pub(crate) type TableRow = Box<dyn FnMut(&Tree, &Cells<'_>, &mut Vec<u8>) -> Result<(), Error>>;
/// Makes what answers rows, one for each thread.
pub(crate) type Table = Box<dyn Fn() -> TableRow + Sync>;

/// The cells of a row of a table: where they stand in a text.
pub(crate) struct Cells<'a> {
    pub(crate) text: &'a str,
    pub(crate) cells: &'a [Range<usize>],
}

impl<'a> Cells<'a> {
    /// The text of a cell without the blanks around it; `None` if it is empty.
    pub(crate) fn text(&self, index: usize) -> Option<&'a str> {
        match Cell::text(self.text.get(self.cells.get(index)?.clone())?)? {
            Cell::Text(text) => Some(text),
            _ => None,
        }
    }
}

impl Row for Cells<'_> {
    fn cell(&self, index: usize) -> Option<Cell<'_>> {
        self.text(index).map(Cell::Text)
    }
}

/// Answers lines of NDJSON.
pub(crate) fn json(call: &'static AnyCall) -> Json {
    Box::new(move |bytes, out| {
        out.extend_from_slice(&call.run(bytes)?);
        out.push(b'\n');
        Ok(())
    })
}

/// Answers rows of CSV with these columns of the answer.
pub(crate) fn csv(call: &AnyCall, function: RowFunction, paths: Arc<[String]>) -> Table {
    if call.name() == "convert" {
        return convert::rows(paths);
    }
    let answer = function.answer;
    Box::new(move || {
        let (answer, paths) = (Arc::clone(&answer), Arc::clone(&paths));
        Box::new(move |tree, cells, out| columns::write_all(&answer(tree, cells)?, &paths, out))
    })
}

//! Conversions of a table: the same few units row after row.

use super::cells::{self, Row as _, Tree};
use super::columns;
use super::fault::Fault;
use super::function::{Cells, Table};
use guardcell::units::convert::{Conversion, ConvertRequest, Converter};
use guardcell_server::Fault as _;
use std::sync::Arc;

/// A column of the answer that needs no more than the number and what is remembered of its kind.
#[derive(Clone, Copy)]
enum Quick {
    Value,
    Unit,
    Basis,
    Notes,
}

fn quick(path: &str) -> Option<Quick> {
    match path {
        "value" => Some(Quick::Value),
        "unit" => Some(Quick::Unit),
        "basis" => Some(Quick::Basis),
        "notes" => Some(Quick::Notes),
        _ => None,
    }
}

/// What answers rows, with the columns named.
pub(crate) fn rows(paths: Arc<[String]>) -> Table {
    let quick: Option<Vec<Quick>> = paths.iter().map(|path| quick(path)).collect();
    Box::new(move || {
        let (paths, quick) = (Arc::clone(&paths), quick.clone());
        let mut converter = Converter::default();
        let mut request = ConvertRequest::default();
        Box::new(move |tree, cells, out| {
            read(tree, cells, &mut request)?;
            let answer =
                converter.convert(&request).map_err(|e| Fault::by_column(e.into_problem()))?;
            match &quick {
                Some(quick) => quick.iter().try_for_each(|column| write(*column, &answer, out)),
                None => columns::write_all(&answer.whole(), &paths, out),
            }
        })
    })
}

/// Two texts are read into the strings that are there; anything else in the general way.
fn read(tree: &Tree, cells: &Cells<'_>, request: &mut ConvertRequest) -> Result<(), Fault> {
    let text = |name| tree.column(name).and_then(|index| cells.cell(index));
    match (tree.len(), text("quantity"), text("to")) {
        (2, Some(quantity), Some(to)) => {
            request.quantity.clear();
            request.quantity.push_str(quantity);
            request.to.clear();
            request.to.push_str(to);
        }
        _ => *request = cells::read(tree, cells)?,
    }
    Ok(())
}

fn write(column: Quick, answer: &Conversion<'_>, out: &mut Vec<u8>) -> Result<(), Fault> {
    out.push(b',');
    match column {
        Quick::Value => columns::number(answer.value(), out)?,
        Quick::Unit => columns::text(answer.unit(), out),
        Quick::Basis => columns::text(answer.basis().unwrap_or_default(), out),
        Quick::Notes => match answer.notes() {
            [] => {}
            [note] => columns::text(note, out),
            notes => columns::text(&notes.join(columns::BETWEEN), out),
        },
    }
    Ok(())
}

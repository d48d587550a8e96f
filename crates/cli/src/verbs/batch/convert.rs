//! Conversions of a table: the same few units row after row.

use super::columns;
use super::function::Table;
use guardcell::Error;
use guardcell::units::ConvertResponse;
use guardcell_table::kinds::{Kind, Kinds};
use guardcell_table::{Tree, read};
use std::sync::Arc;

/// A column of the answer that depends on the number or on the units only.
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

/// Answers rows, with the columns named.
pub(crate) fn rows(paths: Arc<[String]>) -> Table {
    let quick: Option<Arc<[Quick]>> = paths.iter().map(|path| quick(path)).collect();
    Box::new(move || {
        let (paths, quick) = (Arc::clone(&paths), quick.clone());
        let mut kinds = Kinds::default();
        let mut places: Option<Option<(usize, usize)>> = None;
        Box::new(move |tree, cells, out| {
            // The columns stay where they are.
            let places = *places.get_or_insert_with(|| two_texts(tree));
            let texts =
                places.and_then(|(quantity, to)| Some((cells.text(quantity)?, cells.text(to)?)));
            let quick = quick.as_deref();
            let make = |first: &ConvertResponse| Ok(Written::new(quick.unwrap_or_default(), first));
            let found =
                |kind: &Kind<Written>, number| write(kind, number, quick.is_some(), &paths, out);
            match texts {
                Some((quantity, to)) => kinds.texts(quantity, to, make, found),
                None => kinds.request(&read(tree, cells)?, make, found),
            }
        })
    })
}

/// The columns of quantity and target, if the table has no others.
fn two_texts(tree: &Tree) -> Option<(usize, usize)> {
    (tree.len() == 2).then_some((tree.column("quantity")?, tree.column("to")?))
}

/// What all answers of the same units share.
struct Written {
    text: Vec<u8>,
    /// Where in the text the values are inserted.
    values: Vec<usize>,
}

impl Written {
    fn new(columns: &[Quick], first: &ConvertResponse) -> Self {
        let (mut text, mut values) = (Vec::new(), Vec::new());
        for column in columns {
            text.push(b',');
            match column {
                Quick::Value => values.push(text.len()),
                Quick::Unit => columns::text(&first.unit, &mut text),
                Quick::Basis => columns::text(first.basis.as_deref().unwrap_or(""), &mut text),
                Quick::Notes => columns::text(&first.notes.join(columns::BETWEEN), &mut text),
            }
        }
        Self { text, values }
    }
}

fn write(
    kind: &Kind<Written>,
    number: f64,
    quick: bool,
    paths: &[String],
    out: &mut Vec<u8>,
) -> Result<(), Error> {
    if !quick {
        let answer = serde_json::to_value(kind.conversion.response(number)?);
        return columns::write_all(&answer.map_err(|e| columns::not_written(&e))?, paths, out);
    }
    let value = kind.conversion.value(number)?;
    let (text, mut from) = (&kind.made.text, 0);
    for place in &kind.made.values {
        out.extend_from_slice(text.get(from..*place).unwrap_or_default());
        from = *place;
        columns::number(value, out)?;
    }
    out.extend_from_slice(text.get(from..).unwrap_or_default());
    Ok(())
}

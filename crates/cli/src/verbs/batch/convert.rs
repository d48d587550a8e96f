//! Conversions of a table: the same few units row after row.

use super::cells::{self, Row as _, Tree};
use super::columns;
use super::fault::Fault;
use super::function::Table;
use guardcell::units::UnitError;
use guardcell::units::convert::{Conversion, Converter};
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
        let paths = Arc::clone(&paths);
        let mut quick = quick.clone().map(Words::new);
        let mut converter = Converter::default();
        let mut places: Option<Option<(usize, usize)>> = None;
        let fault = |e: UnitError| Fault::by_column(e.into_problem());
        Box::new(move |tree, cells, out| {
            // The columns stay where they are.
            let places = *places.get_or_insert_with(|| two_texts(tree));
            let texts =
                places.and_then(|(quantity, to)| Some((cells.cell(quantity)?, cells.cell(to)?)));
            let answer = match texts {
                Some((quantity, to)) => converter.convert_texts(quantity, to),
                None => converter.convert(&cells::read(tree, cells)?),
            }
            .map_err(fault)?;
            match &mut quick {
                Some(words) => words.write(&answer, out),
                None => columns::write_all(&answer.whole(), &paths, out),
            }
        })
    })
}

/// The columns of quantity and target, where no others are read.
fn two_texts(tree: &Tree) -> Option<(usize, usize)> {
    (tree.len() == 2).then_some((tree.column("quantity")?, tree.column("to")?))
}

/// Kinds whose words are kept, a power of two.
const KEPT: usize = 256;

/// What is the same in all answers of a kind, written once.
struct Words {
    columns: Vec<Quick>,
    kept: Vec<Kind>,
}

#[derive(Clone, Default)]
struct Kind {
    number: Option<u64>,
    text: Vec<u8>,
    /// Where in the text the values stand.
    values: Vec<usize>,
}

impl Words {
    fn new(columns: Vec<Quick>) -> Self {
        Self { columns, kept: vec![Kind::default(); KEPT] }
    }

    fn write(&mut self, answer: &Conversion<'_>, out: &mut Vec<u8>) -> Result<(), Fault> {
        let Some(number) = answer.kind() else {
            return Kind::new(None, &self.columns, answer).write(answer, out);
        };
        match self.kept.get_mut(number as usize % KEPT) {
            Some(kind) => {
                if kind.number != Some(number) {
                    *kind = Kind::new(Some(number), &self.columns, answer);
                }
                kind.write(answer, out)
            }
            None => Kind::new(None, &self.columns, answer).write(answer, out),
        }
    }
}

impl Kind {
    fn new(number: Option<u64>, columns: &[Quick], answer: &Conversion<'_>) -> Self {
        let (mut text, mut values) = (Vec::new(), Vec::new());
        for column in columns {
            text.push(b',');
            match column {
                Quick::Value => values.push(text.len()),
                Quick::Unit => columns::text(answer.unit(), &mut text),
                Quick::Basis => columns::text(answer.basis().unwrap_or_default(), &mut text),
                Quick::Notes => columns::text(&answer.notes().join(columns::BETWEEN), &mut text),
            }
        }
        Self { number, text, values }
    }

    fn write(&self, answer: &Conversion<'_>, out: &mut Vec<u8>) -> Result<(), Fault> {
        let mut from = 0;
        for value in &self.values {
            out.extend_from_slice(self.text.get(from..*value).unwrap_or_default());
            from = *value;
            let written = answer.decimal().is_some_and(|d| columns::decimal(d, out));
            if !written {
                columns::number(answer.value(), out)?;
            }
        }
        out.extend_from_slice(self.text.get(from..).unwrap_or_default());
        Ok(())
    }
}

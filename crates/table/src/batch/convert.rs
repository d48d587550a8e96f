//! Conversions of a column: units are read once, then numbers are calculated.

use super::build::{Builder, append};
use super::cells::Cells;
use super::guard::guarded;
use super::input::{Column, OneRow};
use super::shape::Shape;
use crate::cell::{Cell, Row as _};
use crate::kinds::{Kind, Kinds};
use crate::read::read;
use crate::tree::Tree;
use arrow_array::ArrayRef;
use arrow_array::builder::{Float64Builder, ListBuilder, StringBuilder};
use arrow_schema::ArrowError;
use guardcell::units::{ConvertRequest, ConvertResponse};
use guardcell::{Code, Error};
use std::sync::Arc;

/// The column of the unit where `quantity` is a column of numbers.
pub(super) const UNIT: &str = "unit";

/// Where a conversion is in a row.
pub(super) struct Kernel {
    /// The columns of quantity and target, where nothing else is read.
    two: Option<(usize, usize)>,
    quantity: Option<usize>,
    unit: Option<usize>,
}

impl Kernel {
    pub(super) fn new(tree: &Tree, unit: Option<usize>) -> Self {
        let (quantity, to) = (tree.column("quantity"), tree.column("to"));
        let two = quantity.zip(to).filter(|_| tree.len() == 2);
        Self { two, quantity, unit }
    }

    /// Answers one row: the kind of conversion it is and its number are handed to `found`.
    fn row<R>(
        &self,
        kinds: &mut Kinds<Made>,
        cells: &Cells,
        row: &OneRow<'_>,
        found: impl FnOnce(&Kind<Made>, f64) -> Result<R, Error>,
    ) -> Result<R, Error> {
        let make = |first: &ConvertResponse| Ok(Made::new(first));
        if let Some((quantity, to)) = self.two
            && let Some(quantity) = row.cell(quantity)
            && let Some(Cell::Text(to)) = row.cell(to)
        {
            match (quantity, self.unit.and_then(|unit| row.cell(unit))) {
                (Cell::Text(quantity), _) => return kinds.texts(quantity, to, make, found),
                (number, Some(Cell::Text(unit))) => {
                    return kinds.number(finite(number)?, unit, to, make, found);
                }
                _ => {}
            }
        }
        let mut request: ConvertRequest = read(&cells.tree, row)?;
        let number = self.quantity.and_then(|quantity| row.cell(quantity));
        let unit = self.unit.and_then(|unit| row.cell(unit));
        if let (Some(number @ (Cell::Float(_) | Cell::Int(_))), Some(unit)) = (number, unit) {
            request.quantity = format!("{} {}", finite(number)?, unit.as_text());
        }
        kinds.request(&request, make, found)
    }
}

fn finite(number: Cell<'_>) -> Result<f64, Error> {
    let finite = match number {
        Cell::Float(number) => Some(number).filter(|n| n.is_finite()),
        #[expect(clippy::cast_precision_loss, reason = "as JSON, whose numbers are floats")]
        Cell::Int(number) => Some(number as f64),
        Cell::Text(_) | Cell::Bool(_) => None,
    };
    finite.ok_or_else(|| {
        Error::new(
            Code::BadNumber,
            format!("{:?} is not a number", number.as_text()),
            "give a finite number and its unit",
        )
        .at("/quantity")
    })
}

/// What all answers of the same units share.
pub(super) struct Made {
    unit: String,
    basis: Option<String>,
    notes: Vec<String>,
}

impl Made {
    fn new(first: &ConvertResponse) -> Self {
        Self { unit: first.unit.clone(), basis: first.basis.clone(), notes: first.notes.clone() }
    }
}

/// A column of the answer that depends on the number or on the units only.
enum Quick {
    Value(Float64Builder),
    Unit(StringBuilder),
    Basis(StringBuilder),
    Notes(ListBuilder<StringBuilder>),
}

impl Quick {
    fn new(path: &str, rows: usize) -> Option<Self> {
        match path {
            "value" => Some(Self::Value(Float64Builder::with_capacity(rows))),
            "unit" => Some(Self::Unit(StringBuilder::new())),
            "basis" => Some(Self::Basis(StringBuilder::new())),
            "notes" => Some(Self::Notes(ListBuilder::new(StringBuilder::new()))),
            _ => None,
        }
    }

    fn append(&mut self, made: Option<(&Made, f64)>) {
        match self {
            Self::Value(column) => column.append_option(made.map(|(_, value)| value)),
            Self::Unit(column) => column.append_option(made.map(|(made, _)| &made.unit)),
            Self::Basis(column) => {
                column.append_option(made.and_then(|(made, _)| made.basis.as_deref()));
            }
            Self::Notes(column) => {
                for note in made.iter().flat_map(|(made, _)| &made.notes) {
                    column.values().append_value(note);
                }
                column.append(made.is_some());
            }
        }
    }

    fn finish(self) -> ArrayRef {
        match self {
            Self::Value(mut column) => Arc::new(column.finish()),
            Self::Unit(mut column) | Self::Basis(mut column) => Arc::new(column.finish()),
            Self::Notes(mut column) => Arc::new(column.finish()),
        }
    }
}

/// Answers the rows of a batch. `failed` has those that are broken already, and gets the others.
pub(super) fn answer(
    kernel: &Kernel,
    kinds: &mut Kinds<Made>,
    cells: &Cells,
    columns: &[Column],
    answers: &[(String, Shape)],
    rows: usize,
    failed: &mut Vec<(usize, Error)>,
) -> Result<Vec<ArrayRef>, ArrowError> {
    let mut broken = std::mem::take(failed).into_iter().peekable();
    let quick: Option<Vec<Quick>> =
        answers.iter().map(|(path, _)| Quick::new(path, rows)).collect();
    if let Some(mut quick) = quick {
        for row in 0..rows {
            let answered = match broken.next_if(|(at, _)| *at == row) {
                Some((_, error)) => Err(error),
                None => guarded(|| {
                    kernel.row(kinds, cells, &OneRow { columns, row }, |kind, number| {
                        let value = kind.conversion.value(number)?;
                        quick.iter_mut().for_each(|c| c.append(Some((&kind.made, value))));
                        Ok(())
                    })
                }),
            };
            if let Err(error) = answered {
                quick.iter_mut().for_each(|column| column.append(None));
                failed.push((row, error));
            }
        }
        return Ok(quick.into_iter().map(Quick::finish).collect());
    }
    let mut builders: Vec<Builder> = answers.iter().map(|(_, shape)| Builder::new(shape)).collect();
    for row in 0..rows {
        let answered = match broken.next_if(|(at, _)| *at == row) {
            Some((_, error)) => Err(error),
            None => guarded(|| {
                kernel.row(kinds, cells, &OneRow { columns, row }, |kind, number| {
                    serde_json::to_value(kind.conversion.response(number)?)
                        .map_err(|e| Error::internal(format!("the answer cannot be written: {e}")))
                })
            }),
        };
        append(&mut builders, answers, answered.as_ref().ok());
        if let Err(error) = answered {
            failed.push((row, error));
        }
    }
    builders.into_iter().map(Builder::finish).collect()
}

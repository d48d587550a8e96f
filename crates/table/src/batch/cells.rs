//! Where the cells of a request are.

use super::input::{Column, Constant};
use crate::tree::Tree;
use arrow_array::RecordBatch;

/// Where the cells of a request are.
pub(super) struct Cells {
    pub(super) tree: Tree,
    /// Further columns of the input that are read.
    pub(super) beside: Option<usize>,
    /// Values under the numbers behind the columns of the input.
    pub(super) constants: Vec<Constant>,
}

impl Cells {
    /// The columns of a batch, ready to be read; those that no field needs are empty.
    pub(super) fn columns(&self, batch: &RecordBatch) -> Vec<Column> {
        let given = batch.columns().iter().enumerate().map(|(i, column)| {
            let read = self.tree.reads(i) || self.beside == Some(i);
            if read { Column::new(column) } else { Column::Empty }
        });
        given.chain(self.constants.iter().cloned().map(Column::Constant)).collect()
    }
}

//! Columns of Arrow as JSON values.

use super::input::{Column, check};
use crate::cell::Cell;
use arrow_array::cast::AsArray;
use arrow_array::{Array, ArrayRef, RecordBatch};
use arrow_schema::DataType;
use serde_json::{Map, Value};

/// The values of a batch: lists and structures as arrays and objects, times and dates as text. What
/// JSON cannot hold, such as bytes, is null.
pub struct Values {
    columns: Vec<(String, Known)>,
}

impl std::fmt::Debug for Values {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Values").field("columns", &self.columns.len()).finish()
    }
}

enum Known {
    Flat(Column),
    List(ArrayRef, Box<Known>),
    Struct(ArrayRef, Vec<(String, Known)>),
    Other,
}

impl Values {
    /// The values of this batch.
    #[must_use]
    pub fn new(batch: &RecordBatch) -> Self {
        let columns = batch.schema_ref().fields().iter().zip(batch.columns());
        Self { columns: columns.map(|(f, c)| (f.name().clone(), Known::new(c))).collect() }
    }

    /// One value; null where there is none.
    #[must_use]
    pub fn get(&self, column: usize, row: usize) -> Value {
        self.columns.get(column).map_or(Value::Null, |(_, known)| known.value(row))
    }

    /// A row as an object, without what is null.
    #[must_use]
    pub fn row(&self, row: usize) -> Value {
        let values = self.columns.iter().map(|(name, known)| (name.clone(), known.value(row)));
        Value::Object(values.filter(|(_, value)| !value.is_null()).collect())
    }
}

impl Known {
    fn new(array: &ArrayRef) -> Self {
        match array.data_type() {
            DataType::List(_) => {
                Self::List(array.clone(), Box::new(Self::new(array.as_list::<i32>().values())))
            }
            DataType::Struct(fields) => {
                let columns = fields.iter().zip(array.as_struct().columns());
                let known = columns.map(|(f, c)| (f.name().clone(), Self::new(c))).collect();
                Self::Struct(array.clone(), known)
            }
            kind if check("", kind).is_ok() => Self::Flat(Column::new(array)),
            _ => Self::Other,
        }
    }

    fn value(&self, row: usize) -> Value {
        match self {
            Self::Flat(column) => match column.cell(row) {
                None => Value::Null,
                Some(Cell::Text(text)) => Value::from(text),
                Some(Cell::Float(number)) => Value::from(number),
                Some(Cell::Int(number)) => Value::from(number),
                Some(Cell::Bool(value)) => Value::from(value),
            },
            Self::List(array, items) if array.is_valid(row) => {
                let offsets = array.as_list::<i32>().value_offsets();
                let at = |i: usize| offsets.get(i).map_or(0, |o| usize::try_from(*o).unwrap_or(0));
                Value::Array((at(row)..at(row + 1)).map(|item| items.value(item)).collect())
            }
            Self::Struct(array, fields) if array.is_valid(row) => {
                let values = fields.iter().map(|(name, known)| (name.clone(), known.value(row)));
                Value::Object(values.collect::<Map<_, _>>())
            }
            Self::List(..) | Self::Struct(..) | Self::Other => Value::Null,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::build::Builder;
    use super::super::shape::Shape;
    use super::*;
    use serde_json::json;

    #[test]
    fn what_was_built_is_read_back() {
        let shape = Shape::List(Box::new(Shape::Struct(vec![
            ("n".to_owned(), Shape::Float),
            ("t".to_owned(), Shape::List(Box::new(Shape::Text))),
        ])));
        let rows = [
            json!([{"n": 1.5, "t": ["a", "b"]}, {"n": null, "t": []}]),
            json!([]),
            Value::Null,
            json!([{"n": 2.0, "t": null}]),
        ];
        let mut builder = Builder::new(&shape);
        rows.iter().for_each(|row| builder.append(Some(row)));
        let column = builder.finish().unwrap();
        let batch = RecordBatch::try_from_iter([("x", column)]).unwrap();
        // Part of a batch reads as the whole.
        let values = Values::new(&batch.slice(1, 3));
        assert_eq!((0..3).map(|row| values.get(0, row)).collect::<Vec<_>>(), rows[1..]);
        assert_eq!(Values::new(&batch).row(0), json!({"x": rows[0]}));
        assert_eq!(values.row(1), json!({}));
    }
}

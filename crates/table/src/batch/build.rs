//! JSON values as columns of Arrow.

use super::shape::Shape;
use crate::path::WHOLE;
use arrow_array::builder::{BooleanBuilder, Float64Builder, Int64Builder, StringBuilder};
use arrow_array::{ArrayRef, ListArray, StructArray};
use arrow_buffer::{NullBufferBuilder, OffsetBuffer, ScalarBuffer};
use arrow_schema::{ArrowError, Fields};
use serde_json::Value;
use std::sync::Arc;

/// A column that grows.
pub(super) enum Builder {
    Float(Float64Builder),
    Int(Int64Builder),
    Bool(BooleanBuilder),
    Text(StringBuilder),
    Json(StringBuilder),
    List { shape: Shape, offsets: Vec<i32>, nulls: NullBufferBuilder, item: Box<Builder> },
    Struct { fields: Fields, nulls: NullBufferBuilder, columns: Vec<(String, Builder)> },
}

impl Builder {
    pub(super) fn new(shape: &Shape) -> Self {
        match shape {
            Shape::Float => Self::Float(Float64Builder::new()),
            Shape::Int => Self::Int(Int64Builder::new()),
            Shape::Bool => Self::Bool(BooleanBuilder::new()),
            Shape::Text => Self::Text(StringBuilder::new()),
            Shape::Json => Self::Json(StringBuilder::new()),
            Shape::List(item) => Self::List {
                shape: (**item).clone(),
                offsets: vec![0],
                nulls: NullBufferBuilder::new(0),
                item: Box::new(Self::new(item)),
            },
            Shape::Struct(fields) => Self::Struct {
                fields: Shape::fields(fields),
                nulls: NullBufferBuilder::new(0),
                columns: fields.iter().map(|(name, s)| (name.clone(), Self::new(s))).collect(),
            },
        }
    }

    /// Adds a value; one of another kind than the schema says is null.
    pub(super) fn append(&mut self, value: Option<&Value>) {
        match self {
            Self::Float(floats) => floats.append_option(value.and_then(Value::as_f64)),
            Self::Int(ints) => ints.append_option(value.and_then(whole)),
            Self::Bool(bools) => bools.append_option(value.and_then(Value::as_bool)),
            Self::Text(texts) => texts.append_option(value.and_then(Value::as_str)),
            Self::Json(texts) => {
                texts.append_option(value.filter(|v| !v.is_null()).map(Value::to_string));
            }
            Self::List { offsets, nulls, item, .. } => {
                let list = value.and_then(Value::as_array);
                let (mut end, given) = (offsets.last().copied().unwrap_or(0), list.is_some());
                for value in list.into_iter().flatten() {
                    item.append(Some(value));
                    // A batch has far fewer items than this could count.
                    end = end.saturating_add(1);
                }
                offsets.push(end);
                nulls.append(given);
            }
            Self::Struct { nulls, columns, .. } => {
                let object = value.and_then(Value::as_object);
                nulls.append(object.is_some());
                for (name, column) in columns {
                    column.append(object.and_then(|o| o.get(name)));
                }
            }
        }
    }

    /// Adds a whole answer, as text.
    pub(super) fn append_text(&mut self, text: &str) {
        if let Self::Text(texts) | Self::Json(texts) = self {
            texts.append_value(text);
        }
    }

    pub(super) fn finish(self) -> Result<ArrayRef, ArrowError> {
        Ok(match self {
            Self::Float(mut floats) => Arc::new(floats.finish()),
            Self::Int(mut ints) => Arc::new(ints.finish()),
            Self::Bool(mut bools) => Arc::new(bools.finish()),
            Self::Text(mut texts) | Self::Json(mut texts) => Arc::new(texts.finish()),
            Self::List { shape, offsets, mut nulls, item } => Arc::new(ListArray::try_new(
                Arc::new(Shape::item(&shape)),
                OffsetBuffer::new(ScalarBuffer::from(offsets)),
                item.finish()?,
                nulls.finish(),
            )?),
            Self::Struct { fields, mut nulls, columns } => {
                let length = nulls.len();
                let columns: Result<Vec<ArrayRef>, _> =
                    columns.into_iter().map(|(_, column)| column.finish()).collect();
                Arc::new(StructArray::try_new_with_length(
                    fields,
                    columns?,
                    nulls.finish(),
                    length,
                )?)
            }
        })
    }
}

/// Adds an answer, or nulls, to all columns.
pub(super) fn append(
    builders: &mut [Builder],
    answers: &[(String, Shape)],
    answer: Option<&Value>,
) {
    for (builder, (path, _)) in builders.iter_mut().zip(answers) {
        builder.append(answer.and_then(|answer| {
            if path == WHOLE { Some(answer) } else { crate::path::at(answer, path) }
        }));
    }
}

/// A whole number; one that was written as a float counts.
fn whole(value: &Value) -> Option<i64> {
    value.as_i64().or_else(|| {
        let number = value.as_f64()?;
        #[expect(clippy::cast_possible_truncation, reason = "it is whole and small")]
        (number.fract() == 0.0 && number.abs() < 9e15).then_some(number as i64)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use arrow_array::Array;
    use arrow_array::cast::AsArray;
    use arrow_array::types::Int64Type;
    use serde_json::json;

    #[test]
    fn nested_values_keep_their_rows() {
        let shape = Shape::List(Box::new(Shape::Struct(vec![
            ("n".to_owned(), Shape::Int),
            ("more".to_owned(), Shape::Json),
        ])));
        let mut column = Builder::new(&shape);
        let rows = [
            json!([{"n": 1, "more": {"a": 1.5}}, {"n": null}]),
            json!(null),
            json!([]),
            json!([{"n": 3.0}]),
        ];
        for row in &rows {
            column.append(Some(row));
        }
        column.append(None);
        let array = column.finish().unwrap();
        let list = array.as_list::<i32>();
        assert_eq!(list.len(), 5);
        let lengths: Vec<_> = (0..5).map(|i| list.value_length(i)).collect();
        assert_eq!(lengths, [2, 0, 0, 1, 0]);
        let nulls: Vec<_> = (0..5).map(|i| list.is_null(i)).collect();
        assert_eq!(nulls, [false, true, false, false, true]);
        let items = list.values().as_struct();
        let numbers: Vec<_> = items.column(0).as_primitive::<Int64Type>().iter().collect();
        assert_eq!(numbers, [Some(1), None, Some(3)]);
        assert_eq!(items.column(1).as_string::<i32>().value(0), r#"{"a":1.5}"#);
    }

    #[test]
    fn a_value_of_another_kind_is_null() {
        let mut column = Builder::new(&Shape::Float);
        column.append(Some(&json!("warm")));
        column.append(Some(&json!(20)));
        let array = column.finish().unwrap();
        assert!(array.is_null(0) && array.is_valid(1));
    }
}

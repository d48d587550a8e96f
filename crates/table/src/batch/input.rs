//! Columns of Arrow as cells.

use crate::cell::{Cell, Row};
use arrow_array::cast::AsArray;
use arrow_array::types::{
    Decimal128Type, Float32Type, Float64Type, Int8Type, Int16Type, Int32Type, Int64Type,
    TimestampMicrosecondType, TimestampMillisecondType, TimestampNanosecondType,
    TimestampSecondType, UInt8Type, UInt16Type, UInt32Type, UInt64Type,
};
use arrow_array::{
    Array, ArrayRef, ArrowPrimitiveType, BooleanArray, Float64Array, Int64Array, LargeStringArray,
    PrimitiveArray, StringArray, StringViewArray,
};
use arrow_schema::{DataType, TimeUnit};
use guardcell::{Code, Error, excerpt, pointer};
use serde_json::Value;

/// A column that is read.
pub(super) enum Column {
    Text(StringArray),
    LargeText(LargeStringArray),
    TextView(StringViewArray),
    Floats(Float64Array),
    Ints(Int64Array),
    Bools(BooleanArray),
    /// Made from another type.
    Made(Vec<Option<String>>),
    Words {
        keys: Vec<Option<usize>>,
        values: Box<Column>,
    },
    Constant(Constant),
    Empty,
}

/// A value that is the same for every row.
#[derive(Debug, Clone)]
pub(super) enum Constant {
    Text(String),
    Float(f64),
    Int(i64),
    Bool(bool),
}

impl Constant {
    /// Null is not given; a list or an object is read as JSON in a cell is.
    pub(super) fn new(value: &Value) -> Option<Self> {
        Some(match value {
            Value::Null => return None,
            Value::Bool(value) => Self::Bool(*value),
            Value::String(text) => Self::Text(text.clone()),
            Value::Number(number) => match number.as_i64() {
                Some(number) => Self::Int(number),
                None => Self::Float(number.as_f64()?),
            },
            other => Self::Text(other.to_string()),
        })
    }
}

/// Whether a column of this type can be read.
pub(super) fn check(name: &str, kind: &DataType) -> Result<(), Error> {
    let readable = match kind {
        DataType::Dictionary(_, values) => return check(name, values),
        DataType::Timestamp(..)
        | DataType::Date32
        | DataType::Date64
        | DataType::Decimal128(..)
        | DataType::Utf8
        | DataType::LargeUtf8
        | DataType::Utf8View
        | DataType::Boolean
        | DataType::Null
        | DataType::Float32
        | DataType::Float64 => true,
        other => other.is_integer(),
    };
    if readable {
        return Ok(());
    }
    Err(Error::new(
        Code::WrongForm,
        format!("the column {:?} is of the type {kind}", excerpt(name, 60)),
        "give text, numbers, booleans, dates or times, and lists and objects as text in JSON",
    )
    .at(pointer::key("", name)))
}

fn ints<T: ArrowPrimitiveType>(array: &ArrayRef, of: impl Fn(T::Native) -> i64) -> Column {
    Column::Ints(array.as_primitive::<T>().unary(of))
}

/// Text made from each value that is not null.
fn made<A: Array>(array: &A, of: impl Fn(&A, usize) -> Option<String>) -> Column {
    let rows = 0..array.len();
    Column::Made(rows.map(|row| if array.is_null(row) { None } else { of(array, row) }).collect())
}

/// Times as RFC 3339: with `Z` where the column has a time zone, for then it counts from UTC.
fn times<T>(array: &ArrayRef, zone: bool) -> Column
where
    T: arrow_array::types::ArrowTimestampType,
    i64: From<T::Native>,
{
    made(array.as_primitive::<T>(), |times: &PrimitiveArray<T>, row| {
        let time = times.value_as_datetime(row)?;
        Some(format!("{}{}", time.format("%Y-%m-%dT%H:%M:%S%.f"), if zone { "Z" } else { "" }))
    })
}

impl Column {
    pub(super) fn new(array: &ArrayRef) -> Self {
        match array.data_type() {
            DataType::Utf8 => Self::Text(array.as_string::<i32>().clone()),
            DataType::LargeUtf8 => Self::LargeText(array.as_string::<i64>().clone()),
            DataType::Utf8View => Self::TextView(array.as_string_view().clone()),
            DataType::Float64 => Self::Floats(array.as_primitive::<Float64Type>().clone()),
            DataType::Float32 => Self::Floats(array.as_primitive::<Float32Type>().unary(f64::from)),
            DataType::Int64 => Self::Ints(array.as_primitive::<Int64Type>().clone()),
            DataType::Int8 => ints::<Int8Type>(array, i64::from),
            DataType::Int16 => ints::<Int16Type>(array, i64::from),
            DataType::Int32 => ints::<Int32Type>(array, i64::from),
            DataType::UInt8 => ints::<UInt8Type>(array, i64::from),
            DataType::UInt16 => ints::<UInt16Type>(array, i64::from),
            DataType::UInt32 => ints::<UInt32Type>(array, i64::from),
            DataType::UInt64 => {
                made(array.as_primitive::<UInt64Type>(), |a, row| Some(a.value(row).to_string()))
            }
            DataType::Boolean => Self::Bools(array.as_boolean().clone()),
            DataType::Decimal128(..) => {
                made(array.as_primitive::<Decimal128Type>(), |a, row| Some(a.value_as_string(row)))
            }
            DataType::Date32 => {
                made(array.as_primitive::<arrow_array::types::Date32Type>(), |a, row| {
                    a.value_as_date(row).map(|date| date.to_string())
                })
            }
            DataType::Date64 => {
                made(array.as_primitive::<arrow_array::types::Date64Type>(), |a, row| {
                    a.value_as_date(row).map(|date| date.to_string())
                })
            }
            DataType::Timestamp(unit, zone) => match unit {
                TimeUnit::Second => times::<TimestampSecondType>(array, zone.is_some()),
                TimeUnit::Millisecond => times::<TimestampMillisecondType>(array, zone.is_some()),
                TimeUnit::Microsecond => times::<TimestampMicrosecondType>(array, zone.is_some()),
                TimeUnit::Nanosecond => times::<TimestampNanosecondType>(array, zone.is_some()),
            },
            DataType::Dictionary(..) => {
                let words = array.as_any_dictionary();
                if words.values().is_empty() {
                    return Self::Empty;
                }
                let keys = words.normalized_keys().into_iter().enumerate();
                Self::Words {
                    keys: keys
                        .map(|(row, key)| words.keys().is_valid(row).then_some(key))
                        .collect(),
                    values: Box::new(Self::new(words.values())),
                }
            }
            // `check` has refused every other.
            _ => Self::Empty,
        }
    }

    pub(super) fn cell(&self, row: usize) -> Option<Cell<'_>> {
        let valid = |array: &dyn Array| row < array.len() && array.is_valid(row);
        match self {
            Self::Text(a) => valid(a).then(|| Cell::text(a.value(row)))?,
            Self::LargeText(a) => valid(a).then(|| Cell::text(a.value(row)))?,
            Self::TextView(a) => valid(a).then(|| Cell::text(a.value(row)))?,
            Self::Floats(a) => valid(a).then(|| Cell::Float(a.value(row))),
            Self::Ints(a) => valid(a).then(|| Cell::Int(a.value(row))),
            Self::Bools(a) => valid(a).then(|| Cell::Bool(a.value(row))),
            Self::Made(texts) => texts.get(row)?.as_deref().and_then(Cell::text),
            Self::Words { keys, values } => values.cell((*keys.get(row)?)?),
            Self::Constant(constant) => match constant {
                Constant::Text(text) => Cell::text(text),
                Constant::Float(number) => Some(Cell::Float(*number)),
                Constant::Int(number) => Some(Cell::Int(*number)),
                Constant::Bool(value) => Some(Cell::Bool(*value)),
            },
            Self::Empty => None,
        }
    }
}

/// One row of the columns that are read.
pub(super) struct OneRow<'a> {
    pub(super) columns: &'a [Column],
    pub(super) row: usize,
}

impl Row for OneRow<'_> {
    fn cell(&self, index: usize) -> Option<Cell<'_>> {
        self.columns.get(index)?.cell(self.row)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use arrow_array::{
        Date32Array, Decimal128Array, DictionaryArray, Float32Array, Int32Array,
        TimestampMillisecondArray, UInt64Array,
    };
    use std::sync::Arc;

    fn texts(array: ArrayRef) -> Vec<Option<String>> {
        check("x", array.data_type()).unwrap();
        let column = Column::new(&array);
        (0..array.len()).map(|row| Some(column.cell(row)?.as_text().into_owned())).collect()
    }

    #[test]
    fn every_type_of_text_reads_alike() {
        let words = [Some("14 °dH"), None, Some("  "), Some(" a ")];
        let wanted = [Some("14 °dH".to_owned()), None, None, Some("a".to_owned())];
        assert_eq!(texts(Arc::new(StringArray::from(words.to_vec()))), wanted);
        assert_eq!(texts(Arc::new(LargeStringArray::from(words.to_vec()))), wanted);
        assert_eq!(texts(Arc::new(StringViewArray::from(words.to_vec()))), wanted);
        let dictionary: DictionaryArray<arrow_array::types::Int8Type> = words.into_iter().collect();
        assert_eq!(texts(Arc::new(dictionary)), wanted);
    }

    #[test]
    fn numbers_dates_and_times() {
        let text = |t: &str| Some(t.to_owned());
        assert_eq!(texts(Arc::new(Int32Array::from(vec![Some(-3), None]))), [text("-3"), None]);
        assert_eq!(
            texts(Arc::new(UInt64Array::from(vec![u64::MAX]))),
            [text("18446744073709551615")]
        );
        assert_eq!(texts(Arc::new(Float32Array::from(vec![21.5]))), [text("21.5")]);
        let decimal = Decimal128Array::from(vec![-1250]).with_precision_and_scale(6, 2).unwrap();
        assert_eq!(texts(Arc::new(decimal)), [text("-12.50")]);
        // To 2024-01-01: 54 years, 13 of them leap years, are 19,723 days; 277 more are 274 to the
        // first of October of that leap year and 3.
        assert_eq!(texts(Arc::new(Date32Array::from(vec![20_000]))), [text("2024-10-04")]);
        let time = vec![1_500];
        let zone = TimestampMillisecondArray::from(time.clone()).with_timezone("+02:00");
        assert_eq!(texts(Arc::new(zone)), [text("1970-01-01T00:00:01.500Z")]);
        let local = TimestampMillisecondArray::from(time);
        assert_eq!(texts(Arc::new(local)), [text("1970-01-01T00:00:01.500")]);
    }

    #[test]
    fn a_type_that_is_no_cell_is_refused() {
        let error = check("plant/x", &DataType::Binary).unwrap_err();
        assert_eq!((error.code(), error.pointer()), (Code::WrongForm, "/plant~1x"));
    }
}

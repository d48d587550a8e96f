//! A row of a table as a request: columns by the names of fields, nested ones with points.

use crate::cell::{Cell, Row};
use crate::tree::{Node, Tree};
use guardcell::{Code, Error, excerpt, pointer};
use serde::de::value::MapAccessDeserializer;
use serde::de::{
    DeserializeSeed, Deserializer, Error as _, Expected, IntoDeserializer, MapAccess, Unexpected,
    Visitor,
};
use serde::forward_to_deserialize_any;
use std::borrow::Cow;
use std::fmt;

/// What is wrong with a cell, at the pointer of its field.
#[derive(Debug, PartialEq)]
pub(crate) struct CellError(pub(crate) Error);

impl fmt::Display for CellError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

impl std::error::Error for CellError {}

/// The errors that reading a type reports, by kind.
impl serde::de::Error for CellError {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self::new(message.to_string(), SEE)
    }

    fn missing_field(field: &'static str) -> Self {
        let error =
            Error::new(Code::Missing, "it is empty, or there is no such column", "give a value");
        Self(error).under(field)
    }

    fn unknown_variant(variant: &str, expected: &'static [&'static str]) -> Self {
        let detail = format!("unknown word {:?}", excerpt(variant, 40));
        Self(Error::new(Code::Unknown, detail, format!("write one of {}", expected.join(", "))))
    }

    fn unknown_field(field: &str, expected: &'static [&'static str]) -> Self {
        let detail = format!("unknown field {:?}", excerpt(field, 40));
        Self(Error::new(Code::WrongForm, detail, format!("use {}", expected.join(", "))))
    }

    fn invalid_type(unexpected: Unexpected<'_>, expected: &dyn Expected) -> Self {
        Self::new(format!("this is {unexpected}"), format!("give {expected}"))
    }

    fn invalid_value(unexpected: Unexpected<'_>, expected: &dyn Expected) -> Self {
        Self::new(format!("this is {unexpected}"), format!("give {expected}"))
    }

    fn duplicate_field(field: &'static str) -> Self {
        Self::new("this field is given more than once", "give it once").under(field)
    }
}

/// The hint if nothing more precise is known.
const SEE: &str = "see the columns in `guardcell help batch` and the request in schemas/";

impl CellError {
    fn new(detail: impl Into<String>, hint: impl Into<String>) -> Self {
        Self(Error::new(Code::WrongForm, detail, hint))
    }

    fn under(self, name: &str) -> Self {
        Self(self.0.within(&pointer::key("", name)))
    }
}

/// Reads a row as a request. Empty cells are fields that are not given.
///
/// # Errors
/// What is wrong with a cell, at the pointer of its field.
///
/// ```
/// use guardcell::film::AirRequest;
/// use guardcell_table::{Cell, Row, Tree, read};
///
/// struct Texts<'a>(&'a [&'a str]);
/// impl Row for Texts<'_> {
///     fn cell(&self, index: usize) -> Option<Cell<'_>> {
///         Cell::text(self.0.get(index)?)
///     }
/// }
/// let mut columns = Tree::default();
/// columns.add("temp_c", 0)?;
/// columns.add("rh_percent", 1)?;
/// let air: AirRequest = read(&columns, &Texts(&["21.5", "70"])).unwrap();
/// assert_eq!(air.temp_c, 21.5);
/// let error = read::<AirRequest>(&columns, &Texts(&["21,5", "70"])).unwrap_err();
/// assert_eq!(error.pointer(), "/temp_c");
/// # Ok::<(), guardcell_table::Clash>(())
/// ```
pub fn read<T: serde::de::DeserializeOwned>(tree: &Tree, row: &dyn Row) -> Result<T, Error> {
    T::deserialize(Branch { tree, row }).map_err(|e| e.0)
}

struct Branch<'a> {
    tree: &'a Tree,
    row: &'a dyn Row,
}

impl Branch<'_> {
    fn is_blank(&self) -> bool {
        self.tree.0.iter().all(|(_, node)| node.is_blank(self.row))
    }
}

impl Node {
    fn is_blank(&self, row: &dyn Row) -> bool {
        match self {
            Self::Cell(index) => row.cell(*index).is_none(),
            Self::Branch(tree) => Branch { tree, row }.is_blank(),
        }
    }
}

impl<'de> Deserializer<'de> for Branch<'_> {
    type Error = CellError;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
        visitor.visit_map(Fields { row: self.row, rest: self.tree.0.iter(), only: None, at: None })
    }

    /// Columns that are no field of the request are passed along, not read.
    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, CellError> {
        let only = Some(fields);
        visitor.visit_map(Fields { row: self.row, rest: self.tree.0.iter(), only, at: None })
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
        if self.is_blank() { visitor.visit_none() } else { visitor.visit_some(self) }
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, CellError> {
        let filled: Vec<&str> = (self.tree.0.iter())
            .filter(|(_, node)| !node.is_blank(self.row))
            .map(|(name, _)| name.as_str())
            .collect();
        if let [first, second, ..] = filled.as_slice() {
            return Err(CellError::custom(format!("both {first} and {second} are given")));
        }
        let rest = self.tree.0.iter();
        visitor.visit_enum(MapAccessDeserializer::new(Fields {
            row: self.row,
            rest,
            only: None,
            at: None,
        }))
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 u8 u16 u32 u64 f32 f64 char str string bytes byte_buf unit unit_struct
        newtype_struct seq tuple tuple_struct map identifier ignored_any
    }
}

/// The cells below one branch that are not blank.
struct Fields<'a> {
    row: &'a dyn Row,
    rest: std::slice::Iter<'a, (String, Node)>,
    only: Option<&'static [&'static str]>,
    at: Option<&'a (String, Node)>,
}

impl<'de> MapAccess<'de> for Fields<'_> {
    type Error = CellError;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, CellError> {
        let (row, only) = (self.row, self.only);
        self.at = self.rest.find(|(name, node)| {
            only.is_none_or(|only| only.contains(&name.as_str())) && !node.is_blank(row)
        });
        match self.at {
            Some((name, _)) => seed.deserialize(name.as_str().into_deserializer()).map(Some),
            None => Ok(None),
        }
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, CellError> {
        let Some((name, node)) = self.at.take() else {
            return Err(CellError::custom("a value without a name"));
        };
        match node {
            Node::Cell(index) => {
                seed.deserialize(OneCell(self.row.cell(*index).unwrap_or(Cell::Text(""))))
            }
            Node::Branch(tree) => seed.deserialize(Branch { tree, row: self.row }),
        }
        .map_err(|e| e.under(name))
    }
}

/// One cell, as the field asks for it.
struct OneCell<'a>(Cell<'a>);

impl<'a> OneCell<'a> {
    fn text(&self) -> Cow<'a, str> {
        self.0.as_text()
    }

    fn number(&self) -> Result<f64, CellError> {
        let number = match self.0 {
            Cell::Float(number) => Some(number),
            #[expect(clippy::cast_precision_loss, reason = "as JSON, whose numbers are floats")]
            Cell::Int(number) => Some(number as f64),
            Cell::Text(text) => text.parse().ok(),
            Cell::Bool(_) => None,
        };
        number.filter(|n: &f64| n.is_finite()).ok_or_else(|| {
            CellError(Error::new(
                Code::BadNumber,
                format!("{:?} is not a number", shown(&self.text())),
                "write a number such as 21.5, without a unit",
            ))
        })
    }

    /// A list or an object, written as JSON.
    fn json(&self) -> Result<serde_json::Value, CellError> {
        let text = self.text();
        serde_json::from_str(&text).map_err(|e| {
            CellError::custom(format!("{:?} is not a list or object of JSON ({e})", shown(&text)))
        })
    }
}

/// A text cut to what fits into a message.
fn shown(text: &str) -> String {
    text.chars().take(40).collect()
}

macro_rules! whole_numbers {
    ($($method:ident $visit:ident $type:ty),*) => {
        $(fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
            let number: Option<$type> = match self.0 {
                Cell::Int(number) => number.try_into().ok(),
                // A column with gaps comes as floats from some data frames: 36.0 is 36.
                other => other.as_text().parse().ok(),
            };
            match number {
                Some(number) => visitor.$visit(number),
                None => Err(CellError::custom(format!(
                    "{:?} is not a whole number from {} to {}",
                    shown(&self.text()),
                    <$type>::MIN,
                    <$type>::MAX
                ))),
            }
        })*
    };
}

/// Lists and objects are written in a cell as JSON.
macro_rules! as_json {
    ($($method:ident)*) => {
        $(fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
            self.json()?.$method(visitor).map_err(CellError::custom)
        })*
    };
}

macro_rules! as_text {
    ($($method:ident)*) => {
        $(fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
            visitor.visit_str(&self.text())
        })*
    };
}

impl<'de> Deserializer<'de> for OneCell<'_> {
    type Error = CellError;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
        match self.0 {
            Cell::Text(text) => match serde_json::from_str::<serde_json::Value>(text) {
                Ok(value) => value.deserialize_any(visitor).map_err(CellError::custom),
                Err(_) => visitor.visit_str(text),
            },
            Cell::Float(number) => visitor.visit_f64(number),
            Cell::Int(number) => visitor.visit_i64(number),
            Cell::Bool(value) => visitor.visit_bool(value),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
        visitor.visit_some(self)
    }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
        visitor.visit_f64(self.number()?)
    }

    fn deserialize_f32<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
        visitor.visit_f64(self.number()?)
    }

    whole_numbers! {
        deserialize_u8 visit_u8 u8, deserialize_u16 visit_u16 u16, deserialize_u32 visit_u32 u32,
        deserialize_u64 visit_u64 u64, deserialize_i8 visit_i8 i8, deserialize_i16 visit_i16 i16,
        deserialize_i32 visit_i32 i32, deserialize_i64 visit_i64 i64
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
        match self.0 {
            Cell::Bool(value) => visitor.visit_bool(value),
            Cell::Text("true" | "TRUE" | "True") => visitor.visit_bool(true),
            Cell::Text("false" | "FALSE" | "False") => visitor.visit_bool(false),
            _ => Err(CellError::custom(format!("{:?} is not true or false", shown(&self.text())))),
        }
    }

    as_text! { deserialize_str deserialize_string deserialize_char deserialize_identifier }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, CellError> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, CellError> {
        let text = self.text();
        if text.starts_with('{') {
            return self
                .json()?
                .deserialize_enum(name, variants, visitor)
                .map_err(CellError::custom);
        }
        visitor.visit_enum(text.as_ref().into_deserializer())
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, CellError> {
        self.json()?.deserialize_struct(name, fields, visitor).map_err(CellError::custom)
    }

    as_json! { deserialize_seq deserialize_map }

    forward_to_deserialize_any! { bytes byte_buf unit unit_struct tuple tuple_struct ignored_any }
}

#[cfg(test)]
mod tests;

//! A row of a table as a request: columns by the names of fields, nested ones with points.

use guardcell::{Code, Error, excerpt, pointer};
use serde::de::value::MapAccessDeserializer;
use serde::de::{
    DeserializeSeed, Deserializer, Error as _, Expected, IntoDeserializer, MapAccess, Unexpected,
    Visitor,
};
use serde::forward_to_deserialize_any;
use std::fmt;

/// The columns of a table as a tree: `composition.ca_mmol_l` is below `composition`.
#[derive(Debug, Default, PartialEq)]
pub(crate) struct Tree(Vec<(String, Node)>);

#[derive(Debug, PartialEq)]
enum Node {
    Cell(usize),
    Branch(Tree),
}

/// Two columns where one would be a field of the other's text.
#[derive(Debug, PartialEq)]
pub(crate) struct Clash(pub(crate) String);

impl Tree {
    /// How many fields are filled.
    pub(crate) fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether a field is filled from the column of this index.
    pub(crate) fn reads(&self, index: usize) -> bool {
        self.0.iter().any(|(_, node)| match node {
            Node::Cell(i) => *i == index,
            Node::Branch(tree) => tree.reads(index),
        })
    }

    /// The column of a field that is not nested.
    pub(crate) fn column(&self, name: &str) -> Option<usize> {
        self.0.iter().find_map(|(n, node)| match node {
            Node::Cell(index) if n == name => Some(*index),
            _ => None,
        })
    }

    /// Adds the column of this index.
    pub(crate) fn add(&mut self, name: &str, index: usize) -> Result<(), Clash> {
        let clash = || Clash(name.to_owned());
        let (first, rest) = match name.split_once('.') {
            Some((first, rest)) => (first, Some(rest)),
            None => (name, None),
        };
        let found = self.0.iter_mut().find(|(n, _)| n == first).map(|(_, node)| node);
        match (found, rest) {
            (None, None) => self.0.push((first.to_owned(), Node::Cell(index))),
            (None, Some(rest)) => {
                let mut tree = Self::default();
                tree.add(rest, index).map_err(|_| clash())?;
                self.0.push((first.to_owned(), Node::Branch(tree)));
            }
            (Some(Node::Branch(tree)), Some(rest)) => {
                tree.add(rest, index).map_err(|_| clash())?;
            }
            (Some(_), _) => return Err(clash()),
        }
        Ok(())
    }
}

/// The cells of one row.
pub(crate) trait Row {
    /// A cell without the blanks around it; `None` if it is empty.
    fn cell(&self, index: usize) -> Option<&str>;
}

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
pub(crate) fn read<T: serde::de::DeserializeOwned>(
    tree: &Tree,
    row: &impl Row,
) -> Result<T, Error> {
    T::deserialize(Branch { tree, row }).map_err(|e| e.0)
}

struct Branch<'a, R> {
    tree: &'a Tree,
    row: &'a R,
}

impl<R: Row> Branch<'_, R> {
    fn is_blank(&self) -> bool {
        self.tree.0.iter().all(|(_, node)| node.is_blank(self.row))
    }
}

impl Node {
    fn is_blank(&self, row: &impl Row) -> bool {
        match self {
            Self::Cell(index) => row.cell(*index).is_none(),
            Self::Branch(tree) => Branch { tree, row }.is_blank(),
        }
    }
}

impl<'de, R: Row> Deserializer<'de> for Branch<'_, R> {
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
struct Fields<'a, R> {
    row: &'a R,
    rest: std::slice::Iter<'a, (String, Node)>,
    only: Option<&'static [&'static str]>,
    at: Option<&'a (String, Node)>,
}

impl<'de, R: Row> MapAccess<'de> for Fields<'_, R> {
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
            Node::Cell(index) => seed.deserialize(Cell(self.row.cell(*index).unwrap_or_default())),
            Node::Branch(tree) => seed.deserialize(Branch { tree, row: self.row }),
        }
        .map_err(|e| e.under(name))
    }
}

/// The text of one cell.
struct Cell<'a>(&'a str);

impl Cell<'_> {
    fn number(&self) -> Result<f64, CellError> {
        match self.0.parse::<f64>() {
            Ok(number) if number.is_finite() => Ok(number),
            _ => Err(CellError(Error::new(
                Code::BadNumber,
                format!("{:?} is not a number", shown(self.0)),
                "write a number such as 21.5, without a unit",
            ))),
        }
    }
}

/// A text cut to what fits into a message.
fn shown(text: &str) -> String {
    text.chars().take(40).collect()
}

macro_rules! whole_numbers {
    ($($method:ident $visit:ident $type:ty),*) => {
        $(fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
            match self.0.parse::<$type>() {
                Ok(number) => visitor.$visit(number),
                Err(_) => Err(CellError::custom(format!(
                    "{:?} is not a whole number from {} to {}",
                    shown(self.0),
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
            let value: serde_json::Value =
                serde_json::from_str(self.0).map_err(|e| no_json(self.0, &e))?;
            value.$method(visitor).map_err(CellError::custom)
        })*
    };
}

fn no_json(text: &str, e: &serde_json::Error) -> CellError {
    CellError::custom(format!("{:?} is not a list or object of JSON ({e})", shown(text)))
}

impl<'de> Deserializer<'de> for Cell<'_> {
    type Error = CellError;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
        if let Ok(value) = serde_json::from_str::<serde_json::Value>(self.0) {
            return value.deserialize_any(visitor).map_err(CellError::custom);
        }
        visitor.visit_str(self.0)
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
            "true" | "TRUE" | "True" => visitor.visit_bool(true),
            "false" | "FALSE" | "False" => visitor.visit_bool(false),
            other => Err(CellError::custom(format!("{:?} is not true or false", shown(other)))),
        }
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
        visitor.visit_str(self.0)
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
        visitor.visit_str(self.0)
    }

    fn deserialize_char<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
        visitor.visit_str(self.0)
    }

    fn deserialize_identifier<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, CellError> {
        visitor.visit_str(self.0)
    }

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
        if self.0.starts_with('{') {
            let value: serde_json::Value =
                serde_json::from_str(self.0).map_err(|e| no_json(self.0, &e))?;
            return value.deserialize_enum(name, variants, visitor).map_err(CellError::custom);
        }
        visitor.visit_enum(self.0.into_deserializer())
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, CellError> {
        let value: serde_json::Value =
            serde_json::from_str(self.0).map_err(|e| no_json(self.0, &e))?;
        value.deserialize_struct(name, fields, visitor).map_err(CellError::custom)
    }

    as_json! { deserialize_seq deserialize_map }

    forward_to_deserialize_any! { bytes byte_buf unit unit_struct tuple tuple_struct ignored_any }
}

#[cfg(test)]
mod tests;

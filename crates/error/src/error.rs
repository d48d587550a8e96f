//! The error.

use crate::{Code, Place, pointer};
use core::fmt;
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// What is wrong with a request, a file or a service, and what would be right.
///
/// `detail` and `hint` are sentences or clauses without a final full stop and without the pointer
/// or the place: a face adds those where it wants them.
///
/// ```
/// use guardcell_error::{Code, Error, Place};
/// let error = Error::new(Code::DuplicateId, "duplicate id \"FH-001\"", "give each plant its own id")
///     .at("/plants/4/id")
///     .in_file("collection.csv")
///     .on_line(6);
/// assert_eq!(
///     error.to_string(),
///     "collection.csv:6: /plants/4/id: duplicate id \"FH-001\"; give each plant its own id"
/// );
/// assert_eq!(error.place(), Some(&Place::default().in_file("collection.csv").at_line(6)));
/// ```
#[derive(Clone)]
pub struct Error(Box<Fields>);

#[derive(Clone)]
struct Fields {
    code: Code,
    pointer: String,
    detail: String,
    hint: String,
    place: Place,
    source: Option<Arc<dyn core::error::Error + Send + Sync>>,
}

impl Error {
    /// An error about the request as a whole.
    #[must_use]
    pub fn new(code: Code, detail: impl Into<String>, hint: impl Into<String>) -> Self {
        Self(Box::new(Fields {
            code,
            pointer: String::new(),
            detail: detail.into(),
            hint: hint.into(),
            place: Place::default(),
            source: None,
        }))
    }

    /// A fault of guardcell itself.
    #[must_use]
    pub fn internal(detail: impl Into<String>) -> Self {
        Self::new(Code::Internal, detail, "please report this request")
    }

    /// The same at a JSON Pointer (RFC 6901) into the request.
    #[must_use]
    pub fn at(mut self, pointer: impl Into<String>) -> Self {
        self.0.pointer = pointer.into();
        self
    }

    /// The same seen from the whole that contains the part at `prefix`.
    ///
    /// ```
    /// use guardcell_error::{Code, Error};
    /// let part = Error::new(Code::OutOfRange, "120 % is out of range", "give 0 to 100 %").at("/n_percent");
    /// assert_eq!(part.within("/feed/guaranteed").pointer(), "/feed/guaranteed/n_percent");
    /// ```
    #[must_use]
    pub fn within(mut self, prefix: &str) -> Self {
        self.0.pointer.insert_str(0, prefix);
        self
    }

    /// The same without a pointer: for a face that has no request, only a file or a flag.
    #[must_use]
    pub fn without_pointer(mut self) -> Self {
        self.0.pointer.clear();
        self
    }

    /// The same with another code.
    #[must_use]
    pub fn with_code(mut self, code: Code) -> Self {
        self.0.code = code;
        self
    }

    /// The same with another detail.
    #[must_use]
    pub fn with_detail(mut self, detail: impl Into<String>) -> Self {
        self.0.detail = detail.into();
        self
    }

    /// The same with another hint.
    #[must_use]
    pub fn with_hint(mut self, hint: impl Into<String>) -> Self {
        self.0.hint = hint.into();
        self
    }

    /// The same at a place in a file or text.
    #[must_use]
    pub fn placed(mut self, place: Place) -> Self {
        self.0.place = place;
        self
    }

    /// The same for a flag or argument of a command, such as `--at`.
    #[must_use]
    pub fn of_argument(mut self, argument: impl Into<String>) -> Self {
        self.0.place.argument = Some(argument.into());
        self
    }

    /// The same in a file.
    #[must_use]
    pub fn in_file(mut self, file: impl Into<String>) -> Self {
        self.0.place.file = Some(file.into());
        self
    }

    /// The same on a line, from 1.
    #[must_use]
    pub fn on_line(mut self, line: u64) -> Self {
        self.0.place.line = Some(line);
        self
    }

    /// The same at a column in characters, from 1.
    #[must_use]
    pub fn at_column(mut self, column: u64) -> Self {
        self.0.place.column = Some(column);
        self
    }

    /// The same with the error that caused it, which [`core::error::Error::source`] returns.
    #[must_use]
    pub fn caused_by(mut self, source: impl core::error::Error + Send + Sync + 'static) -> Self {
        self.0.source = Some(Arc::new(source));
        self
    }

    /// The kind of fault.
    #[must_use]
    pub fn code(&self) -> Code {
        self.0.code
    }

    /// JSON Pointer to the fault in the request; empty for the request as a whole.
    #[must_use]
    pub fn pointer(&self) -> &str {
        &self.0.pointer
    }

    /// The name of the field at fault: the last token of the pointer that is not an index.
    #[must_use]
    pub fn field(&self) -> Option<String> {
        pointer::tokens(&self.0.pointer)
            .filter(|token| !token.is_empty() && !token.bytes().all(|b| b.is_ascii_digit()))
            .last()
    }

    /// What is wrong.
    #[must_use]
    pub fn detail(&self) -> &str {
        &self.0.detail
    }

    /// What would be right.
    #[must_use]
    pub fn hint(&self) -> &str {
        &self.0.hint
    }

    /// Where in a file or text, if known.
    #[must_use]
    pub fn place(&self) -> Option<&Place> {
        (!self.0.place.is_empty()).then_some(&self.0.place)
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(place) = self.place() {
            write!(f, "{place}: ")?;
        }
        if !self.0.pointer.is_empty() {
            write!(f, "{}: ", self.0.pointer)?;
        }
        f.write_str(&self.0.detail)?;
        if !self.0.hint.is_empty() {
            write!(f, "; {}", self.0.hint)?;
        }
        Ok(())
    }
}

impl fmt::Debug for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Error")
            .field("code", &self.0.code)
            .field("pointer", &self.0.pointer)
            .field("detail", &self.0.detail)
            .field("hint", &self.0.hint)
            .field("place", &self.place())
            .finish_non_exhaustive()
    }
}

/// The fields; the source is for people and does not take part.
impl PartialEq for Error {
    fn eq(&self, other: &Self) -> bool {
        let (a, b) = (&self.0, &other.0);
        a.code == b.code
            && a.pointer == b.pointer
            && a.detail == b.detail
            && a.hint == b.hint
            && a.place == b.place
    }
}

impl core::error::Error for Error {
    fn source(&self) -> Option<&(dyn core::error::Error + 'static)> {
        self.0.source.as_ref().map(|source| &**source as &(dyn core::error::Error + 'static))
    }
}

/// The error on the wire.
#[derive(Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename = "Error")]
struct Wire {
    /// The kind of fault.
    code: Code,
    /// JSON Pointer (RFC 6901) to the fault in the request; empty for the request as a whole.
    #[serde(default)]
    pointer: String,
    /// What is wrong.
    detail: String,
    /// What would be right.
    #[serde(default)]
    hint: String,
    /// Where in a file or text.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    place: Option<Place>,
}

impl Serialize for Error {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        Wire {
            code: self.0.code,
            pointer: self.0.pointer.clone(),
            detail: self.0.detail.clone(),
            hint: self.0.hint.clone(),
            place: self.place().cloned(),
        }
        .serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Error {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let wire = Wire::deserialize(deserializer)?;
        Ok(Self::new(wire.code, wire.detail, wire.hint)
            .at(wire.pointer)
            .placed(wire.place.unwrap_or_default()))
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Error {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Error".into()
    }

    fn json_schema(generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
        Wire::json_schema(generator)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn the_source_stays_reachable() {
        let error = Error::internal("no luck").caused_by(std::fmt::Error);
        assert!(core::error::Error::source(&error).is_some());
        assert_eq!(error, Error::internal("no luck"));
    }

    proptest! {
        #[test]
        fn any_text_survives_the_wire(
            detail in ".*", hint in ".*", name in ".*", line in proptest::option::of(1_u64..1000)
        ) {
            let mut error = Error::new(Code::Unknown, &detail, &hint)
                .at(pointer::key("/plants/0", &name));
            if let Some(line) = line {
                error = error.in_file(&name).on_line(line);
            }
            let json = serde_json::to_string(&error).expect("plain strings serialise");
            let read: Error = serde_json::from_str(&json).expect("it was just written");
            prop_assert_eq!(&read, &error);
            prop_assert_eq!(read.detail(), &detail);
            prop_assert_eq!(pointer::tokens(read.pointer()).last(), Some(name));
        }
    }
}

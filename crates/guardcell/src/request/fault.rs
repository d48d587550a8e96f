//! Where a value departs from the schema of its type, as an error for people.

use guardcell_error::{Code, Error, excerpt, pointer};
use jsonschema::error::{TypeKind, ValidationErrorKind as Kind};
use jsonschema::{ValidationError, Validator};
use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::Value;
use std::any::TypeId;
use std::collections::{BTreeSet, HashMap};
use std::sync::{Arc, PoisonError, RwLock};

/// The schema of a type, as it is made.
pub(super) type MakeSchema = fn() -> Value;

/// The schema of a type from which faults are explained.
pub(super) fn schema_of<T: JsonSchema>() -> Value {
    let generator = SchemaSettings::draft2020_12().for_deserialize().into_generator();
    generator.into_root_schema_for::<T>().to_value()
}

/// The most important fault of the value against the schema of a type, if there is one. The type
/// comes as its id and what makes its schema, so that the validator is compiled once and not for
/// every type.
pub(super) fn first(value: &Value, (id, make): (TypeId, MakeSchema)) -> Option<Error> {
    validator(id, make)?
        .iter_errors(value)
        .map(|e| described(&e, value))
        .min_by_key(|f| f.0)
        .map(|f| f.1)
}

/// The schema of each type is compiled once.
fn validator(id: TypeId, make: MakeSchema) -> Option<Arc<Validator>> {
    static COMPILED: RwLock<Option<HashMap<TypeId, Arc<Validator>>>> = RwLock::new(None);
    let read = COMPILED.read().unwrap_or_else(PoisonError::into_inner);
    if let Some(validator) = read.as_ref().and_then(|all| all.get(&id)) {
        return Some(Arc::clone(validator));
    }
    drop(read);
    let validator = Arc::new(jsonschema::options().build(&make()).ok()?);
    let mut all = COMPILED.write().unwrap_or_else(PoisonError::into_inner);
    all.get_or_insert_default().insert(id, Arc::clone(&validator));
    Some(validator)
}

/// How much a fault explains; the first is shown.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Rank {
    UnknownField,
    Form,
    MissingField,
    Range,
}

fn described(error: &ValidationError<'_>, whole: &Value) -> (Rank, Error) {
    let at = error.instance_path().as_str().to_owned();
    let value = error.instance();
    let wrong = |detail: String, hint: String| Error::new(Code::WrongForm, detail, hint).at(&*at);
    match error.kind() {
        Kind::AdditionalProperties { unexpected } | Kind::UnevaluatedProperties { unexpected } => {
            let name = unexpected.first().map_or("", String::as_str);
            let detail = format!("unknown field {:?}", excerpt(name, 60));
            let hint = "use only the fields of the schema".to_owned();
            (Rank::UnknownField, wrong(detail, hint).at(pointer::key(&at, name)))
        }
        // A request without fields: its schema accepts no property at all.
        Kind::FalseSchema => {
            // The error names the value of the property; its object is in the whole.
            let object = whole.pointer(&at).and_then(Value::as_object);
            let name = object.and_then(|o| o.keys().next()).map_or("", String::as_str);
            let detail = format!("unknown field {:?}", excerpt(name, 60));
            let fault = wrong(detail, "give an empty object".to_owned());
            (Rank::UnknownField, fault.at(pointer::key(&at, name)))
        }
        Kind::Required { property } => {
            let name = property.as_str().unwrap_or_default();
            let fault = wrong("this required field is missing".into(), format!("add `{name}`"));
            (Rank::MissingField, fault.at(pointer::key(&at, name)))
        }
        Kind::Type { kind } => (Rank::Form, {
            let expected = expected(kind);
            let fraction = value.is_number() && expected == "a whole number";
            let detail = if fraction {
                "this is not a whole number".to_owned()
            } else {
                format!("this is {}", found(value))
            };
            wrong(detail, format!("give {expected}"))
        }),
        Kind::Enum { options } => (Rank::Form, word(value, &at, options.as_array())),
        Kind::Constant { expected_value } => {
            (Rank::Form, word(value, &at, Some(&vec![(**expected_value).clone()])))
        }
        Kind::AnyOf { context } | Kind::OneOfNotValid { context } => {
            choice(context, value, &at, whole)
        }
        Kind::OneOfMultipleValid { .. } => (
            Rank::Form,
            wrong(
                "this matches more than one of its forms".into(),
                "give the fields of one form".into(),
            ),
        ),
        kind => (Rank::Range, limit(kind, value).at(at)),
    }
}

/// A value outside a limit of its schema.
fn limit(kind: &Kind, value: &Value) -> Error {
    let shown = excerpt(&value.to_string(), 40);
    let (code, hint) = match kind {
        Kind::Minimum { limit } => (Code::OutOfRange, format!("give at least {limit}")),
        Kind::Maximum { limit } => (Code::OutOfRange, format!("give at most {limit}")),
        Kind::ExclusiveMinimum { limit } => (Code::OutOfRange, format!("give more than {limit}")),
        Kind::ExclusiveMaximum { limit } => (Code::OutOfRange, format!("give less than {limit}")),
        Kind::MinLength { limit } => (Code::Missing, format!("give at least {limit} characters")),
        Kind::MaxLength { limit } => (Code::TooLong, format!("give at most {limit} characters")),
        Kind::MinItems { limit } => (Code::Missing, format!("give at least {limit} items")),
        Kind::MaxItems { limit } => (Code::TooMany, format!("give at most {limit} items")),
        Kind::MinProperties { .. } | Kind::MaxProperties { .. } => {
            (Code::WrongForm, "give as many fields as the schema allows".to_owned())
        }
        _ => (Code::WrongForm, "see the schema of this request".to_owned()),
    };
    match value {
        Value::Array(items) => Error::new(code, format!("this has {} items", items.len()), hint),
        Value::String(text) if matches!(kind, Kind::MinLength { .. } | Kind::MaxLength { .. }) => {
            Error::new(code, format!("this has {} characters", text.chars().count()), hint)
        }
        _ => Error::new(code, format!("{shown} does not fit"), hint),
    }
}

/// None of the forms of a choice fits: the closest one says why.
fn choice(
    forms: &[Vec<ValidationError<'static>>],
    value: &Value,
    at: &str,
    whole: &Value,
) -> (Rank, Error) {
    // A form that wants null is the absence of the value.
    let wants_null =
        |form: &&Vec<ValidationError<'_>>| matches!(form.as_slice(), [e] if type_null(e));
    let forms: Vec<_> = forms.iter().filter(|form| !wants_null(form)).collect();
    if let [form] = forms.as_slice() {
        return closest(form, whole).unwrap_or_else(|| (Rank::Form, no_form(value, at, &[])));
    }
    if let Some(fault) = tagged(&forms, value, at, whole) {
        return fault;
    }
    let words: Option<Vec<Value>> = forms.iter().map(|form| one_word(form)).collect();
    if let Some(words) = words {
        let words: Vec<Value> = words.into_iter().flat_map(flat).collect();
        return (Rank::Form, word(value, at, Some(&words)));
    }
    // A fault further down belongs to the form that was meant.
    let deep = forms
        .iter()
        .filter_map(|form| closest(form, whole))
        .filter(|(_, fault)| fault.pointer().len() > at.len())
        .filter(|(rank, _)| *rank != Rank::MissingField)
        .filter(|(_, fault)| !fault.pointer()[at.len()..].trim_start_matches('/').is_empty())
        .max_by_key(|(rank, fault)| {
            (fault.pointer().matches('/').count(), *rank != Rank::UnknownField)
        });
    let keys: BTreeSet<String> = forms.iter().flat_map(|form| required(form)).collect();
    match deep {
        Some((rank, fault)) if rank != Rank::UnknownField || keys.is_empty() => (rank, fault),
        _ => (Rank::Form, no_form(value, at, &keys.into_iter().collect::<Vec<_>>())),
    }
}

/// The fault where a word such as `kind` says which form is meant: that of this form, or that the
/// word names no form.
fn tagged(
    forms: &[&Vec<ValidationError<'static>>],
    value: &Value,
    at: &str,
    whole: &Value,
) -> Option<(Rank, Error)> {
    // In the other forms the word is a wrong one.
    let wrong = |form: &[ValidationError<'static>]| {
        form.iter().find_map(|e| {
            let field = e.instance_path().as_str().strip_prefix(at)?.strip_prefix('/')?;
            let Kind::Constant { expected_value } = e.kind() else { return None };
            (!field.contains('/')).then(|| (field.to_owned(), (**expected_value).clone()))
        })
    };
    let words: Vec<_> = forms.iter().map(|form| wrong(form)).collect();
    let (field, _) = words.iter().flatten().next()?;
    let mut meant = forms.iter().zip(&words).filter(|(_, word)| word.is_none());
    match (meant.next(), meant.next()) {
        (Some((form, _)), None) => closest(form, whole),
        (None, _) => {
            let options: Vec<Value> =
                words.iter().flatten().map(|(_, word)| word.clone()).collect();
            let pointer = format!("{at}/{field}");
            let given = value.get(field).unwrap_or(&Value::Null);
            Some((Rank::Form, word(given, &pointer, Some(&options))))
        }
        _ => None,
    }
}

fn closest(form: &[ValidationError<'static>], whole: &Value) -> Option<(Rank, Error)> {
    form.iter().map(|e| described(e, whole)).min_by_key(|f| f.0)
}

fn no_form(value: &Value, at: &str, keys: &[String]) -> Error {
    let hint = match keys {
        [] => "see the schema of this request".to_owned(),
        keys => format!("give an object with one of {}", keys.join(", ")),
    };
    Error::new(
        Code::WrongForm,
        format!("this is {} of none of the accepted forms", found(value)),
        hint,
    )
    .at(at)
}

/// The fields that a form requires and the value does not have.
fn required(form: &[ValidationError<'static>]) -> Vec<String> {
    form.iter()
        .filter_map(|e| match e.kind() {
            Kind::Required { property } => property.as_str().map(|name| format!("`{name}`")),
            _ => None,
        })
        .collect()
}

/// The words that a form consists of.
fn one_word(form: &[ValidationError<'static>]) -> Option<Value> {
    form.iter().find_map(|e| match e.kind() {
        Kind::Constant { expected_value } => Some((**expected_value).clone()),
        Kind::Enum { options } => Some((**options).clone()),
        _ => None,
    })
}

fn flat(value: Value) -> Vec<Value> {
    match value {
        Value::Array(items) => items,
        other => vec![other],
    }
}

fn word(value: &Value, at: &str, options: Option<&Vec<Value>>) -> Error {
    let detail = match value {
        Value::String(text) => format!("{:?} is not one of the accepted words", excerpt(text, 60)),
        other => format!("this is {}", found(other)),
    };
    let words: Vec<String> = options.into_iter().flatten().map(Value::to_string).collect();
    Error::new(Code::WrongForm, detail, format!("give one of {}", words.join(", "))).at(at)
}

fn type_null(error: &ValidationError<'_>) -> bool {
    matches!(error.kind(), Kind::Type { kind: TypeKind::Single(t) } if t.to_string() == "null")
}

fn expected(kind: &TypeKind) -> String {
    let name = |kind: String| match kind.as_str() {
        "number" => "a number",
        "integer" => "a whole number",
        "string" => "a text",
        "boolean" => "true or false",
        "array" => "a list",
        "object" => "an object with named fields",
        _ => "null",
    };
    match kind {
        TypeKind::Single(kind) => name(kind.to_string()).to_owned(),
        TypeKind::Multiple(kinds) => {
            let all: Vec<&str> =
                kinds.iter().map(|kind| name(kind.to_string())).filter(|n| *n != "null").collect();
            all.join(" or ")
        }
    }
}

fn found(value: &Value) -> &'static str {
    match value {
        Value::Null => "null",
        Value::Bool(_) => "true or false",
        Value::Number(_) => "a number",
        Value::String(_) => "a text",
        Value::Array(_) => "a list",
        Value::Object(_) => "an object",
    }
}

//! Where a value departs from the schema of its type, as an error for people.

use super::form::{Departure, Kind, departures};
use guardcell_error::{Code, Error, excerpt, pointer};
use serde_json::Value;
use std::collections::BTreeSet;

/// The most important fault of the value against a schema, if there is one.
pub(super) fn first(value: &Value, schema: &Value) -> Option<Error> {
    closest(&departures(value, schema)).map(|f| f.1)
}

/// How much a fault explains; the first is shown.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Rank {
    UnknownField,
    Form,
    MissingField,
    Range,
}

fn described(departure: &Departure<'_>) -> (Rank, Error) {
    let Departure { at, value, kind } = departure;
    let wrong = |detail: String, hint: String| Error::new(Code::WrongForm, detail, hint).at(&**at);
    match kind {
        Kind::Unknown { field, others } => {
            let detail = format!("unknown field {:?}", excerpt(field, 60));
            // A request without fields accepts no property at all.
            let hint =
                if *others { "use only the fields of the schema" } else { "give an empty object" };
            let fault = wrong(detail, hint.to_owned());
            (Rank::UnknownField, fault.at(pointer::key(at, field)))
        }
        Kind::Missing(name) => {
            let fault = wrong("this required field is missing".into(), format!("add `{name}`"));
            (Rank::MissingField, fault.at(pointer::key(at, name)))
        }
        Kind::Type(kinds) => (Rank::Form, {
            let expected = expected(kinds);
            let fraction = value.is_number() && expected == "a whole number";
            let detail = if fraction {
                "this is not a whole number".to_owned()
            } else {
                format!("this is {}", found(value))
            };
            wrong(detail, format!("give {expected}"))
        }),
        Kind::Words(options) => (Rank::Form, word(value, at, options)),
        Kind::NoForm(forms) => choice(forms, value, at),
        Kind::ManyForms => (
            Rank::Form,
            wrong(
                "this matches more than one of its forms".into(),
                "give the fields of one form".into(),
            ),
        ),
        Kind::Limit(keyword, limit) => (Rank::Range, beyond(keyword, limit, value).at(&**at)),
    }
}

/// A value outside a limit of its schema.
fn beyond(keyword: &str, limit: &Value, value: &Value) -> Error {
    let shown = excerpt(&value.to_string(), 40);
    let (code, hint) = match keyword {
        "minimum" => (Code::OutOfRange, format!("give at least {limit}")),
        "maximum" => (Code::OutOfRange, format!("give at most {limit}")),
        "exclusiveMinimum" => (Code::OutOfRange, format!("give more than {limit}")),
        "exclusiveMaximum" => (Code::OutOfRange, format!("give less than {limit}")),
        "minLength" => (Code::Missing, format!("give at least {limit} characters")),
        "maxLength" => (Code::TooLong, format!("give at most {limit} characters")),
        "minItems" => (Code::Missing, format!("give at least {limit} items")),
        _ => (Code::TooMany, format!("give at most {limit} items")),
    };
    match value {
        Value::Array(items) => Error::new(code, format!("this has {} items", items.len()), hint),
        Value::String(text) => {
            Error::new(code, format!("this has {} characters", text.chars().count()), hint)
        }
        _ => Error::new(code, format!("{shown} does not fit"), hint),
    }
}

/// None of the forms of a choice fits: the closest one says why.
fn choice(forms: &[Vec<Departure<'_>>], value: &Value, at: &str) -> (Rank, Error) {
    // A form that wants null is the absence of the value.
    let wants_null = |form: &&Vec<Departure<'_>>| matches!(form.as_slice(), [e] if type_null(e));
    let forms: Vec<_> = forms.iter().filter(|form| !wants_null(form)).collect();
    if let [form] = forms.as_slice() {
        return closest(form).unwrap_or_else(|| (Rank::Form, no_form(value, at, &[])));
    }
    if let Some(fault) = tagged(&forms, value, at) {
        return fault;
    }
    let words: Option<Vec<_>> = forms.iter().map(|form| words(form)).collect();
    if let Some(words) = words {
        return (Rank::Form, word(value, at, &words.concat()));
    }
    // A fault further down belongs to the form that was meant.
    let deep = forms
        .iter()
        .filter_map(|form| closest(form))
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
fn tagged(forms: &[&Vec<Departure<'_>>], value: &Value, at: &str) -> Option<(Rank, Error)> {
    // In the other forms the word is a wrong one.
    let wrong: Vec<_> = forms
        .iter()
        .map(|form| {
            form.iter().find_map(|e| {
                let field = e.at.strip_prefix(at)?.strip_prefix('/')?;
                let Kind::Words([word]) = e.kind else { return None };
                (!field.contains('/')).then_some((field, word))
            })
        })
        .collect();
    let (field, _) = wrong.iter().flatten().next()?;
    let mut meant = forms.iter().zip(&wrong).filter(|(_, word)| word.is_none());
    match (meant.next(), meant.next()) {
        (Some((form, _)), None) => closest(form),
        (None, _) => {
            let options: Vec<Value> =
                wrong.iter().flatten().map(|(_, word)| (*word).clone()).collect();
            let given = value.get(field).unwrap_or(&Value::Null);
            Some((Rank::Form, word(given, &format!("{at}/{field}"), &options)))
        }
        _ => None,
    }
}

fn closest(form: &[Departure<'_>]) -> Option<(Rank, Error)> {
    form.iter().map(described).min_by_key(|f| f.0)
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
fn required(form: &[Departure<'_>]) -> Vec<String> {
    form.iter()
        .filter_map(|e| match e.kind {
            Kind::Missing(name) => Some(format!("`{name}`")),
            _ => None,
        })
        .collect()
}

/// The words that a form consists of.
fn words<'a>(form: &[Departure<'a>]) -> Option<&'a [Value]> {
    form.iter().find_map(|e| match e.kind {
        Kind::Words(options) => Some(options),
        _ => None,
    })
}

fn word(value: &Value, at: &str, options: &[Value]) -> Error {
    let detail = match value {
        Value::String(text) => format!("{:?} is not one of the accepted words", excerpt(text, 60)),
        other => format!("this is {}", found(other)),
    };
    let words: Vec<String> = options.iter().map(Value::to_string).collect();
    Error::new(Code::WrongForm, detail, format!("give one of {}", words.join(", "))).at(at)
}

fn type_null(departure: &Departure<'_>) -> bool {
    matches!(&departure.kind, Kind::Type(kinds) if kinds.as_slice() == ["null"])
}

fn expected(kinds: &[&str]) -> String {
    let name = |kind: &&str| match *kind {
        "number" => "a number",
        "integer" => "a whole number",
        "string" => "a text",
        "boolean" => "true or false",
        "array" => "a list",
        "object" => "an object with named fields",
        _ => "null",
    };
    match kinds {
        [kind] => name(kind).to_owned(),
        kinds => {
            let all: Vec<&str> = kinds.iter().map(name).filter(|n| *n != "null").collect();
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

//! Why a text could not be read as a request. Only asked once reading has failed.

use super::place::{begin, reached};
use super::readable::Readable;
use super::strict::Strict;
use super::twice::has_field_twice;
use guardcell_error::{Code, Error};
use serde::Deserialize as _;
use serde::de::IgnoredAny;
use serde_json::Value;

pub(super) fn explain<T: Readable>(
    json: &[u8],
    error: &serde_json::Error,
    call: Option<&str>,
) -> Error {
    let value = match serde_json::from_slice::<Value>(json) {
        Ok(value) => value,
        Err(e) if is_number_out_of_range(json, &e) => return number_out_of_range(json),
        Err(e) => return malformed(json, &e),
    };
    by_schema::<T>(&value, call).unwrap_or_else(|| by_type(json, error))
}

/// What the schema of the request says.
#[cfg(feature = "schema")]
fn by_schema<T: Readable>(value: &Value, _: Option<&str>) -> Option<Error> {
    super::fault::first(value, &super::schemas::of::<T>())
}

/// What the schema of the call's request says.
#[cfg(all(feature = "forms", not(feature = "schema")))]
fn by_schema<T: Readable>(value: &Value, call: Option<&str>) -> Option<Error> {
    super::fault::first(value, super::forms::of(call?)?)
}

#[cfg(not(any(feature = "schema", feature = "forms")))]
fn by_schema<T: Readable>(_: &Value, _: Option<&str>) -> Option<Error> {
    None
}

/// The schema allows it, but the text or the type is narrower.
fn by_type(json: &[u8], error: &serde_json::Error) -> Error {
    if has_field_twice(json) {
        return Error::new(
            Code::WrongForm,
            "a field appears more than once in one object",
            "give each field once",
        )
        .on_line(error.line() as u64)
        .at_column(column(json, error));
    }
    let detail = error.to_string();
    let at_end = format!(" at line {} column {}", error.line(), error.column());
    let detail = detail.strip_suffix(&at_end).unwrap_or(&detail);
    Error::new(Code::WrongForm, detail, "see the schema of this request").at(reached(json))
}

/// Whether the text is JSON whose number no 64-bit float can hold, such as 1e999.
fn is_number_out_of_range(json: &[u8], error: &serde_json::Error) -> bool {
    line(json, error).get(..error.column()).and_then(<[u8]>::last).is_some_and(u8::is_ascii_digit)
        && serde_json::from_slice::<IgnoredAny>(json).is_ok()
}

fn number_out_of_range(json: &[u8]) -> Error {
    begin();
    let mut reader = serde_json::Deserializer::from_slice(json);
    let pointer = match Value::deserialize(Strict(&mut reader)) {
        Ok(_) => String::new(),
        Err(_) => reached(json),
    };
    Error::new(Code::OutOfRange, "the number is too large", "give a number below 1.8e308")
        .at(pointer)
}

fn malformed(json: &[u8], error: &serde_json::Error) -> Error {
    let detail = if json.trim_ascii().is_empty() {
        "the text is empty"
    } else if error.is_eof() {
        "the JSON ends too early"
    } else {
        "the text is not valid JSON"
    };
    Error::new(Code::MalformedJson, detail, "send one JSON object (RFC 8259)")
        .on_line((error.line() as u64).max(1))
        .at_column(column(json, error))
}

/// The column in characters, from 1; serde_json counts bytes.
fn column(json: &[u8], error: &serde_json::Error) -> u64 {
    let line = line(json, error);
    let before = line.get(..error.column()).unwrap_or(line);
    (String::from_utf8_lossy(before).chars().count() as u64).max(1)
}

fn line<'a>(json: &'a [u8], error: &serde_json::Error) -> &'a [u8] {
    json.split(|&b| b == b'\n').nth(error.line().saturating_sub(1)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use crate::read_request;
    use guardcell_advice::AdviceRequest;
    use guardcell_error::Code;
    use guardcell_film::{AirRequest, FilmRequest};

    /// Code, pointer, detail and hint of the fault in an air request.
    fn air(json: &str) -> (Code, String, String, String) {
        let e = read_request::<AirRequest>(json.as_bytes()).unwrap_err();
        (e.code(), e.pointer().into(), e.detail().into(), e.hint().into())
    }

    #[test]
    fn malformed_json_says_line_and_column_in_characters() {
        let e = read_request::<AirRequest>("{\n \"æøå\": }".as_bytes()).unwrap_err();
        assert_eq!(e.code(), Code::MalformedJson);
        let place = e.place().unwrap();
        assert_eq!((place.line, place.column), (Some(2), Some(9)));
        assert_eq!(air("").2, "the text is empty");
        assert_eq!(air("{\"temp_c\": 2").2, "the JSON ends too early");
        assert_eq!(air("{} {}").0, Code::MalformedJson);
        for text in ["\u{feff}{}", "nonsense", r#"{"temp_c": "\ud800"}"#, r#"{"temp_c": 01}"#] {
            assert_eq!(air(text).0, Code::MalformedJson, "{text}");
        }
        let e = read_request::<AirRequest>(b"{\"temp_c\": \"\xff\"}").unwrap_err();
        assert_eq!(e.code(), Code::MalformedJson);
    }

    #[test]
    fn a_number_beyond_floats_is_out_of_range() {
        let (code, pointer, ..) = air(r#"{"temp_c": 20, "rh_percent": 1e999}"#);
        assert_eq!((code, pointer.as_str()), (Code::OutOfRange, "/rh_percent"));
    }

    #[test]
    fn a_field_given_twice_is_refused() {
        let (code, _, detail, _) = air(r#"{"temp_c": 20, "temp_c": 21, "rh_percent": 50}"#);
        assert_eq!(code, Code::WrongForm);
        assert!(detail.contains("more than once"), "{detail}");
    }

    #[test]
    fn a_list_is_not_read_as_an_object() {
        let (code, pointer, ..) = air("[22, 65, null]");
        assert_eq!((code, pointer.as_str()), (Code::WrongForm, ""));
        let json = br#"{"temp_c": 20, "rh_percent": 70, "composition": []}"#;
        let e = read_request::<FilmRequest>(json).unwrap_err();
        assert_eq!((e.code(), e.pointer()), (Code::WrongForm, "/composition"));
        let json = br#"{"site": {"name": "x", "areas": [["house", "House"]]}}"#;
        let e = read_request::<AdviceRequest>(json).unwrap_err();
        assert_eq!(e.code(), Code::WrongForm);
    }

    #[cfg(feature = "schema")]
    #[test]
    fn a_word_says_which_form_is_meant() {
        let fault = |event: &str| {
            let json =
                format!(r#"{{"at": "2026-06-21T05:30:00Z", "site": "S", "event": {event}}}"#);
            let e = read_request::<guardcell_ledger::Draft>(json.as_bytes()).unwrap_err();
            (e.pointer().to_owned(), e.detail().to_owned(), e.hint().to_owned())
        };
        let (pointer, detail, _) = fault(r#"{"kind": "growth", "plant": "F", "value": 2}"#);
        assert_eq!((&*pointer, &*detail), ("/event/plant", "unknown field \"plant\""));
        let (pointer, _, hint) = fault(r#"{"kind": "growth", "measure": "new_root", "value": 2}"#);
        assert_eq!((&*pointer, &*hint), ("/event/plants", "add `plants`"));
        let (pointer, detail, hint) = fault(r#"{"kind": "growing", "plants": ["F"]}"#);
        assert_eq!(
            (&*pointer, &*detail),
            ("/event/kind", "\"growing\" is not one of the accepted words",)
        );
        assert!(hint.contains("\"growth\"") && hint.contains("\"round\""), "{hint}");
    }

    #[test]
    fn nesting_is_bounded() {
        let deep = format!("{}{}", "[".repeat(33), "]".repeat(33));
        let e = read_request::<AirRequest>(deep.as_bytes()).unwrap_err();
        assert_eq!(e.code(), Code::TooDeep);
    }

    #[cfg(feature = "schema")]
    mod by_schema {
        use super::*;

        #[test]
        fn the_wrong_type_is_named() {
            let e = air(r#"{"temp_c": "warm", "rh_percent": 70}"#);
            let expected = ("/temp_c", "this is a text", "give a number");
            assert_eq!((e.1.as_str(), e.2.as_str(), e.3.as_str()), expected);
        }

        #[test]
        fn a_missing_field_is_named() {
            let e = air(r#"{"temp_c": 20}"#);
            let expected = ("/rh_percent", "this required field is missing", "add `rh_percent`");
            assert_eq!((e.1.as_str(), e.2.as_str(), e.3.as_str()), expected);
        }

        #[test]
        fn an_unknown_field_is_named_before_what_it_leaves_missing() {
            let e = air(r#"{"temp_c": 20, "rh/percent": 50}"#);
            assert_eq!(
                (e.1.as_str(), e.2.as_str()),
                ("/rh~1percent", "unknown field \"rh/percent\"")
            );
        }

        #[test]
        fn an_unknown_word_lists_the_words() {
            let json = br#"{"temp_c": 20, "rh_percent": 70, "air_words": "gale"}"#;
            let e = read_request::<FilmRequest>(json).unwrap_err();
            assert_eq!(e.pointer(), "/air_words");
            assert!(e.hint().contains("\"light\""), "{e}");
        }

        #[test]
        fn a_choice_of_forms_names_what_it_takes() {
            let json = br#"{"products": [], "volume_l": 4, "targets": [{"mg_l": 300}]}"#;
            let e = read_request::<guardcell_solution::RecipeRequest>(json).unwrap_err();
            assert!(e.pointer().starts_with("/targets/0"), "{e:?}");
            assert!(e.hint().contains("`feed_strength`"), "{e:?}");
        }
    }
}

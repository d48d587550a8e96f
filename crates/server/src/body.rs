//! Reading a request body: media type, size, time, depth, form.

use crate::problem::{Kind, Problem};
use crate::state::Shared;
use axum::body::Body;
use axum::http::{HeaderMap, Request, header};
use bytes::Bytes;
use http_body_util::{BodyExt, LengthLimitError, Limited};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;
use tokio::time::timeout;

/// The whole body of a request for JSON.
pub(crate) async fn json_bytes(shared: &Shared, request: Request<Body>) -> Result<Bytes, Problem> {
    expect_media(request.headers(), &["application/json"], "application/json")?;
    let limit = shared.config.body_bytes;
    if content_length(request.headers()).is_some_and(|n| n > limit as u64) {
        return Err(too_large(limit));
    }
    let body = Limited::new(request.into_body(), limit);
    match timeout(shared.config.body_time, body.collect()).await {
        Ok(Ok(collected)) => Ok(collected.to_bytes()),
        Ok(Err(e)) if e.is::<LengthLimitError>() => Err(too_large(limit)),
        Ok(Err(_)) => {
            Err(Problem::new(Kind::MalformedJson, "the body broke off", "send all of it"))
        }
        Err(_) => Err(slow(shared)),
    }
}

pub(crate) fn slow(shared: &Shared) -> Problem {
    Problem::new(
        Kind::SlowBody,
        "the body was not there in time",
        format!("send it within {} s", shared.config.body_time.as_secs()),
    )
}

pub(crate) fn too_large(limit: usize) -> Problem {
    Problem::new(
        Kind::TooLarge,
        format!("the body is larger than {limit} bytes"),
        "send fewer plants or readings at once, or use /v1/advice/stream",
    )
}

fn content_length(headers: &HeaderMap) -> Option<u64> {
    headers.get(header::CONTENT_LENGTH)?.to_str().ok()?.parse().ok()
}

/// Refuses a body whose media type is none of these.
pub(crate) fn expect_media(
    headers: &HeaderMap,
    allowed: &[&str],
    usual: &str,
) -> Result<(), Problem> {
    let given = headers.get(header::CONTENT_TYPE).and_then(|v| v.to_str().ok()).unwrap_or_default();
    let mut parts = given.split(';').map(str::trim);
    let essence = parts.next().unwrap_or_default();
    let named = allowed.iter().any(|a| essence.eq_ignore_ascii_case(a));
    let utf8 = parts.all(|p| {
        p.split_once('=').is_none_or(|(name, value)| {
            !name.eq_ignore_ascii_case("charset")
                || value.trim_matches('"').eq_ignore_ascii_case("utf-8")
        })
    });
    if named && utf8 {
        return Ok(());
    }
    let wrong = if given.is_empty() {
        "the request has no Content-Type".to_owned()
    } else {
        let shown: String = given.chars().take(80).collect();
        format!("Content-Type is {shown:?}")
    };
    Err(Problem::new(Kind::MediaType, wrong, format!("send {usual} in UTF-8"))
        .of_parameter("Content-Type"))
}

/// The request in a JSON text, or where it is wrong: its syntax, its form, or objects and lists
/// within each other deeper than `depth`.
///
/// # Errors
/// When the text is not JSON, or not a request of this type, with the JSON Pointer of the fault.
///
/// ```
/// use guardcell::film::AirRequest;
/// let good: AirRequest =
///     guardcell_server::read_request(br#"{"temp_c": 20, "rh_percent": 70}"#, 32)?;
/// assert_eq!(good.temp_c, 20.0);
/// let bad = guardcell_server::read_request::<AirRequest>(br#"{"temp_c": "warm"}"#, 32);
/// assert_eq!(bad.unwrap_err().pointer.as_deref(), Some("/temp_c"));
/// # Ok::<(), guardcell_server::Problem>(())
/// ```
pub fn parse<T: DeserializeOwned + Serialize>(bytes: &[u8], depth: usize) -> Result<T, Problem> {
    if nests_deeper(bytes, depth) {
        return Err(Problem::new(
            Kind::TooDeep,
            format!("the JSON is nested deeper than {depth}"),
            "no request of this API needs that",
        ));
    }
    // Only a fault needs to know where it stands.
    let value = match serde_json::from_slice(bytes) {
        Ok(value) => value,
        Err(_) => with_the_place_of_faults(bytes)?,
    };
    no_lists_for_objects(bytes, &value)?;
    Ok(value)
}

fn with_the_place_of_faults<T: DeserializeOwned>(bytes: &[u8]) -> Result<T, Problem> {
    let mut reader = serde_json::Deserializer::from_slice(bytes);
    let value = serde_path_to_error::deserialize(&mut reader).map_err(|e| wrong_form(&e, bytes))?;
    reader.end().map_err(|e| syntax(&e))?;
    Ok(value)
}

/// serde reads an object from a list of its fields in order as well, which no schema allows.
fn no_lists_for_objects(bytes: &[u8], read: &impl Serialize) -> Result<(), Problem> {
    let given = serde_json::from_slice(bytes).map_err(|e| syntax(&e))?;
    let read = serde_json::to_value(read)
        .map_err(|e| Problem::new(Kind::Internal, e.to_string(), "report this request"))?;
    match list_for_object(&given, &read) {
        None => Ok(()),
        Some(pointer) => Err(Problem::new(
            Kind::WrongForm,
            "this is a list",
            "it should be an object with named fields",
        )
        .at(pointer)),
    }
}

/// The pointer of the first list that was read as an object.
fn list_for_object(given: &Value, read: &Value) -> Option<String> {
    match (given, read) {
        (Value::Array(_), Value::Object(_)) => Some(String::new()),
        (Value::Object(g), Value::Object(r)) => g.iter().find_map(|(k, v)| {
            let rest = list_for_object(v, r.get(k)?)?;
            Some(format!("/{k}{rest}"))
        }),
        (Value::Array(g), Value::Array(r)) => {
            g.iter().zip(r).enumerate().find_map(|(i, (g, r))| {
                let rest = list_for_object(g, r)?;
                Some(format!("/{i}{rest}"))
            })
        }
        _ => None,
    }
}

fn syntax(e: &serde_json::Error) -> Problem {
    Problem::new(Kind::MalformedJson, e.to_string(), "send one JSON object (RFC 8259)").at("")
}

fn wrong_form(e: &serde_path_to_error::Error<serde_json::Error>, bytes: &[u8]) -> Problem {
    use serde_json::error::Category;
    let inner = e.inner();
    if matches!(inner.classify(), Category::Syntax | Category::Eof | Category::Io) {
        // A bare number where one of several forms is wanted is called a syntax error as well.
        return match serde_json::from_slice::<serde::de::IgnoredAny>(bytes) {
            Err(_) => syntax(inner),
            Ok(_) => {
                let message = inner.to_string();
                let wrong = if message.starts_with("number out of range") {
                    "the number is out of range"
                } else {
                    "this has none of the forms that it can have"
                };
                let right = "write one that the schema of this request in /openapi.json takes";
                Problem::new(Kind::WrongForm, wrong, right).at(pointer(e.path()))
            }
        };
    }
    let message = inner.to_string();
    // serde_json ends its messages with the place in the text, which the pointer says better
    let wrong = message.rsplit_once(" at line ").map_or(message.as_str(), |(what, _)| what);
    let (wrong, right) = match wrong.split_once(", expected ") {
        Some((wrong, right)) => (wrong.to_owned(), format!("it should be {right}")),
        None => (wrong.to_owned(), "see the schema of this request in /openapi.json".to_owned()),
    };
    Problem::new(Kind::WrongForm, wrong, right).at(pointer(e.path()))
}

/// A path of serde as a JSON Pointer.
fn pointer(path: &serde_path_to_error::Path) -> String {
    use serde_path_to_error::Segment;
    let mut out = String::new();
    for segment in path {
        match segment {
            Segment::Seq { index } => out.push_str(&format!("/{index}")),
            Segment::Map { key } => {
                out.push('/');
                out.push_str(&key.replace('~', "~0").replace('/', "~1"));
            }
            Segment::Enum { variant } => {
                out.push('/');
                out.push_str(variant);
            }
            Segment::Unknown => {}
        }
    }
    out
}

/// Whether arrays and objects are nested deeper than this, without reading the rest.
fn nests_deeper(bytes: &[u8], limit: usize) -> bool {
    let (mut depth, mut in_string, mut escaped) = (0_usize, false, false);
    for &b in bytes {
        if in_string {
            match b {
                _ if escaped => escaped = false,
                b'\\' => escaped = true,
                b'"' => in_string = false,
                _ => {}
            }
            continue;
        }
        match b {
            b'"' => in_string = true,
            b'{' | b'[' => {
                depth += 1;
                if depth > limit {
                    return true;
                }
            }
            b'}' | b']' => depth = depth.saturating_sub(1),
            _ => {}
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;
    use guardcell::advice::AdviceRequest;

    #[test]
    fn depth_counts_no_brackets_in_strings() {
        assert!(!nests_deeper(br#"{"a": "[[[[\"[[[["}"#, 1));
        assert!(nests_deeper(b"[[[", 2));
        assert!(!nests_deeper(b"[[],[],[]]", 2));
    }

    #[test]
    fn a_fault_is_found_by_pointer() {
        let text = br#"{"site": {"name": "x", "latitude_deg": "north"}}"#;
        let p = parse::<AdviceRequest>(text, 32).unwrap_err();
        assert_eq!(p.pointer.as_deref(), Some("/site/latitude_deg"));
        assert_eq!(p.field.as_deref(), Some("latitude_deg"));
        assert!(p.wrong.contains("invalid type: string"), "{p:?}");
    }

    #[test]
    fn a_list_is_no_object() {
        let p = parse::<guardcell::film::AirRequest>(b"[22, 65, null]", 32).unwrap_err();
        assert_eq!((p.pointer.as_deref(), p.wrong.as_str()), (Some(""), "this is a list"));
        let text = br#"{"temp_c": 20, "rh_percent": 70, "composition": []}"#;
        let p = parse::<guardcell::film::FilmRequest>(text, 32).unwrap_err();
        assert_eq!(p.pointer.as_deref(), Some("/composition"));
    }

    #[test]
    fn a_syntax_fault_says_line_and_column() {
        let p = parse::<AdviceRequest>(b"{\"site\": }", 32).unwrap_err();
        assert!(p.kind.ends_with("malformed-json"), "{p:?}");
        assert!(p.wrong.contains("line 1 column"), "{p:?}");
        let p = parse::<AdviceRequest>(b"", 32).unwrap_err();
        assert!(p.kind.ends_with("malformed-json"), "{p:?}");
    }
}

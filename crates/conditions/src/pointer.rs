//! JSON Pointers (RFC 6901) that say how far they led.

use crate::error::in_map;
use guardcell::Error;
use serde_json::Value;

/// Whether a text is a pointer: empty, or beginning with a slash, `~` only as `~0` and `~1`.
pub(crate) fn check(pointer: &str) -> Result<(), Error> {
    let slash = pointer.is_empty() || pointer.starts_with('/');
    let mut escapes = pointer.split('~').skip(1);
    if slash && escapes.all(|rest| rest.starts_with(['0', '1'])) {
        return Ok(());
    }
    Err(in_map(
        "",
        format!("{pointer:?} is not a JSON Pointer"),
        "write steps with a slash before each, such as /hourly/temperature; ~0 for ~, ~1 for /",
    ))
}

/// Follows a pointer; the error says which step is missing and what is there instead.
pub(crate) fn follow<'v>(root: &'v Value, pointer: &str) -> Result<&'v Value, String> {
    let mut value = root;
    let mut way = String::new();
    for step in pointer.split('/').skip(1) {
        let name = step.replace("~1", "/").replace("~0", "~");
        let place = if way.is_empty() { "the document".to_owned() } else { format!("{way:?}") };
        value = match value {
            Value::Object(map) => map.get(&name).ok_or_else(|| {
                format!("the pointer {pointer:?} finds no {name:?} in {place}, {}", what(value))
            })?,
            Value::Array(items) => {
                let index =
                    name.parse::<usize>().ok().filter(|_| name == "0" || !name.starts_with('0'));
                index.and_then(|i| items.get(i)).ok_or_else(|| {
                    format!(
                        "the pointer {pointer:?} finds no element {name:?} in {place}, {}",
                        what(value)
                    )
                })?
            }
            other => {
                return Err(format!(
                    "the pointer {pointer:?} cannot go on to {name:?}: {place} is {}",
                    what(other)
                ));
            }
        };
        way.push('/');
        way.push_str(step);
    }
    Ok(value)
}

/// What a value is, in words.
pub(crate) fn what(value: &Value) -> String {
    const MOST: usize = 12;
    match value {
        Value::Null => "null".into(),
        Value::Bool(_) => "true or false".into(),
        Value::Number(n) => format!("the number {n}"),
        Value::String(s) => format!("the text {:?}", s.chars().take(40).collect::<String>()),
        Value::Array(items) => format!("an array of {}", items.len()),
        Value::Object(map) if map.is_empty() => "an empty object".into(),
        Value::Object(map) => {
            let mut keys: Vec<String> =
                map.keys().take(MOST).map(|k| k.chars().take(40).collect()).collect();
            if map.len() > MOST {
                keys.push(format!("… ({} in all)", map.len()));
            }
            format!("an object with {}", keys.join(", "))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    /// The example of RFC 6901, section 5.
    #[test]
    fn follows_the_example_of_the_standard() {
        let doc = json!({ "foo": ["bar", "baz"], "": 0, "a/b": 1, "c%d": 2, "e^f": 3, "g|h": 4,
            "i\\j": 5, "k\"l": 6, " ": 7, "m~n": 8 });
        for (pointer, value) in [
            ("/foo/0", json!("bar")),
            ("/", json!(0)),
            ("/a~1b", json!(1)),
            ("/c%d", json!(2)),
            ("/e^f", json!(3)),
            ("/g|h", json!(4)),
            ("/i\\j", json!(5)),
            ("/k\"l", json!(6)),
            ("/ ", json!(7)),
            ("/m~0n", json!(8)),
        ] {
            check(pointer).unwrap();
            assert_eq!(follow(&doc, pointer).unwrap(), &value, "{pointer}");
        }
        assert_eq!(follow(&doc, "").unwrap(), &doc);
    }

    #[test]
    fn says_which_step_is_missing() {
        let doc = json!({ "hourly": { "temp": [1, 2] } });
        let says = follow(&doc, "/hourly/rh").unwrap_err();
        assert!(
            says.contains("\"rh\"") && says.contains("\"/hourly\"") && says.contains("temp"),
            "{says}"
        );
        assert!(follow(&doc, "/hourly/temp/2").unwrap_err().contains("an array of 2"));
        assert!(follow(&doc, "/hourly/temp/0/x").unwrap_err().contains("the number 1"));
        assert!(check("hourly").is_err());
        assert!(check("/a~2").is_err());
    }
}

//! Where in an answer a column is.

use serde_json::Value;

/// The whole answer, as text in JSON.
pub const WHOLE: &str = ".";

/// The value under a path such as `from.value` or `plants.0.verdict`.
///
/// ```
/// let answer = serde_json::json!({"plants": [{"verdict": "feed"}]});
/// assert_eq!(guardcell_table::at(&answer, "plants.0.verdict").unwrap(), "feed");
/// assert!(guardcell_table::at(&answer, "plants.1.verdict").is_none());
/// ```
#[must_use]
pub fn at<'v>(answer: &'v Value, path: &str) -> Option<&'v Value> {
    path.split('.').try_fold(answer, |value, part| match value {
        Value::Array(list) => list.get(part.parse::<usize>().ok()?),
        Value::Object(fields) => fields.get(part),
        _ => None,
    })
}

/// The name of the column of a path: one row is one plant, so that the place in the list is
/// omitted.
///
/// ```
/// assert_eq!(guardcell_table::name("plants.0.windows.0.start"), "window.start");
/// ```
#[must_use]
pub fn name(path: &str) -> String {
    if path == WHOLE {
        return "answer".to_owned();
    }
    let path = path.strip_prefix("plants.0.").unwrap_or(path);
    path.replace("windows.0.", "window.")
}

/// The names of the columns of an answer beside those of the input: a name that is taken gets
/// `answer.` before it.
#[must_use]
pub fn names(paths: &[String], input: &[String]) -> Vec<String> {
    let mut taken = input.to_vec();
    for path in paths {
        let mut name = name(path);
        while taken.contains(&name) {
            name.insert_str(0, "answer.");
        }
        taken.push(name);
    }
    taken.split_off(input.len())
}

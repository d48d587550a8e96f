//! Example requests and answers of the calls.

use guardcell::calls::AnyCall;
use serde::Deserialize;
use serde_json::{Value, json};
use std::error::Error;
use std::path::Path;

/// A request that is refused, and why.
#[derive(Debug, Deserialize)]
pub struct Bad {
    /// Why it is refused.
    pub why: String,
    /// The request.
    pub value: Value,
}

/// The example requests of one call.
#[derive(Debug, Default, Deserialize)]
pub struct Examples {
    /// Requests that are answered; the first is the example of the call.
    pub good: Vec<Value>,
    /// Requests that are refused.
    pub bad: Vec<Bad>,
}

impl Examples {
    /// The examples of a call: its own, and those in `schemas/examples/` if there are any.
    ///
    /// # Errors
    /// If the file has another form or the example of the call is not JSON.
    pub fn of(call: &AnyCall, root: &Path) -> Result<Self, Box<dyn Error>> {
        let path = root.join("schemas/examples").join(format!("{}.json", call.name()));
        let mut examples: Self = if path.exists() {
            let text = std::fs::read_to_string(&path)?;
            serde_json::from_str(&text).map_err(|e| format!("{}: {e}", path.display()))?
        } else {
            Self::default()
        };
        examples.good.insert(0, serde_json::from_str(call.example())?);
        Ok(examples)
    }
}

/// The answer to the example of a call, its numbers and lists shortened.
pub(super) fn answer(call: &AnyCall) -> Result<Value, Box<dyn Error>> {
    let answer =
        call.run(call.example().as_bytes()).map_err(|e| format!("{}: {e}", call.name()))?;
    Ok(shortened(serde_json::from_slice(&answer)?))
}

/// Longer lists are cut in an example: the rest only repeats their form, and grows with the data.
const LIST_MOST: usize = 30;
/// Items that are left of a list that is cut.
const LIST_KEPT: usize = 10;

/// The same with numbers of four significant digits and without the rest of long lists, for reading.
fn shortened(value: Value) -> Value {
    match value {
        Value::Number(n) if n.is_f64() => {
            let x = n.as_f64().unwrap_or_default();
            json!(format!("{x:.3e}").parse().unwrap_or(x))
        }
        Value::Array(items) => {
            let kept = if items.len() > LIST_MOST { LIST_KEPT } else { items.len() };
            Value::Array(items.into_iter().take(kept).map(shortened).collect())
        }
        Value::Object(map) => {
            Value::Object(map.into_iter().map(|(k, v)| (k, shortened(v))).collect())
        }
        other => other,
    }
}

//! guardcell in a browser and in Node.
//!
//! `cargo xtask wasm` compiles this crate to WebAssembly and writes `engine.js`, a module that exports
//! `call(name, json)`, `draw(name, json)` and `calls()`; every answer is text. What they do is
//! [`call()`], [`draw`] and [`calls()`] of this crate: the calls of [`guardcell::calls::ALL`], the
//! readers of a grower's files ([`guardcell_folder::calls`]) and of a logger's
//! ([`guardcell_conditions::calls`]). There is no logic here.
//!
//! ```js
//! import init, { call } from "./engine.js";
//! await init();
//! JSON.parse(call("air", JSON.stringify({ temp_c: 22, rh_percent: 65 }))).dew_point_c;
//! ```
//!
//! What is refused is thrown as the object that [`guardcell::Error`] is on the wire: `code`,
//! `pointer`, `detail`, `hint` and, for files, `place`. A fault of the engine itself (a panic, or the
//! end of memory) is a `WebAssembly.RuntimeError`, after which the instance must not be used again:
//! run it in a worker, end the worker and start another.
//!
//! Nothing is asked of the device: no file, no address, no clock. Random numbers are only used to
//! order tables in memory.

#[cfg(target_family = "wasm")]
mod glue;

use guardcell::calls::{self, AnyCall};
use guardcell::{Code, Error};
use serde_json::json;

/// The lists of calls, in the order of the documentation. A function: a `static` of lists would have
/// every call compiled again in this crate.
fn lists() -> [&'static [AnyCall]; 3] {
    [calls::ALL, guardcell_folder::calls::ALL, guardcell_conditions::calls::ALL]
}

/// Answers a request given as JSON with the response as JSON.
///
/// # Errors
/// [`Code::UnknownCall`]; else as [`AnyCall::run`].
///
/// ```
/// let file = r#"{"file": "rain.toml", "text": "ph = 6.1"}"#;
/// assert!(guardcell_wasm::call("read_water", file)?.contains("\"ph\":6.1"));
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn call(name: &str, json: &str) -> Result<String, Error> {
    text(calls::one_of(&lists(), name)?.run(json.as_bytes())?)
}

/// Answers a request given as JSON with a picture (SVG).
///
/// # Errors
/// [`Code::NotAcceptable`] for an answer that cannot be drawn; else as [`call()`].
///
/// ```
/// let request = guardcell::calls::find("day_ribbon").unwrap().example();
/// assert!(guardcell_wasm::draw("day_ribbon", request)?.starts_with("<svg"));
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn draw(name: &str, json: &str) -> Result<String, Error> {
    let call = calls::one_of(&lists(), name)?;
    let picture = call.draw(json.as_bytes()).ok_or_else(|| {
        let detail = format!("the answer of {name} cannot be drawn");
        Error::new(Code::NotAcceptable, detail, "ask for its data")
    })?;
    text(picture?.run()?)
}

/// Every call as JSON: `name`, `path` (behind `/v1/` of a server), `summary`, an `example` of a
/// request as text, and whether its answer can be drawn.
///
/// ```
/// assert!(guardcell_wasm::calls().contains("\"name\":\"read_site\""));
/// ```
#[must_use]
pub fn calls() -> String {
    let all = lists().into_iter().flatten().map(|call| {
        json!({
            "name": call.name(),
            "path": call.path(),
            "summary": call.summary(),
            "example": call.example(),
            "can_draw": call.can_draw(),
        })
    });
    serde_json::Value::Array(all.collect()).to_string()
}

fn text(answer: Vec<u8>) -> Result<String, Error> {
    String::from_utf8(answer).map_err(|e| Error::internal("the answer is not UTF-8").caused_by(e))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_call_answers_its_example() {
        for call in lists().into_iter().flatten() {
            let answer = super::call(call.name(), call.example());
            let answer = answer.unwrap_or_else(|e| panic!("{}: {e}", call.name()));
            assert!(answer.starts_with('{'), "{}", call.name());
            assert_eq!(draw(call.name(), call.example()).is_ok(), call.can_draw());
        }
    }

    #[test]
    fn no_two_calls_share_a_name_or_a_path() {
        let all: Vec<&AnyCall> = lists().into_iter().flatten().collect();
        let names: BTreeSet<&str> = all.iter().map(|c| c.name()).collect();
        let paths: BTreeSet<&str> = all.iter().map(|c| c.path()).collect();
        assert_eq!((names.len(), paths.len()), (all.len(), all.len()));
    }

    #[test]
    fn a_refusal_is_data_with_its_place() {
        let file = r#"{"file": "mine.csv", "text": "id,name\n1,Vanda\n"}"#;
        let error = serde_json::to_value(call("read_collection", file).unwrap_err()).unwrap();
        assert_eq!(error["code"], "malformed-file");
        assert_eq!(error["place"]["file"], "mine.csv");
        let error = call("weather", "{}").unwrap_err();
        assert!(error.hint().contains("advise") && error.hint().contains("read_logger"));
        assert_eq!(draw("air", "{}").unwrap_err().code(), Code::NotAcceptable);
    }
}

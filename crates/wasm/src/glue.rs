//! What JavaScript sees.
#![allow(unreachable_pub, reason = "the exports are for JavaScript, not for Rust")]

use guardcell::{Code, Error};
use wasm_bindgen::prelude::*;

/// Answers a request given as JSON with the response as JSON. Throws what is wrong as an object with
/// `code`, `pointer`, `detail`, `hint` and `place`.
///
/// # Errors
/// As the function of the same name of the crate.
#[wasm_bindgen]
pub fn call(
    #[wasm_bindgen(unchecked_param_type = "string")] name: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "string")] json: &JsValue,
) -> Result<String, JsValue> {
    both(name, json).and_then(|(name, json)| crate::call(&name, &json)).map_err(|e| thrown(&e))
}

/// Answers a request given as JSON with a picture (SVG). Throws as `call`.
///
/// # Errors
/// As the function of the same name of the crate.
#[wasm_bindgen]
pub fn draw(
    #[wasm_bindgen(unchecked_param_type = "string")] name: &JsValue,
    #[wasm_bindgen(unchecked_param_type = "string")] json: &JsValue,
) -> Result<String, JsValue> {
    both(name, json).and_then(|(name, json)| crate::draw(&name, &json)).map_err(|e| thrown(&e))
}

/// Every call as JSON.
#[wasm_bindgen]
#[must_use]
pub fn calls() -> String {
    crate::calls()
}

/// The two texts; the glue would read memory that is not the text of anything else.
fn both(name: &JsValue, json: &JsValue) -> Result<(String, String), Error> {
    name.as_string().zip(json.as_string()).ok_or_else(|| {
        Error::new(
            Code::WrongForm,
            "name and request must be texts",
            "send JSON.stringify(request)",
        )
    })
}

/// The error as an object.
fn thrown(error: &Error) -> JsValue {
    let json = serde_json::to_string(error).unwrap_or_default();
    js_sys::JSON::parse(&json).unwrap_or_else(|_| JsValue::from_str(&json))
}

/// Writes the words of a panic to the console before the module traps.
#[wasm_bindgen(start)]
pub fn start() {
    #[wasm_bindgen]
    extern "C" {
        #[wasm_bindgen(js_namespace = console, js_name = error)]
        fn console_error(words: &str);
    }
    std::panic::set_hook(Box::new(|info| console_error(&info.to_string())));
}

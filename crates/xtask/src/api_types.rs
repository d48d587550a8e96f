//! Where the description of the API has the types of a call.

use serde_json::Value;

pub(super) const COMPONENTS: &str = "#/components/schemas/";

/// The request and the answer of a call, as the API names them.
pub(super) fn types<'v>(api: &'v Value, path: &str) -> Option<(&'v str, &'v str)> {
    let post = &api["paths"][format!("/v1/{path}")]["post"];
    let name = |body: &'v Value| {
        body["content"]["application/json"]["schema"]["$ref"].as_str()?.strip_prefix(COMPONENTS)
    };
    Some((name(&post["requestBody"])?, name(&post["responses"]["200"])?))
}

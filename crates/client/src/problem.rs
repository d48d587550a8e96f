//! Problem details (RFC 9457) as a server sends them.

use serde::{Deserialize, Serialize};

/// Why a server refused a request: what was wrong, where, and what would be right.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Problem {
    /// The kind of problem, a URN that ends in its code.
    #[serde(rename = "type")]
    pub kind: String,
    /// The kind in words.
    pub title: String,
    /// The HTTP status.
    pub status: u16,
    /// What was wrong and what would be right, in one sentence.
    pub detail: String,
    /// This occurrence: the request it belongs to.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instance: Option<String>,
    /// JSON Pointer (RFC 6901) to the fault in the request; empty for the request as a whole.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pointer: Option<String>,
    /// The name of the field or parameter at fault.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub field: Option<String>,
    /// What was wrong.
    pub wrong: String,
    /// What would be right.
    pub right: String,
    /// The message of the library, word for word; none where the request did not get that far.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub message: Option<String>,
}

impl Problem {
    /// The code at the end of the kind, such as `impossible`.
    ///
    /// ```
    /// let problem: guardcell_client::Problem = serde_json::from_str(
    ///     r#"{"type": "urn:guardcell:problem:busy", "title": "Too much is in work", "status": 503,
    ///         "detail": "256 requests are in work; ask again after the time in Retry-After",
    ///         "wrong": "256 requests are in work",
    ///         "right": "ask again after the time in Retry-After"}"#,
    /// )?;
    /// assert_eq!(problem.code(), "busy");
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    #[must_use]
    pub fn code(&self) -> &str {
        self.kind.rsplit(':').next().unwrap_or_default()
    }
}

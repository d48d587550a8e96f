//! Problem details (RFC 9457): what was wrong, where, and what would be right.

use axum::body::Body;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::{Deserialize, Serialize};

/// What a request is refused for. The type on the wire is `urn:guardcell:problem:<code>`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Kind {
    /// The body is not JSON.
    MalformedJson,
    /// The JSON is nested too deeply.
    TooDeep,
    /// The JSON has not the form of the schema.
    WrongForm,
    /// A value cannot be, or what is asked cannot be reached.
    Impossible,
    /// The media type of the body is not one this route reads.
    MediaType,
    /// The body is too large.
    TooLarge,
    /// The body did not arrive in time.
    SlowBody,
    /// The request is for another host.
    OtherHost,
    /// There is nothing at this path.
    NotFound,
    /// The path has no such method.
    Method,
    /// Too much is in work.
    Busy,
    /// The calculation took too long.
    TookTooLong,
    /// A fault of the server.
    Internal,
}

impl Kind {
    /// Every kind.
    pub const ALL: [Self; 13] = [
        Self::MalformedJson,
        Self::TooDeep,
        Self::WrongForm,
        Self::Impossible,
        Self::MediaType,
        Self::TooLarge,
        Self::SlowBody,
        Self::OtherHost,
        Self::NotFound,
        Self::Method,
        Self::Busy,
        Self::TookTooLong,
        Self::Internal,
    ];

    /// The code, the status and the title.
    #[must_use]
    pub const fn parts(self) -> (&'static str, StatusCode, &'static str) {
        match self {
            Self::MalformedJson => {
                ("malformed-json", StatusCode::BAD_REQUEST, "The body is not JSON")
            }
            Self::TooDeep => ("too-deep", StatusCode::BAD_REQUEST, "The JSON is nested too deeply"),
            Self::WrongForm => (
                "wrong-form",
                StatusCode::UNPROCESSABLE_ENTITY,
                "The request has not the form of its schema",
            ),
            Self::Impossible => (
                "impossible",
                StatusCode::UNPROCESSABLE_ENTITY,
                "A value cannot be, or what is asked cannot be reached",
            ),
            Self::MediaType => (
                "media-type",
                StatusCode::UNSUPPORTED_MEDIA_TYPE,
                "The body has a media type that is not read here",
            ),
            Self::TooLarge => ("too-large", StatusCode::PAYLOAD_TOO_LARGE, "The body is too large"),
            Self::SlowBody => {
                ("slow-body", StatusCode::REQUEST_TIMEOUT, "The body did not arrive in time")
            }
            Self::OtherHost => {
                ("other-host", StatusCode::MISDIRECTED_REQUEST, "The request is for another host")
            }
            Self::NotFound => ("not-found", StatusCode::NOT_FOUND, "There is nothing here"),
            Self::Method => {
                ("method", StatusCode::METHOD_NOT_ALLOWED, "This path has no such method")
            }
            Self::Busy => ("busy", StatusCode::SERVICE_UNAVAILABLE, "Too much is in work"),
            Self::TookTooLong => {
                ("took-too-long", StatusCode::SERVICE_UNAVAILABLE, "The calculation took too long")
            }
            Self::Internal => {
                ("internal", StatusCode::INTERNAL_SERVER_ERROR, "A fault of the server")
            }
        }
    }
}

/// Problem details (RFC 9457) with the place of the fault.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Problem {
    /// The kind of problem, a URN.
    #[serde(rename = "type")]
    pub kind: String,
    /// The kind in words.
    pub title: String,
    /// The HTTP status.
    pub status: u16,
    /// What was wrong and what would be right, in one sentence.
    pub detail: String,
    /// This occurrence: the request it belongs to, a URN.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instance: Option<String>,
    /// JSON Pointer (RFC 6901) to the fault in the body; empty for the body as a whole.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pointer: Option<String>,
    /// The name of the field or parameter at fault.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub field: Option<String>,
    /// What was wrong.
    pub wrong: String,
    /// What would be right.
    pub right: String,
    /// The message of the library, word for word, where it was the library that refused.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub message: Option<String>,
}

impl Problem {
    /// A problem without a place in the body.
    #[must_use]
    pub fn new(kind: Kind, wrong: impl Into<String>, right: impl Into<String>) -> Self {
        let (code, status, title) = kind.parts();
        let (wrong, right) = (wrong.into(), right.into());
        Self {
            kind: format!("urn:guardcell:problem:{code}"),
            title: title.to_owned(),
            status: status.as_u16(),
            detail: format!("{wrong}; {right}"),
            instance: None,
            pointer: None,
            field: None,
            wrong,
            right,
            message: None,
        }
    }

    /// The same with the message of the library.
    #[must_use]
    pub fn saying(mut self, message: String) -> Self {
        self.message = Some(message);
        self
    }

    /// The same at a JSON Pointer.
    #[must_use]
    pub fn at(mut self, pointer: impl Into<String>) -> Self {
        let pointer = pointer.into();
        self.field = pointer
            .rsplit('/')
            .find(|part| !part.is_empty() && !part.bytes().all(|b| b.is_ascii_digit()))
            .map(|part| part.replace("~1", "/").replace("~0", "~"));
        if !pointer.is_empty() {
            self.detail = format!("{pointer}: {}; {}", self.wrong, self.right);
        }
        self.pointer = Some(pointer);
        self
    }

    /// The same at a parameter of the path or query.
    #[must_use]
    pub fn of_parameter(mut self, name: &str) -> Self {
        self.detail = format!("{name}: {}; {}", self.wrong, self.right);
        self.field = Some(name.to_owned());
        self
    }

    fn status(&self) -> StatusCode {
        StatusCode::from_u16(self.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR)
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        // Plain strings and numbers always serialise.
        let body = serde_json::to_vec(&self).unwrap_or_default();
        let mut response = Response::new(Body::from(body));
        *response.status_mut() = self.status();
        let headers = response.headers_mut();
        headers.insert(header::CONTENT_TYPE, HeaderValue::from_static("application/problem+json"));
        headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
        if self.status == StatusCode::SERVICE_UNAVAILABLE.as_u16() {
            headers.insert(header::RETRY_AFTER, HeaderValue::from_static("2"));
        }
        // The middleware adds the request it belongs to and writes it anew.
        response.extensions_mut().insert(self);
        response
    }
}

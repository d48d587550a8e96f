//! Refusals as problem details (RFC 9457).

use axum::body::Body;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use guardcell::{Code, Error, Place};
use serde::{Deserialize, Serialize};

/// The HTTP status of a kind of fault.
///
/// ```
/// use guardcell::Code;
/// assert_eq!(guardcell_server::status(Code::OutOfRange).as_u16(), 422);
/// ```
#[must_use]
pub const fn status(code: Code) -> StatusCode {
    match code {
        Code::MalformedJson | Code::TooDeep | Code::MalformedHttp => StatusCode::BAD_REQUEST,
        Code::NotFound | Code::UnknownCall => StatusCode::NOT_FOUND,
        Code::NotPaired => StatusCode::UNAUTHORIZED,
        Code::WrongCode | Code::OtherOrigin => StatusCode::FORBIDDEN,
        Code::TooOften => StatusCode::TOO_MANY_REQUESTS,
        Code::MethodNotAllowed => StatusCode::METHOD_NOT_ALLOWED,
        Code::NotAcceptable => StatusCode::NOT_ACCEPTABLE,
        Code::SlowBody => StatusCode::REQUEST_TIMEOUT,
        Code::TooLarge => StatusCode::PAYLOAD_TOO_LARGE,
        Code::UnsupportedMediaType => StatusCode::UNSUPPORTED_MEDIA_TYPE,
        Code::OtherHost => StatusCode::MISDIRECTED_REQUEST,
        Code::Busy | Code::Timeout => StatusCode::SERVICE_UNAVAILABLE,
        Code::Network | Code::Remote => StatusCode::BAD_GATEWAY,
        Code::Internal | Code::Io | Code::Storage => StatusCode::INTERNAL_SERVER_ERROR,
        _ => StatusCode::UNPROCESSABLE_ENTITY,
    }
}

/// The body of a refusal (RFC 9457): the fields of [`Error`] and what HTTP adds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Problem {
    /// The kind of problem: a relative reference to its documentation on this server.
    #[serde(rename = "type")]
    pub kind: String,
    /// The kind in words.
    pub title: String,
    /// The HTTP status.
    pub status: u16,
    /// What is wrong.
    pub detail: String,
    /// The request that was refused, a relative reference that ends in its X-Request-Id.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instance: Option<String>,
    /// The kind for programs.
    pub code: Code,
    /// JSON Pointer (RFC 6901) to the fault in the request; empty for the request as a whole.
    pub pointer: String,
    /// What would be right.
    pub hint: String,
    /// The name of the field at fault.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub field: Option<String>,
    /// Line and column in the body, for text that is not JSON.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<Place>,
}

impl Problem {
    /// The problem that an error is.
    ///
    /// ```
    /// use guardcell::{Code, Error};
    /// use guardcell_server::Problem;
    /// let error = Error::new(Code::OutOfRange, "140 % is out of range", "give 0 to 100 %")
    ///     .at("/rh_percent");
    /// let problem = Problem::of(&error);
    /// assert_eq!((problem.kind.as_str(), problem.status), ("/problems#out-of-range", 422));
    /// assert_eq!(problem.field.as_deref(), Some("rh_percent"));
    /// ```
    #[must_use]
    pub fn of(error: &Error) -> Self {
        let code = error.code();
        Self {
            kind: format!("/problems#{code}"),
            title: code.title().to_owned(),
            status: status(code).as_u16(),
            detail: error.detail().to_owned(),
            instance: None,
            code,
            pointer: error.pointer().to_owned(),
            hint: error.hint().to_owned(),
            field: error.field(),
            place: error.place().cloned(),
        }
    }

    /// The same for the request with this id.
    #[must_use]
    pub fn of_request(mut self, id: &str) -> Self {
        self.instance = Some(format!("/requests/{id}"));
        self
    }
}

/// A refusal on its way out: the middleware that knows the id of the request writes its body.
#[derive(Debug, Clone)]
pub(crate) struct Refusal(pub(crate) Error);

impl From<Error> for Refusal {
    fn from(error: Error) -> Self {
        Self(error)
    }
}

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        let mut response = Response::new(Body::empty());
        *response.status_mut() = status(self.0.code());
        response.extensions_mut().insert(self);
        response
    }
}

/// Writes the body of a refusal, if the response is one.
pub(crate) fn written(response: &mut Response, id: &str) {
    let Some(Refusal(error)) = response.extensions_mut().remove() else { return };
    let problem = Problem::of(&error).of_request(id);
    // Plain strings and numbers always serialise.
    *response.body_mut() = Body::from(serde_json::to_vec(&problem).unwrap_or_default());
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static("application/problem+json"));
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    // Axum has seen the empty body.
    headers.remove(header::CONTENT_LENGTH);
    if status(error.code()) == StatusCode::SERVICE_UNAVAILABLE {
        headers.insert(header::RETRY_AFTER, HeaderValue::from_static("2"));
    }
    if status(error.code()) == StatusCode::UNAUTHORIZED {
        headers.insert(header::WWW_AUTHENTICATE, HeaderValue::from_static("Bearer"));
    }
}

//! Pages of listed origins that may ask for calculations (CORS). Nothing of a journal, a folder or
//! pairing is among them: these have a list of their own.

use crate::origin::{allow, allow_sending};
use crate::state::Shared;
use crate::stream;
use axum::body::Body;
use axum::extract::State;
use axum::http::{HeaderMap, HeaderValue, Method, Request, Response, StatusCode, header};
use axum::middleware::Next;
use std::sync::Arc;

/// Lets pages of listed origins send what a calculation takes, and read its answer. Answers to all
/// others are as they were.
pub(crate) async fn calculations(
    State(shared): State<Arc<Shared>>,
    request: Request<Body>,
    next: Next,
) -> Response<Body> {
    let config = &shared.config;
    let listed = listed(request.headers(), &config.calculation_origins);
    let (Some(origin), Some(method)) = (listed, method(&shared, request.uri().path())) else {
        return next.run(request).await;
    };
    let asks = request.headers().contains_key(header::ACCESS_CONTROL_REQUEST_METHOD);
    if request.method() == Method::OPTIONS && asks {
        let mut response = Response::new(Body::empty());
        *response.status_mut() = StatusCode::NO_CONTENT;
        let headers = response.headers_mut();
        allow(headers, origin);
        allow_sending(headers, &[method]);
        // A calculation needs no token, and a page of another origin sends none.
        headers.insert(
            header::ACCESS_CONTROL_ALLOW_HEADERS,
            HeaderValue::from_static("content-type, accept, if-none-match"),
        );
        return response;
    }
    let mut response = next.run(request).await;
    allow(response.headers_mut(), origin);
    response
}

/// The origin of a request, if it has one and it is listed.
fn listed(headers: &HeaderMap, listed: &[String]) -> Option<HeaderValue> {
    let mut given = headers.get_all(header::ORIGIN).iter();
    let origin = given.next().filter(|_| given.next().is_none())?;
    let text = origin.to_str().ok()?;
    let same = |one: &String| one.trim_end_matches('/').eq_ignore_ascii_case(text);
    listed.iter().any(same).then(|| origin.clone())
}

/// The method of a path that calculates or looks up, and stores nothing.
fn method(shared: &Shared, path: &str) -> Option<Method> {
    let below = path.strip_prefix("/v1/")?;
    let asked = stream::without(below).unwrap_or(below);
    if shared.config.calls.iter().any(|call| call.path() == asked) {
        return Some(Method::POST);
    }
    let looked_up = ["taxa/", "catalogue", "measurements"];
    looked_up.iter().any(|start| below.starts_with(start)).then_some(Method::GET)
}

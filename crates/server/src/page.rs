//! The page and its parts, compiled in; nothing is fetched from elsewhere.

use crate::cached::Cached;
use crate::engine::Engine;
use crate::page_files::{files, policy};
use crate::state::Shared;
use axum::Router;
use axum::body::Body;
use axum::http::{HeaderMap, HeaderValue, Response, header};
use axum::routing::get;
use std::sync::Arc;

/// The routes of the page.
pub(crate) fn routes(engine: Option<&Engine>) -> Router<Arc<Shared>> {
    let with_engine = engine.is_some();
    files(engine, false).into_iter().fold(Router::new(), |router, file| {
        let path =
            if file.name == "index.html" { "/".to_owned() } else { format!("/{}", file.name) };
        let part = Cached::new(file.body);
        router.route(
            &path,
            // Revalidated each time, so that the parts of two versions never mix.
            get(async move |headers: HeaderMap| {
                secured(part.response(&headers, file.media, "no-cache"), with_engine)
            }),
        )
    })
}

/// The response with the policy of the page.
pub(crate) fn secured(mut response: Response<Body>, engine: bool) -> Response<Body> {
    // Words of ASCII always make a header.
    let policy = HeaderValue::from_str(&format!("{}; frame-ancestors 'none'", policy(engine)))
        .unwrap_or(HeaderValue::from_static("default-src 'none'"));
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_SECURITY_POLICY, policy);
    headers.insert(header::REFERRER_POLICY, HeaderValue::from_static("no-referrer"));
    response
}

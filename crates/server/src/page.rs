//! The page and its parts, compiled in: nothing is fetched from elsewhere.

use crate::cached::cached;
use crate::state::Shared;
use axum::Router;
use axum::body::Body;
use axum::http::{HeaderMap, HeaderValue, Response, header};
use axum::routing::get;
use std::sync::Arc;

/// Only what this server itself sends may run or be loaded.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' \
     data:; connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; \
     form-action 'none'; frame-ancestors 'none'";

const PARTS: [(&str, &str, &str); 12] = [
    ("/", "text/html; charset=utf-8", include_str!("../page/index.html")),
    ("/page.css", "text/css; charset=utf-8", include_str!("../page/page.css")),
    ("/page.js", "text/javascript; charset=utf-8", include_str!("../page/page.js")),
    ("/ask.js", "text/javascript; charset=utf-8", include_str!("../page/ask.js")),
    ("/forms.js", "text/javascript; charset=utf-8", include_str!("../page/forms.js")),
    ("/keep.js", "text/javascript; charset=utf-8", include_str!("../page/keep.js")),
    ("/names.js", "text/javascript; charset=utf-8", include_str!("../page/names.js")),
    ("/ribbon.js", "text/javascript; charset=utf-8", include_str!("../page/ribbon.js")),
    ("/sheet.js", "text/javascript; charset=utf-8", include_str!("../page/sheet.js")),
    ("/worker.js", "text/javascript; charset=utf-8", include_str!("../page/worker.js")),
    ("/icon.svg", "image/svg+xml", include_str!("../page/icon.svg")),
    ("/example.json", "application/json", include_str!("../page/example.json")),
];

/// The routes of the page.
pub(crate) fn routes() -> Router<Arc<Shared>> {
    PARTS.into_iter().fold(Router::new(), |router, (path, media, text)| {
        router.route(path, get(async move |headers: HeaderMap| part(&headers, media, text)))
    })
}

fn part(headers: &HeaderMap, media: &'static str, text: &'static str) -> Response<Body> {
    // Asked for anew each time, so that the parts of two versions never mix.
    let mut response = cached(headers, text, media, "no-cache");
    response
        .headers_mut()
        .insert(header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(POLICY));
    response
}

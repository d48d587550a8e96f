//! The page and its parts, compiled in; nothing is fetched from elsewhere.

use crate::cached::Cached;
use crate::state::Shared;
use axum::Router;
use axum::body::Body;
use axum::http::{HeaderMap, HeaderValue, Response, header};
use axum::routing::get;
use std::sync::Arc;

/// Only what this server sends may run or be loaded.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; \
     connect-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; \
     frame-ancestors 'none'";

const SCRIPT: &str = "text/javascript; charset=utf-8";

const PARTS: [(&str, &str, &str); 22] = [
    ("/", "text/html; charset=utf-8", include_str!("../page/index.html")),
    ("/page.css", "text/css; charset=utf-8", include_str!("../page/page.css")),
    ("/print.css", "text/css; charset=utf-8", include_str!("../page/print.css")),
    ("/air.js", SCRIPT, include_str!("../page/air.js")),
    ("/ask.js", SCRIPT, include_str!("../page/ask.js")),
    ("/csv.js", SCRIPT, include_str!("../page/csv.js")),
    ("/feed.js", SCRIPT, include_str!("../page/feed.js")),
    ("/fields.js", SCRIPT, include_str!("../page/fields.js")),
    ("/keep.js", SCRIPT, include_str!("../page/keep.js")),
    ("/load.js", SCRIPT, include_str!("../page/load.js")),
    ("/make.js", SCRIPT, include_str!("../page/make.js")),
    ("/names.js", SCRIPT, include_str!("../page/names.js")),
    ("/page.js", SCRIPT, include_str!("../page/page.js")),
    ("/place.js", SCRIPT, include_str!("../page/place.js")),
    ("/plants.js", SCRIPT, include_str!("../page/plants.js")),
    ("/ribbon.js", SCRIPT, include_str!("../page/ribbon.js")),
    ("/sheet.js", SCRIPT, include_str!("../page/sheet.js")),
    ("/toml.js", SCRIPT, include_str!("../page/toml.js")),
    ("/views.js", SCRIPT, include_str!("../page/views.js")),
    ("/worker.js", SCRIPT, include_str!("../page/worker.js")),
    ("/icon.svg", "image/svg+xml", include_str!("../page/icon.svg")),
    ("/example.json", "application/json", include_str!("../page/example.json")),
];

/// The routes of the page.
pub(crate) fn routes() -> Router<Arc<Shared>> {
    PARTS.into_iter().fold(Router::new(), |router, (path, media, text)| {
        let part = Cached::new(text);
        router.route(
            path,
            // Revalidated each time, so that the parts of two versions never mix.
            get(async move |headers: HeaderMap| {
                secured(part.response(&headers, media, "no-cache"))
            }),
        )
    })
}

/// The response with the policy of the page.
pub(crate) fn secured(mut response: Response<Body>) -> Response<Body> {
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_SECURITY_POLICY, HeaderValue::from_static(POLICY));
    headers.insert(header::REFERRER_POLICY, HeaderValue::from_static("no-referrer"));
    response
}

//! Which path answers what.

use crate::body::json_bytes;
use crate::cached::Cached;
use crate::charts;
use crate::cors;
use crate::devices;
use crate::observe::observe;
use crate::problem::Refusal;
use crate::room::{Answer, Taken};
use crate::seat::client;
use crate::state::Shared;
use crate::{lookup, page, problem_page, stream};
use axum::Router;
use axum::body::Body;
use axum::extract::State;
use axum::http::{HeaderMap, HeaderValue, Request, Response, header};
use axum::middleware::from_fn_with_state;
use axum::response::IntoResponse;
use axum::routing::{MethodRouter, get, post};
use guardcell::calls::AnyCall;
use guardcell::{Code, Error};
use std::sync::atomic::Ordering;
use std::sync::{Arc, LazyLock};
use tower_http::CompressionLevel;
use tower_http::compression::CompressionLayer;
use tower_http::compression::predicate::{
    DefaultPredicate, NotForContentType, Predicate, SizeAbove,
};

/// The description of the API, made by `cargo xtask schemas`.
const OPENAPI: &str = include_str!("../../../schemas/openapi.json");

const JSON: &str = "application/json";

/// Every route of a server.
pub(crate) fn router(shared: Arc<Shared>) -> Router {
    // Responses that fit into one packet gain nothing.
    let worth_it = DefaultPredicate::new()
        .and(SizeAbove::new(1200))
        .and(NotForContentType::const_new(stream::MEDIA));
    let compression = CompressionLayer::new().quality(CompressionLevel::Fastest);
    let routes = Router::new()
        .route("/v1/taxa/{query}", get(lookup::taxon))
        .route("/v1/taxa/search", get(lookup::search))
        .route("/v1/catalogue", get(lookup::catalogue))
        .route("/v1/measurements", get(lookup::measurements))
        .route("/openapi.json", get(openapi))
        .route("/problems", get(problem_page::problems))
        .route("/healthz", get(healthz))
        .route("/readyz", get(readyz))
        .route("/metrics", get(metrics));
    let calls = &shared.config.calls;
    calls
        .iter()
        .fold(routes, |routes, call| {
            routes
                .route(&format!("/v1/{}", call.path()), answering(*call))
                .route(&stream::path(*call), stream::answering(*call))
        })
        .merge(page::routes(shared.config.engine.as_ref()))
        .merge(devices::routes(&shared))
        .fallback(no_such_path)
        .method_not_allowed_fallback(no_such_method)
        .layer(compression.compress_when(worth_it))
        .layer(from_fn_with_state(Arc::clone(&shared), cors::calculations))
        .layer(from_fn_with_state(Arc::clone(&shared), observe))
        .with_state(shared)
}

/// The route that answers a `POST` by a call.
fn answering(call: AnyCall) -> MethodRouter<Arc<Shared>> {
    post(move |State(shared): State<Arc<Shared>>, request: Request<Body>| async move {
        let picture = call.can_draw() && charts::prefers_picture(request.headers());
        let client = client(request.extensions());
        let (body, taken) = json_bytes(&shared, request).await?;
        let (media, size) = (if picture { charts::SVG } else { JSON }, body.len());
        let prepare = move || {
            let _ = &taken; // held as long as the body
            let drawn = if picture { call.draw(&body) } else { None };
            drawn.unwrap_or_else(|| call.prepare(&body))
        };
        let answer = shared.calculate(client, size, prepare).await?;
        let mut taken = Taken::default();
        shared.answers.grow(&mut taken, answer.len())?;
        let answer = Answer::new(answer.into(), taken, shared.config.answer_time);
        let mut response = Response::new(Body::new(answer));
        let headers = response.headers_mut();
        headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(media));
        headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
        if call.can_draw() {
            headers.insert(header::VARY, HeaderValue::from_static("accept"));
        }
        Ok::<_, Refusal>(response)
    })
}

async fn openapi(headers: HeaderMap) -> Response<Body> {
    static DOCUMENT: LazyLock<Cached> = LazyLock::new(|| Cached::new(OPENAPI));
    DOCUMENT.response(&headers, JSON, "public, max-age=3600")
}

async fn healthz() -> &'static str {
    "ok\n"
}

async fn readyz(State(shared): State<Arc<Shared>>) -> Result<&'static str, Refusal> {
    if shared.ready.load(Ordering::Relaxed) {
        Ok("ready\n")
    } else {
        Err(Refusal(Error::new(Code::Busy, "the server is stopping", "ask another server")))
    }
}

async fn metrics(State(shared): State<Arc<Shared>>) -> impl IntoResponse {
    let media = "application/openmetrics-text; version=1.0.0; charset=utf-8";
    ([(header::CONTENT_TYPE, media)], shared.metrics.text())
}

async fn no_such_path() -> Refusal {
    Refusal(Error::new(Code::NotFound, "no such path", "see the paths in /openapi.json"))
}

async fn no_such_method() -> Refusal {
    Refusal(Error::new(
        Code::MethodNotAllowed,
        "this path has no such method",
        "use a method of the header Allow",
    ))
}

//! Which path answers what.

use crate::body::{json_bytes, parse};
use crate::cached::cached;
use crate::fault::Fault;
use crate::observe::{STREAM, observe};
use crate::problem::{Kind, Problem};
use crate::state::Shared;
use crate::{charts, page, stream, taxa};
use axum::Router;
use axum::body::Body;
use axum::extract::State;
use axum::http::{HeaderMap, HeaderValue, Request, Response, header};
use axum::middleware::from_fn_with_state;
use axum::response::IntoResponse;
use axum::routing::{MethodRouter, get, post};
use guardcell::{advice, clock, film, reference, solution, units};
use serde::Serialize;
use serde::de::DeserializeOwned;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use tower_http::CompressionLevel;
use tower_http::compression::CompressionLayer;
use tower_http::compression::predicate::{
    DefaultPredicate, NotForContentType, Predicate, SizeAbove,
};

/// The description of the API, made by `cargo xtask schemas`.
const OPENAPI: &str = include_str!("../../../schemas/openapi.json");

/// Every route of a server, once for callers who take compressed answers and once for those who do
/// not: an answer that could be compressed is several kilobytes larger on its way through.
#[derive(Clone)]
pub(crate) struct Routers {
    packed: Router,
    plain: Router,
}

impl Routers {
    pub(crate) fn new(shared: &Arc<Shared>) -> Self {
        Self { packed: router(Arc::clone(shared), true), plain: router(Arc::clone(shared), false) }
    }

    /// The one for these headers of a request.
    pub(crate) fn of(&self, headers: &HeaderMap) -> &Router {
        if headers.contains_key(header::ACCEPT_ENCODING) { &self.packed } else { &self.plain }
    }
}

fn router(shared: Arc<Shared>, packed: bool) -> Router {
    // What fits into one packet gains nothing.
    let compressed = DefaultPredicate::new()
        .and(SizeAbove::new(1200))
        .and(NotForContentType::const_new("application/x-ndjson"));
    let routes = Router::new()
        .route("/v1/conversions", answering(units::convert::convert))
        .route("/v1/recipes", answering(solution::recipe))
        .route("/v1/waters", answering(solution::water))
        .route("/v1/solutions", answering(solution::analyse))
        .route("/v1/meters", answering(solution::meter))
        .route("/v1/acids", answering(solution::acid))
        .route("/v1/tanks", answering(solution::tank))
        .route("/v1/air", answering(film::air))
        .route("/v1/films", answering(film::film))
        .route("/v1/days", answering(clock::report))
        .route("/v1/advice", answering(advice::advise))
        .route(STREAM, post(stream::advice))
        .route("/v1/rounds", answering(advice::round))
        .route("/v1/rescues", answering(advice::rescue))
        .route("/v1/charts/strength", charts::strength())
        .route("/v1/charts/day", charts::day())
        .route("/v1/taxa", get(taxa::many).merge(answering(reference::report)))
        .route(taxa::ONE, get(taxa::one))
        .route("/v1/catalogue", get(taxa::all))
        .route("/v1/measurements", get(taxa::measurements))
        .route("/openapi.json", get(openapi))
        .route("/healthz", get(healthz))
        .route("/readyz", get(readyz))
        .route("/metrics", get(metrics))
        .merge(page::routes())
        .fallback(nothing)
        .method_not_allowed_fallback(no_such_method);
    let routes = if packed {
        let layer = CompressionLayer::new().quality(CompressionLevel::Fastest);
        routes.layer(layer.compress_when(compressed))
    } else {
        routes
    };
    routes.layer(from_fn_with_state(Arc::clone(&shared), observe)).with_state(shared)
}

/// A route that answers a `POST` by one function of the library.
fn answering<Q, A, E>(answer: fn(&Q) -> Result<A, E>) -> MethodRouter<Arc<Shared>>
where
    Q: DeserializeOwned + Serialize + 'static,
    A: Serialize + 'static,
    E: Fault + 'static,
{
    post(move |State(shared): State<Arc<Shared>>, request: Request<Body>| async move {
        let bytes = json_bytes(&shared, request).await?;
        let depth = shared.config.json_depth;
        let body = shared
            .calculate(move || {
                let request: Q = parse(&bytes, depth)?;
                to_json(&answer(&request).map_err(Fault::refused)?)
            })
            .await??;
        Ok::<_, Problem>((
            [
                (header::CONTENT_TYPE, HeaderValue::from_static("application/json")),
                (header::CACHE_CONTROL, HeaderValue::from_static("no-store")),
            ],
            body,
        ))
    })
}

/// An answer as JSON.
pub(crate) fn to_json(answer: &impl Serialize) -> Result<Vec<u8>, Problem> {
    serde_json::to_vec(answer)
        .map_err(|e| Problem::new(Kind::Internal, e.to_string(), "report this request"))
}

async fn openapi(headers: HeaderMap) -> Response<Body> {
    cached(&headers, OPENAPI, "application/json", "public, max-age=3600")
}

async fn healthz() -> &'static str {
    "ok\n"
}

async fn readyz(State(shared): State<Arc<Shared>>) -> Result<&'static str, Problem> {
    if shared.ready.load(Ordering::Relaxed) {
        Ok("ready\n")
    } else {
        Err(Problem::new(Kind::Busy, "the server is stopping", "ask another"))
    }
}

async fn metrics(State(shared): State<Arc<Shared>>) -> impl IntoResponse {
    let media = "application/openmetrics-text; version=1.0.0; charset=utf-8";
    ([(header::CONTENT_TYPE, media)], shared.metrics.text())
}

async fn nothing() -> Problem {
    Problem::new(Kind::NotFound, "no such path", "see the paths in /openapi.json")
}

async fn no_such_method() -> Problem {
    Problem::new(Kind::Method, "this path has no such method", "see the header Allow")
}

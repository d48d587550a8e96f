//! Around every request: its id, its place among those in work, its log line and its metrics.

use crate::problem::{Kind, Problem};
use crate::state::Shared;
use crate::taxa::{ONE, told};
use axum::body::Body;
use axum::extract::{MatchedPath, State};
use axum::http::{HeaderName, HeaderValue, Method, Request, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::hash::{BuildHasher, RandomState};
use std::net::IpAddr;
use std::sync::Arc;
use std::sync::LazyLock;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;
use tokio::sync::OwnedSemaphorePermit;

const REQUEST_ID: HeaderName = HeaderName::from_static("x-request-id");
/// Says whether caller and server answer alike.
const VERSION: HeaderName = HeaderName::from_static("guardcell-version");

/// The place of a request among those in work; a stream keeps it until its last line.
#[derive(Clone)]
pub(crate) struct InWork(#[expect(dead_code, reason = "held for its drop")] Arc<Option<Seat>>);

/// The route whose answer goes on after its head.
pub(crate) const STREAM: &str = "/v1/advice/stream";

struct Seat {
    shared: Arc<Shared>,
    _permit: OwnedSemaphorePermit,
}

impl Drop for Seat {
    fn drop(&mut self) {
        self.shared.metrics.in_flight.dec();
    }
}

/// Everything that is done around a request.
pub(crate) async fn observe(
    State(shared): State<Arc<Shared>>,
    mut request: Request<Body>,
    next: Next,
) -> Response {
    let seen = Seen::new(&request);
    let route = request.extensions().get::<MatchedPath>().cloned();
    let route = route.as_ref().map_or("none", MatchedPath::as_str);
    let response = match admit(&shared, route, &request) {
        Ok(place) if route == STREAM => {
            // Its answer goes on after the head is there.
            request.extensions_mut().insert(InWork(Arc::new(place)));
            next.run(request).await
        }
        Ok(_place) => next.run(request).await,
        Err(problem) => problem.into_response(),
    };
    seen.answered(&shared, route, response)
}

/// The answer to a look-up that was answered before and is not to be compressed: there is nothing
/// to wait for, so no route is looked for and nothing is set up to wait.
pub(crate) fn at_once<B>(shared: &Arc<Shared>, request: &Request<B>) -> Option<Response> {
    if request.method() != Method::GET || request.headers().contains_key(header::ACCEPT_ENCODING) {
        return None;
    }
    let told = told(shared, request)?;
    let seen = Seen::new(request);
    let response = match admit(shared, ONE, request) {
        Ok(_place) => told,
        Err(problem) => problem.into_response(),
    };
    Some(seen.answered(shared, ONE, response))
}

/// What is remembered of a request until it is answered.
struct Seen {
    started: Instant,
    id: HeaderValue,
    method: Method,
}

impl Seen {
    fn new<B>(request: &Request<B>) -> Self {
        Self { started: Instant::now(), id: request_id(request), method: request.method().clone() }
    }

    /// The answer with what every answer says, counted and logged.
    fn answered(self, shared: &Shared, route: &str, mut response: Response) -> Response {
        // It is made of plain letters, or was one of them in the request.
        let id = self.id.to_str().unwrap_or_default();
        if let Some(mut problem) = response.extensions_mut().remove::<Problem>() {
            problem.instance = Some(format!("urn:guardcell:request:{id}"));
            if let Some(allow) = response.headers().get(header::ALLOW).cloned() {
                response = problem.into_response();
                response.headers_mut().insert(header::ALLOW, allow);
            } else {
                response = problem.into_response();
            }
        }
        let headers = response.headers_mut();
        headers.insert(REQUEST_ID, self.id.clone());
        headers.insert(VERSION, HeaderValue::from_static(env!("CARGO_PKG_VERSION")));
        headers.insert(header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
        let (status, took) = (response.status().as_u16(), self.started.elapsed());
        shared.metrics.answered(route, &self.method, status, took);
        tracing::info!(
            id,
            method = self.method.as_str(),
            route,
            status,
            micros = u64::try_from(took.as_micros()).unwrap_or(u64::MAX),
            "answered"
        );
        response
    }
}

/// Lets a request in, or says why not.
fn admit<B>(
    shared: &Arc<Shared>,
    route: &str,
    request: &Request<B>,
) -> Result<Option<Seat>, Problem> {
    host(shared, request)?;
    // Whoever watches the server must get through when it is full.
    if matches!(route, "/healthz" | "/readyz" | "/metrics") {
        return Ok(None);
    }
    let Ok(permit) = Arc::clone(&shared.in_flight).try_acquire_owned() else {
        shared.metrics.turned_away.inc();
        return Err(Problem::new(
            Kind::Busy,
            format!("{} requests are in work", shared.config.in_flight),
            "ask again after the time in Retry-After",
        ));
    };
    shared.metrics.in_flight.inc();
    Ok(Some(Seat { shared: Arc::clone(shared), _permit: permit }))
}

/// A server on loopback answers under loopback names only, so that a page of another site cannot
/// reach it through a name of its own.
fn host<B>(shared: &Shared, request: &Request<B>) -> Result<(), Problem> {
    if !shared.config.bind.ip().is_loopback() {
        return Ok(());
    }
    let given = request
        .headers()
        .get(header::HOST)
        .and_then(|h| h.to_str().ok())
        .or_else(|| request.uri().authority().map(|a| a.as_str()))
        .unwrap_or_default();
    let name = match given.rsplit_once(':') {
        Some((name, port)) if port.bytes().all(|b| b.is_ascii_digit()) => name,
        _ => given,
    };
    let bare = name.trim_start_matches('[').trim_end_matches(']');
    let known = bare.eq_ignore_ascii_case("localhost")
        || bare.parse::<IpAddr>().is_ok_and(|ip| ip.is_loopback())
        || shared.config.hosts.iter().any(|h| h.eq_ignore_ascii_case(name));
    if known {
        return Ok(());
    }
    let shown: String = given.chars().take(80).collect();
    Err(Problem::new(
        Kind::OtherHost,
        format!("Host is {shown:?}"),
        "ask for localhost, or start the server with --host and this name",
    )
    .of_parameter("Host"))
}

/// The id a caller gave, if it is a plain word, or a new one.
fn request_id<B>(request: &Request<B>) -> HeaderValue {
    static START: LazyLock<u64> = LazyLock::new(|| RandomState::new().hash_one(0_u8));
    static NEXT: AtomicU64 = AtomicU64::new(0);
    let plain = |id: &&HeaderValue| {
        let id = id.as_bytes();
        (1..=64).contains(&id.len())
            && id.iter().all(|b| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'_'))
    };
    if let Some(given) = request.headers().get(REQUEST_ID).filter(plain) {
        return given.clone();
    }
    let new = format!("{:016x}-{:x}", *START, NEXT.fetch_add(1, Ordering::Relaxed));
    // Digits, letters and a hyphen always make a header.
    HeaderValue::try_from(new).unwrap_or(HeaderValue::from_static("none"))
}

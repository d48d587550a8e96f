//! Around every request: its id, the limit of requests in work, its log line and its metrics.

use crate::problem::{Refusal, written};
use crate::seat::{InWork, Seat, client};
use crate::state::Shared;
use crate::stream;
use axum::body::Body;
use axum::extract::{MatchedPath, State};
use axum::http::{HeaderName, HeaderValue, Request, Version, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use guardcell::{Code, Error, excerpt};
use std::hash::{BuildHasher, RandomState};
use std::net::IpAddr;
use std::sync::Arc;
use std::sync::LazyLock;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;

const REQUEST_ID: HeaderName = HeaderName::from_static("x-request-id");
/// With it a caller knows whether client and server give the same answers.
const VERSION: HeaderName = HeaderName::from_static("guardcell-version");

/// Everything that is done around a request.
pub(crate) async fn observe(
    State(shared): State<Arc<Shared>>,
    mut request: Request<Body>,
    next: Next,
) -> Response {
    let started = Instant::now();
    let id = request_id(&request);
    let method = request.method().clone();
    let route = request.extensions().get::<MatchedPath>().cloned();
    let route = route.as_ref().map_or("none", MatchedPath::as_str);
    let mut response = match admit(&shared, route, &request) {
        Ok(seat) if stream::without(route).is_some() => {
            // Its answer goes on after the head is sent.
            request.extensions_mut().insert(InWork(Arc::new(seat)));
            next.run(request).await
        }
        Ok(_seat) => next.run(request).await,
        Err(error) => Refusal(error).into_response(),
    };
    // Made of plain letters, or checked to be.
    let text = id.to_str().unwrap_or_default();
    written(&mut response, text);
    let headers = response.headers_mut();
    headers.insert(REQUEST_ID, id.clone());
    headers.insert(VERSION, HeaderValue::from_static(env!("CARGO_PKG_VERSION")));
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    let (status, took) = (response.status().as_u16(), started.elapsed());
    shared.metrics.answered(route, &method, status, took);
    tracing::info!(
        id = text,
        method = method.as_str(),
        route,
        status,
        micros = u64::try_from(took.as_micros()).unwrap_or(u64::MAX),
        "answered"
    );
    response
}

/// Admits a request, or refuses it.
fn admit<B>(
    shared: &Arc<Shared>,
    route: &str,
    request: &Request<B>,
) -> Result<Option<Seat>, Error> {
    check_host(shared, request)?;
    // Monitoring must get through when the server is full.
    if matches!(route, "/healthz" | "/readyz" | "/metrics") {
        return Ok(None);
    }
    Seat::take(shared, client(request.extensions()), stream::without(route).is_some()).map(Some)
}

/// A server on loopback answers only under loopback names, so that a page of another site cannot
/// reach it through a name of its own (DNS rebinding).
fn check_host<B>(shared: &Shared, request: &Request<B>) -> Result<(), Error> {
    let hosts = request.headers().get_all(header::HOST).iter().count();
    if hosts > 1 || (hosts == 0 && request.version() == Version::HTTP_11) {
        return Err(Error::new(
            Code::MalformedHttp,
            format!(
                "the request has {} Host",
                if hosts > 1 { "more than one header" } else { "no header" }
            ),
            "send one header Host (RFC 9112, section 3.2)",
        ));
    }
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
    Err(Error::new(
        Code::OtherHost,
        format!("Host is {:?}", excerpt(given, 80)),
        "ask for localhost, or start the server with --host and this name",
    ))
}

/// The id that the caller gave, if it is a plain word, or a new one.
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

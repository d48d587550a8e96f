//! Reading a request body: media type, size, time.

use crate::room::Taken;
use crate::state::Shared;
use axum::body::{Body, HttpBody as _};
use axum::http::{HeaderMap, Request, header};
use bytes::{Bytes, BytesMut};
use guardcell::{Code, Error, excerpt};
use http_body_util::BodyExt;
use tokio::time::timeout;

/// The whole body of a request with JSON.
pub(crate) async fn json_bytes(
    shared: &Shared,
    request: Request<Body>,
) -> Result<(Bytes, Taken), Error> {
    expect_media(request.headers(), &["application/json"])?;
    let limit = shared.config.body_bytes;
    if content_length(request.headers()).is_some_and(|n| n > limit as u64) {
        return Err(too_large(limit));
    }
    let body = gathered(shared, request.into_body());
    timeout(shared.config.body_time, body).await.unwrap_or_else(|_| Err(slow(shared)))
}

/// Gathers a body as it arrives; only what has arrived takes room.
async fn gathered(shared: &Shared, mut body: Body) -> Result<(Bytes, Taken), Error> {
    let (mut all, mut taken) = (BytesMut::new(), Taken::default());
    while let Some(frame) = body.frame().await {
        let Ok(data) = frame.map_err(|_| broken_off())?.into_data() else { continue };
        let limit = shared.config.body_bytes;
        if all.len() + data.len() > limit {
            return Err(too_large(limit));
        }
        shared.bodies.grow(&mut taken, all.len() + data.len())?;
        if all.is_empty() && body.is_end_stream() {
            return Ok((data, taken));
        }
        all.extend_from_slice(&data);
    }
    Ok((all.freeze(), taken))
}

pub(crate) fn broken_off() -> Error {
    Error::new(Code::MalformedJson, "the body broke off", "send the whole body")
}

pub(crate) fn slow(shared: &Shared) -> Error {
    Error::new(
        Code::SlowBody,
        "the body did not arrive in time",
        format!("send it within {} s", shared.config.body_time.as_secs()),
    )
}

fn too_large(limit: usize) -> Error {
    Error::new(
        Code::TooLarge,
        format!("the body is larger than {limit} bytes"),
        "send fewer plants or readings at once, or many requests one a line to the path with /stream",
    )
}

fn content_length(headers: &HeaderMap) -> Option<u64> {
    headers.get(header::CONTENT_LENGTH)?.to_str().ok()?.parse().ok()
}

/// Refuses a body with another media type than these; the first is the usual one.
pub(crate) fn expect_media(headers: &HeaderMap, allowed: &[&str]) -> Result<(), Error> {
    let given = headers.get(header::CONTENT_TYPE).and_then(|v| v.to_str().ok()).unwrap_or_default();
    let mut parts = given.split(';').map(str::trim);
    let essence = parts.next().unwrap_or_default();
    let known = allowed.iter().any(|a| essence.eq_ignore_ascii_case(a));
    let utf8 = parts.all(|p| {
        p.split_once('=').is_none_or(|(name, value)| {
            !name.eq_ignore_ascii_case("charset")
                || value.trim_matches('"').eq_ignore_ascii_case("utf-8")
        })
    });
    if known && utf8 {
        return Ok(());
    }
    let detail = if given.is_empty() {
        "the request has no Content-Type".to_owned()
    } else {
        format!("Content-Type is {:?}", excerpt(given, 80))
    };
    let usual = allowed.first().copied().unwrap_or_default();
    Err(Error::new(Code::UnsupportedMediaType, detail, format!("send {usual} in UTF-8")))
}

//! Responses that stay the same: entity tags and how long they may be cached.

use axum::body::Body;
use axum::http::{HeaderMap, HeaderValue, Response, StatusCode, header};
use bytes::Bytes;

/// A body that stays the same while the program runs, with its entity tag.
#[derive(Clone)]
pub(crate) struct Cached {
    body: Bytes,
    tag: HeaderValue,
}

impl Cached {
    pub(crate) fn new(body: impl Into<Bytes>) -> Self {
        let body = body.into();
        let tag = format!("W/\"{:016x}\"", fnv(&body));
        // Digits and quotes always make a header.
        let tag = HeaderValue::from_str(&tag).unwrap_or(HeaderValue::from_static("W/\"0\""));
        Self { body, tag }
    }

    /// The body, or 304 if the caller has it already.
    pub(crate) fn response(
        &self,
        request: &HeaderMap,
        media: &'static str,
        cache_control: &'static str,
    ) -> Response<Body> {
        let known = request
            .get_all(header::IF_NONE_MATCH)
            .iter()
            .filter_map(|v| v.to_str().ok())
            .flat_map(|v| v.split(','))
            .any(|t| same(t.trim(), self.tag.to_str().unwrap_or_default()));
        let mut response = if known {
            let mut r = Response::new(Body::empty());
            *r.status_mut() = StatusCode::NOT_MODIFIED;
            r
        } else {
            Response::new(Body::from(self.body.clone()))
        };
        let headers = response.headers_mut();
        headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(media));
        headers.insert(header::CACHE_CONTROL, HeaderValue::from_static(cache_control));
        headers.insert(header::VARY, HeaderValue::from_static("accept-encoding"));
        headers.insert(header::ETAG, self.tag.clone());
        response
    }
}

/// Weak comparison (RFC 9110, section 8.8.3.2).
fn same(given: &str, tag: &str) -> bool {
    let bare = |t: &str| t.strip_prefix("W/").unwrap_or(t).to_owned();
    given == "*" || bare(given) == bare(tag)
}

/// FNV-1a, 64 bits, eight bytes at a time: enough to tell versions of one response apart.
pub(crate) fn fnv(bytes: &[u8]) -> u64 {
    let step = |h: u64, v: u64| (h ^ v).wrapping_mul(0x0100_0000_01b3).rotate_left(23);
    let (chunks, rest) = bytes.as_chunks::<8>();
    let h = chunks.iter().fold(0xcbf2_9ce4_8422_2325, |h, c| step(h, u64::from_le_bytes(*c)));
    rest.iter().fold(step(h, bytes.len() as u64), |h, &b| step(h, u64::from(b)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_known_tag_is_not_sent_again() {
        let send = |headers: &HeaderMap, body: &'static str| {
            Cached::new(body).response(headers, "text/plain", "no-cache")
        };
        let first = send(&HeaderMap::new(), "abc");
        let mut headers = HeaderMap::new();
        headers.insert(header::IF_NONE_MATCH, first.headers()[header::ETAG].clone());
        assert_eq!(send(&headers, "abc").status(), StatusCode::NOT_MODIFIED);
        assert_eq!(send(&headers, "abd").status(), StatusCode::OK);
        assert_eq!(send(&headers, "cba").status(), StatusCode::OK);
    }
}

//! Answers that stay the same: entity tags and how long they may be kept.

use axum::body::Body;
use axum::http::{HeaderMap, HeaderValue, Response, StatusCode, header};
use bytes::Bytes;
use std::collections::HashMap;
use std::sync::RwLock;

/// An answer that stays the same, with its entity tag.
#[derive(Clone)]
pub(crate) struct Kept {
    body: Bytes,
    tag: HeaderValue,
}

impl Kept {
    pub(crate) fn new(body: impl Into<Bytes>) -> Self {
        let body = body.into();
        let tag = format!("W/\"{:016x}\"", fnv(&body));
        // Digits and quotes always make a header.
        let tag = HeaderValue::from_str(&tag).unwrap_or(HeaderValue::from_static("W/\"0\""));
        Self { body, tag }
    }

    /// The answer, or 304 where the caller has it already.
    pub(crate) fn response(
        self,
        asked: &HeaderMap,
        media: &'static str,
        keep: &'static str,
    ) -> Response<Body> {
        let known = asked
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
            Response::new(Body::from(self.body))
        };
        let headers = response.headers_mut();
        // Room for those of the middleware too, so that the map does not grow in between.
        headers.reserve(16);
        headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(media));
        headers.insert(header::CACHE_CONTROL, HeaderValue::from_static(keep));
        headers.insert(header::VARY, HeaderValue::from_static("accept-encoding"));
        headers.insert(header::ETAG, self.tag);
        response
    }
}

/// An answer with its entity tag, or 304 where the caller has it already.
pub(crate) fn cached(
    asked: &HeaderMap,
    body: impl Into<Bytes>,
    media: &'static str,
    keep: &'static str,
) -> Response<Body> {
    Kept::new(body).response(asked, media, keep)
}

/// Answers already written out. What is asked most is asked again and again, and never changes
/// while the program runs.
#[derive(Default)]
pub(crate) struct Memory(RwLock<HashMap<String, Kept>>);

impl Memory {
    /// The most answers kept, of a few kilobytes each; then it starts afresh.
    const MOST: usize = 4096;

    pub(crate) fn get(&self, key: &str) -> Option<Kept> {
        self.0.read().ok()?.get(key).cloned()
    }

    pub(crate) fn put(&self, key: String, kept: Kept) {
        if let Ok(mut map) = self.0.write() {
            if map.len() >= Self::MOST {
                map.clear();
            }
            map.insert(key, kept);
        }
    }
}

/// Weak comparison (RFC 9110, section 8.8.3.2).
fn same(given: &str, tag: &str) -> bool {
    let bare = |t: &str| t.strip_prefix("W/").unwrap_or(t).to_owned();
    given == "*" || bare(given) == bare(tag)
}

/// FNV-1a, 64 bits, eight bytes at a time: it tells versions of one answer apart, no more.
fn fnv(bytes: &[u8]) -> u64 {
    let step = |h: u64, v: u64| (h ^ v).wrapping_mul(0x0100_0000_01b3).rotate_left(23);
    let (chunks, rest) = bytes.as_chunks::<8>();
    let h = chunks.iter().fold(0xcbf2_9ce4_8422_2325, |h, c| step(h, u64::from_le_bytes(*c)));
    rest.iter().fold(step(h, bytes.len() as u64), |h, &b| step(h, u64::from(b)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_memory_is_bounded() {
        let memory = Memory::default();
        for i in 0..3 * Memory::MOST {
            memory.put(i.to_string(), Kept::new("x"));
        }
        assert!(memory.0.read().unwrap().len() <= Memory::MOST);
        assert!(memory.get(&(3 * Memory::MOST - 1).to_string()).is_some());
    }

    #[test]
    fn a_known_tag_is_not_sent_again() {
        let first = cached(&HeaderMap::new(), "abc", "text/plain", "no-cache");
        let tag = first.headers()[header::ETAG].clone();
        let mut asked = HeaderMap::new();
        asked.insert(header::IF_NONE_MATCH, tag);
        let again = cached(&asked, "abc", "text/plain", "no-cache");
        assert_eq!(again.status(), StatusCode::NOT_MODIFIED);
        assert_eq!(cached(&asked, "abd", "text/plain", "no-cache").status(), StatusCode::OK);
        assert_eq!(cached(&asked, "cba", "text/plain", "no-cache").status(), StatusCode::OK);
    }
}

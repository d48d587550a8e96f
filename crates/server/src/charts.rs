//! Charts as pictures, for callers who ask for `image/svg+xml`.

use axum::http::{HeaderMap, header};

pub(crate) const SVG: &str = "image/svg+xml";

/// Whether the picture is preferred to the data (RFC 9110, section 12.5.1). Without a preference
/// the data is sent.
pub(crate) fn prefers_picture(headers: &HeaderMap) -> bool {
    let weight = |media: &str| {
        headers
            .get_all(header::ACCEPT)
            .iter()
            .filter_map(|v| v.to_str().ok())
            .flat_map(|v| v.split(','))
            .filter_map(|range| {
                let mut parts = range.split(';').map(str::trim);
                let named = parts.next()?.eq_ignore_ascii_case(media);
                let weight = parts
                    .find_map(|p| p.strip_prefix("q="))
                    .map_or(1.0, |q| q.parse::<f32>().unwrap_or(0.0));
                named.then_some(weight)
            })
            .fold(0.0, f32::max)
    };
    weight(SVG) > weight("application/json")
}

#[cfg(test)]
mod tests {
    use super::*;
    use axum::http::HeaderValue;

    #[test]
    fn the_picture_is_sent_on_request_only() {
        let prefers = |accept: &str| {
            let mut headers = HeaderMap::new();
            headers.insert(header::ACCEPT, HeaderValue::from_str(accept).unwrap());
            prefers_picture(&headers)
        };
        assert!(!prefers_picture(&HeaderMap::new()));
        for accept in ["image/svg+xml", "text/html, IMAGE/SVG+XML;q=0.9, application/json;q=0.5"] {
            assert!(prefers(accept), "{accept}");
        }
        for accept in [
            "*/*",
            "image/*",
            "application/json",
            "image/svg+xml;q=0",
            "image/svg+xml, application/json",
        ] {
            assert!(!prefers(accept), "{accept}");
        }
    }
}

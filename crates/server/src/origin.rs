//! Requests that pages send to the journal: from this server, or from a listed origin.

use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, header};
use guardcell::{Code, Error, excerpt};

/// Whether a request may come from the page that it comes from: none, one of this server, or one of a
/// listed origin. Answers the listed origin, which must be named in the answer.
pub(crate) fn check(headers: &HeaderMap, listed: &[String]) -> Result<Option<HeaderValue>, Error> {
    let mut given = headers.get_all(header::ORIGIN).iter();
    let Some(origin) = given.next() else { return Ok(None) };
    let text = origin.to_str().unwrap_or_default();
    if given.next().is_none() {
        if listed.iter().any(|l| l.trim_end_matches('/').eq_ignore_ascii_case(text)) {
            return Ok(Some(origin.clone()));
        }
        let host = headers.get(header::HOST).and_then(|h| h.to_str().ok()).unwrap_or_default();
        if is_of(text, host) {
            return Ok(None);
        }
    }
    Err(Error::new(
        Code::OtherOrigin,
        format!("the request comes from {:?}", excerpt(text, 80)),
        "open the page of this server, or start it with --origin and that address",
    ))
}

/// Whether an origin is that of a host. The scheme does not matter: behind a proxy with TLS the server
/// does not know it, and no other server answers on the same port.
fn is_of(origin: &str, host: &str) -> bool {
    let Some((scheme, authority)) = origin.split_once("://") else { return false };
    let port = match scheme {
        "http" => ":80",
        "https" => ":443",
        _ => return false,
    };
    let bare = |text: &str| text.strip_suffix(port).unwrap_or(text).to_ascii_lowercase();
    !host.is_empty() && bare(authority) == bare(host)
}

/// Says that a page of a listed origin may read the answer.
pub(crate) fn allow(headers: &mut HeaderMap, origin: HeaderValue) {
    headers.insert(header::ACCESS_CONTROL_ALLOW_ORIGIN, origin);
    headers.append(header::VARY, HeaderValue::from_static("origin"));
    let exposed = HeaderValue::from_static("retry-after, etag, x-request-id");
    headers.insert(header::ACCESS_CONTROL_EXPOSE_HEADERS, exposed);
}

/// Says what a page of a listed origin may send, before it does.
pub(crate) fn allow_sending(headers: &mut HeaderMap, methods: &[Method]) {
    let methods: Vec<&str> = methods.iter().map(Method::as_str).collect();
    if let Ok(methods) = HeaderValue::from_str(&methods.join(", ")) {
        headers.insert(header::ACCESS_CONTROL_ALLOW_METHODS, methods);
    }
    let sent: [HeaderName; 3] =
        [header::AUTHORIZATION, header::CONTENT_TYPE, header::IF_NONE_MATCH];
    let sent: Vec<&str> = sent.iter().map(HeaderName::as_str).collect();
    if let Ok(sent) = HeaderValue::from_str(&sent.join(", ")) {
        headers.insert(header::ACCESS_CONTROL_ALLOW_HEADERS, sent);
    }
    headers.insert(header::ACCESS_CONTROL_MAX_AGE, HeaderValue::from_static("600"));
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer(origins: &[&str], host: &str) -> Result<bool, Code> {
        let mut headers = HeaderMap::new();
        headers.insert(header::HOST, HeaderValue::from_str(host).unwrap());
        for origin in origins {
            headers.append(header::ORIGIN, HeaderValue::from_str(origin).unwrap());
        }
        let listed = ["https://house.example.invalid/".to_owned()];
        check(&headers, &listed).map(|o| o.is_some()).map_err(|e| e.code())
    }

    #[test]
    fn pages_of_this_server_and_listed_ones_may_ask() {
        let other = Err(Code::OtherOrigin);
        assert_eq!(answer(&[], "localhost:8427"), Ok(false));
        assert_eq!(answer(&["http://localhost:8427"], "localhost:8427"), Ok(false));
        assert_eq!(answer(&["https://greenhouse.local"], "Greenhouse.local:443"), Ok(false));
        assert_eq!(answer(&["https://greenhouse.local"], "greenhouse.local"), Ok(false));
        assert_eq!(answer(&["https://house.example.invalid"], "localhost:8427"), Ok(true));
        for wrong in [
            "http://localhost:8428",
            "http://localhost",
            "http://evil.example.invalid",
            "http://house.example.invalid",
            "https://house.example.invalid.evil.example.invalid",
            "null",
            "file://localhost:8427",
            "",
        ] {
            assert_eq!(answer(&[wrong], "localhost:8427"), other, "{wrong}");
        }
        let two = ["http://localhost:8427", "http://localhost:8427"];
        assert_eq!(answer(&two, "localhost:8427"), other);
    }
}

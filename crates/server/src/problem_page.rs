//! `/problems`: what each kind of refusal means. The `type` of a problem links to its entry.

use crate::cached::Cached;
use crate::page;
use crate::problem::status;
use axum::body::Body;
use axum::http::{HeaderMap, Response};
use guardcell::Code;
use std::fmt::Write as _;
use std::sync::LazyLock;

const HEAD: &str = "<!doctype html>\n<html lang=\"en\">\n<meta charset=\"utf-8\">\n\
    <meta name=\"viewport\" content=\"width=device-width\">\n<title>guardcell: problem types</title>\n\
    <link rel=\"stylesheet\" href=\"page.css\">\n<main>\n<h1>Problem types</h1>\n\
    <p>A refused request is answered with problem details (RFC 9457). <code>type</code> links to \
    an entry below; <code>code</code> is its name for programs. <code>pointer</code> (RFC 6901) \
    says where in the request the fault is, <code>detail</code> what is wrong and \
    <code>hint</code> what would be right.</p>\n";

/// `GET /problems`
pub(crate) async fn problems(headers: HeaderMap) -> Response<Body> {
    static PAGE: LazyLock<Cached> = LazyLock::new(|| Cached::new(html()));
    page::secured(
        PAGE.response(&headers, "text/html; charset=utf-8", "public, max-age=3600"),
        false,
    )
}

fn html() -> String {
    let mut out = HEAD.to_owned();
    for code in Code::ALL {
        // Titles and explanations are plain text of this program.
        let _ = writeln!(
            out,
            "<section id=\"{code}\">\n<h2>{}</h2>\n<p><code>{code}</code>, status {}</p>\n<p>{}</p>\n</section>",
            code.title(),
            status(*code).as_u16(),
            code.about(),
        );
    }
    out + "</main>\n</html>\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_code_has_its_entry() {
        let page = html();
        for code in Code::ALL {
            assert_eq!(page.matches(&format!("id=\"{code}\"")).count(), 1, "{code}");
            assert!(!code.about().contains(['<', '&']), "{code}");
        }
    }
}

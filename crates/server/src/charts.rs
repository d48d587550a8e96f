//! Charts: their data as JSON, or the picture where the caller asks for `image/svg+xml`.

use crate::body::{json_bytes, parse};
use crate::fault::{Fault, under};
use crate::problem::Problem;
use crate::routes::to_json;
use crate::state::Shared;
use axum::body::Body;
use axum::extract::State;
use axum::http::{HeaderMap, HeaderValue, Request, header};
use axum::routing::{MethodRouter, post};
use guardcell::advice::chart::{DayRibbonResponse, StrengthChartResponse, ribbon, strength_chart};
use serde::Serialize;
use serde::de::DeserializeOwned;
use std::sync::Arc;

const SVG: &str = "image/svg+xml";
const JSON: &str = "application/json";

/// `POST /v1/charts/strength`
pub(crate) fn strength() -> MethodRouter<Arc<Shared>> {
    drawing(strength_chart, StrengthChartResponse::svg, |problem| problem)
}

/// `POST /v1/charts/day`
pub(crate) fn day() -> MethodRouter<Arc<Shared>> {
    drawing(ribbon, DayRibbonResponse::svg, |problem| {
        // What the advice finds is placed in the situation, which is a part of the request here.
        match problem.pointer.as_deref() {
            Some(at) if at != "/area" && !at.starts_with("/situation") => {
                under("/situation", problem)
            }
            _ => problem,
        }
    })
}

fn drawing<Q, A, E>(
    answer: fn(&Q) -> Result<A, E>,
    svg: fn(&A) -> String,
    placed: fn(Problem) -> Problem,
) -> MethodRouter<Arc<Shared>>
where
    Q: DeserializeOwned + Serialize + 'static,
    A: Serialize + 'static,
    E: Fault + 'static,
{
    post(move |State(shared): State<Arc<Shared>>, request: Request<Body>| async move {
        let picture = prefers_picture(request.headers());
        let bytes = json_bytes(&shared, request).await?;
        let depth = shared.config.json_depth;
        let body = shared
            .calculate(move || {
                let request: Q = parse(&bytes, depth)?;
                let chart = answer(&request).map_err(|e| placed(e.refused()))?;
                if picture { Ok(svg(&chart).into_bytes()) } else { to_json(&chart) }
            })
            .await??;
        let media = if picture { SVG } else { JSON };
        Ok::<_, Problem>((
            [
                (header::CONTENT_TYPE, HeaderValue::from_static(media)),
                (header::CACHE_CONTROL, HeaderValue::from_static("no-store")),
                (header::VARY, HeaderValue::from_static("accept")),
            ],
            body,
        ))
    })
}

/// Whether the picture is wanted more than the data (RFC 9110, section 12.5.1); what is not named
/// is data.
fn prefers_picture(headers: &HeaderMap) -> bool {
    let wish = |media: &str| {
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
    wish(SVG) > wish(JSON)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_picture_is_for_those_who_ask() {
        let asked = |accept: &str| {
            let mut headers = HeaderMap::new();
            headers.insert(header::ACCEPT, HeaderValue::from_str(accept).unwrap());
            prefers_picture(&headers)
        };
        assert!(!prefers_picture(&HeaderMap::new()));
        for accept in ["image/svg+xml", "text/html, IMAGE/SVG+XML;q=0.9, application/json;q=0.5"] {
            assert!(asked(accept), "{accept}");
        }
        for accept in [
            "*/*",
            "image/*",
            "application/json",
            "image/svg+xml;q=0",
            "image/svg+xml, application/json",
        ] {
            assert!(!asked(accept), "{accept}");
        }
    }
}

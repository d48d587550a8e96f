//! Look-ups of names: `GET` routes over reference data, which callers may keep.

use crate::cached::Kept;
use crate::fault::Fault;
use crate::problem::{Kind, Problem};
use crate::routes::to_json;
use crate::state::Shared;
use axum::body::Body;
use axum::extract::{FromRequestParts, Path, Query, State};
use axum::http::{HeaderMap, Request, Response, Uri};
use guardcell::Error;
use guardcell::reference::{
    GenusRequest, Leaf, SearchRequest, catalogue, darwin_core, report, search,
};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use std::sync::{Arc, LazyLock};

/// The data changes with the program only, and an entity tag finds out.
const KEEP: &str = "public, max-age=3600";

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct OneQuery {
    leaf: Option<Leaf>,
}

/// The route of [`one`].
pub(crate) const ONE: &str = "/v1/taxa/{name}";

/// A look-up that was answered before, found by its path as it was sent: nothing is taken apart.
pub(crate) fn told<B>(shared: &Shared, request: &Request<B>) -> Option<Response<Body>> {
    let kept = shared.told.get(request.uri().path_and_query()?.as_str())?;
    Some(kept.response(request.headers(), "application/json", KEEP))
}

/// `GET /v1/taxa/{name}`
pub(crate) async fn one(
    State(shared): State<Arc<Shared>>,
    request: Request<Body>,
) -> Result<Response<Body>, Problem> {
    if let Some(answer) = told(&shared, &request) {
        return Ok(answer);
    }
    let (mut parts, _) = request.into_parts();
    let Path(name) = Path::<String>::from_request_parts(&mut parts, &()).await.map_err(|_| {
        Problem::new(Kind::WrongForm, "the name is not UTF-8", "percent-encode it in UTF-8")
            .of_parameter("name")
    })?;
    let OneQuery { leaf } = query(&parts.uri)?;
    // A misspelt name is compared with thousands.
    let kept = shared
        .calculate(move || {
            let answer = report(&GenusRequest { query: name, leaf });
            Ok(Kept::new(to_json(&answer.map_err(|e| parameter(&e, "name"))?)?))
        })
        .await??;
    // A name in four bytes of percent signs each is at most 800 bytes long.
    if let Some(key) = parts.uri.path_and_query().filter(|key| key.as_str().len() <= 1024) {
        shared.told.put(key.to_string(), kept.clone());
    }
    Ok(kept.response(&parts.headers, "application/json", KEEP))
}

/// `GET /v1/taxa?query=`
pub(crate) async fn many(
    State(shared): State<Arc<Shared>>,
    uri: Uri,
    headers: HeaderMap,
) -> Result<Response<Body>, Problem> {
    let request: SearchRequest = query(&uri)?;
    let kept = shared
        .calculate(move || {
            let answer = search(&request).map_err(|e| parameter(&e, "query"))?;
            Ok::<_, Problem>(Kept::new(to_json(&answer)?))
        })
        .await??;
    Ok(kept.response(&headers, "application/json", KEEP))
}

/// `GET /v1/catalogue`
pub(crate) async fn all(headers: HeaderMap) -> Result<Response<Body>, Problem> {
    static ALL: LazyLock<Kept> =
        LazyLock::new(|| Kept::new(serde_json::to_vec(&catalogue()).unwrap_or_default()));
    Ok(ALL.clone().response(&headers, "application/json", KEEP))
}

/// `GET /v1/measurements`
pub(crate) async fn measurements(headers: HeaderMap) -> Response<Body> {
    static TABLE: LazyLock<Kept> = LazyLock::new(|| {
        let mut text = darwin_core::header();
        for m in darwin_core::measurements() {
            text.push('\n');
            text.push_str(&m.csv_line());
        }
        text.push('\n');
        Kept::new(text)
    });
    TABLE.clone().response(&headers, "text/csv; charset=utf-8", KEEP)
}

fn query<T: DeserializeOwned>(uri: &Uri) -> Result<T, Problem> {
    Query::try_from_uri(uri).map(|Query(q)| q).map_err(|e| {
        let text = e.body_text();
        let wrong = text.strip_prefix("Failed to deserialize query string: ").unwrap_or(&text);
        Problem::new(
            Kind::WrongForm,
            format!("the query does not fit: {wrong}"),
            "see the parameters of this path in /openapi.json",
        )
    })
}

fn parameter(e: &Error, query: &str) -> Problem {
    let mut problem = e.clone().refused();
    let name = if e.pointer() == "/query" { query } else { "limit" };
    problem.pointer = None;
    problem.of_parameter(name)
}

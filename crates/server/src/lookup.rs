//! Look-ups of names: `GET` routes over reference data, which callers may cache.

use crate::cached::Cached;
use crate::problem::Refusal;
use crate::seat::client;
use crate::state::Shared;
use axum::body::Body;
use axum::extract::{Path, Query, State};
use axum::http::{Extensions, HeaderMap, Response, Uri};
use guardcell::calls::{AnyCall, Catalogue, Genus, Listed as _, Search};
use guardcell::reference::darwin_core;
use guardcell::{Code, Error};
use serde_json::{Map, Value};
use std::sync::{Arc, LazyLock};

/// The data changes only with the program, which the entity tag shows.
const CACHE_CONTROL: &str = "public, max-age=3600";
const JSON: &str = "application/json";

/// `GET /v1/taxa/{query}`
pub(crate) async fn taxon(
    State(shared): State<Arc<Shared>>,
    name: Result<Path<String>, axum::extract::rejection::PathRejection>,
    uri: Uri,
    extensions: Extensions,
    headers: HeaderMap,
) -> Result<Response<Body>, Refusal> {
    let Path(name) = name.map_err(|_| {
        Error::new(Code::WrongForm, "the name is not UTF-8", "percent-encode it in UTF-8")
            .at("/query")
    })?;
    let mut request = parameters(&uri)?;
    request.insert("query".into(), name.into());
    answer(&shared, Genus::any(), request, (&extensions, &headers)).await
}

/// `GET /v1/taxa/search?query=`
pub(crate) async fn search(
    State(shared): State<Arc<Shared>>,
    uri: Uri,
    extensions: Extensions,
    headers: HeaderMap,
) -> Result<Response<Body>, Refusal> {
    let asked = parameters(&uri)?;
    answer(&shared, Search::any(), asked, (&extensions, &headers)).await
}

/// The answer to a request from path and query; a misspelt name is compared with thousands, so it
/// is a calculation like any other.
async fn answer(
    shared: &Shared,
    call: &'static AnyCall,
    request: Map<String, Value>,
    (extensions, headers): (&Extensions, &HeaderMap),
) -> Result<Response<Body>, Refusal> {
    let json = Value::Object(request).to_string();
    let prepare = move || call.prepare(json.as_bytes());
    let body = shared.calculate(client(extensions), 0, prepare).await?;
    Ok(Cached::new(body).response(headers, JSON, CACHE_CONTROL))
}

/// `GET /v1/catalogue`
pub(crate) async fn catalogue(headers: HeaderMap) -> Result<Response<Body>, Refusal> {
    static ALL: LazyLock<Result<Cached, Error>> =
        LazyLock::new(|| Catalogue::any().run(b"{}").map(Cached::new));
    match &*ALL {
        Ok(all) => Ok(all.response(&headers, JSON, CACHE_CONTROL)),
        Err(e) => Err(Refusal(e.clone())),
    }
}

/// `GET /v1/measurements`
pub(crate) async fn measurements(headers: HeaderMap) -> Response<Body> {
    static TABLE: LazyLock<Cached> = LazyLock::new(|| {
        let mut text = darwin_core::header();
        for m in darwin_core::measurements() {
            text.push('\n');
            text.push_str(&m.csv_line());
        }
        text.push('\n');
        Cached::new(text)
    });
    TABLE.response(&headers, "text/csv; charset=utf-8", CACHE_CONTROL)
}

/// The query as the fields of a request, which is then read like any other.
pub(crate) fn parameters(uri: &Uri) -> Result<Map<String, Value>, Error> {
    let pairs = Query::<Vec<(String, String)>>::try_from_uri(uri).map_err(|_| {
        Error::new(
            Code::WrongForm,
            "the query cannot be read",
            "percent-encode names and values in UTF-8",
        )
    })?;
    let mut fields = Map::new();
    for (name, text) in pairs.0 {
        // Only whole numbers are asked for as numbers.
        let value = match text.parse::<u64>() {
            Ok(number) if name == "limit" => number.into(),
            _ => Value::String(text),
        };
        if fields.insert(name.clone(), value).is_some() {
            return Err(Error::new(
                Code::WrongForm,
                "this parameter is given twice",
                "give each parameter once",
            )
            .at(guardcell::pointer::key("", &name)));
        }
    }
    Ok(fields)
}

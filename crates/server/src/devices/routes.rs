//! What each path answers.

use super::guard::{Denied, let_in, offer, on_a_thread};
use super::list;
use crate::body::{expect_media, json_bytes};
use crate::cached::Cached;
use crate::limits::SLOWED;
use crate::lookup::parameters;
use crate::origin;
use crate::problem::Refusal;
use crate::room::{Answer, Taken as Room};
use crate::seat::client;
use crate::state::Shared;
use axum::Router;
use axum::body::Body;
use axum::extract::State;
use axum::http::{HeaderValue, Method, Request, Response, StatusCode, header};
use axum::middleware::{Next, from_fn_with_state};
use axum::response::IntoResponse;
use axum::routing::{get, post};
use guardcell::ledger::sync::{EntriesTaken, PairRequest, START};
use guardcell::{Bounded as _, Code, Error, read_request};
use serde::Serialize;
use std::sync::Arc;
use std::time::Instant;

const JSON: &str = "application/json";
/// A code and a name are shorter.
const PAIR_LONGEST: usize = 4096;
/// Steps of work of one plant of an entry: about its microseconds.
const STEPS_OF_PLANT: u64 = 10;
/// Steps of work of one entry.
const STEPS_OF_ENTRY: u64 = 100;

/// The paths for devices.
pub(crate) fn routes(shared: &Arc<Shared>) -> Router<Arc<Shared>> {
    Router::new()
        .route("/v1/pair", post(pair).options(preflight))
        .route("/v1/journal/entries", get(since).post(take).options(preflight))
        .route("/v1/folder", get(folder).options(preflight))
        .layer(from_fn_with_state(Arc::clone(shared), from_a_page))
}

/// Refuses what pages of other sites send; names a listed one in the answer.
async fn from_a_page(
    State(shared): State<Arc<Shared>>,
    request: Request<Body>,
    next: Next,
) -> Response<Body> {
    match origin::check(request.headers(), &shared.config.origins) {
        Err(error) => Refusal(error).into_response(),
        Ok(None) => next.run(request).await,
        Ok(Some(listed)) => {
            let mut response = next.run(request).await;
            origin::allow(response.headers_mut(), listed);
            response
        }
    }
}

/// What a browser asks before it sends a request of a page of a listed origin.
async fn preflight() -> Response<Body> {
    let mut response = Response::new(Body::empty());
    *response.status_mut() = StatusCode::NO_CONTENT;
    let methods = [Method::GET, Method::POST];
    origin::allow_sending(response.headers_mut(), &methods);
    response
}

/// `POST /v1/pair`
async fn pair(
    State(shared): State<Arc<Shared>>,
    request: Request<Body>,
) -> Result<Response<Body>, Denied> {
    let offer = offer(&shared)?;
    let client = client(request.extensions());
    expect_media(request.headers(), &[JSON])?;
    let limits = &shared.limits;
    let of_address = |wait| Denied::Wait("too many pairing codes came from this address", wait);
    let of_all = |wait| Denied::Wait("too many pairing codes came", wait);
    // Taken before the code is looked at, so that codes sent at once count as well.
    limits.codes.take(client, Instant::now()).map_err(of_address)?;
    limits.all_codes.take((), Instant::now()).map_err(|wait| {
        limits.codes.give_back(&client);
        of_all(wait)
    })?;
    let (body, _taken) = json_bytes(&shared, request).await?;
    if body.len() > PAIR_LONGEST {
        return Err(too_large().into());
    }
    let asked: PairRequest = read_request(&body)?;
    asked.check_bounds()?;
    let paired = on_a_thread(&shared, &offer, client, 1, move |offer| {
        offer.pair(&asked.code, asked.name.trim())
    })
    .await;
    if !matches!(&paired, Err(e) if e.code() == Code::WrongCode) {
        limits.codes.give_back(&client);
        limits.all_codes.give_back(&());
    } else {
        tokio::time::sleep(SLOWED).await;
    }
    json(&shared, &paired?)
}

/// `POST /v1/journal/entries`
async fn take(
    State(shared): State<Arc<Shared>>,
    request: Request<Body>,
) -> Result<Response<Body>, Denied> {
    let (offer, client) = let_in(&shared, request.extensions(), request.headers()).await?;
    let (body, taken) = json_bytes(&shared, request).await?;
    let sent = list::read(&body)?;
    drop((body, taken));
    let steps = STEPS_OF_ENTRY * sent.drafts.len() as u64 + STEPS_OF_PLANT * sent.plants as u64;
    let (places, drafts): (Vec<usize>, Vec<_>) = sent.drafts.into_iter().unzip();
    let taken = if drafts.is_empty() {
        Vec::new()
    } else {
        on_a_thread(&shared, &offer, client, steps, move |offer| offer.take(drafts)).await?
    };
    json(&shared, &EntriesTaken { results: list::merged(&places, taken, sent.refused) })
}

/// `GET /v1/journal/entries?since=CURSOR`
async fn since(
    State(shared): State<Arc<Shared>>,
    request: Request<Body>,
) -> Result<Response<Body>, Denied> {
    let (offer, client) = let_in(&shared, request.extensions(), request.headers()).await?;
    let cursor = cursor(&request)?;
    let asked = cursor.clone();
    let page =
        on_a_thread(&shared, &offer, client, STEPS_OF_ENTRY, move |o| o.since(&asked)).await?;
    // The entries are JSON already.
    let text = |text: &str| serde_json::to_string(text).unwrap_or_default();
    let body = format!(
        "{{\"since\":{},\"entries\":[{}],\"cursor\":{},\"more\":{},\"restarted\":{}}}",
        text(&cursor),
        page.entries.join(","),
        text(&page.cursor),
        page.more,
        page.restarted
    );
    answer(&shared, body.into_bytes())
}

/// `GET /v1/folder`
async fn folder(
    State(shared): State<Arc<Shared>>,
    request: Request<Body>,
) -> Result<Response<Body>, Denied> {
    let (offer, client) = let_in(&shared, request.extensions(), request.headers()).await?;
    let body = on_a_thread(&shared, &offer, client, STEPS_OF_ENTRY, |o| o.folder()).await?;
    // Asked for each time; sent only where it has changed.
    Ok(Cached::new(body).response(request.headers(), JSON, "private, no-cache"))
}

/// The cursor of a request; the start when not given.
fn cursor(request: &Request<Body>) -> Result<String, Error> {
    let mut asked = parameters(request.uri())?;
    let since = asked.remove("since");
    if let Some((stray, _)) = asked.iter().next() {
        return Err(Error::new(Code::WrongForm, "no such parameter", "give `since` alone")
            .at(guardcell::pointer::key("", stray)));
    }
    match since {
        Some(serde_json::Value::String(text)) => Ok(text),
        _ => Ok(START.to_owned()),
    }
}

fn json<T: Serialize>(shared: &Shared, value: &T) -> Result<Response<Body>, Denied> {
    let body = serde_json::to_vec(value)
        .map_err(|e| Error::internal("the answer cannot be written").caused_by(e))?;
    answer(shared, body)
}

/// An answer that is kept by nobody on the way.
fn answer(shared: &Shared, body: Vec<u8>) -> Result<Response<Body>, Denied> {
    let mut room = Room::default();
    shared.answers.grow(&mut room, body.len())?;
    let answer = Answer::new(body.into(), room, shared.config.answer_time);
    let mut response = Response::new(Body::new(answer));
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(JSON));
    headers.insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    Ok(response)
}

fn too_large() -> Error {
    Error::new(
        Code::TooLarge,
        format!("the body is larger than {PAIR_LONGEST} bytes"),
        "send a code and a name",
    )
}

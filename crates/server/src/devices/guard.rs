//! Who may ask, and how often, before any work is done for it.

use crate::lane::Client;
use crate::offer::Offer;
use crate::problem::Refusal;
use crate::seat::client;
use crate::state::Shared;
use axum::http::{Extensions, HeaderMap, HeaderValue, header};
use axum::response::{IntoResponse, Response};
use guardcell::{Code, Error};
use std::sync::Arc;
use std::time::{Duration, Instant};
use tokio::task::spawn_blocking;
use tokio::time::timeout;

/// The longest header with a token that is looked at.
const TOKEN_LONGEST: usize = 128;

/// Why a request is not answered.
pub(super) enum Denied {
    /// It is refused.
    Refused(Error),
    /// It may come again after this time.
    Wait(&'static str, Duration),
}

impl From<Error> for Denied {
    fn from(error: Error) -> Self {
        Self::Refused(error)
    }
}

impl IntoResponse for Denied {
    fn into_response(self) -> Response {
        match self {
            Self::Refused(error) => Refusal(error).into_response(),
            Self::Wait(what, wait) => {
                let seconds = wait.as_secs() + u64::from(wait.subsec_nanos() > 0);
                let hint = format!("wait for {seconds} s");
                let mut response = Refusal(Error::new(Code::TooOften, what, hint)).into_response();
                // Digits always make a header.
                if let Ok(seconds) = HeaderValue::try_from(seconds.to_string()) {
                    response.headers_mut().insert(header::RETRY_AFTER, seconds);
                }
                response
            }
        }
    }
}

/// The folder that is offered, if this server offers one.
pub(super) fn offer(shared: &Shared) -> Result<Arc<dyn Offer>, Error> {
    shared.config.offer.clone().ok_or_else(|| {
        Error::new(
            Code::NotFound,
            "this server offers no folder",
            "start `guardcell serve` in a folder with a site.toml",
        )
    })
}

/// Lets in a request of a paired device: the folder that it asks for, and from where it comes.
pub(super) async fn let_in(
    shared: &Shared,
    extensions: &Extensions,
    headers: &HeaderMap,
) -> Result<(Arc<dyn Offer>, Client), Denied> {
    let offer = offer(shared)?;
    let client = client(extensions);
    device(shared, &offer, client, headers).await?;
    Ok((offer, client))
}

/// Lets in a paired device that has not asked too often.
async fn device(
    shared: &Shared,
    offer: &Arc<dyn Offer>,
    client: Client,
    headers: &HeaderMap,
) -> Result<(), Denied> {
    let limits = &shared.limits;
    let wait = |wait| Denied::Wait("too many wrong tokens came from this address", wait);
    limits.tokens.look(&client, Instant::now()).map_err(wait)?;
    let token = bearer(headers)?.to_owned();
    let known = on_a_thread(shared, offer, client, 1, move |offer| offer.device(&token)).await;
    let name = match known {
        Ok(name) => name,
        Err(e) if e.code() == Code::NotPaired => {
            limits.tokens.take(client, Instant::now()).map_err(wait)?;
            return Err(Denied::Refused(e));
        }
        Err(e) => return Err(Denied::Refused(e)),
    };
    let wait = |wait| Denied::Wait("this device asks too often", wait);
    limits.requests.take(name, Instant::now()).map_err(wait)
}

/// The token of a request.
fn bearer(headers: &HeaderMap) -> Result<&str, Error> {
    let mut given = headers.get_all(header::AUTHORIZATION).iter();
    let one = given.next().filter(|_| given.next().is_none());
    one.filter(|value| value.len() <= TOKEN_LONGEST)
        .and_then(|value| value.to_str().ok())
        .and_then(|text| text.split_once(' '))
        .filter(|(scheme, _)| scheme.eq_ignore_ascii_case("bearer"))
        .map(|(_, token)| token.trim())
        .ok_or_else(|| {
            Error::new(
                Code::NotPaired,
                "the request has no token",
                "send the header Authorization: Bearer TOKEN; `guardcell pair` pairs a device",
            )
        })
}

/// Asks the folder when its turn comes, off the threads that serve connections. Once it is begun it is
/// finished, whether or not its caller waits: what a device sent is recorded or not, never half.
pub(super) async fn on_a_thread<T: Send + 'static>(
    shared: &Shared,
    offer: &Arc<dyn Offer>,
    client: Client,
    steps: u64,
    work: impl FnOnce(&dyn Offer) -> Result<T, Error> + Send + 'static,
) -> Result<T, Error> {
    let time = shared.config.calculation_time;
    let Ok(turn) = timeout(time, shared.journal.turn(client, steps)).await else {
        return Err(Error::new(
            Code::Busy,
            "the journal is in use by others",
            "try again after the time in Retry-After",
        ));
    };
    let offer = Arc::clone(offer);
    let done = spawn_blocking(move || {
        let done = work(&*offer);
        drop(turn);
        done
    });
    done.await.unwrap_or_else(|panicked| {
        Err(Error::internal("the journal could not be asked").caused_by(panicked))
    })
}

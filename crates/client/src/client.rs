//! One call: sent, waited for, read within bounds, understood.

use crate::body::{json, read_within};
use crate::builder::{Bounds, ClientBuilder};
use crate::cause::told;
use crate::error::ClientError;
use crate::problem::Problem;
use crate::version::{VERSION_HEADER, check, shown};
use reqwest::StatusCode;
use reqwest::blocking::{RequestBuilder, Response};
use reqwest::header::{CONTENT_TYPE, LOCATION, RETRY_AFTER};
use serde::Serialize;
use serde::de::DeserializeOwned;
use std::time::Duration;
use url::Url;

/// Calls one server. Cheap to clone; clones share their connections.
///
/// Not for use inside an asynchronous runtime: calls block the thread.
#[derive(Debug, Clone)]
pub struct Client {
    pub(crate) http: reqwest::blocking::Client,
    pub(crate) base: Url,
    pub(crate) bounds: Bounds,
}

/// The wait where a busy server does not say how long, in seconds.
const USUAL_WAIT: Duration = Duration::from_secs(1);

impl Client {
    /// A client with the usual bounds for the server at this address, such as
    /// `http://127.0.0.1:8427` or `https://plants.example/guardcell`.
    ///
    /// # Errors
    /// As [`ClientBuilder::build`].
    ///
    /// ```
    /// let client = guardcell_client::Client::new("http://127.0.0.1:8427")?;
    /// assert!(guardcell_client::Client::new("127.0.0.1").is_err());
    /// # Ok::<(), guardcell_client::ClientError>(())
    /// ```
    pub fn new(url: &str) -> Result<Self, ClientError> {
        Self::builder(url).build()
    }

    /// A client with bounds of one's own.
    ///
    /// ```
    /// let client = guardcell_client::Client::builder("http://localhost:8427").retries(0).build()?;
    /// # Ok::<(), guardcell_client::ClientError>(())
    /// ```
    pub fn builder(url: &str) -> ClientBuilder {
        ClientBuilder::new(url)
    }

    /// The address of the server.
    ///
    /// ```
    /// let client = guardcell_client::Client::new("http://localhost:8427")?;
    /// assert_eq!(client.url(), "http://localhost:8427/");
    /// # Ok::<(), guardcell_client::ClientError>(())
    /// ```
    #[must_use]
    pub fn url(&self) -> &str {
        self.base.as_str()
    }

    /// The address of a path of the server, which begins without a `/`.
    pub(crate) fn at(&self, path: &str) -> Url {
        let mut url = self.base.clone();
        url.set_path(&format!("{}{path}", self.base.path()));
        url
    }

    /// `POST`s a request and reads its answer.
    pub(crate) fn post<Q, A>(&self, path: &str, request: &Q) -> Result<A, ClientError>
    where
        Q: Serialize + DeserializeOwned + PartialEq,
        A: DeserializeOwned,
    {
        let body = json(request)?;
        let url = self.at(path);
        self.read_json(&url, || {
            self.http.post(url.clone()).header(CONTENT_TYPE, "application/json").body(body.clone())
        })
    }

    /// Sends a request and reads the JSON of its answer.
    pub(crate) fn read_json<A: DeserializeOwned>(
        &self,
        url: &Url,
        request: impl Fn() -> RequestBuilder,
    ) -> Result<A, ClientError> {
        let bytes = self.read(url, "application/json", request)?;
        serde_json::from_slice(&bytes).map_err(|e| ClientError::NotGuardcell {
            url: url.to_string(),
            found: format!("its answer has another form ({e})"),
        })
    }

    /// Sends a request and reads the bytes of its answer.
    pub(crate) fn read(
        &self,
        url: &Url,
        media: &str,
        request: impl Fn() -> RequestBuilder,
    ) -> Result<Vec<u8>, ClientError> {
        let response = self.send(url, request)?;
        expect_media(url, &response, media)?;
        read_within(response, url.as_str(), &self.bounds)
    }

    /// Sends a request, again where the server is busy; an answer is one of success.
    pub(crate) fn send(
        &self,
        url: &Url,
        request: impl Fn() -> RequestBuilder,
    ) -> Result<Response, ClientError> {
        let mut times = 0;
        loop {
            times += 1;
            let response =
                request().send().map_err(|e| told(&e, self.url(), url.as_str(), &self.bounds))?;
            let wait = wanted_wait(&response);
            if response.status() != StatusCode::SERVICE_UNAVAILABLE {
                return self.checked(url, response);
            }
            let problem = self.problem(url, response).ok();
            if let Some(problem) = problem
                && problem.code() != "busy"
            {
                return Err(ClientError::Refused(Box::new(problem)));
            }
            if times > self.bounds.retries || wait > self.bounds.longest_wait {
                return Err(ClientError::Busy { url: url.to_string(), times });
            }
            std::thread::sleep(wait);
        }
    }

    /// An answer of success by a guardcell of this version; all else is an error.
    fn checked(&self, url: &Url, response: Response) -> Result<Response, ClientError> {
        let status = response.status();
        let version = response.headers().get(VERSION_HEADER).map(|v| v.to_str().unwrap_or(""));
        if let Some(version) = version {
            check(url.as_str(), version)?;
        }
        let stranger = version.is_none();
        if status.is_redirection() {
            let to = response.headers().get(LOCATION).and_then(|v| v.to_str().ok());
            return Err(match to {
                Some(to) => ClientError::Moved { url: url.to_string(), to: shown(to) },
                None => not_guardcell(url, format!("it answers {status}")),
            });
        }
        if stranger {
            return Err(not_guardcell(url, format!("it answers {status} without its version")));
        }
        if status.is_success() {
            return Ok(response);
        }
        Err(ClientError::Refused(Box::new(self.problem(url, response)?)))
    }

    /// The problem details of a refusal.
    fn problem(&self, url: &Url, response: Response) -> Result<Problem, ClientError> {
        let status = response.status();
        expect_media(url, &response, "application/problem+json")?;
        let bytes = read_within(response, url.as_str(), &self.bounds)?;
        serde_json::from_slice(&bytes)
            .map_err(|e| not_guardcell(url, format!("it answers {status} in another form ({e})")))
    }
}

/// How long a server wants to be left alone (RFC 9110, section 10.2.3). A date is not read: the
/// clocks of two machines seldom agree.
fn wanted_wait(response: &Response) -> Duration {
    response
        .headers()
        .get(RETRY_AFTER)
        .and_then(|v| v.to_str().ok())
        .and_then(|v| v.trim().parse().ok())
        .map_or(USUAL_WAIT, Duration::from_secs)
}

pub(crate) fn not_guardcell(url: &Url, found: String) -> ClientError {
    ClientError::NotGuardcell { url: url.to_string(), found }
}

pub(crate) fn expect_media(url: &Url, response: &Response, media: &str) -> Result<(), ClientError> {
    let given = response.headers().get(CONTENT_TYPE).and_then(|v| v.to_str().ok());
    let essence = given.unwrap_or("").split(';').next().unwrap_or_default().trim();
    if essence.eq_ignore_ascii_case(media) {
        return Ok(());
    }
    let found = match given {
        Some(given) => format!("it answers {} as {}", response.status(), shown(given)),
        None => format!("it answers {} without a Content-Type", response.status()),
    };
    Err(not_guardcell(url, found))
}

//! One call: sent, awaited, read within bounds.

use crate::body::{json, read_within};
use crate::bounds::Bounds;
use crate::cause;
use crate::failure::{busy, moved, not_guardcell};
use crate::version::{VERSION_HEADER, check, printable};
use guardcell::calls::Call;
use guardcell::{Code, Error};
use reqwest::StatusCode;
use reqwest::blocking::{RequestBuilder, Response};
use reqwest::header::{CONTENT_TYPE, LOCATION, RETRY_AFTER};
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

/// The wait if a busy server does not say how long.
const USUAL_WAIT: Duration = Duration::from_secs(1);

impl Client {
    /// The address of the server.
    ///
    /// ```
    /// let client = guardcell_client::Client::new("http://localhost:8427")?;
    /// assert_eq!(client.url(), "http://localhost:8427/");
    /// # Ok::<(), guardcell::Error>(())
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

    /// Answers a request on the server.
    ///
    /// # Errors
    /// The error of the library if it refuses the request; [`Code::Network`], [`Code::Remote`],
    /// [`Code::Busy`] or [`Code::Timeout`] if there is no answer.
    ///
    /// ```no_run
    /// use guardcell::calls::Convert;
    /// let client = guardcell_client::Client::new("http://127.0.0.1:8427")?;
    /// let request = serde_json::from_str(r#"{"quantity": "300 ppm", "to": "mg/L"}"#).unwrap();
    /// let error = client.call::<Convert>(&request).unwrap_err();
    /// assert_eq!(error.pointer(), "/quantity");
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    pub fn call<C: Call>(&self, request: &C::Request) -> Result<C::Response, Error>
    where
        C::Request: PartialEq,
    {
        let body = match json(request) {
            Ok(body) => body,
            // The library says best what is wrong with it.
            Err(unsendable) => return Err(C::run(request).err().unwrap_or(unsendable)),
        };
        let url = self.at(&format!("v1/{}", C::PATH));
        let bytes = self.read(&url, "application/json", || {
            self.http.post(url.clone()).header(CONTENT_TYPE, "application/json").body(body.clone())
        })?;
        serde_json::from_slice(&bytes)
            .map_err(|e| not_guardcell(&url, &format!("its answer has another form ({e})")))
    }

    /// The trait table as Darwin Core measurements, CSV with a header.
    ///
    /// # Errors
    /// As [`Client::call`].
    ///
    /// ```no_run
    /// let client = guardcell_client::Client::new("http://127.0.0.1:8427")?;
    /// assert!(client.measurements()?.lines().count() > 100);
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    pub fn measurements(&self) -> Result<String, Error> {
        let url = self.at("v1/measurements");
        let bytes = self.read(&url, "text/csv", || self.http.get(url.clone()))?;
        String::from_utf8(bytes).map_err(|_| not_guardcell(&url, "its table is not UTF-8"))
    }

    /// Whether a guardcell of this version answers.
    ///
    /// # Errors
    /// As [`Client::call`].
    ///
    /// ```no_run
    /// guardcell_client::Client::new("http://127.0.0.1:8427")?.check()?;
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    pub fn check(&self) -> Result<(), Error> {
        let url = self.at("readyz");
        self.read(&url, "text/plain", || self.http.get(url.clone())).map(drop)
    }

    /// Sends a request and reads the bytes of its answer.
    pub(crate) fn read(
        &self,
        url: &Url,
        media: &str,
        request: impl Fn() -> RequestBuilder,
    ) -> Result<Vec<u8>, Error> {
        let response = self.send(url, request)?;
        expect_media(url, &response, media)?;
        read_within(response, url.as_str(), &self.bounds)
    }

    /// Sends a request, again while the server is busy; returns a response of success.
    pub(crate) fn send(
        &self,
        url: &Url,
        request: impl Fn() -> RequestBuilder,
    ) -> Result<Response, Error> {
        let mut times = 0;
        loop {
            times += 1;
            let response = request()
                .send()
                .map_err(|e| cause::error(&e, self.url(), url.as_str(), &self.bounds))?;
            let wait = wanted_wait(&response);
            if response.status() != StatusCode::SERVICE_UNAVAILABLE {
                return self.checked(url, response);
            }
            let refusal = self.refusal(url, response);
            if refusal.code() != Code::Busy && refusal.code() != Code::Remote {
                return Err(refusal);
            }
            if times > self.bounds.retries || wait > self.bounds.longest_wait {
                return Err(busy(url, times));
            }
            std::thread::sleep(wait);
        }
    }

    /// A response of success by a guardcell of this version; anything else is an error.
    fn checked(&self, url: &Url, response: Response) -> Result<Response, Error> {
        let status = response.status();
        let version = response.headers().get(VERSION_HEADER).map(|v| v.to_str().unwrap_or(""));
        if let Some(version) = version {
            check(url.as_str(), version)?;
        }
        let stranger = version.is_none();
        if status.is_redirection() {
            let to = response.headers().get(LOCATION).and_then(|v| v.to_str().ok());
            return Err(match to {
                Some(to) => moved(url, &printable(to)),
                None => not_guardcell(url, &format!("it answers {status}")),
            });
        }
        if stranger {
            return Err(not_guardcell(url, &format!("it answers {status} without its version")));
        }
        if status.is_success() {
            return Ok(response);
        }
        Err(self.refusal(url, response))
    }

    /// The error in the problem details of a refusal, or why they cannot be read.
    fn refusal(&self, url: &Url, response: Response) -> Error {
        let status = response.status();
        let read = || {
            expect_media(url, &response, "application/problem+json")?;
            let bytes = read_within(response, url.as_str(), &self.bounds)?;
            serde_json::from_slice::<Error>(&bytes).map_err(|e| {
                not_guardcell(url, &format!("it answers {status} in another form ({e})"))
            })
        };
        read().unwrap_or_else(|e| e)
    }
}

/// How long to wait before the next attempt (RFC 9110, section 10.2.3). A date is not read: the
/// clocks of two machines seldom agree.
fn wanted_wait(response: &Response) -> Duration {
    response
        .headers()
        .get(RETRY_AFTER)
        .and_then(|v| v.to_str().ok())
        .and_then(|v| v.trim().parse().ok())
        .map_or(USUAL_WAIT, Duration::from_secs)
}

pub(crate) fn expect_media(url: &Url, response: &Response, media: &str) -> Result<(), Error> {
    let given = response.headers().get(CONTENT_TYPE).and_then(|v| v.to_str().ok());
    let essence = given.unwrap_or("").split(';').next().unwrap_or_default().trim();
    if essence.eq_ignore_ascii_case(media) {
        return Ok(());
    }
    let found = match given {
        Some(given) => format!("it answers {} as {}", response.status(), printable(given)),
        None => format!("it answers {} without a Content-Type", response.status()),
    };
    Err(not_guardcell(url, &found))
}

//! Asking an address: bounded in time, size and tries, careful where a redirect leads, and silent
//! about what must not be printed.

mod address;
mod failed;
mod fault;
mod wait;

use crate::address::HTTP;
use crate::error::FetchFault;
use crate::map::HttpSettings;
use crate::options::Options;
use crate::secret::{self, Secrets};
use address::is_private;
pub(crate) use address::resolve;
use failed::Failed;
use guardcell::Error;
use reqwest::StatusCode;
use reqwest::blocking::{Client, Response};
use reqwest::header::{ACCEPT, CONTENT_TYPE, HeaderMap, HeaderValue, LOCATION, RETRY_AFTER};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::io::Read as _;
use std::time::{Duration, Instant};
use url::{Origin, Url};

/// How many redirects are followed.
const HOPS: u32 = 3;

/// Asks addresses of one service.
pub(crate) struct Fetcher {
    settings: HttpSettings,
    headers: HeaderMap,
    origin: Origin,
    allow_private: bool,
    client: RefCell<Option<(Origin, Client)>>,
    secrets: Secrets,
}

/// The body of an answer.
pub(crate) struct Answer {
    pub(crate) body: Vec<u8>,
    pub(crate) content_type: String,
}

/// What one try gave.
enum Tried {
    Answer(Answer),
    Redirect(Url),
}

impl Fetcher {
    /// A fetcher for the service at `url`, whose `${NAME}` are filled from the environment.
    pub(crate) fn new(
        url: &str,
        headers: &BTreeMap<String, String>,
        settings: &HttpSettings,
        allow_private: bool,
        options: &Options<'_>,
    ) -> Result<(Self, Url), Error> {
        // A provider that the program has chosen already is as good.
        let _ = rustls::crypto::ring::default_provider().install_default();
        let mut secrets = Secrets::default();
        let url = secret::url(url, &HTTP, options.environment, &mut secrets)?;
        let mut headers = secret::headers(headers, options.environment, &mut secrets)?;
        headers.entry(ACCEPT).or_insert(HeaderValue::from_static("application/json"));
        let fetcher = Self {
            settings: settings.clone(),
            headers,
            origin: url.origin(),
            allow_private,
            client: RefCell::new(None),
            secrets,
        };
        Ok((fetcher, url))
    }

    /// An address for messages: without user, query, fragment and whatever came from a variable.
    pub(crate) fn shown(&self, url: &Url) -> String {
        self.secrets.hide(&shown(url))
    }

    /// Whether an address belongs to the service itself.
    pub(crate) fn is_own(&self, url: &Url) -> bool {
        url.origin() == self.origin
    }

    /// Gets an address, over redirects and repeated tries.
    pub(crate) fn get(&self, url: &Url) -> Result<Answer, Error> {
        let fail = |fault: FetchFault| {
            // What a server or the system says may repeat the address.
            let error = fault.at(&self.shown(url));
            let (detail, hint) =
                (self.secrets.hide(error.detail()), self.secrets.hide(error.hint()));
            error.with_detail(detail).with_hint(hint)
        };
        let mut at = url.clone();
        let mut restricted = false;
        for _ in 0..=HOPS {
            match self.tried(&at, restricted).map_err(fail)? {
                Tried::Answer(answer) => return Ok(answer),
                Tried::Redirect(to) => {
                    restricted = !self.allow_private && !self.starts_private(url);
                    at = self.checked(&at, to).map_err(fail)?;
                }
            }
        }
        Err(fail(FetchFault::Redirect {
            to: shown(&at),
            why: format!("that is the {}th redirect in a row", HOPS + 1),
            hint: "give the address it should end at".into(),
        }))
    }

    /// Whether the map's own address lies in the own network, so that its redirects may as well.
    fn starts_private(&self, url: &Url) -> bool {
        resolve(url, self.settings.connect_s).is_ok_and(|a| a.iter().all(|a| is_private(a.ip())))
    }

    /// A redirect that may be followed.
    fn checked(&self, from: &Url, to: Url) -> Result<Url, FetchFault> {
        let refuse = |why: &str, hint: &str| FetchFault::Redirect {
            to: shown(&to),
            why: why.into(),
            hint: hint.into(),
        };
        if !matches!(to.scheme(), "http" | "https") {
            return Err(refuse("that is neither http nor https", "give the right address"));
        }
        if from.scheme() == "https" && to.scheme() == "http" {
            return Err(refuse(
                "that would leave the secure connection",
                "give the http address itself if that is meant",
            ));
        }
        Ok(to)
    }

    fn tried(&self, url: &Url, restricted: bool) -> Result<Tried, FetchFault> {
        let mut attempt = 1;
        loop {
            let failed = match self.once(url, restricted, attempt) {
                Ok(tried) => return Ok(tried),
                Err(failed) => failed,
            };
            if !failed.again || attempt > self.settings.retries {
                return Err(failed.fault);
            }
            let most = Duration::from_secs_f64(self.settings.wait_most_s);
            let wait = failed.wait.unwrap_or_else(|| wait::before(url, attempt).min(most));
            if wait > most {
                return Err(failed.fault);
            }
            std::thread::sleep(wait);
            attempt += 1;
        }
    }

    fn once(&self, url: &Url, restricted: bool, attempt: u32) -> Result<Tried, Failed> {
        let start = Instant::now();
        let total = Duration::from_secs_f64(self.settings.total_s);
        let client = self.client(url, restricted)?;
        let mut request = client.get(url.clone()).timeout(total);
        // Headers may hold a key that is nobody else's business.
        if self.is_own(url) {
            request = request.headers(self.headers.clone());
        }
        let response = request.send().map_err(|e| fault::of(&e, attempt, &self.settings))?;
        let status = response.status();
        if status.is_redirection()
            && let Some(to) = response.headers().get(LOCATION)
        {
            let to = to.to_str().ok().and_then(|t| url.join(t).ok()).ok_or_else(|| {
                Failed::last(FetchFault::Redirect {
                    to: "nowhere".into(),
                    why: "the header Location is not an address".into(),
                    hint: "ask the service".into(),
                })
            })?;
            return Ok(Tried::Redirect(to));
        }
        if !status.is_success() {
            return Err(refused(&response, status, attempt, &self.settings));
        }
        self.body(response, start + total, attempt).map(Tried::Answer)
    }

    /// Reads a body up to the cap, counted after unpacking.
    fn body(
        &self,
        mut response: Response,
        deadline: Instant,
        attempt: u32,
    ) -> Result<Answer, Failed> {
        let most = (self.settings.most_mib * 1024.0 * 1024.0) as usize;
        let content_type = response
            .headers()
            .get(CONTENT_TYPE)
            .and_then(|v| v.to_str().ok())
            .unwrap_or("of no stated type")
            .chars()
            .take(80)
            .collect();
        let mut body = Vec::new();
        let mut chunk = [0; 16 * 1024];
        loop {
            if Instant::now() > deadline {
                return Err(fault::timed_out(attempt, &self.settings));
            }
            let n = response
                .read(&mut chunk)
                .map_err(|e| fault::of_body(&e, attempt, &self.settings))?;
            if n == 0 {
                return Ok(Answer { body, content_type });
            }
            body.extend(chunk.iter().take(n));
            if body.len() > most {
                return Err(Failed::last(FetchFault::TooLarge {
                    most_mib: self.settings.most_mib,
                }));
            }
        }
    }

    /// A client that connects to what the name was resolved to and was checked, and nothing else:
    /// through a proxy the proxy would resolve it again, so none is used.
    fn client(&self, url: &Url, restricted: bool) -> Result<Client, Failed> {
        if let Some((origin, client)) = &*self.client.borrow()
            && *origin == url.origin()
            && !restricted
        {
            return Ok(client.clone());
        }
        let addresses = resolve(url, self.settings.connect_s).map_err(Failed::last)?;
        if restricted && addresses.iter().any(|a| is_private(a.ip())) {
            return Err(Failed::last(FetchFault::Redirect {
                to: shown(url),
                why: "that is an address of the own network or this machine".into(),
                hint: "if it is meant, set `allow_private = true` in the map".into(),
            }));
        }
        let mut builder = Client::builder()
            .no_proxy()
            .redirect(reqwest::redirect::Policy::none())
            .referer(false)
            .connect_timeout(Duration::from_secs_f64(self.settings.connect_s))
            .user_agent(concat!("guardcell/", env!("CARGO_PKG_VERSION")));
        if let Some(host) = url.host_str() {
            builder = builder.resolve_to_addrs(host, &addresses);
        }
        let client = builder.build().map_err(|e| fault::of(&e, 1, &self.settings))?;
        *self.client.borrow_mut() = Some((url.origin(), client.clone()));
        Ok(client)
    }
}

/// The error of a response that is not an answer.
fn refused(
    response: &Response,
    status: StatusCode,
    attempt: u32,
    settings: &HttpSettings,
) -> Failed {
    let header = response.headers().get(RETRY_AFTER).and_then(|v| v.to_str().ok());
    let asked = header.and_then(|text| wait::asked(text, response.headers()));
    let again = matches!(status.as_u16(), 429 | 500 | 502 | 503 | 504);
    let right = match (status.as_u16(), asked) {
        (401 | 403, _) => "check the key in `headers`, and that its variable is set".into(),
        (404 | 410, _) => "check the path of the address".into(),
        (_, Some(wait)) if again => format!("it asks to wait {} s", wait.as_secs()),
        (429, _) => "ask less often".into(),
        (500.., _) => "the fault is with the service; try again later".into(),
        _ => format!("check the address (`http.retries` is {})", settings.retries),
    };
    Failed {
        fault: FetchFault::Status {
            status: status.as_u16(),
            reason: status.canonical_reason().unwrap_or_default().into(),
            attempts: attempt,
            hint: right,
        },
        again,
        wait: asked,
    }
}

/// An address without user, query and fragment.
fn shown(url: &Url) -> String {
    let mut url = url.clone();
    let queried = url.query().is_some();
    url.set_query(None);
    url.set_fragment(None);
    let _ = url.set_username("");
    let _ = url.set_password(None);
    if queried { format!("{url}?…") } else { url.to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fetcher(url: &str) -> (Fetcher, Url) {
        let now = jiff::Timestamp::UNIX_EPOCH;
        Fetcher::new(url, &BTreeMap::new(), &HttpSettings::default(), false, &Options::at(now))
            .unwrap()
    }

    #[test]
    fn a_redirect_never_leads_into_the_own_network() {
        let (fetcher, _) = fetcher("https://198.41.0.4/air");
        for private in [
            "http://127.0.0.1:1/",
            "http://169.254.169.254/",
            "http://[::1]/",
            "http://localhost/",
            "http://10.0.0.1/",
        ] {
            let url = Url::parse(private).unwrap();
            let Err(failed) = fetcher.client(&url, true) else { panic!("{private} is allowed") };
            assert!(!failed.again);
            let error = failed.fault.at("https://example.org");
            assert!(error.hint().contains("allow_private"), "{error}");
            assert!(fetcher.client(&url, false).is_ok());
        }
        let from = Url::parse("https://example.org/").unwrap();
        let open = Url::parse("http://example.org/").unwrap();
        assert!(fetcher.checked(&from, open).unwrap_err().at("x").to_string().contains("secure"));
    }

    #[test]
    fn a_map_that_starts_at_home_may_stay_there() {
        let (home, url) = fetcher("http://127.0.0.1:8099/air");
        assert!(home.starts_private(&url));
        let (out, url) = fetcher("https://198.41.0.4/air");
        assert!(!out.starts_private(&url));
        assert_eq!(shown(&Url::parse("https://u:p@e.org/a?key=1#x").unwrap()), "https://e.org/a?…");
    }
}

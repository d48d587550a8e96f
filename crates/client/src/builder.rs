//! How a client is set up.

use crate::bounds::Bounds;
use crate::client::Client;
use crate::failure::{bad_url, no_trust};
use crate::names::SystemNames;
use crate::tls;
use guardcell::Error;
use std::net::IpAddr;
use std::sync::Arc;
use std::time::Duration;
use url::{Host, Url};

/// Bounds of a client; [`ClientBuilder::build`] makes it.
///
/// ```
/// use guardcell_client::Client;
/// use std::time::Duration;
/// let client = Client::builder("http://127.0.0.1:8427")
///     .timeout(Duration::from_secs(10))
///     .most_bytes(4 << 20)
///     .build()?;
/// assert_eq!(client.url(), "http://127.0.0.1:8427/");
/// # Ok::<(), guardcell::Error>(())
/// ```
#[derive(Debug, Clone)]
#[must_use]
pub struct ClientBuilder {
    url: String,
    pub(crate) bounds: Bounds,
    gzip: bool,
}

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
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    pub fn new(url: &str) -> Result<Self, Error> {
        Self::builder(url).build()
    }

    /// A client with bounds of one's own.
    ///
    /// ```
    /// let client = guardcell_client::Client::builder("http://localhost:8427").retries(0).build()?;
    /// # Ok::<(), guardcell::Error>(())
    /// ```
    pub fn builder(url: &str) -> ClientBuilder {
        ClientBuilder::new(url)
    }
}

impl ClientBuilder {
    pub(crate) fn new(url: &str) -> Self {
        Self {
            url: url.to_owned(),
            bounds: Bounds {
                connect: Duration::from_secs(5),
                timeout: Duration::from_secs(60),
                most_bytes: 64 << 20,
                retries: 3,
                longest_wait: Duration::from_secs(10),
            },
            gzip: true,
        }
    }

    /// How long making a connection may take; default 5 s.
    pub const fn connect_timeout(mut self, time: Duration) -> Self {
        self.bounds.connect = time;
        self
    }

    /// How long one attempt at an answer may take; default 60 s.
    pub const fn timeout(mut self, time: Duration) -> Self {
        self.bounds.timeout = time;
        self
    }

    /// The most bytes of one answer, after decompression; default 64 MiB.
    pub const fn most_bytes(mut self, bytes: u64) -> Self {
        self.bounds.most_bytes = bytes;
        self
    }

    /// How often a busy server is asked again; default 3 times.
    pub const fn retries(mut self, times: u32) -> Self {
        self.bounds.retries = times;
        self
    }

    /// The longest wait between two attempts; a server that asks for a longer one counts as busy.
    /// Default 10 s.
    pub const fn longest_wait(mut self, time: Duration) -> Self {
        self.bounds.longest_wait = time;
        self
    }

    /// Whether answers may be compressed (gzip); default yes.
    pub const fn gzip(mut self, yes: bool) -> Self {
        self.gzip = yes;
        self
    }

    /// Makes the client. Nothing is sent yet.
    ///
    /// # Errors
    /// [`Code::InvalidText`](guardcell::Code::InvalidText) unless the address is `http://` or
    /// `https://` with a host; [`Code::Network`](guardcell::Code::Network) for `https://` if no
    /// trusted root certificates are found.
    pub fn build(self) -> Result<Client, Error> {
        let base = base(&self.url)?;
        let mut http = reqwest::blocking::Client::builder()
            .user_agent(concat!("guardcell-client/", env!("CARGO_PKG_VERSION")))
            .tls_backend_preconfigured(tls::config(base.scheme() == "https")?)
            .dns_resolver(Arc::new(SystemNames))
            .redirect(reqwest::redirect::Policy::none())
            .connect_timeout(self.bounds.connect)
            .timeout(self.bounds.timeout)
            .gzip(self.gzip);
        if is_loopback(&base) {
            // A proxy could not reach this machine under that name.
            http = http.no_proxy();
        }
        let http = http.build().map_err(|e| no_trust(&e.to_string()))?;
        Ok(Client { http, base, bounds: self.bounds })
    }
}

/// The address of a server, with a `/` at its end so that paths can be appended.
fn base(given: &str) -> Result<Url, Error> {
    let wrong = |why: &str| bad_url(given, why);
    let mut url = Url::parse(given.trim()).map_err(|e| match e {
        url::ParseError::RelativeUrlWithoutBase => {
            wrong("it does not begin with http:// or https://")
        }
        e => wrong(&e.to_string()),
    })?;
    if !matches!(url.scheme(), "http" | "https") {
        return Err(wrong(&format!("{} is not http or https", url.scheme())));
    }
    if !url.username().is_empty() || url.password().is_some() {
        // Without the address, which holds the password.
        return Err(bad_url(
            &format!("{}://…", url.scheme()),
            "it contains a name or a password, which guardcell does not use",
        ));
    }
    if url.query().is_some() || url.fragment().is_some() {
        return Err(wrong("it has a query or a fragment"));
    }
    if !url.path().ends_with('/') {
        let path = format!("{}/", url.path());
        url.set_path(&path);
    }
    Ok(url)
}

fn is_loopback(url: &Url) -> bool {
    match url.host() {
        Some(Host::Ipv4(ip)) => IpAddr::V4(ip).is_loopback(),
        Some(Host::Ipv6(ip)) => IpAddr::V6(ip).is_loopback(),
        Some(Host::Domain(name)) => name == "localhost" || name.ends_with(".localhost"),
        None => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn addresses() {
        for (given, made) in [
            ("http://127.0.0.1:8427", "http://127.0.0.1:8427/"),
            ("https://plants.example/guardcell", "https://plants.example/guardcell/"),
            (" http://[::1]:8427/ ", "http://[::1]:8427/"),
        ] {
            assert_eq!(base(given).unwrap().as_str(), made);
        }
        for given in [
            "127.0.0.1:8427",
            "localhost:8427",
            "ftp://x/",
            "file:///etc/passwd",
            "http://",
            "",
            "http://x/?a=1",
            "http://x/#a",
        ] {
            let e = base(given).unwrap_err();
            assert_eq!(e.code(), guardcell::Code::InvalidText, "{given}: {e}");
        }
        let e = base("http://grower:secret@x/").unwrap_err().to_string();
        assert!(!e.contains("secret"), "{e}");
    }

    #[test]
    fn loopback_names() {
        for (url, loopback) in [
            ("http://127.9.9.9/", true),
            ("http://[::1]/", true),
            ("http://localhost:1/", true),
            ("http://10.0.0.1/", false),
            ("http://localhost.example/", false),
        ] {
            assert_eq!(is_loopback(&base(url).unwrap()), loopback, "{url}");
        }
    }
}

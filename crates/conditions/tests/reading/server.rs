//! A server on this machine that answers as a test wants it to.

use guardcell_conditions::{Error, Map, Options, Read, read};
use std::path::Path;
use tokio::runtime::Runtime;
use wiremock::{Mock, MockServer};

pub(crate) struct Server {
    runtime: Runtime,
    mock: MockServer,
}

impl Server {
    pub(crate) fn new() -> Self {
        let runtime = Runtime::new().unwrap();
        let mock = runtime.block_on(MockServer::start());
        Self { runtime, mock }
    }

    pub(crate) fn mount(&self, mock: Mock) {
        self.runtime.block_on(mock.mount(&self.mock));
    }

    pub(crate) fn url(&self) -> String {
        self.mock.uri()
    }

    pub(crate) fn requests(&self) -> Vec<wiremock::Request> {
        self.runtime.block_on(self.mock.received_requests()).unwrap()
    }
}

pub(crate) const NOW: &str = "2026-06-21T05:00:00Z";

/// A variable that every test finds in its environment.
pub(crate) fn environment(name: &str) -> Option<String> {
    (name == "FERNHOLLOW_TOKEN").then(|| "t0ken-of-the-house".to_owned())
}

pub(crate) fn options() -> Options<'static> {
    Options { now: NOW.parse().unwrap(), allow_stale: false, environment: &environment }
}

/// Follows the map of a test.
pub(crate) fn follow(map: &str) -> Result<Read, Error> {
    read(&Map::parse(map, "map.toml")?, Path::new(""), &options())
}

/// The map of one reading at `url`.
pub(crate) fn current(url: &str, more: &str) -> String {
    format!(
        r#"
source = "json"
url = "{url}"
{more}
[http]
connect_s = 5
total_s = 5
wait_most_s = 1
most_mib = 1
[current]
area = "house"
time = {{ pointer = "/at" }}
temperature = {{ pointer = "/air/t", unit = "Cel" }}
humidity = {{ pointer = "/air/rh", unit = "%" }}
"#
    )
}

pub(crate) const AIR: &str = r#"{"at": "2026-06-21T04:30:00Z", "air": {"t": 18.5, "rh": 88}}"#;

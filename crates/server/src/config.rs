//! Server configuration.

use crate::engine::Engine;
use crate::offer::Offer;
use crate::tls::Tls;
use guardcell::calls::{ALL, AnyCall};
use std::net::SocketAddr;
use std::sync::Arc;
use std::time::Duration;

/// How a server listens and what it bounds. [`Config::default`] listens on loopback alone.
///
/// ```
/// let config = guardcell_server::Config::default();
/// assert!(config.bind.ip().is_loopback());
/// ```
#[derive(Debug, Clone)]
pub struct Config {
    /// The address and port; port 0 takes a free one.
    pub bind: SocketAddr,
    /// Whether an address other than loopback may be bound.
    pub public: bool,
    /// Host names accepted beside `localhost` and loopback addresses while bound to loopback, such
    /// as the name that a reverse proxy passes on. It keeps a page of another site from reaching
    /// this server through a name of its own (DNS rebinding).
    pub hosts: Vec<String>,
    /// The certificate and key; without them the server speaks plain HTTP.
    pub tls: Option<Tls>,
    /// A folder and its journal for paired devices, if the server offers one.
    pub offer: Option<Arc<dyn Offer>>,
    /// Origins of pages, such as `https://house.example.org`, that may ask for it beside those of this
    /// server.
    pub origins: Vec<String>,
    /// Origins of pages that may ask for calculations, and for nothing else.
    pub calculation_origins: Vec<String>,
    /// The calls that are served, each at its own path below `/v1/`.
    pub calls: Vec<AnyCall>,
    /// The engine with which the page calculates on the device; without one it asks this server.
    pub engine: Option<Engine>,
    /// The largest body of a request, and the longest line of a stream, in bytes.
    pub body_bytes: usize,
    /// Requests in work at once; more are answered 503 with `Retry-After`.
    pub in_flight: usize,
    /// The part of them, in percent, that one address may hold.
    pub in_flight_percent_of_one: usize,
    /// Streams at once, a part of the requests in work.
    pub streams: usize,
    /// Calculations at once; further requests in work wait their turn. Dear ones leave one free
    /// for cheap ones where there are more than one.
    pub calculations: usize,
    /// Bytes of large bodies and answers that are held at once.
    pub room_bytes: usize,
    /// Connections at once; more are answered 503 and closed.
    pub connections: usize,
    /// How long the head of a request may take, including the wait on an idle connection.
    pub head_time: Duration,
    /// How long the body of a request may take, and one line of a stream.
    pub body_time: Duration,
    /// How long a stream may take as a whole.
    pub stream_time: Duration,
    /// How long a caller may take to read an answer.
    pub answer_time: Duration,
    /// How long a calculation may take, including its wait for a turn.
    pub calculation_time: Duration,
    /// How long a write may stall before the connection is dropped.
    pub write_time: Duration,
    /// How long requests in work may take to finish once the server stops.
    pub grace_time: Duration,
}

impl Default for Config {
    fn default() -> Self {
        let cores = std::thread::available_parallelism().map_or(2, usize::from);
        Self {
            bind: SocketAddr::from(([127, 0, 0, 1], 8427)),
            public: false,
            hosts: Vec::new(),
            tls: None,
            offer: None,
            origins: Vec::new(),
            calculation_origins: Vec::new(),
            calls: ALL.to_vec(),
            engine: Engine::built_in(),
            body_bytes: 4 << 20,
            in_flight: 256,
            in_flight_percent_of_one: 75,
            streams: 64,
            calculations: cores,
            room_bytes: 256 << 20,
            connections: 4096,
            head_time: Duration::from_secs(10),
            body_time: Duration::from_secs(20),
            stream_time: Duration::from_secs(900),
            answer_time: Duration::from_secs(120),
            calculation_time: Duration::from_secs(20),
            write_time: Duration::from_secs(20),
            grace_time: Duration::from_secs(30),
        }
    }
}

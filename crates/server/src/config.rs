//! What a server is told before it starts.

use std::net::SocketAddr;
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
    /// Host names that may be asked for beside `localhost` and loopback addresses while bound to
    /// loopback, such as the name a reverse proxy passes on. A page of another site cannot make a
    /// browser ask this server under its own name.
    pub hosts: Vec<String>,
    /// The largest body of a request, and the longest line of a stream, in bytes.
    pub body_bytes: usize,
    /// The deepest nesting of JSON.
    pub json_depth: usize,
    /// Requests in work at once; more are answered 503 with `Retry-After`.
    pub in_flight: usize,
    /// Calculations at once; the rest of what is in work waits its turn.
    pub calculations: usize,
    /// Connections at once; more are answered 503 and closed.
    pub connections: usize,
    /// How long the head of a request may take, the wait on an idle connection included.
    pub head_time: Duration,
    /// How long the body of a request may take, and one frame of a stream.
    pub body_time: Duration,
    /// How long a calculation may take, its wait for a turn included.
    pub calculation_time: Duration,
    /// How long a write may stand still before the connection is dropped.
    pub write_time: Duration,
    /// How long requests in work may take to finish once the server is told to stop.
    pub grace_time: Duration,
}

impl Default for Config {
    fn default() -> Self {
        let cores = std::thread::available_parallelism().map_or(2, usize::from);
        Self {
            bind: SocketAddr::from(([127, 0, 0, 1], 8427)),
            public: false,
            hosts: Vec::new(),
            body_bytes: 4 << 20,
            json_depth: 32,
            in_flight: 256,
            calculations: cores,
            connections: 4096,
            head_time: Duration::from_secs(10),
            body_time: Duration::from_secs(20),
            calculation_time: Duration::from_secs(20),
            write_time: Duration::from_secs(20),
            grace_time: Duration::from_secs(30),
        }
    }
}

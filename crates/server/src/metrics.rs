//! Counters, in the text format that Prometheus reads.

use axum::http::Method;
use prometheus_client::encoding::{EncodeLabelSet, text::encode};
use prometheus_client::metrics::counter::Counter;
use prometheus_client::metrics::family::Family;
use prometheus_client::metrics::gauge::Gauge;
use prometheus_client::metrics::histogram::Histogram;
use prometheus_client::registry::Registry;
use std::time::Duration;

/// One route, method and status.
#[derive(Clone, Debug, Hash, PartialEq, Eq, EncodeLabelSet)]
struct Answered {
    route: String,
    method: String,
    status: u16,
}

#[derive(Clone, Debug, Hash, PartialEq, Eq, EncodeLabelSet)]
struct Route {
    route: String,
}

/// The counters of one server.
pub(crate) struct Metrics {
    pub(crate) stopped: Counter,
    registry: Registry,
    requests: Family<Answered, Counter>,
    seconds: Family<Route, Histogram>,
    pub(crate) in_flight: Gauge,
    pub(crate) connections: Gauge,
    pub(crate) turned_away: Counter,
    pub(crate) stream_lines: Counter,
}

/// Upper bounds of the histogram of answer times, in seconds.
const BUCKETS: [f64; 11] = [0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.5, 2.5, 10.0];

impl Metrics {
    pub(crate) fn new() -> Self {
        let mut registry = Registry::with_prefix("guardcell");
        let requests = Family::default();
        let seconds =
            Family::new_with_constructor((|| Histogram::new(BUCKETS)) as fn() -> Histogram);
        let (in_flight, connections) = (Gauge::default(), Gauge::default());
        let (turned_away, stream_lines) = (Counter::default(), Counter::default());
        let stopped = Counter::default();
        registry.register("requests", "Requests answered", requests.clone());
        registry.register("request_seconds", "Time to the head of the answer", seconds.clone());
        registry.register("in_flight", "Requests in work", in_flight.clone());
        registry.register("connections", "Open connections", connections.clone());
        registry.register(
            "turned_away",
            "Connections and requests answered 503",
            turned_away.clone(),
        );
        registry.register("stream_lines", "Lines of advice streams answered", stream_lines.clone());
        registry.register(
            "log_lines_lost",
            "Log lines that standard error did not take",
            crate::log::lost().clone(),
        );
        registry.register(
            "calculations_stopped",
            "Calculations stopped, as time was over or the client left",
            stopped.clone(),
        );
        Self {
            stopped,
            registry,
            requests,
            seconds,
            in_flight,
            connections,
            turned_away,
            stream_lines,
        }
    }

    pub(crate) fn answered(&self, route: &str, method: &Method, status: u16, took: Duration) {
        let (route, method) = (route.to_owned(), method.as_str().to_owned());
        self.seconds.get_or_create(&Route { route: route.clone() }).observe(took.as_secs_f64());
        self.requests.get_or_create(&Answered { route, method, status }).inc();
    }

    pub(crate) fn text(&self) -> String {
        let mut out = String::new();
        // Writing to a string does not fail.
        let _ = encode(&mut out, &self.registry);
        out
    }
}

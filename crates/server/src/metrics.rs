//! What the server counts, in the text format that Prometheus reads.

use axum::http::Method;
use prometheus_client::encoding::{EncodeLabelSet, text::encode};
use prometheus_client::metrics::counter::Counter;
use prometheus_client::metrics::family::Family;
use prometheus_client::metrics::gauge::Gauge;
use prometheus_client::metrics::histogram::Histogram;
use prometheus_client::registry::Registry;
use std::collections::HashMap;
use std::sync::RwLock;
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
    registry: Registry,
    requests: Family<Answered, Counter>,
    seconds: Family<Route, Histogram>,
    pub(crate) in_flight: Gauge,
    pub(crate) connections: Gauge,
    pub(crate) turned_away: Counter,
    pub(crate) stream_lines: Counter,
    /// What is counted most, found without writing labels anew for every request.
    known: RwLock<HashMap<String, Known>>,
}

/// A route that has given a good answer.
struct Known {
    seconds: Histogram,
    /// The method of its good answers and their counter.
    good: Option<(Method, Counter)>,
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
        Self {
            registry,
            requests,
            seconds,
            in_flight,
            connections,
            turned_away,
            stream_lines,
            known: RwLock::default(),
        }
    }

    pub(crate) fn answered(&self, route: &str, method: &Method, status: u16, took: Duration) {
        let seen = |known: &Known| {
            known.seconds.observe(took.as_secs_f64());
            match known.good.as_ref().filter(|good| good.0 == *method && status == 200) {
                Some((_, counter)) => counter.inc(),
                None => self.counter(route, method, status).inc(),
            };
        };
        if let Some(known) = self.known.read().ok().as_deref().and_then(|k| k.get(route)) {
            return seen(known);
        }
        let known = Known {
            seconds: self.seconds.get_or_create(&Route { route: route.into() }).clone(),
            good: (status == 200).then(|| (method.clone(), self.counter(route, method, status))),
        };
        seen(&known);
        // A route is learned with its first good answer, which is the usual one.
        if known.good.is_some()
            && let Ok(mut all) = self.known.write()
        {
            all.insert(route.to_owned(), known);
        }
    }

    fn counter(&self, route: &str, method: &Method, status: u16) -> Counter {
        let method = method.as_str().to_owned();
        self.requests.get_or_create(&Answered { route: route.into(), method, status }).clone()
    }

    pub(crate) fn text(&self) -> String {
        let mut out = String::new();
        // Writing to a string does not fail.
        let _ = encode(&mut out, &self.registry);
        out
    }
}

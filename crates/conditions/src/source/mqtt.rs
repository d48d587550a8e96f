//! Messages of a broker, joined on time.

use crate::assemble::Gathered;
use crate::map::{Asked, MqttMap, MqttSeries, Retained, TopicQuantity};
use crate::moment::{Clock, Stamp};
use crate::pointer::{follow, what};
use crate::report::{Effect, IssueCode};
use crate::row::RowPlace;
use crate::source::join::{Joined, Observed, Sequence, join_sequences};
use crate::source::json::cell;
use crate::source::{moment, time_of};
use guardcell::Error;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use serde_json::Value;
use std::sync::Arc;

/// One message as it came.
#[derive(Debug, Clone)]
pub(crate) struct Message {
    pub(crate) topic: String,
    pub(crate) payload: Vec<u8>,
    /// Whether the broker had kept it from before.
    pub(crate) retained: bool,
    /// When it came.
    pub(crate) arrived: Timestamp,
}

/// The whole topics of a map, each once.
pub(crate) fn topics(map: &MqttMap, base: &str) -> Result<Vec<String>, Error> {
    let mut out: Vec<String> = Vec::new();
    for (i, series) in map.series.iter().enumerate() {
        for a in series.asked().map_err(|f| f.within(&format!("/series/{i}")))? {
            let topic = series.topic(base, a.from);
            if !out.contains(&topic) {
                out.push(topic);
            }
        }
    }
    Ok(out)
}

/// Whether a message can give a value: a kept one without a time may be of any day.
pub(crate) fn counts(map: &MqttMap, base: &str, message: &Message) -> bool {
    let timed = |s: &MqttSeries| s.time.is_some() && topic_of(s, base, message);
    !message.retained || map.retained == Retained::Now || map.series.iter().any(timed)
}

fn topic_of(series: &MqttSeries, base: &str, message: &Message) -> bool {
    series
        .asked()
        .is_ok_and(|asked| asked.iter().any(|a| series.topic(base, a.from) == message.topic))
}

pub(crate) fn gather(map: &MqttMap, base: &str, messages: &[Message]) -> Result<Gathered, Error> {
    let mut gathered = Gathered { rows_read: messages.len(), ..Gathered::default() };
    for (i, series) in map.series.iter().enumerate() {
        let here = |f: Error| f.within(&format!("/series/{i}"));
        let clock = series.time.as_ref().map(|t| t.clock()).transpose();
        let clock = clock.map_err(|f| here(f.within("/time")))?;
        let asked = series.asked().map_err(here)?;
        let mut sequences = Vec::new();
        for (at, a) in asked.into_iter().enumerate() {
            if let Some(scale) = &a.scale {
                gathered.unit(a.quantity, scale);
            }
            let topic = series.topic(base, a.from);
            let own: Vec<&Message> = messages.iter().filter(|m| m.topic == topic).collect();
            // A temperature without a time is a reading that is dropped.
            let readings = usize::from(at == 0);
            let dropped = gathered.issues.dropped;
            let values = observed(map, series, &a, clock.as_ref(), &own, readings, &mut gathered);
            gathered.possible += gathered.issues.dropped - dropped;
            let (quantity, limit_within) = (a.quantity, a.limit_within);
            sequences.push(Sequence { name: topic, quantity, limit_within, values });
        }
        let joined = Joined {
            area: series.area.clone(),
            zone: clock.as_ref().map_or(TimeZone::UTC, Clock::zone),
            forecast: false,
            tolerance_s: map.tolerance_s,
        };
        join_sequences(sequences, &joined, &mut gathered);
    }
    Ok(gathered)
}

/// The values of one quantity, in the order of time.
fn observed(
    map: &MqttMap,
    series: &MqttSeries,
    asked: &Asked<&TopicQuantity>,
    clock: Option<&Clock>,
    messages: &[&Message],
    readings: usize,
    gathered: &mut Gathered,
) -> Vec<Observed> {
    let mut out = Vec::new();
    for (n, message) in messages.iter().enumerate() {
        let place = RowPlace::Named(Arc::from(format!("{} message {}", message.topic, n + 1)));
        let text = String::from_utf8_lossy(&message.payload);
        let document = match &asked.from.pointer {
            Some(_) => serde_json::from_str(&text).map_err(|e| format!("it is not JSON ({e})")),
            None => Ok(Value::String(text.trim().to_owned())),
        };
        let value = document.and_then(|document: Value| {
            let value = match &asked.from.pointer {
                Some(pointer) => follow(&document, pointer)?.clone(),
                None => document.clone(),
            };
            Ok((document, value))
        });
        let (document, value) = match value {
            Ok(both) => both,
            Err(why) => {
                let quantity = Some(asked.quantity);
                let effect = if readings > 0 { Effect::Dropped } else { Effect::LeftOut };
                let code = IssueCode::NotANumber;
                gathered
                    .issues
                    .add(code, effect, quantity, &place, || format!("the message: {why}"));
                continue;
            }
        };
        let time = match (&series.time, clock) {
            (Some(stated), Some(clock)) => {
                written(&document, &stated.pointer, clock, &place, readings, gathered)
            }
            _ if message.retained && map.retained == Retained::Drop => {
                gathered.issues.drop_row(IssueCode::NoTime, &place, readings, || {
                    "the broker had kept the message, and it holds no time: it may be of any day \
                     (`retained = \"now\"` in the map takes it as of now)"
                        .into()
                });
                None
            }
            _ => Some(message.arrived),
        };
        let Some(time) = time else { continue };
        let cell = cell(Some(&value), asked.scale.as_ref(), &map.missing);
        out.push(Observed { place, time, cell });
    }
    out.sort_by_key(|o| o.time);
    out
}

/// The time within a message.
fn written(
    document: &Value,
    pointer: &str,
    clock: &Clock,
    place: &RowPlace,
    readings: usize,
    gathered: &mut Gathered,
) -> Option<Timestamp> {
    let words = match follow(document, pointer) {
        Ok(Value::String(s)) => s.clone(),
        Ok(Value::Number(n)) => n.to_string(),
        Ok(other) => {
            let says = format!("the time is {}", what(other));
            gathered.issues.drop_row(IssueCode::BadTime, place, readings, || says);
            return None;
        }
        Err(why) => {
            gathered.issues.drop_row(IssueCode::BadTime, place, readings, || why);
            return None;
        }
    };
    let time = time_of(clock, &words, place, readings, gathered)?;
    let stamp = Stamp { time: Some(time), key: String::new(), content: 0 };
    let settled = clock.settle(&[stamp]).into_iter().next().flatten();
    moment(settled, &words, place, readings, gathered)
}

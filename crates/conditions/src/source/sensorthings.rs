//! Datastreams of a service of OGC SensorThings v1.1 (OGC 18-088), joined on time.
//!
//! A Datastream names its unit; its Observations are asked for newest first, page by page over
//! `@iot.nextLink`, which is followed within the same origin only. Of an Observation over an
//! interval the end counts.

use crate::assemble::{Gathered, written};
use crate::error::{FetchFault, in_data, in_map};
use crate::http::Fetcher;
use crate::map::{Asked, EntityId, SensorThingsMap, StreamQuantity};
use crate::pointer::what;
use crate::report::{Effect, IssueCode};
use crate::row::RowPlace;
use crate::source::join::{Joined, Observed, Sequence, join_sequences};
use crate::source::json::cell;
use crate::unit::Scale;
use guardcell::Error;
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use serde_json::Value;
use std::sync::Arc;
use url::Url;

/// One Observation.
struct Observation {
    place: RowPlace,
    time: Timestamp,
    result: Value,
}

/// A service and what is asked of it.
struct Service<'a> {
    map: &'a SensorThingsMap,
    fetcher: &'a Fetcher,
    root: String,
    from: Timestamp,
}

pub(crate) fn gather(
    map: &SensorThingsMap,
    fetcher: &Fetcher,
    root: &Url,
    now: Timestamp,
) -> Result<Gathered, Error> {
    let from = now
        .checked_sub(SignedDuration::from_secs_f64(map.back_h * 3600.0))
        .unwrap_or(Timestamp::MIN);
    let service =
        Service { map, fetcher, root: root.as_str().trim_end_matches('/').to_owned(), from };
    let mut gathered = Gathered::default();
    for (i, series) in map.series.iter().enumerate() {
        let asked = series.asked().map_err(|f| f.within(&format!("/series/{i}")))?;
        let mut sequences = Vec::new();
        for a in &asked {
            let key = |f: Error| f.within(&format!("/series/{i}/{}", a.quantity.key()));
            // An error of the service has an address and does not lie in the map.
            let (name, entity) = service
                .datastream(a.from)
                .map_err(|e| if e.place().is_some() { e } else { key(e) })?;
            let scale = scale(a, &entity).map_err(key)?;
            gathered.unit(a.quantity, &scale);
            let observations = service.observations(&name, &mut gathered)?;
            gathered.rows_read += observations.len();
            let values = observations.into_iter().map(|o| Observed {
                cell: cell(Some(&o.result), Some(&scale), &map.missing),
                place: o.place,
                time: o.time,
            });
            sequences.push(Sequence {
                name,
                quantity: a.quantity,
                limit_within: scale.difference(a.from.limit_within.unwrap_or(0.0)),
                values: values.collect(),
            });
        }
        let joined = Joined {
            area: series.area.clone(),
            zone: TimeZone::UTC,
            forecast: false,
            tolerance_s: map.tolerance_s,
        };
        join_sequences(sequences, &joined, &mut gathered);
    }
    Ok(gathered)
}

impl Service<'_> {
    fn url(&self, path: &str, query: &[(&str, &str)]) -> Result<Url, Error> {
        let mut text = format!("{}/{path}", self.root);
        for (i, (key, value)) in query.iter().enumerate() {
            // Services differ in whether they take `+` for a space.
            let encoded: String = url::form_urlencoded::byte_serialize(value.as_bytes()).collect();
            text.push(if i == 0 { '?' } else { '&' });
            text.push_str(&format!("{key}={}", encoded.replace('+', "%20")));
        }
        Url::parse(&text).map_err(|_| {
            in_map(
                "url",
                "it does not make an address with the paths of SensorThings",
                "give the root of the service, such as https://example.org/v1.1",
            )
        })
    }

    fn get(&self, url: &Url) -> Result<Value, Error> {
        let answer = self.fetcher.get(url)?;
        serde_json::from_slice(&answer.body).map_err(|e| {
            FetchFault::NotJson { content_type: answer.content_type, detail: e.to_string() }
                .at(&self.fetcher.shown(url))
        })
    }

    /// The Datastream with its path.
    fn datastream(&self, asked: &StreamQuantity) -> Result<(String, Value), Error> {
        if let Some(id) = &asked.datastream {
            let name = path(id);
            let entity = self.get(&self.url(&name, &[])?)?;
            return Ok((name, entity));
        }
        let filter = asked.filter.as_deref().unwrap_or_default();
        let url = self.url("Datastreams", &[("$filter", filter), ("$top", "2")])?;
        let answer = self.get(&url)?;
        let found = list(&answer, &self.fetcher.shown(&url))?;
        let [entity] = found.as_slice() else {
            let wrong = if found.is_empty() {
                "no Datastream meets it"
            } else {
                "more than one Datastream meets it"
            };
            let right = "state a filter that just one meets, or its identifier as `datastream`";
            return Err(in_map("filter", wrong, right));
        };
        let id = match entity.get("@iot.id") {
            Some(Value::Number(n)) => n.as_u64().map(EntityId::Number),
            Some(Value::String(s)) => Some(EntityId::Text(s.clone())),
            _ => None,
        };
        let id = id.ok_or_else(|| {
            in_data(self.fetcher.shown(&url), "a Datastream has no @iot.id", NO_SERVICE)
        })?;
        Ok((path(&id), entity.clone()))
    }

    /// The Observations of a Datastream, in the order of time.
    fn observations(&self, name: &str, gathered: &mut Gathered) -> Result<Vec<Observation>, Error> {
        let since = format!("phenomenonTime ge {}", written(self.from, &TimeZone::UTC));
        let top = self.map.top.to_string();
        let mut url = self.url(
            &format!("{name}/Observations"),
            &[
                ("$select", "phenomenonTime,result"),
                ("$orderby", "phenomenonTime desc"),
                ("$top", &top),
                ("$filter", &since),
            ],
        )?;
        let mut out = Vec::new();
        for page in 1..=self.map.pages_most {
            let answer = self.get(&url)?;
            for entity in list(&answer, &self.fetcher.shown(&url))? {
                self.observation(entity, name, &mut out, gathered);
            }
            let Some(next) = answer.get("@iot.nextLink") else { break };
            // A service may not have followed $filter; its pages end here all the same.
            if out.last().is_some_and(|o: &Observation| o.time < self.from) {
                break;
            }
            if page == self.map.pages_most {
                let place = RowPlace::Named(Arc::from(name));
                gathered.issues.add(IssueCode::Capped, Effect::Noted, None, &place, || {
                    format!(
                        "there are more Observations than {page} pages of {top}; the older ones \
                         were not read (`top`, `pages_most`, `back_h`)"
                    )
                });
                break;
            }
            url = self.next(next, &url)?;
        }
        out.retain(|o| o.time >= self.from);
        out.sort_by_key(|o| o.time);
        Ok(out)
    }

    fn observation(
        &self,
        entity: &Value,
        name: &str,
        out: &mut Vec<Observation>,
        gathered: &mut Gathered,
    ) {
        let time = entity.get("phenomenonTime").unwrap_or(&Value::Null);
        let end = match time {
            // An interval is written start/end.
            Value::String(s) => s.rsplit('/').next().and_then(|t| t.parse::<Timestamp>().ok()),
            _ => None,
        };
        let Some(moment) = end else {
            gathered.rows_read += 1;
            let place = RowPlace::Named(Arc::from(name));
            gathered.issues.add(IssueCode::BadTime, Effect::LeftOut, None, &place, || {
                format!("the phenomenonTime of an Observation is {}", what(time))
            });
            return;
        };
        out.push(Observation {
            place: RowPlace::Named(Arc::from(format!("{name} {moment}"))),
            time: moment,
            result: entity.get("result").cloned().unwrap_or(Value::Null),
        });
    }

    /// The next page, within the service.
    fn next(&self, link: &Value, url: &Url) -> Result<Url, Error> {
        let next = match link {
            Value::String(s) => url.join(s).ok(),
            _ => None,
        };
        let fault = |wrong: String| {
            in_data(
                self.fetcher.shown(url),
                wrong,
                "ask the service to state its own address (behind a proxy it may not know it), or \
                 raise `top` so that one page is enough",
            )
        };
        let next = next
            .ok_or_else(|| fault(format!("@iot.nextLink is not an address but {}", what(link))))?;
        if self.fetcher.is_own(&next) {
            return Ok(next);
        }
        Err(fault(format!(
            "@iot.nextLink leads to another origin, {}, which is not followed",
            next.origin().ascii_serialization()
        )))
    }
}

const NO_SERVICE: &str = "check that the address is the root of a SensorThings v1.1 service";

fn path(id: &EntityId) -> String {
    match id {
        EntityId::Number(n) => format!("Datastreams({n})"),
        EntityId::Text(s) => {
            let encoded: String =
                url::form_urlencoded::byte_serialize(s.replace('\'', "''").as_bytes()).collect();
            format!("Datastreams('{}')", encoded.replace('+', "%20"))
        }
    }
}

/// The entities of a collection.
fn list<'v>(answer: &'v Value, address: &str) -> Result<&'v Vec<Value>, Error> {
    match answer.get("value") {
        Some(Value::Array(items)) => Ok(items),
        _ => Err(in_data(
            address,
            format!(
                "the answer is {}, and the list `value` of SensorThings is missing",
                what(answer)
            ),
            NO_SERVICE,
        )),
    }
}

/// The unit of a Datastream: its symbol, a UCUM code in its definition, its name; or that of the
/// map. Where both are understood they must agree.
fn scale(asked: &Asked<&StreamQuantity>, entity: &Value) -> Result<Scale, Error> {
    if let (Some(scale), Some(_)) = (&asked.scale, asked.from.w_m2_per_unit) {
        return Ok(scale.clone());
    }
    let unit = entity.get("unitOfMeasurement");
    let text =
        |key: &str| unit.and_then(|u| u.get(key)).and_then(Value::as_str).unwrap_or_default();
    let definition = text("definition");
    let code = definition.strip_prefix("ucum:").or_else(|| {
        definition.contains("unitsofmeasure.org").then(|| definition.rsplit(['/', '#']).next())?
    });
    let candidates = [text("symbol"), code.unwrap_or_default(), text("name")];
    let mut first: Option<Error> = None;
    let mut theirs = None;
    for candidate in candidates.into_iter().filter(|c| !c.is_empty()) {
        match Scale::new(asked.quantity, candidate, None) {
            Ok(scale) => {
                theirs = Some(scale);
                break;
            }
            Err(fault) => first = first.or(Some(fault)),
        }
    }
    let stated = format!("{:?} ({:?})", text("symbol"), text("name"));
    match (theirs, &asked.scale) {
        (Some(theirs), Some(ours)) if !theirs.agrees_with(ours) => Err(in_map(
            "unit",
            format!("the service states {stated} and the map {:?}", ours.written),
            "omit `unit` from the map, or correct it",
        )),
        (Some(theirs), _) => Ok(theirs),
        (None, Some(ours)) => Ok(ours.clone()),
        (None, None) => Err(in_map(
            "unit",
            match first {
                Some(fault) => format!("the service states {stated}: {}", fault.detail()),
                None => "the service states no unit".into(),
            },
            "check that this is the right Datastream; if it is, state its `unit` in the map",
        )),
    }
}

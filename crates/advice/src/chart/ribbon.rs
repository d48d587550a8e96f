//! The 24-hour ribbon: light, humidity, openings and best windows of one area.

use crate::advise::advise;
use crate::answer::{PlantAdvice, PlantOpening, Window};
use crate::error::below;
use crate::moment::{self, rfc3339};
use crate::name;
use crate::request::AdviceRequest;
use crate::series::{self, Series};
use crate::site;
use guardcell_call::setters;
use guardcell_clock::light_hours;
use guardcell_error::{Code, Error};
use jiff::{SignedDuration, Timestamp, ZonedDateTime};
use serde::{Deserialize, Serialize};

/// A request for the ribbon of one area.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct DayRibbonRequest {
    /// The situation; its `at` is where the ribbon begins.
    pub situation: AdviceRequest,
    /// The area; the first of the site where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
}

impl DayRibbonRequest {
    /// The first area of a situation; its `at` is where the ribbon begins.
    #[must_use]
    pub const fn new(situation: AdviceRequest) -> Self {
        Self { situation, area: None }
    }
}

setters! { DayRibbonRequest {
    /// The same of this area.
    with_area(area?: String);
} }

/// A day of one area.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DayRibbonResponse {
    /// The site and area.
    pub title: String,
    /// Start, RFC 3339 with offset.
    pub from: String,
    /// End, 24 hours later.
    pub to: String,
    /// When there is light: start and end.
    pub lit: Vec<(String, String)>,
    /// The air every quarter of an hour, where it is known.
    pub air: Vec<RibbonAir>,
    /// Plants that open alike.
    pub groups: Vec<RibbonGroup>,
    /// The ribbon in words.
    pub description: Vec<String>,
}

/// The air at one moment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RibbonAir {
    /// When, RFC 3339 with offset.
    pub time: String,
    /// Relative humidity, %.
    pub rh_percent: f64,
    /// Temperature, °C.
    pub temp_c: f64,
}

/// Plants that open alike.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RibbonGroup {
    /// What they share.
    pub name: String,
    /// Their identifiers.
    pub plants: Vec<String>,
    /// When their stomata are expected open.
    pub openings: Vec<PlantOpening>,
    /// Their best window, where there is one in these 24 hours.
    pub best: Option<Window>,
}

/// Works the ribbon of an area out.
///
/// # Errors
/// As [`advise`]; also where the area is not one of the site's.
pub fn ribbon(request: &DayRibbonRequest) -> Result<DayRibbonResponse, Error> {
    let situation = &request.situation;
    let site = site::checked(&situation.site).map_err(|e| e.within("/situation/site"))?;
    let id = match &request.area {
        Some(id) => id.clone(),
        None => site.areas.first().map_or_else(String::new, |a| a.id.clone()),
    };
    let (_, area) = site.known_area(&id).map_err(|e| e.at("/area"))?;
    let from = moment::start(&situation.at, &site.zone).map_err(|e| e.within("/situation"))?;
    let start = from.timestamp();
    let day = SignedDuration::from_hours(24);
    let end = start.checked_add(day).map_err(|_| {
        Error::new(Code::OutOfRange, "past the calendar", "an earlier time").at("/situation/at")
    })?;
    let advice = advise(situation).map_err(|e| e.within("/situation"))?;
    let readings = series::checked(&situation.readings).map_err(|e| e.within("/situation"))?;
    let series = Series::of_area(&readings, &id);
    let local = |t: Timestamp| rfc3339(&site.local(t));
    let light = light_hours(&area.site, start, end).map_err(|e| below("/situation/site", e))?;
    let mut air = Vec::new();
    let mut at = start;
    while at <= end {
        guardcell_call::checkpoint();
        if let Some(a) = series.read(at) {
            air.push(RibbonAir { time: local(at), rh_percent: a.rh_percent, temp_c: a.temp_c });
        }
        at = at.saturating_add(SignedDuration::from_mins(15)).unwrap_or(end);
        if at == end {
            break;
        }
    }
    let here: Vec<&PlantAdvice> = advice.plants.iter().filter(|p| p.area == id).collect();
    let mut out = DayRibbonResponse {
        title: format!("{}, {}", situation.site.name, area.description.name),
        from: rfc3339(&from),
        to: local(end),
        lit: light
            .lit()
            .into_iter()
            .filter(|s| s.end.timestamp() > start && s.start.timestamp() < end)
            .map(|s| {
                let a = s.start.timestamp().max(start);
                let b = s.end.timestamp().min(end);
                (local(a), local(b))
            })
            .collect(),
        air,
        groups: groups(&here, end),
        description: Vec::new(),
    };
    out.description = out.words();
    Ok(out)
}

fn groups(plants: &[&PlantAdvice], end: Timestamp) -> Vec<RibbonGroup> {
    let before = |text: &str| text.parse::<Timestamp>().is_ok_and(|t| t < end);
    let mut out: Vec<RibbonGroup> = Vec::new();
    for p in plants {
        guardcell_call::checkpoint();
        let openings: Vec<PlantOpening> =
            p.openings.iter().filter(|o| before(&o.start)).cloned().collect();
        if openings.is_empty() {
            continue;
        }
        let name = name::pathway(p.pathway);
        let best = p.windows.iter().find(|w| before(&w.start)).cloned();
        match out.iter_mut().find(|g| g.name == name && g.openings == openings) {
            Some(g) => {
                g.plants.push(p.id.clone());
                if g.best.is_none() {
                    g.best = best;
                }
            }
            None => out.push(RibbonGroup {
                name: name.to_owned(),
                plants: vec![p.id.clone()],
                openings,
                best,
            }),
        }
    }
    out.sort_by(|a, b| b.plants.len().cmp(&a.plants.len()).then(a.name.cmp(&b.name)));
    out
}

/// `1 plant`, `6 plants`.
pub(super) fn count(n: usize) -> String {
    if n == 1 { "1 plant".into() } else { format!("{n} plants") }
}

impl DayRibbonResponse {
    pub(super) fn bounds(&self) -> Option<(Timestamp, Timestamp)> {
        Some((self.from.parse().ok()?, self.to.parse().ok()?))
    }

    /// Local time of a moment, in the offset of the start.
    pub(super) fn clock(&self, text: &str) -> String {
        let time: Option<ZonedDateTime> = (|| {
            let stamp: Timestamp = text.parse().ok()?;
            let offset = jiff::fmt::strtime::parse("%Y-%m-%dT%H:%M:%S%:z", text).ok()?.offset()?;
            Some(stamp.to_zoned_datetime(jiff::tz::TimeZone::fixed(offset)))
        })();
        time.map_or_else(|| text.to_owned(), |t| t.strftime("%H:%M").to_string())
    }

    fn words(&self) -> Vec<String> {
        let mut out = vec![format!("{}, 24 hours from {}.", self.title, self.from)];
        let lit: Vec<String> = self
            .lit
            .iter()
            .map(|(a, b)| format!("{} to {}", self.clock(a), self.clock(b)))
            .collect();
        out.push(if lit.is_empty() {
            "No light.".into()
        } else {
            format!("Light {}.", lit.join(", "))
        });
        let by = |f: fn(f64, f64) -> bool| {
            self.air.iter().reduce(|a, b| if f(a.rh_percent, b.rh_percent) { a } else { b })
        };
        if let (Some(dry), Some(humid)) = (by(|a, b| a <= b), by(|a, b| a >= b)) {
            out.push(format!(
                "Humidity from {:.0} % at {} to {:.0} % at {}.",
                dry.rh_percent,
                self.clock(&dry.time),
                humid.rh_percent,
                self.clock(&humid.time)
            ));
        }
        for g in &self.groups {
            let open: Vec<String> = g
                .openings
                .iter()
                .map(|o| {
                    format!(
                        "{} to {} ({:.0} %)",
                        self.clock(&o.start),
                        self.clock(&o.end),
                        o.probability * 100.0
                    )
                })
                .collect();
            let best = g.best.as_ref().map_or("no window".to_owned(), |w| {
                format!(
                    "best window {} to {} at {:.0} mg/L",
                    self.clock(&w.start),
                    self.clock(&w.end),
                    w.feed_strength_mg_l
                )
            });
            out.push(format!(
                "{} ({}): open {}; {best}.",
                g.name,
                count(g.plants.len()),
                open.join(", ")
            ));
        }
        out
    }

    /// The ribbon for a terminal: one character for each 20 minutes.
    #[must_use]
    pub fn terminal(&self) -> Vec<String> {
        let Some((start, end)) = self.bounds() else { return Vec::new() };
        const COLUMNS: usize = 72;
        let step = end.duration_since(start) / 72;
        let moments: Vec<Timestamp> = (0..COLUMNS)
            .scan(start, |t, _| {
                let now = *t;
                *t = t.saturating_add(step).unwrap_or(end);
                Some(now)
            })
            .collect();
        let within = |a: &str, b: &str, t: Timestamp| {
            a.parse::<Timestamp>().is_ok_and(|a| a <= t)
                && b.parse::<Timestamp>().is_ok_and(|b| t < b)
        };
        let row = |name: &str, f: &dyn Fn(Timestamp) -> char| {
            format!("{name:<22}{}", moments.iter().map(|t| f(*t)).collect::<String>())
        };
        let mut hours = String::new();
        for (i, t) in moments.iter().enumerate() {
            if i % 9 == 0 {
                let zone = self.clock(&self.at_offset(*t));
                hours.push_str(&format!("{zone:<9}"));
            }
        }
        let mut out = vec![self.title.clone(), format!("{:<22}{hours}", "")];
        out.push(row("light", &|t| {
            if self.lit.iter().any(|(a, b)| within(a, b, t)) { '#' } else { '.' }
        }));
        out.push(row("humidity, tens of %", &|t| {
            let near = self.air.iter().min_by_key(|a| {
                a.time
                    .parse::<Timestamp>()
                    .map_or(i64::MAX, |x| (x.as_second() - t.as_second()).abs())
            });
            near.and_then(|a| char::from_digit(((a.rh_percent / 10.0) as u32).min(9), 10))
                .unwrap_or(' ')
        }));
        for g in &self.groups {
            let name = format!("{} ({})", g.name, g.plants.len());
            out.push(row(&format!("{name}, open"), &|t| {
                let open = g
                    .openings
                    .iter()
                    .filter(|o| within(&o.start, &o.end, t))
                    .map(|o| o.probability)
                    .fold(0.0, f64::max);
                match open {
                    p if p >= 0.7 => '=',
                    p if p >= 0.4 => '-',
                    p if p > 0.0 => '~',
                    _ => ' ',
                }
            }));
            if let Some(w) = &g.best {
                out.push(row("  best window", &|t| {
                    if within(&w.start, &w.end, t) { '^' } else { ' ' }
                }));
            }
        }
        out.push("= likely open, - even, ~ unlikely, ^ best window, # light".into());
        out
    }

    /// A moment as text in the offset of the start.
    fn at_offset(&self, t: Timestamp) -> String {
        let offset = jiff::fmt::strtime::parse("%Y-%m-%dT%H:%M:%S%:z", &self.from)
            .ok()
            .and_then(|b| b.offset());
        match offset {
            Some(o) => rfc3339(&t.to_zoned_datetime(jiff::tz::TimeZone::fixed(o))),
            None => t.to_string(),
        }
    }

    /// Hours of the ribbon as text, every third.
    pub(super) fn every_third_hour(&self) -> Vec<(Timestamp, String)> {
        let Some((start, _)) = self.bounds() else { return Vec::new() };
        (0..=8)
            .filter_map(|i| {
                let t = start.checked_add(SignedDuration::from_hours(3 * i)).ok()?;
                Some((t, self.clock(&self.at_offset(t))))
            })
            .collect()
    }
}

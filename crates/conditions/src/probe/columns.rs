//! What was taken for what, before it becomes a map: of a table or of a document.

use crate::probe::answer::{FindingCode, Findings, Standing};
use crate::probe::words::{self, Kind, Name};
use crate::unit::{QuantityName, Scale, trade};
use guardcell::advice::Reading;
use guardcell::reference::parameters::practice;

/// A column, or a value of a document, with all it holds.
#[derive(Debug, Clone)]
pub(super) struct Candidate {
    /// Its name for people, or its pointer.
    pub(super) shown: String,
    pub(super) name: Name,
    /// A unit stated beside the name: in a line of units, in the cells, in the document.
    pub(super) stated: Option<String>,
    /// Its numbers.
    pub(super) numbers: Vec<f64>,
    pub(super) example: Option<String>,
    /// Why it is not read, once that is known.
    pub(super) not_read: Option<String>,
    /// The unit it is read in, once that is known.
    pub(super) unit: Option<String>,
}

impl Candidate {
    /// The quantity, where it is still to be read.
    pub(super) fn quantity(&self) -> Option<QuantityName> {
        match (self.name.kind, &self.not_read) {
            (Kind::Quantity(q), None) => Some(q),
            _ => None,
        }
    }
}

/// One area's columns, as indexes of candidates.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Series {
    pub(super) label: String,
    pub(super) of: Vec<(QuantityName, usize)>,
}

/// How many numbers a unit brings into the range of a reading.
pub(super) fn fitting(quantity: QuantityName, unit: &str, numbers: &[f64]) -> usize {
    let slot = match quantity {
        QuantityName::Temperature | QuantityName::DewPoint => 0,
        QuantityName::Humidity => 1,
        QuantityName::AirSpeed => 2,
        QuantityName::Radiation => 3,
    };
    let (Some(range), Ok(scale)) = (Reading::RANGES.get(slot), Scale::new(quantity, unit, None))
    else {
        return 0;
    };
    let fits = |v: &&f64| (range.low..=range.high).contains(&scale.to_reading(**v));
    numbers.iter().filter(fits).count()
}

/// Lowest, median and highest.
fn spread(numbers: &[f64]) -> Option<(f64, f64, f64)> {
    let mut sorted = numbers.to_vec();
    sorted.sort_by(f64::total_cmp);
    Some((*sorted.first()?, *sorted.get(sorted.len() / 2)?, *sorted.last()?))
}

/// Decides the unit of every quantity, and says how.
pub(super) fn units(candidates: &mut [Candidate], findings: &mut Findings) {
    for c in candidates {
        let Some(quantity) = c.quantity() else { continue };
        let beside = c.stated.as_deref().and_then(|text| {
            let code = Scale::new(quantity, text, None).is_ok().then_some(text);
            code.or_else(|| words::unit(quantity, text))
        });
        if let Some(unit) = c.name.unit.or(beside) {
            c.unit = Some(unit.to_owned());
            contradicted(c, quantity, findings);
            continue;
        }
        match quantity {
            QuantityName::Temperature | QuantityName::DewPoint => {
                temperature(c, quantity, findings)
            }
            QuantityName::Humidity => humidity(c, findings),
            QuantityName::AirSpeed | QuantityName::Radiation => {
                let stated = c.stated.clone().unwrap_or_default();
                let why = if stated.is_empty() {
                    "no unit is stated, and its values do not tell".to_owned()
                } else {
                    format!("{stated:?} is not a unit of {}", quantity.words())
                };
                findings.add(
                    FindingCode::Unit,
                    Standing::Assumed,
                    Some(&c.shown),
                    format!("{why}: it is not read (add it to the map with its `unit`)"),
                );
                c.not_read = Some(why);
            }
        }
    }
}

/// A stated unit in which no value can be.
fn contradicted(c: &Candidate, quantity: QuantityName, findings: &mut Findings) {
    let Some(unit) = &c.unit else { return };
    if !c.numbers.is_empty() && fitting(quantity, unit, &c.numbers) == 0 {
        let message = format!(
            "the stated unit is {}, and in it every value lies outside the range of a reading",
            trade(unit)
        );
        findings.add(FindingCode::Unit, Standing::Assumed, Some(&c.shown), message);
    }
}

fn temperature(c: &mut Candidate, quantity: QuantityName, findings: &mut Findings) {
    let by: Vec<(&str, usize)> =
        ["Cel", "[degF]", "K"].map(|unit| (unit, fitting(quantity, unit, &c.numbers))).to_vec();
    let most = by.iter().map(|(_, n)| *n).max().unwrap_or(0);
    let best: Vec<&str> = by.iter().filter(|(_, n)| *n == most).map(|(unit, _)| *unit).collect();
    let Some((low, median, high)) = spread(&c.numbers).filter(|_| most > 0) else {
        let message = "it holds no value that can be a temperature of the air".to_owned();
        findings.add(FindingCode::Unit, Standing::Open, Some(&c.shown), message);
        return;
    };
    let (unit, standing, message) = match best.as_slice() {
        [one] => (
            *one,
            Standing::Decided,
            format!(
                "no unit is stated; the values {low} to {high} lie in the range of a reading as \
                 {} only ({most} of {})",
                trade(one),
                c.numbers.len()
            ),
        ),
        _ => {
            let least = practice::FEED_TEMPERATURE_LEAST.celsius();
            let as_f = Scale::new(quantity, "[degF]", None).map(|s| s.to_reading(median));
            if as_f.is_ok_and(|v| v < least) {
                let message = format!(
                    "no unit is stated; the values {low} to {high} are taken as °C: as °F most of \
                     them would be below {least} °C"
                );
                ("Cel", Standing::Assumed, message)
            } else {
                let message =
                    format!("no unit is stated, and the values {low} to {high} can be °C and °F");
                findings.add(FindingCode::Unit, Standing::Open, Some(&c.shown), message);
                return;
            }
        }
    };
    c.unit = Some(unit.to_owned());
    findings.add(FindingCode::Unit, standing, Some(&c.shown), message);
}

fn humidity(c: &mut Candidate, findings: &mut Findings) {
    let Some((low, _, high)) = spread(&c.numbers) else {
        findings.add(FindingCode::Unit, Standing::Open, Some(&c.shown), "it holds no number");
        return;
    };
    let (unit, words) = if high > 1.0 { ("%", "percent") } else { ("1", "a fraction of 1") };
    c.unit = Some(unit.to_owned());
    findings.add(
        FindingCode::Unit,
        Standing::Decided,
        Some(&c.shown),
        format!("no unit is stated; the values {low} to {high} are {words}"),
    );
}

/// Which columns belong together; empty where that is open.
pub(super) fn series(candidates: &mut [Candidate], findings: &mut Findings) -> Vec<Series> {
    let of = |candidates: &[Candidate], q: QuantityName| -> Vec<usize> {
        (0..candidates.len())
            .filter(|i| candidates.get(*i).and_then(Candidate::quantity) == Some(q))
            .collect()
    };
    let temperatures = of(candidates, QuantityName::Temperature);
    let mut humidities = of(candidates, QuantityName::Humidity);
    if humidities.is_empty() {
        humidities = of(candidates, QuantityName::DewPoint);
    } else {
        for i in of(candidates, QuantityName::DewPoint) {
            if let Some(c) = candidates.get_mut(i) {
                c.not_read = Some(words::dew_point_too().into());
            }
        }
    }
    for (found, what) in [(&temperatures, "temperature"), (&humidities, "humidity or dew point")] {
        if found.is_empty() {
            findings.open(
                FindingCode::Quantity,
                format!("no column is known as {what}: write a map by hand and name it"),
            );
        }
    }
    if temperatures.is_empty() || humidities.is_empty() {
        return Vec::new();
    }
    let mut out = pairs(candidates, &temperatures, &humidities, findings);
    for q in [QuantityName::AirSpeed, QuantityName::Radiation] {
        further(candidates, q, &of(candidates, q), &mut out);
    }
    if out.len() > 1 {
        // A pair without a name beside others is the first of them.
        for series in out.iter_mut().filter(|s| s.label.is_empty()) {
            series.label = "1".into();
        }
    }
    out
}

/// Pairs temperatures and humidities: the only ones, those of one name, or those side by side.
fn pairs(
    candidates: &mut [Candidate],
    temperatures: &[usize],
    humidities: &[usize],
    findings: &mut Findings,
) -> Vec<Series> {
    let label = |i: usize| candidates.get(i).map_or("", |c| c.name.label.as_str());
    let kind = |i: usize| candidates.get(i).and_then(Candidate::quantity);
    let pair = |label: &str, t: usize, h: usize| Series {
        label: label.to_owned(),
        of: [t, h].into_iter().filter_map(|i| Some((kind(i)?, i))).collect(),
    };
    if let ([t], [h]) = (temperatures, humidities) {
        return vec![pair(label(*t), *t, *h)];
    }
    let mut out: Vec<Series> = Vec::new();
    let mut left = Vec::new();
    for t in temperatures {
        let same: Vec<usize> =
            humidities.iter().copied().filter(|h| label(*h) == label(*t)).collect();
        let twins = temperatures.iter().filter(|o| label(**o) == label(*t)).count();
        match same.as_slice() {
            [h] if twins == 1 => out.push(pair(label(*t), *t, *h)),
            _ => left.push(*t),
        }
    }
    if out.is_empty() && temperatures.len() == humidities.len() {
        out = temperatures
            .iter()
            .zip(humidities)
            .enumerate()
            .map(|(n, (t, h))| pair(&(n + 1).to_string(), *t, *h))
            .collect();
        let message = "temperatures and humidities have no names in common; they were paired in \
                       their order";
        findings.add(FindingCode::Pair, Standing::Assumed, None, message);
        left.clear();
    }
    if out.is_empty() {
        let message = format!(
            "of temperatures there are {}, of humidities {}, and their names do not say which belong \
             together",
            temperatures.len(),
            humidities.len()
        );
        findings.open(FindingCode::Pair, message);
    }
    let paired: Vec<usize> = out.iter().flat_map(|s| s.of.iter().map(|(_, i)| *i)).collect();
    let alone = left.iter().chain(humidities.iter().filter(|h| !paired.contains(h)));
    for i in alone.copied().collect::<Vec<_>>() {
        if let Some(c) = candidates.get_mut(i).filter(|_| !out.is_empty()) {
            c.not_read = Some("it has no partner of the same name".into());
        }
    }
    out
}

/// Adds air speed or radiation: to the series of its name, or to all where there is one.
fn further(candidates: &mut [Candidate], q: QuantityName, found: &[usize], out: &mut [Series]) {
    let label = |i: usize| candidates.get(i).map(|c| c.name.label.clone()).unwrap_or_default();
    let several = out.len() > 1;
    let mut unread = Vec::new();
    for i in found {
        let own = label(*i);
        let mut taken = false;
        for series in out.iter_mut() {
            let fits = if several { series.label == own } else { true };
            if fits && series.of.iter().all(|(of, _)| *of != q) {
                series.of.push((q, *i));
                taken = true;
            }
        }
        if !taken {
            unread.push(*i);
        }
    }
    for i in unread {
        if let Some(c) = candidates.get_mut(i) {
            c.not_read = Some("no temperature and humidity go with it".into());
        }
    }
}

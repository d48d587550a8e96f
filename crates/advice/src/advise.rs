//! Advice for each plant: feed, wait, water only, or leave alone; when, how strong, and why.
//!
//! The request is checked, the timeline of each area is built, then for each kind of plant it is
//! decided what to do; the words come last.

use crate::answer::{AdviceResponse, AreaAdvice, PlantAdvice};
use crate::decide::{Subject, WeeklyRoom, decide};
use crate::explain::{self, Explained};
use crate::inputs::Inputs;
use crate::moment::{self, rfc3339};
use crate::openings::{self, PlantOpenings};
use crate::plant::{self, CheckedPlant};
use crate::reason::{Draft, Reason};
use crate::reason_code::ReasonCode;
use crate::request::{AdviceRequest, Setting, SizeClass, Standing};
use crate::round::volume;
use crate::series::{self, Series};
use crate::site::{self, CheckedSite};
use crate::timeline::AreaTimeline;
use guardcell_call::Bounded;
use guardcell_clock::{PeakTime, TraitView};
use guardcell_error::{Code, Error};
use guardcell_reference::Pathway;
use guardcell_reference::parameters::practice as p;
use guardcell_units::quantity::in_us_per_cm;
use jiff::{SignedDuration, Timestamp, ZonedDateTime};
use std::collections::HashMap;
use std::rc::Rc;

/// Advises on every plant of a request. Pure, deterministic and total.
///
/// # Errors
/// With a JSON Pointer to what is wrong: a value out of range, two plants with one id, an unknown
/// area or time zone, readings that do not reach, a label or water that is not possible.
///
/// ```
/// # mod guardcell { pub mod advice { pub use guardcell_advice::*; } }
/// use guardcell::advice::{AdviceRequest, Verdict, advise};
/// let request: AdviceRequest = serde_json::from_str(r#"{
///   "site": {
///     "name": "A windowsill", "latitude_deg": 50.2, "longitude_deg": -5.1,
///     "time_zone": "Europe/London",
///     "areas": [{"id": "sill", "name": "Kitchen sill", "shelter": "room"}]
///   },
///   "readings": [
///     {"time": "2026-06-21T06:00:00+01:00", "temp_c": 18, "rh_percent": 75, "air_m_s": 0.2},
///     {"time": "2026-06-21T09:00:00+01:00", "temp_c": 20, "rh_percent": 70, "air_m_s": 0.2}
///   ],
///   "plants": [{
///     "id": "1", "name": "Masdevallia", "area": "sill", "setting": "potted",
///     "standing": "ordinary", "growth": "resting"
///   }],
///   "at": "2026-06-21T06:00:00+01:00", "hours": 3
/// }"#)?;
/// let advice = advise(&request)?;
/// assert_eq!(advice.plants[0].verdict, Verdict::Leave);
/// assert_eq!(advice.plants[0].reasons[0].code, "not-growing");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn advise(request: &AdviceRequest) -> Result<AdviceResponse, Error> {
    judged(request, |j| Ok(j.response()))
}

/// What a request comes down to: its plants, the timelines of its areas, and what is decided for
/// every kind of plant.
pub(crate) struct Judged<'a> {
    pub(crate) request: &'a AdviceRequest,
    pub(crate) site: &'a CheckedSite,
    pub(crate) plants: &'a [CheckedPlant<'a>],
    inputs: &'a Inputs<'a>,
    timelines: &'a [Option<AreaTimeline<'a>>],
    kinds: Kinds,
    from: ZonedDateTime,
    end: Timestamp,
}

impl AdviceRequest {
    /// The start of the time looked at, on the clock of the site: a date starts at local noon, so
    /// that a night is never cut in two.
    ///
    /// # Errors
    /// For a place or a time zone that cannot be, or a start that is neither a date nor a time.
    pub fn start(&self) -> Result<ZonedDateTime, Error> {
        let location = site::location(&self.site).map_err(|e| e.within("/site"))?;
        moment::start(&self.at, location.zone())
    }
}

/// Judges a request and hands the result on.
pub(crate) fn judged<T>(
    request: &AdviceRequest,
    then: impl FnOnce(&Judged<'_>) -> Result<T, Error>,
) -> Result<T, Error> {
    request.check_bounds()?;
    let site = site::checked(&request.site).map_err(|e| e.within("/site"))?;
    let from = moment::start(&request.at, &site.zone)?;
    let start = from.timestamp();
    let ahead = SignedDuration::from_hours(i64::from(request.hours));
    let end = start.checked_add(ahead).map_err(|_| {
        Error::new(Code::OutOfRange, "the time is past the calendar", "give an earlier time")
            .at("/at")
    })?;
    let plants = plant::checked(&request.plants, &site)?;
    let inputs = Inputs::new(request)?;
    let timelines = timelines(&inputs, &site, &plants, (start, end))?;
    let kinds = Kinds::of(&plants, &timelines, &inputs)?;
    then(&Judged {
        request,
        site: &site,
        plants: &plants,
        inputs: &inputs,
        timelines: &timelines,
        kinds,
        from,
        end,
    })
}

impl Judged<'_> {
    /// The advice for every plant.
    pub(crate) fn response(&self) -> AdviceResponse {
        let answer = |(i, pl)| self.kinds.answer(i, pl, self.timelines);
        let answers: Vec<PlantAdvice> = self.plants.iter().enumerate().filter_map(answer).collect();
        let mut cautions = self.inputs.cautions();
        cautions.extend(self.timelines.iter().flatten().filter_map(assumed));
        let cited = crate::sources::cited(answers.iter().flat_map(|a| &a.reasons).chain(&cautions));
        AdviceResponse {
            site: self.request.site.name.clone(),
            from: rfc3339(&self.from),
            to: rfc3339(&self.site.local(self.end)),
            plants: answers,
            areas: self.kinds.areas(self.timelines),
            cautions,
            sources: cited,
        }
    }

    /// What is decided for a plant, with a number that plants alike share; none where its own
    /// state leaves it out.
    pub(crate) fn decided(&self, plant: usize) -> Option<(usize, &Explained)> {
        match self.kinds.of_plant.get(plant)? {
            Fate::Kind(index) => Some((*index, &self.kinds.shared.get(*index)?.1)),
            Fate::Alone(..) => None,
        }
    }

    /// What the meter reads in the water alone, µS/cm at 25 °C.
    pub(crate) fn water_ec25_us_cm(&self) -> f64 {
        in_us_per_cm(self.inputs.water.ec25())
    }

    /// The timeline of an area; every area with a plant has one.
    pub(crate) fn timeline(&self, area: usize) -> Option<&AreaTimeline<'_>> {
        self.timelines.get(area)?.as_ref()
    }
}

/// The timeline of every area with plants.
fn timelines<'a>(
    inputs: &'a Inputs<'a>,
    site: &'a CheckedSite,
    plants: &[CheckedPlant<'_>],
    (start, end): (Timestamp, Timestamp),
) -> Result<Vec<Option<AreaTimeline<'a>>>, Error> {
    let all = series::checked(&inputs.request.readings)?;
    for (i, (_, reading)) in all.iter().enumerate() {
        if let Some(id) = &reading.area {
            site.known_area(id).map_err(|e| e.at(format!("/readings/{i}/area")))?;
        }
    }
    let mut out = Vec::with_capacity(site.areas.len());
    for (i, area) in site.areas.iter().enumerate() {
        if !plants.iter().any(|pl| pl.area == i) {
            out.push(None);
            continue;
        }
        let series = Series::of_area(&all, &area.id);
        if !series.reaches(start, end) {
            return Err(no_readings(&area.id, &series, (start, end), site));
        }
        out.push(Some(AreaTimeline::new(inputs, site, area, series, (start, end))?));
    }
    Ok(out)
}

fn no_readings(
    area: &str,
    series: &Series,
    (from, to): (Timestamp, Timestamp),
    site: &CheckedSite,
) -> Error {
    let said = |t: Timestamp| rfc3339(&site.local(t));
    let hint = format!(
        "give readings that cover this time, the newest no older than {} h",
        p::READING_AGE_MOST.hours()
    );
    let detail = match series.last() {
        Some((last, _)) if last < from => format!(
            "the last reading of {area:?} is of {} and does not describe the air at {}",
            said(last),
            said(from)
        ),
        _ => format!("no readings for the area {area:?} between {} and {}", said(from), said(to)),
    };
    Error::new(Code::Missing, detail, hint).at("/readings")
}

/// That part of the air that decides is assumed.
fn assumed(timeline: &AreaTimeline<'_>) -> Option<Reason> {
    let last = timeline.known_until()?;
    // A reading describes its hour.
    if timeline.end().duration_since(last) <= SignedDuration::from_hours(1) {
        return None;
    }
    let said = |t: Timestamp| rfc3339(&timeline.local(t));
    let advised = timeline.advised_until().map(said);
    Some(
        Draft::new(ReasonCode::AirAssumed)
            .with("area_name", timeline.area().description.name.as_str())
            .with("last_reading", said(last))
            .with("most_mg_l", p::STRENGTH_ESTABLISHED.mg_per_l())
            .with("advised_until", advised)
            .with_parameter(p::ASSUMED_HUMIDITY_SD)
            .variant(if timeline.repeats() { "day" } else { "" }),
    )
}

/// What makes plants alike in all that decides.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
struct Kind {
    area: usize,
    view: ViewKey,
    standing: Standing,
    size: SizeClass,
    setting: Setting,
    not_before: Option<Timestamp>,
    /// The room under the weekly ceiling, bit by bit.
    weekly: Option<[u64; 3]>,
    /// What the journal proposes, and the strength that left white, bit by bit.
    proposed: [Option<u64>; 2],
}

/// A view of traits that can be compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
struct ViewKey {
    pathway: Pathway,
    cam_share: Option<u64>,
    peak: Option<PeakTime>,
    leafless: bool,
}

impl ViewKey {
    fn new(view: &TraitView) -> Self {
        Self {
            pathway: view.pathway,
            cam_share: view.cam_share.map(|s| s.value.to_bits()),
            peak: view.opens_peak,
            leafless: view.leafless,
        }
    }
}

/// The kinds of plants of a request, each decided once.
struct Kinds {
    /// Every kind in words, with how many plants it has, in the order first met.
    shared: Vec<(usize, Explained, usize)>,
    /// The kind of each plant, or why it is left alone.
    of_plant: Vec<Fate>,
}

enum Fate {
    Kind(usize),
    Alone(Reason, Rc<PlantOpenings>),
}

impl Kinds {
    fn of(
        plants: &[CheckedPlant<'_>],
        timelines: &[Option<AreaTimeline<'_>>],
        inputs: &Inputs<'_>,
    ) -> Result<Self, Error> {
        let mut out = Self { shared: Vec::new(), of_plant: Vec::with_capacity(plants.len()) };
        let mut known: HashMap<Kind, usize> = HashMap::new();
        let mut opened: HashMap<(usize, ViewKey), Rc<PlantOpenings>> = HashMap::new();
        for pl in plants {
            guardcell_call::checkpoint();
            // Every area with a plant in it has a timeline.
            let Some(Some(timeline)) = timelines.get(pl.area) else { continue };
            let view = ViewKey::new(&pl.view);
            let openings = match opened.get(&(pl.area, view)) {
                Some(openings) => Rc::clone(openings),
                None => {
                    let found = Rc::new(openings::of(&pl.view, timeline)?);
                    opened.insert((pl.area, view), Rc::clone(&found));
                    found
                }
            };
            if let Some(reason) = explain::left_alone(pl) {
                out.of_plant.push(Fate::Alone(reason, openings));
                continue;
            }
            let subject = subject(pl, timeline, inputs);
            let kind = Kind {
                area: pl.area,
                view,
                standing: pl.entry.standing,
                size: pl.entry.size,
                setting: pl.entry.setting,
                not_before: subject.not_before,
                weekly: subject.weekly.map(weekly_bits),
                proposed: [subject.learned_mg_l, subject.white_at_mg_l]
                    .map(|v| v.map(f64::to_bits)),
            };
            let index = match known.get(&kind) {
                Some(index) => *index,
                None => {
                    let decision = decide(subject, openings, timeline)?;
                    out.shared.push((pl.area, explain::explained(decision, timeline)?, 0));
                    known.insert(kind, out.shared.len() - 1);
                    out.shared.len() - 1
                }
            };
            if let Some((_, _, n)) = out.shared.get_mut(index) {
                *n += 1;
            }
            out.of_plant.push(Fate::Kind(index));
        }
        Ok(out)
    }

    fn answer(
        &self,
        i: usize,
        plant: &CheckedPlant<'_>,
        timelines: &[Option<AreaTimeline<'_>>],
    ) -> Option<PlantAdvice> {
        guardcell_call::checkpoint();
        let timeline = timelines.get(plant.area)?.as_ref()?;
        Some(match self.of_plant.get(i)? {
            Fate::Kind(index) => explain::plant(plant, &self.shared.get(*index)?.1, timeline),
            Fate::Alone(why, openings) => {
                explain::alone(plant, why.clone(), &openings.list, timeline)
            }
        })
    }

    fn areas(&self, timelines: &[Option<AreaTimeline<'_>>]) -> Vec<AreaAdvice> {
        let of = |i: usize| {
            self.shared
                .iter()
                .filter(move |(area, _, _)| *area == i)
                .map(|(_, explained, n)| (explained, *n))
                .collect::<Vec<_>>()
        };
        timelines
            .iter()
            .enumerate()
            .filter_map(|(i, timeline)| Some(explain::area(timeline.as_ref()?, &of(i))))
            .collect()
    }
}

/// What of a plant decides.
fn subject(pl: &CheckedPlant<'_>, timeline: &AreaTimeline<'_>, inputs: &Inputs<'_>) -> Subject {
    let entry = pl.entry;
    let due = pl.due().map(|t| t.timestamp());
    let weekly = entry.pot_l.filter(|_| entry.setting == Setting::Potted).map(|pot_l| WeeklyRoom {
        ceiling_mg: pot_l * p::POT_WEEKLY_SALTS.mg_per_l(),
        root_mg: entry.root_feed_mg_week.unwrap_or(0.0),
        kept_l: volume::kept_ml(entry) / 1000.0,
        rounds: 7.0 / pl.allowance.interval_days,
    });
    let (learned_mg_l, white_at_mg_l) = inputs.proposed(&entry.id);
    Subject {
        standing: entry.standing,
        exposed_roots: entry.setting.roots_exposed(),
        allowance: pl.allowance,
        not_before: due.filter(|t| *t > timeline.start()),
        weekly,
        learned_mg_l,
        white_at_mg_l,
        water_turn: inputs.request.plain_water,
    }
}

fn weekly_bits(w: WeeklyRoom) -> [u64; 3] {
    [w.ceiling_mg, w.root_mg, w.kept_l].map(f64::to_bits)
}

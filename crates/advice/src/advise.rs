//! AdviceResponse for each plant: feed, wait, water only, or leave alone; when, how strong, and why.

use crate::answer::{
    AdviceResponse, PlantAdvice, PlantOpening, Remedy, Verdict, WeeklyDose, Window,
};
use crate::course::Course;
use crate::error::below;
use crate::moment::{self, rfc3339};
use crate::plant::{self, CheckedPlant};
use crate::practice;
use crate::readings::{self, Series};
use crate::reason::{Reason, ReasonCode};
use crate::request::{AdviceRequest, Growth, Setting, Standing};
use crate::round::volume;
use crate::site::{self, CheckedSite};
use crate::situation::Situation;
use crate::unknowns;
use crate::windows::{self, Block, Relax, Search, Searched, phase_word, three_digits};
use guardcell_call::Bounded;
use guardcell_clock::{Code as ClockCode, Opening, Phase, Preference};
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::practice as p;
use guardcell_units::quantity::Ratio;
use guardcell_units::uom::si::ratio::ratio;
use jiff::{SignedDuration, Timestamp};

/// What is known of timing, said with every answer that rests on it.
pub(crate) const TIMING: &str = "That open stomata help uptake is inferred from gas exchange and \
pore size; no work is known that measured foliar uptake by day against night in a CAM orchid, and \
uptake through the cuticle goes on with stomata shut.";

/// Advises on every plant of a request. Pure, deterministic and total.
///
/// # Errors
/// [`Error`] with a JSON Pointer to what is wrong: a value out of range, two plants with
/// one id, an unknown area or zone, readings that do not reach, a label or water that cannot be.
///
/// ```
/// use guardcell_advice::{AdviceRequest, Verdict, advise};
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
    request.check_bounds()?;
    let site = site::checked(&request.site).map_err(|e| e.within("/site"))?;
    let from = moment::start(&request.at, &site.zone)?;
    let start = from.timestamp();
    let end =
        start.checked_add(SignedDuration::from_hours(i64::from(request.hours))).map_err(|_| {
            Error::new(Code::OutOfRange, "the time is past the calendar", "an earlier one")
                .at("/at")
        })?;
    let plants = plant::checked(&request.plants, &site)?;
    let all = readings::checked(&request.readings)?;
    known_areas(request, &site)?;
    let situation = Situation::of(request)?;
    let mut cautions = situation.cautions();
    let mut courses: Vec<Option<Course<'_>>> = Vec::new();
    for (i, area) in site.areas.iter().enumerate() {
        if !plants.iter().any(|pl| pl.area == i) {
            courses.push(None);
            continue;
        }
        let series = Series::of_area(&all, &area.id);
        if !series.covers_any(start, end) {
            return Err(no_readings(&area.id, &series, start, end, &site));
        }
        if let Some(reason) = ends_early(&series, &area.description.name, end, &site) {
            cautions.push(reason);
        }
        courses.push(Some(Course::new(&situation, &site, area, series, start, end)?));
    }
    let mut answers = Vec::with_capacity(plants.len());
    for pl in &plants {
        // Every area with a plant in it has a course.
        if let Some(Some(course)) = courses.get(pl.area) {
            answers.push(one(pl, course, &situation)?);
        }
    }
    let cited = crate::sources::cited(answers.iter().flat_map(|a| &a.reasons).chain(&cautions));
    Ok(AdviceResponse {
        site: request.site.name.clone(),
        from: rfc3339(&from),
        to: rfc3339(&site.local(end)),
        plants: answers,
        cautions,
        sources: cited,
    })
}

fn known_areas(request: &AdviceRequest, site: &CheckedSite) -> Result<(), Error> {
    for (i, r) in request.readings.iter().enumerate() {
        if let Some(id) = &r.area {
            site.known_area(id).map_err(|e| e.at(format!("/readings/{i}/area")))?;
        }
    }
    Ok(())
}

fn no_readings(
    area: &str,
    series: &Series,
    from: Timestamp,
    to: Timestamp,
    site: &CheckedSite,
) -> Error {
    if let Some((t, _)) = series.single() {
        return Error::new(
            Code::Missing,
            format!(
                "the only reading of {area:?} is of {} and does not describe the air at {}",
                rfc3339(&site.local(t)),
                rfc3339(&site.local(from))
            ),
            format!("give a reading no older than {} h", p::READING_AGE_MOST.value),
        )
        .at("/readings");
    }
    Error::new(
        Code::Missing,
        format!(
            "no readings for the area {area:?} between {} and {}",
            rfc3339(&site.local(from)),
            rfc3339(&site.local(to))
        ),
        "give readings that cover this time, or another `at`",
    )
    .at("/readings")
}

fn ends_early(series: &Series, area: &str, end: Timestamp, site: &CheckedSite) -> Option<Reason> {
    let last = series.last()?;
    // A last reading stands for its hour.
    (end.duration_since(last) > SignedDuration::from_hours(1)).then(|| {
        let last = rfc3339(&site.local(last));
        Reason::new(
            ReasonCode::ReadingsEnd,
            format!("The readings of {area} end at {last}; nothing is advised past them."),
        )
        .with("last_reading", last)
    })
}

fn one(
    plant: &CheckedPlant<'_>,
    course: &Course<'_>,
    situation: &Situation<'_>,
) -> Result<PlantAdvice, Error> {
    let entry = plant.entry;
    let openings = openings(plant, course)?;
    let mut advice = PlantAdvice {
        id: entry.id.clone(),
        name: entry.name.clone(),
        taken_for: plant.taken_for.clone(),
        area: entry.area.clone(),
        verdict: Verdict::Leave,
        pathway: plant.pathway,
        opens: plant.opens,
        openings: openings.list.iter().map(opening_answer).collect(),
        windows: Vec::new(),
        feed_strength_mg_l: None,
        passes: 0,
        interval_days: practice::interval(entry.standing, entry.setting).value,
        due: plant.due().map(|t| rfc3339(&t)),
        residue_probability: None,
        weekly: None,
        reasons: Vec::new(),
        unknowns: plant.unknowns.clone(),
        would_help: Vec::new(),
    };
    if let Some(reason) = left_alone(plant) {
        advice.reasons.push(reason);
        advice.reasons.extend(plant.reasons.iter().cloned());
        return Ok(advice);
    }
    let search = Search {
        course,
        openings: &openings.list,
        standing: entry.standing,
        not_before: plant.due().map(|t| t.timestamp()),
        tolerance: situation.tolerance,
        relax: Relax::default(),
    };
    let searched = search.run()?;
    if searched.fed.is_empty() {
        not_fed(&mut advice, plant, &openings, &search, &searched)?;
    } else {
        fed(&mut advice, plant, &openings, &search, &searched)?;
    }
    unknowns::add(&mut advice, plant, course, situation, &searched)?;
    if entry.setting == Setting::Potted {
        weekly(&mut advice, plant, course);
    }
    Ok(advice)
}

/// The openings of a plant and what the clock says of the whole time.
struct PlantOpenings {
    list: Vec<Opening>,
    reasons: Vec<Reason>,
}

fn openings(plant: &CheckedPlant<'_>, course: &Course<'_>) -> Result<PlantOpenings, Error> {
    let found = guardcell_clock::openings_in(
        &plant.view,
        course.light(),
        course.air_hours(),
        course.water_status(),
    )
    .map_err(|e| below("/site", e))?;
    let mut list = found.openings;
    if plant.view.leafless {
        list = root_times(course);
    }
    Ok(PlantOpenings { list, reasons: found.reasons.iter().map(Reason::from).collect() })
}

/// For a plant without leaves: the lit time, its first half before its second, so that roots dry
/// by day. The velamen takes up water at any hour.
fn root_times(course: &Course<'_>) -> Vec<Opening> {
    let mut out = Vec::new();
    for s in course.light().lit() {
        let length = s.end.timestamp().duration_since(s.start.timestamp());
        let Ok(middle) = s.start.checked_add(length / 2) else { continue };
        for (start, end, rank) in [(s.start, middle.clone(), 1), (middle, s.end, 2)] {
            out.push(Opening {
                start,
                end,
                phase: Phase::DayOpen,
                part: None,
                either_pathway: false,
                probability: Ratio::new::<ratio>(1.0),
                preference: Preference { rank, code: ClockCode::LeaflessRootOnly },
                reasons: Vec::new(),
            });
        }
    }
    out
}

fn opening_answer(o: &Opening) -> PlantOpening {
    PlantOpening {
        start: rfc3339(&o.start),
        end: rfc3339(&o.end),
        phase: phase_word(o.phase).to_owned(),
        probability: three_digits(o.probability.get::<ratio>()),
    }
}

/// Whether the state of the plant itself rules a round out.
fn left_alone(plant: &CheckedPlant<'_>) -> Option<Reason> {
    if plant.entry.standing == Standing::Rootless {
        return Some(
            Reason::new(
                ReasonCode::Rootless,
                format!(
                    "Without roots it gets soaks instead of a place in the round: {:.0} mg/L for \
                     {:.0} min, {:.0} times a day, dry in between (see `guardcell rescue`).",
                    p::STRENGTH_ROOTLESS.value,
                    p::SOAK_DURATION.value,
                    p::SOAKS_A_DAY.value
                ),
            )
            .with("feed_strength_mg_l", p::STRENGTH_ROOTLESS.value)
            .from_parameter(p::SOAK_DURATION),
        );
    }
    (plant.growth() == Growth::Resting).then(|| {
        Reason::new(
            ReasonCode::NotGrowing,
            "At rest: no feed without active growth. A moving root tip counts as growth; look again next week.",
        )
        .source("common practice, no source")
    })
}

fn fed(
    advice: &mut PlantAdvice,
    plant: &CheckedPlant<'_>,
    openings: &PlantOpenings,
    search: &Search<'_>,
    searched: &Searched,
) -> Result<(), Error> {
    let Some(best) = searched.fed.first() else { return Ok(()) };
    advice.verdict = Verdict::Feed;
    take_windows(advice, &searched.fed, openings, search)?;
    advice.reasons.extend(plant.reasons.iter().cloned());
    if let Some(opening) = openings.list.get(best.opening) {
        advice.reasons.push(preference_reason(opening));
        advice.reasons.extend(opening.reasons.iter().map(Reason::from));
    }
    advice.reasons.extend(openings.reasons.iter().cloned());
    advice.reasons.extend(strength_reasons(plant, search, best));
    advice.reasons.push(residue_reason(best, search.tolerance));
    advice.reasons.push(drying_reason(advice.windows.first()));
    if !plant.view.leafless {
        advice.reasons.push(Reason::new(ReasonCode::TimingInferred, TIMING));
    }
    Ok(())
}

/// The windows found, with the strength, passes and residue of the best.
fn take_windows(
    advice: &mut PlantAdvice,
    found: &[windows::Found],
    openings: &PlantOpenings,
    search: &Search<'_>,
) -> Result<(), Error> {
    let Some(best) = found.first() else { return Ok(()) };
    advice.windows = windows::ranked(found, &openings.list, search.course)?;
    advice.feed_strength_mg_l = Some(best.dose.mg_l);
    advice.passes = best.dose.passes;
    advice.residue_probability = Some(three_digits(best.worst.residue_probability));
    Ok(())
}

fn preference_reason(opening: &Opening) -> Reason {
    let clock = guardcell_clock::Reason::new(opening.preference.code);
    Reason::from(&clock).with("choice", opening.preference.rank)
}

fn strength_reasons(
    plant: &CheckedPlant<'_>,
    search: &Search<'_>,
    best: &windows::Found,
) -> Vec<Reason> {
    let standing = plant.entry.standing;
    let cap = practice::strength(standing);
    let mut out = Vec::new();
    if best.dose.mg_l > cap.value {
        out.push(
            Reason::new(
                ReasonCode::HumidSinglePass,
                format!(
                    "At {:.0} % humidity or more and air that hardly moves, an established plant \
                     may get {:.0} mg/L in one pass.",
                    p::HUMID_SINGLE_PASS_RH.value,
                    best.dose.mg_l
                ),
            )
            .with("rh_least_percent", p::HUMID_SINGLE_PASS_RH.value)
            .from_parameter(p::STRENGTH_ESTABLISHED_HUMID_SINGLE_PASS),
        );
        return out;
    }
    out.push(
        Reason::new(
            ReasonCode::StrengthByStanding,
            format!(
                "{}: at most {:.0} mg/L feed a pass, {}.",
                capital(standing.word()),
                cap.value,
                passes_words(practice::passes(standing).value)
            ),
        )
        .with("standing", standing.word())
        .with("cap_mg_l", cap.value)
        .from_parameter(cap),
    );
    if best.dose.mg_l < cap.value {
        out.push(
            Reason::new(
                ReasonCode::StrengthLowered,
                format!(
                    "Lowered from {:.0} to {:.0} mg/L: stronger feed would leave visible residue \
                     with more than {:.0} % probability.",
                    cap.value,
                    best.dose.mg_l,
                    search.tolerance * 100.0
                ),
            )
            .with("from_mg_l", cap.value)
            .with("to_mg_l", best.dose.mg_l)
            .with("tolerance", search.tolerance),
        );
    }
    out
}

fn passes_words(n: f64) -> String {
    if n > 1.0 { format!("up to {n:.0} passes") } else { "one pass".into() }
}

fn capital(word: &str) -> String {
    let mut chars = word.chars();
    chars.next().map_or_else(String::new, |c| c.to_uppercase().chain(chars).collect())
}

fn residue_reason(best: &windows::Found, tolerance: f64) -> Reason {
    let percent = best.worst.residue_probability * 100.0;
    Reason::new(
        ReasonCode::ResidueAcceptable,
        format!(
            "Visible residue has a probability of {} at the worst hour of the window, within \
             the tolerance of {:.0} %.",
            if percent < 1.0 { "under 1 %".to_owned() } else { format!("{percent:.0} %") },
            tolerance * 100.0
        ),
    )
    .with("residue_probability", three_digits(best.worst.residue_probability))
    .with("residue_g_m2", three_digits(best.worst.feed_g_m2 + best.worst.scale_g_m2))
    .with("tolerance", tolerance)
    .from_parameter(guardcell_reference::parameters::film::RESIDUE_THRESHOLD_MEDIAN)
}

fn drying_reason(best: Option<&Window>) -> Reason {
    match best.and_then(|w| w.dry_minutes) {
        Some(m) => Reason::new(
            ReasonCode::DriesBeforeUptake,
            format!(
                "The leaf is dry after about {m:.0} min; most salt is still outside then and goes \
                 in over hours or days, while the air is humid enough to keep it moist."
            ),
        )
        .with("dry_minutes", m.round()),
        None => {
            let driest = best.map_or(0.0, |w| w.driest_rh_percent);
            Reason::new(
                ReasonCode::StaysWet,
                format!(
                    "In the air of the window the salts stay liquid and uptake goes on; what turns \
                     solid later is decided by the driest air that follows, {driest:.0} %."
                ),
            )
            .with("driest_rh_percent", driest)
        }
    }
}

fn not_fed(
    advice: &mut PlantAdvice,
    plant: &CheckedPlant<'_>,
    openings: &PlantOpenings,
    search: &Search<'_>,
    searched: &Searched,
) -> Result<(), Error> {
    let obstacle = searched.main_obstacle();
    advice.reasons.push(obstacle_reason(obstacle, plant, search, openings));
    advice.reasons.extend(openings.reasons.iter().cloned());
    advice.reasons.extend(plant.reasons.iter().cloned());
    advice.verdict = Verdict::Wait;
    if obstacle == Some(Block::Residue) && !searched.water.is_empty() {
        advice.verdict = Verdict::WaterOnly;
        take_windows(advice, &searched.water, openings, search)?;
    }
    if obstacle != Some(Block::NotDue) {
        advice.would_help = remedies(search, openings)?;
    }
    Ok(())
}

fn obstacle_reason(
    obstacle: Option<Block>,
    plant: &CheckedPlant<'_>,
    search: &Search<'_>,
    openings: &PlantOpenings,
) -> Reason {
    match obstacle {
        None => openings.reasons.first().cloned().unwrap_or_else(|| {
            Reason::new(ReasonCode::NoLeafOpening, "No opening is expected in the time looked at.")
        }),
        Some(Block::NoReading) => Reason::new(
            ReasonCode::ReadingsEnd,
            "There are no readings of the air for the hours in which its stomata open.",
        ),
        Some(Block::NotDue) => {
            let due = plant.due().map(|t| rfc3339(&t)).unwrap_or_default();
            let interval = practice::interval(plant.entry.standing, plant.entry.setting);
            Reason::new(
                ReasonCode::FedRecently,
                format!(
                    "Fed less than {} ago: due again from {due}.",
                    if interval.value > 1.0 {
                        format!("{:.0} days", interval.value)
                    } else {
                        "a day".into()
                    }
                ),
            )
            .with("due", due)
            .with("interval_days", interval.value)
            .from_parameter(interval)
        }
        Some(Block::Refused) => openings
            .list
            .iter()
            .find(|o| windows::rank_weight(o.preference.rank) <= 0.0)
            .map_or_else(
                || Reason::new(ReasonCode::NoLeafOpening, "Practice refuses every opening."),
                preference_reason,
            ),
        Some(Block::TooCold) => Reason::new(
            ReasonCode::TooCold,
            format!(
                "The air is below {:.0} °C while its stomata are open: growth is slow and leaves \
                 stay wet.",
                p::FEED_TEMPERATURE_LEAST.value
            ),
        )
        .with("temp_least_c", p::FEED_TEMPERATURE_LEAST.value)
        .from_parameter(p::FEED_TEMPERATURE_LEAST),
        Some(Block::TooSunny) => Reason::new(
            ReasonCode::TooSunny,
            format!(
                "The sun gives more than {:.0} W/m² while its stomata are open.",
                p::SUN_RADIATION_MOST.value
            ),
        )
        .with("radiation_most_w_m2", p::SUN_RADIATION_MOST.value)
        .from_parameter(p::SUN_RADIATION_MOST),
        Some(Block::NobodyThere) => Reason::new(
            ReasonCode::OutsideWorkingHours,
            "Its stomata open only while nobody is there by the working hours of the site.",
        ),
        Some(Block::WetNight) => Reason::new(
            ReasonCode::WetNight,
            "The leaves would stay wet in the dark for longer than is held safe at this temperature.",
        )
        .source("sirjusingh1996effect"),
        Some(Block::Scale) => Reason::new(
            ReasonCode::ScaleFromWater,
            format!(
                "The water alone would leave visible scale with more than {:.0} % probability in \
                 every opening, with or without feed.",
                search.tolerance * 100.0
            ),
        )
        .with("tolerance", search.tolerance),
        Some(Block::Residue) => Reason::new(
            ReasonCode::ResidueTooLikely,
            format!(
                "Even {:.0} mg/L would leave visible residue with more than {:.0} % probability \
                 in every opening.",
                p::STRENGTH_LEAST_USEFUL.value,
                search.tolerance * 100.0
            ),
        )
        .with("least_mg_l", p::STRENGTH_LEAST_USEFUL.value)
        .with("tolerance", search.tolerance)
        .from_parameter(p::STRENGTH_LEAST_USEFUL),
    }
}

/// What would make a window, found by searching again with one thing changed.
fn remedies(search: &Search<'_>, openings: &PlantOpenings) -> Result<Vec<Remedy>, Error> {
    let changes = [
        (
            "be there outside the working hours of the site",
            Relax { hours: true, ..Relax::default() },
        ),
        (
            "stop the fans and close the vents until the leaves are dry",
            Relax { still_air: true, ..Relax::default() },
        ),
        (
            "mix and top up with rain or reverse-osmosis water",
            Relax { pure_water: true, ..Relax::default() },
        ),
    ];
    let mut out = Vec::new();
    for (change, relax) in changes {
        let found = Search { relax, ..*search }.run()?;
        if let Some(best) = found.fed.first() {
            let window: Window = windows::window(best, best, &openings.list, search.course, relax)?;
            out.push(Remedy { change: change.to_owned(), window });
        }
    }
    Ok(out)
}

/// What a pot gets in a week, against its ceiling, and when it is due for a flush.
fn weekly(advice: &mut PlantAdvice, plant: &CheckedPlant<'_>, course: &Course<'_>) {
    let entry = plant.entry;
    let kept_l = volume::kept_ml(entry) / 1000.0;
    let rounds = 7.0 / advice.interval_days;
    let strength = advice.feed_strength_mg_l.unwrap_or(0.0);
    let leaf_mg = strength * kept_l * f64::from(advice.passes) * rounds;
    let ceiling_mg = entry.pot_l.map(|l| l * p::POT_WEEKLY_SALTS.value);
    let flush_due = plant.last_flush.as_ref().and_then(|t| {
        let days = p::POT_FLUSH_INTERVAL.value;
        t.checked_add(SignedDuration::from_secs_f64(days * 86_400.0)).ok()
    });
    let total = leaf_mg + entry.root_feed_mg_week.unwrap_or(0.0);
    if let Some(ceiling) = ceiling_mg {
        advice.reasons.push(
            Reason::new(
                ReasonCode::WeeklyCeiling,
                format!(
                    "Leaf and root together give the pot {total:.0} mg of feed a week, {} its \
                     ceiling of {ceiling:.0} mg.",
                    if total > ceiling { "over" } else { "under" }
                ),
            )
            .with("leaf_mg_week", leaf_mg.round())
            .with("root_mg_week", entry.root_feed_mg_week.unwrap_or(0.0))
            .with("ceiling_mg_week", ceiling)
            .from_parameter(p::POT_WEEKLY_SALTS),
        );
    }
    if let Some(due) = &flush_due
        && due.timestamp() <= course.end()
    {
        advice.reasons.push(
            Reason::new(
                ReasonCode::FlushDue,
                format!("A flush of the pot with plain water is due since {}.", due.date()),
            )
            .with("flush_due", due.date().to_string())
            .from_parameter(p::POT_FLUSH_INTERVAL),
        );
    }
    advice.weekly = Some(WeeklyDose {
        leaf_mg: leaf_mg.round(),
        root_mg: entry.root_feed_mg_week,
        ceiling_mg: ceiling_mg.map(f64::round),
        flush_due: flush_due.map(|t| t.date().to_string()),
    });
}

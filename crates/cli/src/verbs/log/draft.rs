//! From flags to an entry.

use super::place::Context;
use super::{amount, plants};
use crate::args::{Drain, LogArgs, LogGrowth, LogKind};
use crate::error::argument;
use crate::quantity;
use guardcell::Error;
use guardcell::ledger::{
    Done, Draft, Entry, Event, Flush, Growth, Level, Measure, Nature, Note, Place, PlantShare,
    Residue, Response, RootFeed, Round, Sign, Soak, Task, Wipe,
};
use guardcell::reference::parameters::practice;

/// The draft of one kind.
pub(crate) fn of(kind: &LogKind, args: &LogArgs, context: &Context) -> Result<Draft, Error> {
    let (at, zone) = context.moment(args.at.as_deref())?;
    let (event, note) = match kind {
        LogKind::Note(a) => {
            if args.note.is_some() {
                return Err(argument("--note", "the note is given twice", "give it once"));
            }
            (Event::Note(Note { plants: plants::chosen(&a.who, context)? }), a.text.clone())
        }
        LogKind::Task(a) => {
            if args.note.is_some() {
                return Err(argument(
                    "--note",
                    "what is to be done is the note of a task",
                    "say it all in one text",
                ));
            }
            let plants = plants::chosen(&a.who, context)?;
            let task = Task { plants, due: context.day("--due", &a.due)?, every_days: a.every };
            (Event::Task(task), a.what.clone())
        }
        kind => (event(kind, context, &at)?, args.note.clone().unwrap_or_default()),
    };
    Ok(Draft {
        id: None,
        recorded: None,
        at,
        zone,
        site: context.site_name()?,
        supersedes: None,
        event,
        note,
    })
}

fn event(kind: &LogKind, context: &Context, at: &str) -> Result<Event, Error> {
    Ok(match kind {
        LogKind::Round(a) => {
            let Some(strength) = &a.strength else {
                return Err(argument(
                    "--strength",
                    "a round by hand needs the feed strength",
                    "give it, such as \"300 mg/L\" (0 mg/L for plain water), or give --plan",
                ));
            };
            if let Some(id) = a.skip.first() {
                return Err(argument(
                    "--skip",
                    format!("{id:?} cannot be skipped without a plan"),
                    "give --plan, or do not name the plant",
                ));
            }
            let strength = quantity::strength_mg_l("--strength", strength)?;
            Event::Round(Round {
                plants: shares(plants::some(&a.who, context)?),
                product: product(a.product.as_ref(), strength, context, at),
                water: a.with.water.clone(),
                wetting_agent: a.with.wetting_agent.clone(),
                sprayer: a.with.sprayer.clone(),
                feed_strength_mg_l: strength,
                n_mg_l: a.n.as_deref().map(|t| quantity::nitrogen("--n", t)).transpose()?,
                passes: a.passes.unwrap_or(1),
                volume_ml: volume("--volume", a.volume.as_ref(), context)?,
                window: None,
                conditions: amount::conditions(&a.conditions)?,
            })
        }
        LogKind::RootFeed(a) => {
            let (drain_ml, drain_mg_l) = drain(&a.drain, context)?;
            let strength = quantity::strength_mg_l("--strength", &a.strength)?;
            Event::RootFeed(RootFeed {
                plants: shares(plants::some(&a.who, context)?),
                product: product(a.product.as_ref(), strength, context, at),
                feed_strength_mg_l: strength,
                n_mg_l: a.n.as_deref().map(|t| quantity::nitrogen("--n", t)).transpose()?,
                volume_ml: volume("--volume", a.volume.as_ref(), context)?,
                drain_ml,
                drain_mg_l,
            })
        }
        LogKind::Residue(a) => Event::Residue(Residue {
            plants: plants::chosen(&a.who, context)?,
            group: a.group.clone(),
            level: level(&a.level)?,
            place: place(&a.place)?,
            nature: nature(&a.nature)?,
            wiped: a.wiped.as_deref().map(wiped).transpose()?,
            round: a.round.clone(),
            conditions: amount::conditions(&a.conditions)?,
        }),
        LogKind::Flush(a) => {
            let (drain_ml, drain_mg_l) = drain(&a.drain, context)?;
            Event::Flush(Flush {
                plants: plants::some(&a.who, context)?,
                volume_ml: volume("--volume", a.volume.as_ref(), context)?,
                drain_ml,
                drain_mg_l,
            })
        }
        LogKind::Soak(a) => Event::Soak(Soak {
            plants: plants::some(&a.who, context)?,
            feed_strength_mg_l: match &a.strength {
                Some(text) => quantity::strength_mg_l("--strength", text)?,
                None => practice::STRENGTH_ROOTLESS.mg_per_l(),
            },
            duration_min: match &a.lasted {
                Some(text) => quantity::minutes("--lasted", text)?,
                None => practice::SOAK_DURATION.minutes(),
            },
        }),
        LogKind::Response(a) => Event::Response(Response {
            plants: plants::some(&a.who, context)?,
            sign: sign(&a.sign)?,
        }),
        LogKind::Growth(a) => growth(a, context)?,
        LogKind::Wipe(a) => Event::Wipe(Wipe { plants: plants::some(&a.who, context)? }),
        // These are no events of their own: the caller makes them.
        LogKind::Note(_)
        | LogKind::Task(_)
        | LogKind::Done(_)
        | LogKind::Correct(_)
        | LogKind::Retract(_) => Event::Note(Note::default()),
    })
}

/// A task that was done.
pub(crate) fn done(task: &Entry, args: &LogArgs, context: &Context) -> Result<Draft, Error> {
    if !matches!(task.event, Event::Task(_)) {
        return Err(argument(
            "the entry",
            format!("{:?} is not a task; it is a {}", task.id, task.event.kind().replace('_', " ")),
            "name one that `guardcell history entries --kind task` lists",
        ));
    }
    let (at, zone) = context.moment(args.at.as_deref())?;
    Ok(Draft {
        id: None,
        recorded: None,
        at,
        zone,
        site: task.site.clone(),
        supersedes: None,
        event: Event::Done(Done { task: task.id.clone() }),
        note: args.note.clone().unwrap_or_default(),
    })
}

fn growth(a: &LogGrowth, context: &Context) -> Result<Event, Error> {
    let what = a.measure.as_deref().map(measure).transpose()?;
    let value = match (what, a.value.as_deref()) {
        (Some(m), Some(text)) => Some(measured(m, text)?),
        _ => None,
    };
    Ok(Event::Growth(Growth {
        plants: plants::matching(&a.plant, context)?,
        measure: what,
        value,
        photo: a.photo.clone(),
    }))
}

/// What is measured; the unit need not be named.
pub(crate) fn measure(text: &str) -> Result<Measure, Error> {
    let short = text.trim().to_lowercase().replace([' ', '-'], "_");
    match short.as_str() {
        "leaf_length" => Ok(Measure::LeafLengthMm),
        "weight" => Ok(Measure::WeightG),
        _ => word("the measure", text, Measure::ALL, Measure::word),
    }
}

/// How many, or how much in the unit of the measure.
pub(crate) fn measured(measure: Measure, text: &str) -> Result<f64, Error> {
    match measure {
        Measure::LeafLengthMm => quantity::millimetres("the value", text),
        Measure::WeightG => quantity::grams("the value", text),
        _ => text.trim().parse::<u32>().map(f64::from).map_err(|_| {
            argument(
                "the value",
                format!("{text:?} is not a count"),
                "write a whole number; 0 says that somebody looked",
            )
        }),
    }
}

pub(crate) fn shares(ids: Vec<String>) -> Vec<PlantShare> {
    ids.into_iter().map(|plant| PlantShare { plant, volume_ml: None }).collect()
}

/// The product: the one named, else that of the turn or of the site; none for plain water.
pub(crate) fn product(
    named: Option<&String>,
    strength_mg_l: f64,
    context: &Context,
    at: &str,
) -> Option<String> {
    let fed = named.is_some() || strength_mg_l > 0.0;
    fed.then(|| context.product(named, at)).flatten()
}

pub(crate) fn volume(
    flag: &str,
    text: Option<&String>,
    context: &Context,
) -> Result<Option<f64>, Error> {
    text.map(|t| amount::volume(flag, t, context)).transpose()
}

pub(crate) fn drain(d: &Drain, context: &Context) -> Result<(Option<f64>, Option<f64>), Error> {
    let strength = d.drain_strength.as_deref();
    Ok((
        volume("--drain", d.drain.as_ref(), context)?,
        strength.map(|t| quantity::strength_mg_l("--drain-strength", t)).transpose()?,
    ))
}

/// One of a list of words; hyphen, space and underscore are alike.
fn word<T: Copy>(
    place: &str,
    text: &str,
    all: &[T],
    name: impl Fn(T) -> &'static str,
) -> Result<T, Error> {
    let wanted = text.trim().to_lowercase().replace([' ', '-'], "_");
    all.iter().copied().find(|v| name(*v) == wanted).ok_or_else(|| {
        let words: Vec<String> = all.iter().map(|v| name(*v).replace('_', "-")).collect();
        argument(
            place,
            format!("{text:?} is not known"),
            format!("write one of {}", words.join(", ")),
        )
    })
}

/// Whether leaves had been wiped.
pub(crate) fn wiped(text: &str) -> Result<bool, Error> {
    word("--wiped", text, &[true, false], |w| if w { "yes" } else { "no" })
}

pub(crate) fn level(text: &str) -> Result<Level, Error> {
    word("the level", text, Level::ALL, Level::word)
}

pub(crate) fn place(text: &str) -> Result<Place, Error> {
    word("the place", text, Place::ALL, Place::word)
}

pub(crate) fn nature(text: &str) -> Result<Nature, Error> {
    word("the nature", text, Nature::ALL, Nature::word)
}

pub(crate) fn sign(text: &str) -> Result<Sign, Error> {
    word("the sign", text, Sign::ALL, Sign::word)
}

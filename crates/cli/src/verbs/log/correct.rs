//! Corrections and retractions: a new entry that stands for an old one.

use super::place::Context;
use super::{amount, draft};
use crate::args::{LogArgs, LogCorrect, LogRetract};
use crate::error::argument;
use crate::quantity;
use crate::verbs::journal::open;
use guardcell::Error;
use guardcell::ledger::{Conditions, Draft, Entry, Event, PlantShare, Retraction};
use guardcell_journal::{Journal, Selection};
use std::path::Path;

/// The entry as it should have been.
pub(crate) fn correct(
    args: &LogCorrect,
    log: &LogArgs,
    context: &Context,
    path: &Path,
) -> Result<Draft, Error> {
    let old = find(path, &args.entry)?;
    let mut event = old.event.clone();
    let mut given = Given::of(args, context)?;
    given.apply(&mut event);
    if let Some(flag) = given.left() {
        return Err(argument(
            flag,
            format!("it has no meaning for a {}", old.event.kind().replace('_', " ")),
            "leave it out; to change the kind, retract the entry and log it anew",
        ));
    }
    let (at, zone) = match &log.at {
        Some(at) => context.moment(Some(at))?,
        None => (old.at.clone(), old.zone.clone()),
    };
    let note = log.note.clone().unwrap_or_else(|| old.note.clone());
    if event == old.event && at == old.at && note == old.note {
        return Err(argument(
            "correct",
            format!("nothing about {} would change", old.id),
            "say what was different, such as --strength or --at",
        ));
    }
    Ok(Draft {
        id: None,
        recorded: None,
        at,
        zone,
        site: old.site,
        supersedes: Some(old.id),
        event,
        note,
    })
}

/// The entry that takes another back.
pub(crate) fn retract(args: &LogRetract, log: &LogArgs, path: &Path) -> Result<Draft, Error> {
    let old = find(path, &args.entry)?;
    Ok(Draft {
        id: None,
        recorded: None,
        at: old.at,
        zone: old.zone,
        site: old.site,
        supersedes: Some(old.id),
        event: Event::Retraction(Retraction {}),
        note: log.note.clone().unwrap_or_default(),
    })
}

/// The entry by its id, or by the first letters of it; it must stand.
pub(crate) fn find(path: &Path, start: &str) -> Result<Entry, Error> {
    let journal = Journal::open_to_read(path).map_err(open::fault)?;
    let all = Selection { with_corrected: true, ..Selection::default() };
    let mut entries = journal.entries(&all).map_err(open::fault)?;
    let exact = entries.iter().position(|e| e.id == start);
    let fits: Vec<usize> = match exact {
        Some(i) => vec![i],
        None => {
            let fits = entries.iter().enumerate().filter(|(_, e)| e.id.starts_with(start));
            fits.map(|(i, _)| i).collect()
        }
    };
    let one = match fits.as_slice() {
        [one] if !start.is_empty() => *one,
        [] | [_] => {
            return Err(argument(
                "the entry",
                format!("the journal has no entry {start:?}"),
                "name one that `guardcell history entries` lists",
            ));
        }
        several => {
            return Err(argument(
                "the entry",
                format!("the ids of {} entries begin with {start:?}", several.len()),
                "give more letters of it",
            ));
        }
    };
    let found = entries.swap_remove(one);
    if let Some(newer) = entries.iter().find(|e| e.supersedes.as_ref() == Some(&found.id)) {
        return Err(argument(
            "the entry",
            format!("{:?} was already corrected or retracted by {:?}", found.id, newer.id),
            format!("correct {:?} instead", newer.id),
        ));
    }
    Ok(found)
}

/// A task by its words, or as [`find`] has it.
pub(crate) fn task(path: &Path, words: &str) -> Result<Entry, Error> {
    let journal = Journal::open_to_read(path).map_err(open::fault)?;
    let wanted = words.trim().to_lowercase();
    let entries = journal.entries(&Selection::default()).map_err(open::fault)?;
    let is_open = |e: &Entry| match &e.event {
        Event::Task(task) => {
            let done = |d: &Entry| matches!(&d.event, Event::Done(d) if d.task == e.id);
            task.every_days.is_some() || !entries.iter().any(done)
        }
        _ => false,
    };
    let named: Vec<&Entry> =
        entries.iter().filter(|e| is_open(e) && e.note.trim().to_lowercase() == wanted).collect();
    match named.as_slice() {
        [one] => Ok((*one).clone()),
        [] => find(path, words),
        several => {
            let ids: Vec<&str> = several.iter().map(|e| e.id.as_str()).collect();
            Err(argument(
                "the entry",
                format!("{} open tasks are called {words:?}", several.len()),
                format!("name one by its entry: {}", ids.join(", ")),
            ))
        }
    }
}

/// What is said in the second over what was in the first.
pub(crate) fn over(old: Conditions, new: Conditions) -> Conditions {
    Conditions {
        temp_c: new.temp_c.or(old.temp_c),
        rh_percent: new.rh_percent.or(old.rh_percent),
        air_m_s: new.air_m_s.or(old.air_m_s),
        residue_g_m2: new.residue_g_m2.or(old.residue_g_m2),
        residue_log_sd: new.residue_log_sd.or(old.residue_log_sd),
        scale_g_m2: new.scale_g_m2.or(old.scale_g_m2),
    }
}

/// What the flags give; each is taken by the kind that has it.
struct Given {
    plants: Option<Vec<String>>,
    strength: Option<f64>,
    n: Option<f64>,
    product: Option<String>,
    water: Option<String>,
    wetting_agent: Option<String>,
    sprayer: Option<String>,
    wiped: Option<bool>,
    passes: Option<u8>,
    volume: Option<f64>,
    level: Option<guardcell::ledger::Level>,
    on: Option<guardcell::ledger::Place>,
    nature: Option<guardcell::ledger::Nature>,
    group: Option<String>,
    sign: Option<guardcell::ledger::Sign>,
    lasted: Option<f64>,
    drain_ml: Option<f64>,
    drain_mg_l: Option<f64>,
    conditions: Option<Conditions>,
}

impl Given {
    fn of(a: &LogCorrect, context: &Context) -> Result<Self, Error> {
        let (drain_ml, drain_mg_l) = draft::drain(&a.drain, context)?;
        let mut plants = Vec::new();
        for id in &a.plants {
            plants.extend(super::plants::matching(id, context)?);
        }
        let strength = a.strength.as_deref();
        Ok(Self {
            plants: (!plants.is_empty()).then_some(plants),
            strength: strength.map(|t| quantity::strength_mg_l("--strength", t)).transpose()?,
            n: a.n.as_deref().map(|t| quantity::nitrogen("--n", t)).transpose()?,
            product: context.product(a.product.as_ref(), "").filter(|_| a.product.is_some()),
            water: a.with.water.clone(),
            wetting_agent: a.with.wetting_agent.clone(),
            sprayer: a.with.sprayer.clone(),
            wiped: a.wiped.as_deref().map(draft::wiped).transpose()?,
            passes: a.passes,
            volume: draft::volume("--volume", a.volume.as_ref(), context)?,
            level: a.level.as_deref().map(draft::level).transpose()?,
            on: a.on.as_deref().map(draft::place).transpose()?,
            nature: a.nature.as_deref().map(draft::nature).transpose()?,
            group: a.group.clone(),
            sign: a.sign.as_deref().map(draft::sign).transpose()?,
            lasted: a.lasted.as_deref().map(|t| quantity::minutes("--lasted", t)).transpose()?,
            drain_ml,
            drain_mg_l,
            conditions: amount::conditions(&a.conditions)?,
        })
    }

    fn apply(&mut self, event: &mut Event) {
        match event {
            Event::Round(r) => {
                share(&mut r.plants, self.plants.take());
                if let Some(s) = self.strength.take() {
                    // What follows from the strength follows it, unless it is given too.
                    r.set_strength(s);
                }
                put(&mut r.n_mg_l, &mut self.n);
                put(&mut r.product, &mut self.product);
                put(&mut r.water, &mut self.water);
                put(&mut r.wetting_agent, &mut self.wetting_agent);
                put(&mut r.sprayer, &mut self.sprayer);
                r.passes = self.passes.take().unwrap_or(r.passes);
                r.sum_volumes();
                match (self.volume.take(), r.volume_ml) {
                    (Some(new), Some(old)) if old > 0.0 => r.scale_volumes(new / old),
                    (Some(new), _) => r.volume_ml = Some(new),
                    (None, _) => {}
                }
                air(&mut r.conditions, self.conditions.take());
            }
            Event::RootFeed(r) => {
                share(&mut r.plants, self.plants.take());
                if let Some(s) = self.strength.take() {
                    let ratio = s / r.feed_strength_mg_l;
                    r.n_mg_l = r.n_mg_l.filter(|_| ratio.is_finite()).map(|n| n * ratio);
                    r.feed_strength_mg_l = s;
                }
                put(&mut r.n_mg_l, &mut self.n);
                put(&mut r.product, &mut self.product);
                put(&mut r.volume_ml, &mut self.volume);
                put(&mut r.drain_ml, &mut self.drain_ml);
                put(&mut r.drain_mg_l, &mut self.drain_mg_l);
            }
            Event::Residue(r) => {
                r.plants = self.plants.take().unwrap_or_else(|| r.plants.clone());
                put(&mut r.group, &mut self.group);
                r.level = self.level.take().unwrap_or(r.level);
                r.place = self.on.take().unwrap_or(r.place);
                r.nature = self.nature.take().unwrap_or(r.nature);
                put(&mut r.wiped, &mut self.wiped);
                air(&mut r.conditions, self.conditions.take());
            }
            Event::Flush(f) => {
                f.plants = self.plants.take().unwrap_or_else(|| f.plants.clone());
                put(&mut f.volume_ml, &mut self.volume);
                put(&mut f.drain_ml, &mut self.drain_ml);
                put(&mut f.drain_mg_l, &mut self.drain_mg_l);
            }
            Event::Soak(s) => {
                s.plants = self.plants.take().unwrap_or_else(|| s.plants.clone());
                s.feed_strength_mg_l = self.strength.take().unwrap_or(s.feed_strength_mg_l);
                s.duration_min = self.lasted.take().unwrap_or(s.duration_min);
            }
            Event::Response(r) => {
                r.plants = self.plants.take().unwrap_or_else(|| r.plants.clone());
                r.sign = self.sign.take().unwrap_or(r.sign);
            }
            Event::Growth(g) => {
                g.plants = self.plants.take().unwrap_or_else(|| g.plants.clone());
            }
            Event::Wipe(w) => {
                w.plants = self.plants.take().unwrap_or_else(|| w.plants.clone());
            }
            Event::Task(t) => {
                t.plants = self.plants.take().unwrap_or_else(|| t.plants.clone());
            }
            Event::Note(n) => n.plants = self.plants.take().unwrap_or_else(|| n.plants.clone()),
            Event::Done(_) | Event::Retraction(_) => {}
        }
    }

    /// A flag that was given and not taken.
    fn left(&self) -> Option<&'static str> {
        [
            (self.plants.is_some(), "--plants"),
            (self.strength.is_some(), "--strength"),
            (self.n.is_some(), "--n"),
            (self.product.is_some(), "--product"),
            (self.water.is_some(), "--water"),
            (self.wetting_agent.is_some(), "--wetting-agent"),
            (self.sprayer.is_some(), "--sprayer"),
            (self.wiped.is_some(), "--wiped"),
            (self.passes.is_some(), "--passes"),
            (self.volume.is_some(), "--volume"),
            (self.level.is_some(), "--level"),
            (self.on.is_some(), "--on"),
            (self.nature.is_some(), "--nature"),
            (self.group.is_some(), "--group"),
            (self.sign.is_some(), "--sign"),
            (self.lasted.is_some(), "--lasted"),
            (self.drain_ml.is_some(), "--drain"),
            (self.drain_mg_l.is_some(), "--drain-strength"),
            (self.conditions.is_some(), "--temp, --humidity, --air or --modelled"),
        ]
        .into_iter()
        .find_map(|(left, flag)| left.then_some(flag))
    }
}

fn put<T>(field: &mut Option<T>, given: &mut Option<T>) {
    if let Some(value) = given.take() {
        *field = Some(value);
    }
}

fn share(plants: &mut Vec<PlantShare>, given: Option<Vec<String>>) {
    let Some(ids) = given else { return };
    // Those that stay keep their own volume.
    *plants = ids
        .into_iter()
        .map(|id| {
            let volume_ml = plants.iter().find(|p| p.plant == id).and_then(|p| p.volume_ml);
            PlantShare { plant: id, volume_ml }
        })
        .collect();
}

fn air(field: &mut Option<Conditions>, given: Option<Conditions>) {
    if let Some(new) = given {
        *field = Some(over(field.take().unwrap_or_default(), new));
    }
}

//! Plants of a round that are alike in all that the plan weighs, moved together.

use super::choice::{self, Choice};
use super::volume;
use crate::advise::Judged;
use crate::explain::Explained;
use crate::request::{Setting, SizeClass, Standing};
use guardcell_error::Error;
use guardcell_reference::Pathway;
use std::collections::BTreeMap;
use std::rc::Rc;

/// Plants from which on a unit is cut, so that a sitting that is too long can be split.
const MOST_PLANTS: usize = 60;
/// Units at most of a large collection, about.
const MOST_UNITS: usize = 150;

/// Plants that the plan moves together.
#[derive(Debug)]
pub(super) struct Unit {
    /// Their kind, as the advice numbers it.
    pub(super) kind: usize,
    pub(super) area: usize,
    /// Places in the collection, by bench and id.
    pub(super) plants: Vec<usize>,
    /// One pass over all of them, mL.
    pub(super) one_pass_ml: f64,
    pub(super) choices: Rc<[Choice]>,
    /// Units of weaker or smaller plants, alike otherwise, which never get more than this one.
    pub(super) over: Vec<usize>,
}

/// The units of a round whose strengths are unsure by so much, in an order that does not depend on
/// that of the plants.
pub(super) fn of(judged: &Judged<'_>, strength_log_sd: f64) -> Result<Vec<Unit>, Error> {
    let mut by_kind: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (i, _) in judged.plants.iter().enumerate() {
        guardcell_call::checkpoint();
        if let Some((kind, _)) = judged.decided(i) {
            by_kind.entry(kind).or_default().push(i);
        }
    }
    let most = MOST_PLANTS.max(judged.plants.len() / MOST_UNITS);
    let mut out = Vec::new();
    for (kind, mut plants) in by_kind {
        plants.sort_by_key(|i| place(judged, *i));
        let Some((first, (_, explained))) =
            plants.first().and_then(|i| Some((*i, judged.decided(*i)?)))
        else {
            continue;
        };
        let Some(area) = judged.plants.get(first).map(|p| p.area) else { continue };
        let Some(timeline) = judged.timeline(area) else { continue };
        let choices: Rc<[Choice]> = choice::of(explained, strength_log_sd, timeline)?.into();
        if choices.is_empty() {
            continue;
        }
        for part in plants.chunks(most) {
            let ml = part.iter().filter_map(|i| judged.plants.get(*i)).map(|p| p.entry);
            out.push(Unit {
                kind,
                area,
                plants: part.to_vec(),
                one_pass_ml: ml.map(volume::one_pass_ml).sum(),
                choices: Rc::clone(&choices),
                over: Vec::new(),
            });
        }
    }
    out.sort_by_cached_key(|u| (u.area, u.plants.first().map(|i| place(judged, *i))));
    let views: Vec<_> = out.iter().map(|unit| view(unit, judged)).collect();
    let over: Vec<_> = views
        .iter()
        .map(|a| a.as_ref().map_or_else(Vec::new, |a| stronger_than(a, &views)))
        .collect();
    for (unit, over) in out.iter_mut().zip(over) {
        unit.over = over;
    }
    Ok(out)
}

/// Where a plant stands: bench, then id.
pub(super) fn place<'a>(judged: &'a Judged<'_>, plant: usize) -> (&'a str, &'a str) {
    judged
        .plants
        .get(plant)
        .map_or(("", ""), |p| (p.entry.bench.as_deref().unwrap_or(""), p.entry.id.as_str()))
}

/// What of a unit is compared with the others.
struct View<'a> {
    kind: usize,
    area: usize,
    pathway: Pathway,
    setting: Setting,
    standing: Standing,
    size: SizeClass,
    explained: &'a Explained,
}

fn view<'a>(unit: &Unit, judged: &'a Judged<'_>) -> Option<View<'a>> {
    let i = *unit.plants.first()?;
    let plant = judged.plants.get(i)?;
    let (_, explained) = judged.decided(i)?;
    Some(View {
        kind: unit.kind,
        area: plant.area,
        pathway: plant.pathway,
        setting: plant.entry.setting,
        standing: plant.entry.standing,
        size: plant.entry.size,
        explained,
    })
}

/// The units of plants alike but weaker, or smaller.
fn stronger_than(a: &View<'_>, units: &[Option<View<'_>>]) -> Vec<usize> {
    guardcell_call::checkpoint();
    let weaker = |b: &View<'_>| {
        b.kind != a.kind
            && (a.area, a.pathway, a.setting) == (b.area, b.pathway, b.setting)
            && a.standing <= b.standing
            && a.size >= b.size
            && comparable(a.explained, b.explained)
    };
    units
        .iter()
        .enumerate()
        .filter(|(_, b)| b.as_ref().is_some_and(weaker))
        .map(|(i, _)| i)
        .collect()
}

/// Whether nothing but standing and size sets two kinds apart that could give the weaker more.
fn comparable(a: &Explained, b: &Explained) -> bool {
    let (a, b) = (&a.decision.subject, &b.decision.subject);
    a.not_before == b.not_before && a.weekly.is_none() && b.weekly.is_none()
}

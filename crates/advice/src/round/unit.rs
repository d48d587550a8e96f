//! Plants of a round that are alike in all that the plan weighs, moved together.

use super::choice::{self, Choice};
use super::volume;
use crate::advise::Judged;
use crate::explain::Explained;
use crate::request::{Setting, SizeClass, Standing};
use guardcell_error::Error;
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

/// What of a kind is compared with others.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Rank {
    area: usize,
    setting: Setting,
    standing: Standing,
    size: SizeClass,
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
    let over = out.iter().map(|a| stronger_than(a, &out, judged)).collect::<Vec<_>>();
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

/// The units of plants alike but weaker, or smaller.
fn stronger_than(a: &Unit, units: &[Unit], judged: &Judged<'_>) -> Vec<usize> {
    let view = |u: &Unit| {
        let i = *u.plants.first()?;
        let pl = judged.plants.get(i)?;
        let (_, explained) = judged.decided(i)?;
        let rank = Rank {
            area: pl.area,
            setting: pl.entry.setting,
            standing: pl.entry.standing,
            size: pl.entry.size,
        };
        Some((rank, explained, (pl.pathway, &pl.taken_for)))
    };
    let Some((of_a, a_decided, a_taxon)) = view(a) else { return Vec::new() };
    units
        .iter()
        .enumerate()
        .filter(|(_, b)| {
            b.kind != a.kind
                && view(b).is_some_and(|(of_b, b_decided, b_taxon)| {
                    a_taxon.0 == b_taxon.0
                        && (of_a.area, of_a.setting) == (of_b.area, of_b.setting)
                        && of_a.standing <= of_b.standing
                        && of_a.size >= of_b.size
                        && comparable(a_decided, b_decided)
                })
        })
        .map(|(i, _)| i)
        .collect()
}

/// Whether nothing but standing and size sets two kinds apart that could give the weaker more.
fn comparable(a: &Explained, b: &Explained) -> bool {
    let (a, b) = (&a.decision.subject, &b.decision.subject);
    a.not_before == b.not_before && a.weekly.is_none() && b.weekly.is_none()
}

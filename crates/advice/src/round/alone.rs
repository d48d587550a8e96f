//! Who gets nothing, and what was not known: each said once, with the plants it holds for.

use super::answer::{Alone, PlantRef};
use crate::answer::{AdviceResponse, PlantAdvice, Verdict};
use crate::reason::Unknown;
use crate::request::PlantEntry;

/// Who gets nothing now, by reason.
pub(super) fn alone(pairs: &[(&PlantEntry, &PlantAdvice)]) -> Vec<Alone> {
    let mut out: Vec<Alone> = Vec::new();
    for (entry, advice) in pairs {
        if matches!(advice.verdict, Verdict::Feed | Verdict::WaterOnly)
            && !advice.windows.is_empty()
        {
            continue;
        }
        let Some(reason) = advice.reasons.first() else { continue };
        let help: Vec<String> = advice.changes.iter().map(|c| c.message.clone()).collect();
        let home = out.iter_mut().find(|a| {
            a.verdict == advice.verdict
                && a.reason.code == reason.code
                && a.reason.message == reason.message
                && a.changes == help
        });
        match home {
            Some(a) => a.plants.push(plant_ref(entry)),
            None => out.push(Alone {
                verdict: advice.verdict,
                reason: reason.clone(),
                plants: vec![plant_ref(entry)],
                changes: help,
            }),
        }
    }
    out
}

pub(super) fn plant_ref(entry: &PlantEntry) -> PlantRef {
    PlantRef { id: entry.id.clone(), name: entry.name.clone() }
}

/// Plants named in words; every plant is named in the data.
const MOST_LISTED: usize = 6;

/// What is not known of the plants, each once, with how many plants it touches.
pub(super) fn unknowns(advice: &AdviceResponse) -> Vec<Unknown> {
    let mut out: Vec<(Unknown, Vec<&str>)> = Vec::new();
    for plant in &advice.plants {
        for u in &plant.unknowns {
            let home = out.iter_mut().find(|(o, _)| {
                o.what == u.what && o.assumed == u.assumed && o.measure == u.measure
            });
            match home {
                Some((o, ids)) => {
                    o.spread = o.spread.max(u.spread);
                    ids.push(&plant.id);
                }
                None => out.push((u.clone(), vec![&plant.id])),
            }
        }
    }
    out.sort_by(|a, b| b.0.spread.total_cmp(&a.0.spread));
    out.into_iter()
        .map(|(mut u, ids)| {
            let first: Vec<&str> = ids.iter().take(MOST_LISTED).copied().collect();
            let listed = if ids.len() > MOST_LISTED {
                let (n, all) = (ids.len(), advice.plants.len());
                format!("{n} of {all} plants: {}, …", first.join(", "))
            } else {
                first.join(", ")
            };
            u.what = format!("{} ({listed})", u.what);
            u.plants = ids.into_iter().map(str::to_owned).collect();
            u
        })
        .collect()
}

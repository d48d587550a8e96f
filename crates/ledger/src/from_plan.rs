//! From a plan of a round to the entries that say it was given.

use crate::check::name;
use crate::entry::{Conditions, Draft, Event, PlantShare, Round, Window};
use guardcell_advice::ModelledResidue;
use guardcell_advice::round::{RoundGroup, RoundResponse, RoundStep, Sitting};
use guardcell_call::{Bound, Limited as _};
use guardcell_error::{Code, Error};

const STRENGTH: Bound = Bound::number(0.0, 10_000.0, "mg/L");
const VOLUME: Bound = Bound::number(0.0, 1e6, "mL");

/// The entries for one sitting of a plan, one for each strength and air, to be edited to what was
/// done and recorded. Each has the volume of every plant, and the
/// residue that the plan expects of it in the driest air that follows: what is seen there later
/// teaches the threshold.
///
/// # Errors
/// Where the plan has no such sitting, or a name that no entry can hold.
///
/// ```
/// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
/// use guardcell::ledger::rounds_of_plan;
/// let plan = serde_json::from_str(r#"{"site": "Fernhollow", "from": "2026-06-21T12:00:00Z",
///   "to": "2026-06-22T12:00:00Z", "bucket": null, "sittings": [], "alone": [], "cautions": [],
///   "unknowns": [], "sources": []}"#).unwrap();
/// assert!(rounds_of_plan(&plan, 0).unwrap_err().to_string().contains("no sitting"));
/// ```
pub fn rounds_of_plan(plan: &RoundResponse, sitting: usize) -> Result<Vec<Draft>, Error> {
    let at = sitting_of(plan, sitting)?;
    let mut drafts = Vec::new();
    for step in 0..at.steps.len() {
        drafts.extend(rounds_of_step(plan, sitting, step)?);
    }
    Ok(drafts)
}

/// The same for one step of a sitting, both counted from 0; none where there is no such step.
pub(crate) fn rounds_of_step(
    plan: &RoundResponse,
    sitting: usize,
    step: usize,
) -> Result<Vec<Draft>, Error> {
    let at = sitting_of(plan, sitting)?;
    name("/site", &plan.site)?;
    let product =
        plan.bucket.as_ref().map(|b| b.mix.as_ref().unwrap_or(&b.product).trim().to_owned());
    let Some(given) = at.steps.get(step) else { return Ok(Vec::new()) };
    let pointer = format!("/sittings/{sitting}/steps/{step}");
    given.feed_strength_mg_l.check(&STRENGTH, &format!("{pointer}/feed_strength_mg_l"))?;
    by_air(&given.groups)
        .iter()
        .map(|groups| draft(plan, at, given, groups, product.as_deref(), &pointer))
        .collect()
}

pub(crate) fn sitting_of(plan: &RoundResponse, sitting: usize) -> Result<&Sitting, Error> {
    plan.sittings.get(sitting).ok_or_else(|| {
        Error::new(
            Code::Unknown,
            format!("the plan has no sitting {sitting}"),
            format!("it has {}, counted from 0", plan.sittings.len()),
        )
        .at(format!("/sittings/{sitting}"))
    })
}

/// The groups of a step that share area and air, in the order they stand.
fn by_air(groups: &[RoundGroup]) -> Vec<Vec<&RoundGroup>> {
    let mut out: Vec<Vec<&RoundGroup>> = Vec::new();
    for g in groups {
        let alike = |f: &&RoundGroup| f.area == g.area && f.modelled == g.modelled;
        match out.iter_mut().find(|list| list.first().is_some_and(alike)) {
            Some(list) => list.push(g),
            None => out.push(vec![g]),
        }
    }
    out
}

fn draft(
    plan: &RoundResponse,
    sitting: &Sitting,
    step: &RoundStep,
    groups: &[&RoundGroup],
    product: Option<&str>,
    pointer: &str,
) -> Result<Draft, Error> {
    let mut plants = Vec::new();
    let mut volume_ml = 0.0;
    for p in groups.iter().flat_map(|g| &g.plants) {
        p.spray_ml.check(&VOLUME, &format!("{pointer}/spray_ml"))?;
        plants.push(PlantShare { plant: p.id.clone(), volume_ml: Some(p.spray_ml) });
        volume_ml += p.spray_ml;
    }
    let fed = step.feed_strength_mg_l > 0.0;
    Ok(Draft {
        id: None,
        recorded: None,
        at: sitting.start.clone(),
        zone: None,
        site: plan.site.clone(),
        supersedes: None,
        event: Event::Round(Round {
            plants,
            product: product.filter(|p| fed && name("/bucket/product", p).is_ok()).map(Into::into),
            water: None,
            wetting_agent: None,
            sprayer: None,
            feed_strength_mg_l: step.feed_strength_mg_l,
            n_mg_l: fed.then_some(step.n_mg_l.min(step.feed_strength_mg_l)),
            passes: step.passes.max(1),
            volume_ml: Some(volume_ml),
            window: Some(Window { from: sitting.start.clone(), to: sitting.end.clone() }),
            conditions: groups.first().map(|g| conditions(&g.modelled)),
        }),
        note: String::new(),
    })
}

fn conditions(m: &ModelledResidue) -> Conditions {
    Conditions {
        temp_c: Some(m.temp_c),
        rh_percent: Some(m.rh_percent),
        air_m_s: m.air_m_s,
        residue_g_m2: Some(m.feed_g_m2),
        residue_log_sd: m.feed_log_sd.map(|sd| sd.clamp(0.01, 3.0)),
        scale_g_m2: Some(m.scale_g_m2),
    }
}

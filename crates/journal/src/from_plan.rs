//! From a plan of a round to the entries that say it was given.

use crate::check::{name, range};
use crate::entry::{Draft, Event, PlantShare, Round, Window};
use crate::error::JournalError;
use guardcell::advice::round::{RoundPlan, Sitting};

/// The entries for one sitting of a plan, one for each strength, to be edited to what was done
/// and given to [`crate::Journal::append_all`]. Each has the volume of its strength, which is
/// shared evenly among its plants where nothing else is stated; the conditions of the day are the
/// caller's to add.
///
/// # Errors
/// [`JournalError::Value`] where the plan has no such sitting, or a name that no entry can hold.
///
/// ```
/// use guardcell_journal::rounds_of_plan;
/// let plan = serde_json::from_str(r#"{"site": "Fernhollow", "from": "2026-06-21T12:00:00Z",
///   "to": "2026-06-22T12:00:00Z", "bucket": null, "sittings": [], "alone": [], "cautions": [],
///   "unknowns": [], "sources": []}"#).unwrap();
/// assert!(rounds_of_plan(&plan, 0).unwrap_err().to_string().contains("no sitting"));
/// ```
pub fn rounds_of_plan(plan: &RoundPlan, sitting: usize) -> Result<Vec<Draft>, JournalError> {
    let Some(at) = plan.sittings.get(sitting) else {
        return Err(JournalError::value(
            format!("/sittings/{sitting}"),
            format!("the plan has no sitting {sitting}"),
            format!("it has {}, counted from 0", plan.sittings.len()),
        ));
    };
    name("/site", &plan.site)?;
    let product = plan.bucket.as_ref().map(|b| b.product.trim().to_owned());
    at.steps.iter().enumerate().map(|(i, _)| step(plan, at, i, product.as_deref())).collect()
}

fn step(
    plan: &RoundPlan,
    sitting: &Sitting,
    index: usize,
    product: Option<&str>,
) -> Result<Draft, JournalError> {
    let at = |field: &str| format!("/steps/{index}/{field}");
    let Some(step) = sitting.steps.get(index) else {
        return Err(JournalError::value(at(""), "there is no such step", "give a whole plan"));
    };
    range(&at("feed_strength_mg_l"), step.feed_strength_mg_l, 0.0, 10_000.0, "mg/L")?;
    let plants = step
        .groups
        .iter()
        .flat_map(|g| &g.plants)
        .map(|p| PlantShare { plant: p.id.clone(), volume_ml: None })
        .collect();
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
            feed_strength_mg_l: step.feed_strength_mg_l,
            n_mg_l: fed.then_some(step.n_mg_l.min(step.feed_strength_mg_l)),
            passes: step.passes.max(1),
            volume_ml: Some(step.spray_ml),
            window: Some(Window { from: sitting.start.clone(), to: sitting.end.clone() }),
            conditions: None,
        }),
        note: String::new(),
    })
}

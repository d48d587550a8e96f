//! A planned sitting as it was given: what was left out, and what was changed.

use crate::entry::{Draft, Entry, Event};
use crate::from_plan::{rounds_of_step, sitting_of};
use guardcell_advice::round::RoundResponse;
use guardcell_call::{Bound, Bounded as _, bounds};
use guardcell_error::{Code, Error};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// Letters of an identifier; the entries have theirs with a number behind it.
const ID: Bound = Bound::text(1, 48);

/// A sitting of a plan and what was done differently.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct GivenRequest {
    /// The plan of the round.
    pub plan: RoundResponse,
    /// The sitting that was done, counted from 0.
    #[serde(default)]
    pub sitting: u32,
    /// An identifier of the caller's own, 1 to 48 characters; each entry has it with its number.
    pub id: String,
    /// When it is recorded, RFC 3339.
    pub recorded: String,
    /// When it was done, RFC 3339 with offset; the start of the sitting where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
    /// IANA time zone of the place; left out of an entry whose time has another offset.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zone: Option<String>,
    /// Plants that were not sprayed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub left_out: Vec<String>,
    /// Steps that were done differently.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub steps: Vec<GivenStep>,
    /// Free remarks, up to 10,000 characters, for each entry.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// A step of a sitting that was done differently.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct GivenStep {
    /// The step, counted from 0.
    pub step: u32,
    /// The feed strength that was given, mg/L of dissolved feed; as planned where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feed_strength_mg_l: Option<f64>,
    /// The volume that was sprayed, mL, shared as planned; as planned where not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
}

bounds! { GivenRequest {
    sitting: Bound::number(0.0, 1000.0, ""),
    id: ID,
    recorded: Bound::text(1, 64),
    at: Bound::text(1, 64),
    zone: Bound::text(1, 64),
    left_out: Bound::items(0, 20_000),
    steps: Bound::items(0, 1000),
    note: Bound::text(0, 10_000),
} }

bounds! { GivenStep {
    step: Bound::number(0.0, 1000.0, ""),
    feed_strength_mg_l: Bound::number(0.0, 10_000.0, "mg/L"),
    volume_ml: Bound::above(0.0, 1e6, "mL"),
} }

/// The entries of a sitting that was done.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct GivenRounds {
    /// One for each strength and air, checked, to be recorded.
    pub entries: Vec<Entry>,
}

/// The entries that say what was given of a planned sitting.
///
/// The residue that the plan expects changes in proportion to the strength: the film model answers
/// so as far as a round was made weaker or stronger than planned.
///
/// # Errors
/// For a sitting, a step or a plant that the plan does not have, a value out of range, and where no
/// plant is left.
///
/// ```
/// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
/// use guardcell::ledger::{GivenRequest, given_rounds};
/// let request: GivenRequest = serde_json::from_str(r#"{"id": "a", "recorded": "2026-06-21T06:00:00Z",
///   "plan": {"site": "Fernhollow", "from": "2026-06-21T12:00:00Z", "to": "2026-06-22T12:00:00Z",
///            "bucket": null, "sittings": [], "alone": [], "cautions": [], "unknowns": [],
///            "sources": []}}"#).unwrap();
/// assert_eq!(given_rounds(&request).unwrap_err().pointer(), "/plan/sittings/0");
/// ```
pub fn given_rounds(request: &GivenRequest) -> Result<GivenRounds, Error> {
    request.check_bounds()?;
    let plan = &request.plan;
    let index = request.sitting as usize;
    let sitting = sitting_of(plan, index).map_err(|e| e.within("/plan"))?;
    for (i, edit) in request.steps.iter().enumerate() {
        edit.check_bounds().map_err(|e| e.within(&format!("/steps/{i}")))?;
        if edit.step as usize >= sitting.steps.len() {
            return Err(Error::new(
                Code::Unknown,
                format!("the sitting has no step {}", edit.step),
                format!("it has {}, counted from 0", sitting.steps.len()),
            )
            .at(format!("/steps/{i}/step")));
        }
    }
    let planned: BTreeSet<&str> = sitting
        .steps
        .iter()
        .flat_map(|s| s.groups.iter().flat_map(|g| &g.plants))
        .map(|p| p.id.as_str())
        .collect();
    if let Some(i) = request.left_out.iter().position(|id| !planned.contains(id.as_str())) {
        return Err(Error::new(
            Code::Unknown,
            "this plant is not in the sitting",
            "name plants that the plan sprays there",
        )
        .at(format!("/left_out/{i}")));
    }
    let left_out: BTreeSet<&str> = request.left_out.iter().map(String::as_str).collect();
    let mut entries = Vec::new();
    for step in 0..sitting.steps.len() {
        let drafts = rounds_of_step(plan, index, step).map_err(|e| e.within("/plan"))?;
        let edit = request.steps.iter().rfind(|e| e.step as usize == step);
        for draft in edited(drafts, &left_out, edit) {
            let id = format!("{}-{}", request.id, entries.len() + 1);
            entries.push(entry(draft, &id, request)?);
        }
    }
    if entries.is_empty() {
        return Err(Error::new(
            Code::Missing,
            "no plant is left",
            "then there is nothing to record",
        )
        .at("/left_out"));
    }
    Ok(GivenRounds { entries })
}

/// The drafts of one step without the plants that were left out, and with what was changed.
fn edited(drafts: Vec<Draft>, left_out: &BTreeSet<&str>, edit: Option<&GivenStep>) -> Vec<Draft> {
    let mut drafts = drafts;
    for draft in &mut drafts {
        if let Event::Round(r) = &mut draft.event {
            r.plants.retain(|p| !left_out.contains(p.plant.as_str()));
            r.sum_volumes();
        }
    }
    drafts.retain(|d| !d.event.plants().is_empty());
    let Some(edit) = edit else { return drafts };
    let volume_of = |d: &Draft| if let Event::Round(r) = &d.event { r.volume_ml } else { None };
    let planned: f64 = drafts.iter().filter_map(volume_of).sum();
    let share = edit.volume_ml.map(|v| v / planned).filter(|share| share.is_finite());
    for draft in &mut drafts {
        let Event::Round(r) = &mut draft.event else { continue };
        if let Some(strength) = edit.feed_strength_mg_l {
            r.set_strength(strength);
        }
        if let Some(share) = share {
            r.scale_volumes(share);
        }
    }
    drafts
}

fn entry(draft: Draft, id: &str, request: &GivenRequest) -> Result<Entry, Error> {
    let mut draft = draft;
    if let Some(at) = &request.at {
        draft.at.clone_from(at);
    }
    draft.note.clone_from(&request.note);
    let recorded = &request.recorded;
    let plain = draft.clone().checked(id, recorded)?;
    draft.zone.clone_from(&request.zone);
    Ok(draft.checked(id, recorded).unwrap_or(plain))
}

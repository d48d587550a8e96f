//! A plant of the request, resolved: what it is, when it opens, what it may get and how often.

use crate::moment;
use crate::name::Named;
use crate::practice::{self, Allowance};
use crate::reason::{Reason, Unknown};
use crate::request::{Growth, PlantEntry};
use crate::site::CheckedSite;
use guardcell_call::Bounded;
use guardcell_clock::TraitView;
use guardcell_error::{Code, Error};
use guardcell_reference::{Opens, Pathway};
use jiff::ZonedDateTime;

/// A checked plant.
#[derive(Debug)]
pub(crate) struct CheckedPlant<'a> {
    pub(crate) entry: &'a PlantEntry,
    /// Index of its area.
    pub(crate) area: usize,
    pub(crate) taken_for: String,
    pub(crate) pathway: Pathway,
    pub(crate) opens: Opens,
    pub(crate) view: TraitView,
    pub(crate) allowance: Allowance,
    /// What the name and the trait have to say.
    pub(crate) reasons: Vec<Reason>,
    pub(crate) unknowns: Vec<Unknown>,
    pub(crate) last_fed: Option<ZonedDateTime>,
    pub(crate) last_flush: Option<ZonedDateTime>,
}

/// Checks every plant and resolves its name.
pub(crate) fn checked<'a>(
    plants: &'a [PlantEntry],
    site: &CheckedSite,
) -> Result<Vec<CheckedPlant<'a>>, Error> {
    let mut seen = std::collections::BTreeMap::new();
    let mut out = Vec::with_capacity(plants.len());
    for (i, entry) in plants.iter().enumerate() {
        guardcell_call::checkpoint();
        let at = |field: &str| format!("/plants/{i}/{field}");
        if entry.id.trim().is_empty() {
            return Err(
                Error::new(Code::Missing, "the id is blank", "give each plant an id").at(at("id"))
            );
        }
        if let Some(first) = seen.insert(entry.id.as_str(), i) {
            return Err(Error::new(
                Code::DuplicateId,
                format!("duplicate plant id {:?}, also that of /plants/{first}", entry.id),
                "give each plant its own id",
            )
            .at(at("id")));
        }
        out.push(one(entry, i, site)?);
    }
    Ok(out)
}

fn one<'a>(entry: &'a PlantEntry, i: usize, site: &CheckedSite) -> Result<CheckedPlant<'a>, Error> {
    let at = |field: &str| format!("/plants/{i}/{field}");
    entry.check_bounds().map_err(|e| e.within(&format!("/plants/{i}")))?;
    if entry.name.trim().is_empty() {
        return Err(Error::new(
            Code::Missing,
            "the name is blank",
            "write what its label says, or `unknown`",
        )
        .at(at("name")));
    }
    let (area, _) = site.known_area(&entry.area).map_err(|e| e.at(at("area")))?;
    let past = |field: &str, text: &Option<String>| {
        text.as_deref().map(|t| moment::past(&at(field), t, &site.zone)).transpose()
    };
    let named = Named::new(entry);
    Ok(CheckedPlant {
        entry,
        area,
        taken_for: named.taken_for,
        pathway: named.traits.pathway,
        opens: named.traits.opens,
        view: TraitView::from(&named.traits),
        allowance: practice::allowance(entry.standing, entry.size, entry.setting),
        reasons: named.reasons,
        unknowns: named.unknowns,
        last_fed: past("last_fed", &entry.last_fed)?,
        last_flush: past("last_flush", &entry.last_flush)?,
    })
}

impl CheckedPlant<'_> {
    /// When it is next due, where its history tells.
    pub(crate) fn due(&self) -> Option<ZonedDateTime> {
        let interval = self.allowance.interval_days;
        let last = self.last_fed.as_ref()?;
        last.checked_add(jiff::SignedDuration::from_secs_f64(interval * 86_400.0)).ok()
    }

    /// Whether it is known to grow, known to rest, or neither.
    pub(crate) const fn growth(&self) -> Growth {
        self.entry.growth
    }
}

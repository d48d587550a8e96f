//! The soak schedule of a rootless plant. Practice, no source: every number is in
//! `data/practice.csv` and every answer says so.

use crate::plant;
use crate::reason::{Draft, Reason, Unknown};
use crate::reason_code::ReasonCode;
use crate::request::{PlantEntry, Setting, SiteDescription, Standing};
use crate::site;
use guardcell_call::{Bound, Bounded, bounds, setters};
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::practice as p;
use guardcell_reference::{Citation, Leaf, Opens, Pathway};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
pub use soaks::Soak;
use soaks::{Plan, Timing};

mod soaks;

/// A request for the soak schedule of one rootless plant.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct RescueRequest {
    /// The name of the plant.
    pub name: String,
    /// What its leaf is like, for a name with no record or a genus that varies.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leaf: Option<Leaf>,
    /// The site.
    pub site: SiteDescription,
    /// The area it stands in; the first of the site when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
    /// The first day, `YYYY-MM-DD`.
    #[cfg_attr(feature = "schema", schemars(extend("format" = "date")))]
    pub from: String,
    /// How many days to plan, 1 to 200.
    pub days: u16,
    /// How long one soak lasts, in minutes; 30 when not given, and never more.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub soak_min: Option<f64>,
    /// Whether feed and plain water alternate, feed first: for a plant that had much feed, or whose
    /// water is hard. Every soak has feed when not given.
    #[serde(default, skip_serializing_if = "core::ops::Not::not")]
    pub alternate: bool,
}

impl RescueRequest {
    /// A plant in the first area of a site, from this day (`YYYY-MM-DD`) for a number of days, 1 to
    /// 200.
    #[must_use]
    pub fn new(
        name: impl Into<String>,
        site: SiteDescription,
        from: impl Into<String>,
        days: u16,
    ) -> Self {
        Self {
            name: name.into(),
            leaf: None,
            site,
            area: None,
            from: from.into(),
            days,
            soak_min: None,
            alternate: false,
        }
    }
}

setters! { RescueRequest {
    /// The same with a leaf like this.
    with_leaf(leaf?: Leaf);
    /// The same in this area.
    with_area(area?: String);
    /// The same with soaks of this length in minutes.
    with_soak_min(soak_min?: f64);
    /// The same with every second soak of plain water.
    with_alternate(alternate: bool);
} }

bounds! { RescueRequest {
    name: Bound::text(1, 200),
    area: Bound::text(1, 100),
    from: Bound::text(1, 64),
    days: Bound::number(1.0, 200.0, "d"),
    soak_min: Bound::number(1.0, p::SOAK_DURATION.minutes(), "min"),
} }

/// The soaks of a rootless plant.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RescueResponse {
    /// The name as given.
    pub name: String,
    /// What it was taken for.
    pub taken_for: String,
    /// How it takes up CO2.
    pub pathway: Pathway,
    /// When its stomata open.
    pub opens: Opens,
    /// Feed strength of the soak, mg/L of dissolved feed.
    pub feed_strength_mg_l: f64,
    /// Relative humidity to keep it at between soaks, at least, %.
    pub humidity_least_percent: f64,
    /// The soaks, in order of time.
    pub soaks: Vec<Soak>,
    /// What to do, in order.
    pub steps: Vec<String>,
    /// When to stop or change, in order of time.
    pub stop_when: Vec<String>,
    /// Why.
    pub reasons: Vec<Reason>,
    /// What was not known.
    pub unknowns: Vec<Unknown>,
    /// The works that the reasons cite.
    pub sources: Vec<Citation>,
}

/// Plans the soaks of a rootless plant: by day for C3, by night for CAM, twice a day with a dry
/// spell between.
///
/// # Errors
/// [`Error`] where the site, the date or the duration cannot be right; a soak longer than
/// 30 min is refused with the reason.
pub fn rescue(request: &RescueRequest) -> Result<RescueResponse, Error> {
    let soak_min = soak_minutes(request.soak_min)?;
    request.check_bounds()?;
    let site = site::checked(&request.site).map_err(|e| e.within("/site"))?;
    let first: Date = request.from.trim().parse().map_err(|_| {
        Error::new(
            Code::InvalidText,
            format!("{:?} is not a date", request.from),
            "write it like 2026-06-21",
        )
        .at("/from")
    })?;
    let area_id = match &request.area {
        Some(id) => id.clone(),
        None => site.areas.first().map_or_else(String::new, |a| a.id.clone()),
    };
    let (_, area) = site.known_area(&area_id).map_err(|e| e.at("/area"))?;
    let entry = PlantEntry::new(
        "rescue",
        request.name.as_str(),
        area.id.as_str(),
        Setting::Mounted,
        Standing::Rootless,
    )
    .with_leaf(request.leaf);
    let entries = [entry];
    let plants = plant::checked(&entries, &site)?;
    let Some(plant) = plants.first() else {
        return Err(Error::new(Code::Missing, "no plant", "name the plant").at("/name"));
    };
    let when =
        Timing::new(plant.pathway, plant.view.leafless, plant.view.cam_share.map(|r| r.value));
    let alternate = request.alternate;
    let plan = Plan { first, days: request.days, timing: when, soak_min, alternate };
    let soaks = soaks::plan(&plan, area, &site)?;
    let mut reasons = plant.reasons.clone();
    reasons.extend(reasons_of(when, soak_min));
    let sources = crate::sources::cited(&reasons);
    Ok(RescueResponse {
        name: request.name.clone(),
        taken_for: plant.taken_for.clone(),
        pathway: plant.pathway,
        opens: plant.opens,
        feed_strength_mg_l: p::STRENGTH_ROOTLESS.mg_per_l(),
        humidity_least_percent: p::SOAK_HUMIDITY_LEAST.percent(),
        soaks,
        steps: steps(soak_min, alternate),
        stop_when: stop_when(),
        reasons,
        unknowns: plant.unknowns.clone(),
        sources,
    })
}

fn soak_minutes(asked: Option<f64>) -> Result<f64, Error> {
    let most = p::SOAK_DURATION.minutes();
    match asked {
        None => Ok(most),
        Some(m) if m > most => Err(Error::new(
            Code::OutOfRange,
            format!("a soak of {m} min is too long"),
            format!(
                "soak for at most {most} min and twice a day: under water the leaves cannot \
                 breathe, and a longer soak drowns what it should save (common practice, no source)"
            ),
        )
        .at("/soak_min")),
        Some(m) => Ok(m),
    }
}

fn steps(soak_min: f64, alternate: bool) -> Vec<String> {
    let mix = if alternate {
        "Every second soak is plain water, first comes feed. Mix it"
    } else {
        "Mix the soak"
    };
    vec![
        format!(
            "{mix} at {:.0} mg/L feed, fresh each day; give each plant a vessel of its own, so that \
             no rot is carried over.",
            p::STRENGTH_ROOTLESS.mg_per_l()
        ),
        format!("Lay the plant in for {soak_min:.0} min, crown and new growth above the surface where possible."),
        "Take it out, shake the water from the crown and leaf bases, and let it dry fully before the next soak."
            .into(),
        format!(
            "Between soaks keep it at {:.0} % humidity or more, shaded, with air that moves a little.",
            p::SOAK_HUMIDITY_LEAST.percent()
        ),
        "A missed day does no harm: go on with the next soak, do not make it longer.".into(),
    ]
}

fn stop_when() -> Vec<String> {
    vec![
        "Anything turns brown, soft or smells: stop soaking, cut back to firm tissue with a clean blade, keep dry for some days, and ask an experienced grower."
            .into(),
        format!(
            "After {:.0} days: look for green root tips or a swelling eye. With roots of a few millimetres, stop the soaks, mount or pot the plant, and mist it as a weak plant.",
            p::RESCUE_LOOK_AFTER.days()
        ),
        format!(
            "After {:.0} days without root or growth the soaks have not helped; whether to go on is for the grower to say.",
            p::RESCUE_GIVE_UP_AFTER.days()
        ),
    ]
}

fn reasons_of(when: Timing, soak_min: f64) -> Vec<Reason> {
    let mut reasons = vec![
        Reason::new(
            ReasonCode::Rootless,
            format!(
                "A rootless plant is soaked {:.0} times a day for {soak_min:.0} min at {:.0} mg/L and dries in between.",
                p::SOAKS_A_DAY.number(),
                p::STRENGTH_ROOTLESS.mg_per_l()
            ),
        )
        .with("soak_min", soak_min)
        .with("feed_strength_mg_l", p::STRENGTH_ROOTLESS.mg_per_l())
        .with_parameter(p::SOAK_DURATION),
    ];
    reasons.push(Draft::new(ReasonCode::TimingInferred).variant(match when {
        Timing::Day => "soaks-by-day",
        Timing::Night => "soaks-by-night",
    }));
    reasons
}

//! What a water report and a question about it look like on the wire.

use crate::label::Label;
use guardcell_call::{Bound, Bounded, Limited, bounds};
use guardcell_error::Error;
use serde::{Deserialize, Serialize};

/// A water report. Every figure is optional; omitted figures are completed and marked as assumed.
/// Fields without a unit in their name take text with a unit.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields, default)]
pub struct WaterReport {
    /// A name for the water.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Conductivity as read, µS/cm (0–20 000).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ec_us_cm: Option<f64>,
    /// The temperature the conductivity refers to, °C: 25 where the meter compensates (the
    /// default), the water's own where it does not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ec_temp_c: Option<f64>,
    /// Conductivity as text with its unit, such as `"0.62 mS/cm at 20 °C"`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ec: Option<String>,
    /// pH (3–11).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ph: Option<f64>,
    /// Temperature of the water when the pH was read, °C (0–40).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub temp_c: Option<f64>,
    /// Total hardness, mg/L as CaCO3.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hardness_mg_l_caco3: Option<f64>,
    /// Total hardness as text with its unit, such as `"14 °dH"`, `"250 mg/L CaCO3"`, `"2.5 mmol/L"`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hardness: Option<String>,
    /// Alkalinity, mg/L as CaCO3.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub alkalinity_mg_l_caco3: Option<f64>,
    /// Alkalinity as text, such as `"210 mg/L CaCO3"`, `"4.2 meq/L"`, `"256 mg/L HCO3"`, `"11 °dKH"`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub alkalinity: Option<String>,
    /// Bicarbonate, mg/L as HCO3, where the report gives it instead of alkalinity.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hco3_mg_l: Option<f64>,
    /// Calcium, mg/L as Ca.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ca_mg_l: Option<f64>,
    /// Magnesium, mg/L as Mg.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mg_mg_l: Option<f64>,
    /// Sodium, mg/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub na_mg_l: Option<f64>,
    /// Potassium, mg/L as K.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub k_mg_l: Option<f64>,
    /// Ammonium, mg/L as NH4.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nh4_mg_l: Option<f64>,
    /// Ammoniacal nitrogen, mg/L as N.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nh4_n_mg_l: Option<f64>,
    /// Chloride, mg/L.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cl_mg_l: Option<f64>,
    /// Sulfate, mg/L as SO4.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub so4_mg_l: Option<f64>,
    /// Nitrate, mg/L as NO3.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub no3_mg_l: Option<f64>,
    /// Nitrate nitrogen, mg/L as N.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub no3_n_mg_l: Option<f64>,
    /// Phosphorus, mg/L as P.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub p_mg_l: Option<f64>,
    /// Orthophosphate, mg/L as PO4.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub po4_mg_l: Option<f64>,
}

/// Highest concentration of one constituent that is accepted.
const MG_L: Bound = Bound::number(0.0, 20_000.0, "mg/L");

bounds! { WaterReport {
    name: Bound::text(0, 200),
    ec_us_cm: Bound::number(0.0, 20_000.0, "µS/cm"),
    ec_temp_c: Bound::number(0.0, 40.0, "°C"),
    ec: Bound::text(0, 200),
    ph: Bound::number(3.0, 11.0, ""),
    temp_c: Bound::number(0.0, 40.0, "°C"),
    hardness: Bound::text(0, 200),
    alkalinity: Bound::text(0, 200),
    hardness_mg_l_caco3: MG_L,
    alkalinity_mg_l_caco3: MG_L,
    hco3_mg_l: MG_L,
    ca_mg_l: MG_L,
    mg_mg_l: MG_L,
    na_mg_l: MG_L,
    k_mg_l: MG_L,
    nh4_mg_l: MG_L,
    nh4_n_mg_l: MG_L,
    cl_mg_l: MG_L,
    so4_mg_l: MG_L,
    no3_mg_l: MG_L,
    no3_n_mg_l: MG_L,
    p_mg_l: MG_L,
    po4_mg_l: MG_L,
} }

/// A question about a water.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields, default)]
#[non_exhaustive]
pub struct WaterRequest {
    /// The report.
    pub water: WaterReport,
    /// A ceiling under which the feed headroom is wanted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub headroom: Option<HeadroomRequest>,
    /// A blend with softer water that is wanted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub blend: Option<BlendRequest>,
}

guardcell_call::setters! { WaterRequest {
    /// The same with the feed headroom under a ceiling.
    with_headroom(headroom?: HeadroomRequest);
    /// The same with a blend with softer water.
    with_blend(blend?: BlendRequest);
} }

impl WaterRequest {
    /// A question about this water.
    #[must_use]
    pub fn new(water: WaterReport) -> Self {
        Self { water, headroom: None, blend: None }
    }
}

/// How much feed fits under a ceiling of EC.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct HeadroomRequest {
    /// The highest specific conductance (25 °C) of water and feed together, µS/cm.
    pub ceiling_ec25_us_cm: f64,
    /// The product, so that the headroom can be stated as feed strength too.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub label: Option<Label>,
}

bounds! { HeadroomRequest {
    ceiling_ec25_us_cm: Bound::number(1e-3, 1e5, "µS/cm"),
} }

/// A blend of this water with softer water.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct BlendRequest {
    /// The softer water's report; if omitted, it is taken as pure water and the answer says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub with: Option<WaterReport>,
    /// What the blend should reach.
    pub target: BlendTarget,
}

impl BlendRequest {
    /// A blend with pure water that reaches a target.
    #[must_use]
    pub fn new(target: BlendTarget) -> Self {
        Self { with: None, target }
    }
}

impl HeadroomRequest {
    /// The headroom under a specific conductance in µS/cm at 25 °C.
    #[must_use]
    pub fn new(ceiling_ec25_us_cm: f64) -> Self {
        Self { ceiling_ec25_us_cm, label: None }
    }
}

/// What a blend should reach.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum BlendTarget {
    /// Specific conductance (25 °C), µS/cm.
    Ec25UsCm(f64),
    /// Alkalinity, mg/L as CaCO3.
    AlkalinityMgLCaco3(f64),
    /// Hardness, mg/L as CaCO3.
    HardnessMgLCaco3(f64),
    /// Sodium, mg/L.
    NaMgL(f64),
    /// Chloride, mg/L.
    ClMgL(f64),
    /// The carbonate scale the blend leaves when it dries, mg/L as CaCO3.
    ScaleMgLCaco3(f64),
}

impl BlendTarget {
    /// The figure and the name of its field.
    pub(super) const fn wanted(self) -> (f64, &'static str) {
        match self {
            Self::Ec25UsCm(v) => (v, "ec25_us_cm"),
            Self::AlkalinityMgLCaco3(v) => (v, "alkalinity_mg_l_caco3"),
            Self::HardnessMgLCaco3(v) => (v, "hardness_mg_l_caco3"),
            Self::NaMgL(v) => (v, "na_mg_l"),
            Self::ClMgL(v) => (v, "cl_mg_l"),
            Self::ScaleMgLCaco3(v) => (v, "scale_mg_l_caco3"),
        }
    }
}

impl Bounded for BlendTarget {
    const BOUNDS: &'static [(&'static str, Bound)] = &[
        ("ec25_us_cm", Bound::number(0.0, 20_000.0, "µS/cm")),
        ("alkalinity_mg_l_caco3", MG_L),
        ("hardness_mg_l_caco3", MG_L),
        ("na_mg_l", MG_L),
        ("cl_mg_l", MG_L),
        ("scale_mg_l_caco3", MG_L),
    ];

    fn check_bounds(&self) -> Result<(), Error> {
        let (value, name) = self.wanted();
        Self::BOUNDS
            .iter()
            .filter(|(field, _)| *field == name)
            .try_for_each(|(field, bound)| value.check(bound, &format!("/{field}")))
    }
}

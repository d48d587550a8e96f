//! The figures of a report, checked and in mmol/L.

use super::report::WaterReport;
use crate::error::{Place, SolutionError};
use crate::quantity_text;
use guardcell_units::basis::{Basis, Ca, CaCO3, Cl, HCO3, K, Mg, N, NH4, NO3, Na, Of, P, PO4, SO4};
use guardcell_units::quantity::in_mmol_per_l;

/// Figures of a report, `None` where not stated.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Stated {
    pub(super) ca: Option<f64>,
    pub(super) mg: Option<f64>,
    pub(super) hardness: Option<f64>,
    pub(super) na: Option<f64>,
    pub(super) k: Option<f64>,
    pub(super) nh4: Option<f64>,
    pub(super) no3: Option<f64>,
    pub(super) p: Option<f64>,
    pub(super) so4: Option<f64>,
    pub(super) cl: Option<f64>,
    /// meq/L.
    pub(super) alkalinity: Option<f64>,
    pub(super) ph: Option<f64>,
    /// µS/cm at 25 °C.
    pub(super) ec25: Option<f64>,
    pub(super) temp_c: Option<f64>,
}

/// The fields that can be taken out of a report to see whether the rest agrees.
pub(super) const FIELDS: [&str; 12] =
    ["ec", "alkalinity", "hardness", "ca", "mg", "na", "cl", "so4", "no3", "k", "ph", "nh4"];

impl Stated {
    /// The same without one of [`FIELDS`]; `None` where it is not stated.
    pub(super) fn without(mut self, field: &str) -> Option<Self> {
        let slot = match field {
            "ec" => &mut self.ec25,
            "alkalinity" => &mut self.alkalinity,
            "hardness" => &mut self.hardness,
            "ca" => &mut self.ca,
            "mg" => &mut self.mg,
            "na" => &mut self.na,
            "cl" => &mut self.cl,
            "so4" => &mut self.so4,
            "no3" => &mut self.no3,
            "k" => &mut self.k,
            "ph" => &mut self.ph,
            "nh4" => &mut self.nh4,
            _ => return None,
        };
        slot.take().map(|_| self)
    }

    pub(super) fn of(r: &WaterReport) -> Result<Self, SolutionError> {
        let temp_c = range("temp_c", r.temp_c, 0.0, 40.0, "°C")?;
        let ec_temp = range("ec_temp_c", r.ec_temp_c, 0.0, 40.0, "°C")?;
        let ec25 = conductivity(r, ec_temp)?;
        let hardness = one_of(
            ("hardness_mg_l_caco3", ions::<CaCO3>("hardness_mg_l_caco3", r.hardness_mg_l_caco3)?),
            ("hardness", text("hardness", r.hardness.as_deref(), quantity_text::hardness_mmol_l)?),
        )?;
        let alkalinity = one_of(
            (
                "alkalinity_mg_l_caco3",
                ions::<CaCO3>("alkalinity_mg_l_caco3", r.alkalinity_mg_l_caco3)?.map(|m| 2.0 * m),
            ),
            (
                "alkalinity",
                text("alkalinity", r.alkalinity.as_deref(), quantity_text::alkalinity_meq_l)?,
            ),
        )?;
        let alkalinity = one_of(
            ("alkalinity", alkalinity),
            ("hco3_mg_l", ions::<HCO3>("hco3_mg_l", r.hco3_mg_l)?),
        )?;
        Ok(Self {
            ca: ions::<Ca>("ca_mg_l", r.ca_mg_l)?,
            mg: ions::<Mg>("mg_mg_l", r.mg_mg_l)?,
            hardness,
            na: ions::<Na>("na_mg_l", r.na_mg_l)?,
            k: ions::<K>("k_mg_l", r.k_mg_l)?,
            nh4: one_of(
                ("nh4_mg_l", ions::<NH4>("nh4_mg_l", r.nh4_mg_l)?),
                ("nh4_n_mg_l", ions::<N>("nh4_n_mg_l", r.nh4_n_mg_l)?),
            )?,
            no3: one_of(
                ("no3_mg_l", ions::<NO3>("no3_mg_l", r.no3_mg_l)?),
                ("no3_n_mg_l", ions::<N>("no3_n_mg_l", r.no3_n_mg_l)?),
            )?,
            p: one_of(
                ("p_mg_l", ions::<P>("p_mg_l", r.p_mg_l)?),
                ("po4_mg_l", ions::<PO4>("po4_mg_l", r.po4_mg_l)?),
            )?,
            so4: ions::<SO4>("so4_mg_l", r.so4_mg_l)?,
            cl: ions::<Cl>("cl_mg_l", r.cl_mg_l)?,
            alkalinity,
            ph: range("ph", r.ph, 3.0, 11.0, "")?,
            ec25,
            temp_c,
        })
    }
}

fn range(
    name: &str,
    v: Option<f64>,
    low: f64,
    high: f64,
    unit: &str,
) -> Result<Option<f64>, SolutionError> {
    match v {
        Some(x) if !(low..=high).contains(&x) => Err(SolutionError::value(
            Place::pointer(format!("/{name}")),
            format!("{name} is {x}"),
            format!("It should lie between {low} and {high} {unit}").trim_end().to_owned(),
        )),
        other => Ok(other),
    }
}

/// mmol/L of the analyte of a figure in mg/L as `B`.
fn ions<B: Basis>(name: &str, v: Option<f64>) -> Result<Option<f64>, SolutionError> {
    Ok(range(name, v, 0.0, 20_000.0, "mg/L")?
        .map(|mg| in_mmol_per_l(Of::<B>::from_mg_per_l(mg).molar())))
}

fn text(
    name: &str,
    v: Option<&str>,
    read: fn(&str) -> Result<f64, String>,
) -> Result<Option<f64>, SolutionError> {
    v.map(|t| {
        read(t).map_err(|remedy| {
            SolutionError::value(
                Place::pointer(format!("/{name}")),
                format!("{name} is {t:?}"),
                remedy,
            )
        })
    })
    .transpose()
}

/// At most one of two ways to state a figure.
fn one_of(
    (name, a): (&str, Option<f64>),
    (other, b): (&str, Option<f64>),
) -> Result<Option<f64>, SolutionError> {
    match (a, b) {
        (Some(_), Some(_)) => Err(SolutionError::value(
            Place::pointer(format!("/{other}")),
            format!("{name} and {other} state the same figure"),
            "Keep one of them",
        )),
        (a, b) => Ok(a.or(b)),
    }
}

/// Conductivity at 25 °C, µS/cm.
fn conductivity(r: &WaterReport, ec_temp: Option<f64>) -> Result<Option<f64>, SolutionError> {
    let fault = |field: &str, what: String, remedy: String| {
        SolutionError::value(Place::pointer(format!("/{field}")), what, remedy)
    };
    let number = range("ec_us_cm", r.ec_us_cm, 0.0, 20_000.0, "µS/cm")?
        .map(|k| quantity_text::ec_to_25(k, ec_temp.unwrap_or(25.0)))
        .transpose()
        .map_err(|remedy| fault("ec_temp_c", "the EC cannot be brought to 25 °C".into(), remedy))?;
    let words =
        r.ec.as_deref()
            .map(|t| {
                quantity_text::ec25_us_cm(t, ec_temp)
                    .map_err(|remedy| fault("ec", format!("ec is {t:?}"), remedy))
            })
            .transpose()?;
    let words = range("ec", words, 0.0, 20_000.0, "µS/cm")?;
    one_of(("ec_us_cm", number), ("ec", words))
}

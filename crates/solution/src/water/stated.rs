//! The figures of a report, checked and in mmol/L.

use super::report::WaterReport;
use crate::quantity_text;
use guardcell_call::{Bound, Bounded, Limited};
use guardcell_error::{Code, Error};
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
    /// The conductivity as it was read.
    pub(super) ec: Option<Ec>,
    /// The same at 25 °C, µS/cm; where it was read at another temperature, the completion brings
    /// it there by the conductance of the completed ions.
    pub(super) ec25: Option<f64>,
    pub(super) temp_c: Option<f64>,
}

/// A conductivity and its temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Ec {
    pub(super) us_cm: f64,
    pub(super) temp_c: f64,
}

/// The fields that can be taken out of a report to see whether the rest agrees.
pub(super) const FIELDS: [&str; 12] =
    ["ec", "alkalinity", "hardness", "ca", "mg", "na", "cl", "so4", "no3", "k", "ph", "nh4"];

impl Stated {
    /// The same without one of [`FIELDS`]; `None` where it is not stated.
    pub(super) fn without(mut self, field: &str) -> Option<Self> {
        if field == "ec" {
            self.ec = None;
        }
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

    pub(super) fn of(r: &WaterReport) -> Result<Self, Error> {
        r.check_bounds()?;
        let ec = conductivity(r)?;
        let hardness = one_of(
            ("hardness_mg_l_caco3", ions::<CaCO3>(r.hardness_mg_l_caco3)),
            ("hardness", text("hardness", r.hardness.as_deref(), quantity_text::hardness_mmol_l)?),
        )?;
        let alkalinity = one_of(
            ("alkalinity_mg_l_caco3", ions::<CaCO3>(r.alkalinity_mg_l_caco3).map(|m| 2.0 * m)),
            (
                "alkalinity",
                text("alkalinity", r.alkalinity.as_deref(), quantity_text::alkalinity_meq_l)?,
            ),
        )?;
        let alkalinity =
            one_of(("alkalinity", alkalinity), ("hco3_mg_l", ions::<HCO3>(r.hco3_mg_l)))?;
        Ok(Self {
            ca: ions::<Ca>(r.ca_mg_l),
            mg: ions::<Mg>(r.mg_mg_l),
            hardness,
            na: ions::<Na>(r.na_mg_l),
            k: ions::<K>(r.k_mg_l),
            nh4: one_of(
                ("nh4_mg_l", ions::<NH4>(r.nh4_mg_l)),
                ("nh4_n_mg_l", ions::<N>(r.nh4_n_mg_l)),
            )?,
            no3: one_of(
                ("no3_mg_l", ions::<NO3>(r.no3_mg_l)),
                ("no3_n_mg_l", ions::<N>(r.no3_n_mg_l)),
            )?,
            p: one_of(("p_mg_l", ions::<P>(r.p_mg_l)), ("po4_mg_l", ions::<PO4>(r.po4_mg_l)))?,
            so4: ions::<SO4>(r.so4_mg_l),
            cl: ions::<Cl>(r.cl_mg_l),
            alkalinity,
            ph: r.ph,
            ec,
            ec25: ec.map(|e| e.us_cm),
            temp_c: r.temp_c,
        })
    }
}

/// mmol/L of the analyte of a figure in mg/L as `B`.
fn ions<B: Basis>(mg_l: Option<f64>) -> Option<f64> {
    mg_l.map(|mg| in_mmol_per_l(Of::<B>::from_mg_per_l(mg).molar()))
}

fn text(
    name: &str,
    v: Option<&str>,
    read: fn(&str) -> Result<f64, Error>,
) -> Result<Option<f64>, Error> {
    v.map(|t| read(t).map_err(|e| e.at(format!("/{name}")))).transpose()
}

/// At most one of two ways to state a figure.
fn one_of<T>(
    (name, a): (&str, Option<T>),
    (other, b): (&str, Option<T>),
) -> Result<Option<T>, Error> {
    match (a, b) {
        (Some(_), Some(_)) => Err(Error::new(
            Code::Conflict,
            format!("{name} and {other} state the same figure"),
            "keep one of them",
        )
        .at(format!("/{other}"))),
        (a, b) => Ok(a.or(b)),
    }
}

/// The conductivity stated, with its temperature.
fn conductivity(r: &WaterReport) -> Result<Option<Ec>, Error> {
    let number = r.ec_us_cm.map(|us_cm| Ec { us_cm, temp_c: r.ec_temp_c.unwrap_or(25.0) });
    let words =
        r.ec.as_deref()
            .map(|t| {
                let (us_cm, at) = quantity_text::ec_us_cm(t, r.ec_temp_c)?;
                us_cm.check(&Bound::number(0.0, 20_000.0, "µS/cm"), "")?;
                at.check(&Bound::number(0.0, 40.0, "°C"), "")?;
                Ok(Ec { us_cm, temp_c: at.unwrap_or(25.0) })
            })
            .transpose()
            .map_err(|e: Error| e.at("/ec"))?;
    one_of(("ec_us_cm", number), ("ec", words))
}

/// The fault of a report without a figure.
pub(super) fn nothing() -> Error {
    Error::new(
        Code::Missing,
        "the water report states nothing",
        "give at least the EC, or hardness and alkalinity",
    )
}

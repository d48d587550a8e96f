//! One analysed composition: the function behind the verb `solution`.

use crate::notice::{Bounds, Notice, NoticeCode};
use crate::speciation::{
    Acidity, CarbonDioxide, Condition, ConductivityRange, Ph, Speciated, Warning, speciate,
};
pub use crate::totals::{IonsMgL, IonsMmolL};
use guardcell_call::{Bound, Bounded, Limited, bounds};
use guardcell_error::{Code, Error};
use guardcell_reference::aqueous::Phase;
use guardcell_reference::{Composition, Solute, parameters::solution as data};
use guardcell_units::quantity::{Pressure, ThermodynamicTemperature, in_mmol_per_l, in_us_per_cm};
use guardcell_units::uom::si::{
    molality::mole_per_kilogram, pressure::atmosphere, ratio::percent,
    thermodynamic_temperature::degree_celsius,
};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A composition and the conditions under which it is analysed. Give the totals in
/// `ions_mmol_l` or in `ions_mg_l`, not in both.
///
/// ```
/// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
/// use guardcell::solution::analysis::{IonsMmolL, SolutionRequest};
/// let ions = IonsMmolL { k: 10.0, cl: 10.0, ..IonsMmolL::default() };
/// let request = SolutionRequest::from_mmol_l(ions).with_temp_c(20.0).with_ph(6.5);
/// assert_eq!(request.ph, Some(6.5));
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub struct SolutionRequest {
    /// Totals in mmol/L.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ions_mmol_l: Option<IonsMmolL>,
    /// Totals in mg/L.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ions_mg_l: Option<IonsMgL>,
    /// The temperature, 0 to 40 °C; 25 if omitted.
    #[serde(default = "room")]
    pub temp_c: f64,
    /// The measured pH, 0 to 14; if omitted it follows from the charge balance.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ph: Option<f64>,
    /// Whether carbon dioxide is exchanged with the air; closed if omitted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub co2: Option<Co2>,
}

bounds! { SolutionRequest {
    temp_c: Bound::number(data::TEMPERATURE_LOW.celsius(), data::TEMPERATURE_HIGH.celsius(), "°C"),
    ph: Bound::number(0.0, 14.0, ""),
} }

const fn room() -> f64 {
    25.0
}

guardcell_call::setters! { SolutionRequest {
    /// The same at a temperature, 0 to 40 °C.
    with_temp_c(temp_c: f64);
    /// The same at a measured pH, 0 to 14.
    with_ph(ph?: f64);
    /// The same with or without exchange of carbon dioxide.
    with_co2(co2?: Co2);
} }

impl SolutionRequest {
    /// Totals in mmol/L at 25 °C, closed to the air, the pH from the charge balance.
    #[must_use]
    pub fn from_mmol_l(ions: IonsMmolL) -> Self {
        Self { ions_mmol_l: Some(ions), ions_mg_l: None, temp_c: room(), ph: None, co2: None }
    }

    /// Totals in mg/L at 25 °C, closed to the air, the pH from the charge balance.
    #[must_use]
    pub fn from_mg_l(ions: IonsMgL) -> Self {
        Self { ions_mmol_l: None, ions_mg_l: Some(ions), temp_c: room(), ph: None, co2: None }
    }
}

/// Whether carbon dioxide is exchanged with the air.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(rename_all = "snake_case")]
pub enum Co2 {
    /// No exchange: `dic` is what the solution holds.
    Closed,
    /// In equilibrium with air of this partial pressure of CO2, in atm (about 4.2e-4 outdoors):
    /// `dic` follows and the one given is not used.
    OpenPco2Atm(f64),
}

impl Bounded for Co2 {
    const BOUNDS: &'static [(&'static str, Bound)] =
        &[("open_pco2_atm", Bound::number(1e-9, 1.0, "atm"))];

    fn check_bounds(&self) -> Result<(), Error> {
        match self {
            Self::Closed => Ok(()),
            Self::OpenPco2Atm(atm) => atm.check(&Bound::number(1e-9, 1.0, "atm"), "/open_pco2_atm"),
        }
    }
}

/// What a solution holds and how it behaves.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub struct SolutionResponse {
    /// Specific conductance, the conductivity at 25 °C, in µS/cm.
    pub ec25_us_cm: f64,
    /// The interval in which it is held to lie, in µS/cm.
    pub ec25_range_us_cm: Bounds,
    /// Conductivity at the temperature, in µS/cm.
    pub ec_us_cm: f64,
    /// The temperature, in °C.
    pub temp_c: f64,
    /// The pH at the temperature.
    pub ph: f64,
    /// Ionic strength, in mol per kg of water.
    pub ionic_strength_mol_kg: f64,
    /// Osmolality, in mosmol per kg of water.
    pub osmolality_mosm_kg: f64,
    /// Total inorganic carbon, in mmol/L; where open to air, what the solution took up.
    pub dic_mmol_l: f64,
    /// Concentration of each species present, in mmol/L, by formula with charge.
    pub species_mmol_l: BTreeMap<String, f64>,
    /// log10(IAP/K) of each solid whose parts are present; above 0 it can form.
    pub saturation_index: BTreeMap<String, f64>,
    /// (cations − anions)/(cations + anions) of the species, in percent: 0 where the pH
    /// follows from the balance.
    pub charge_imbalance_percent: f64,
    /// What the answer takes for granted.
    pub assumptions: Vec<Notice>,
    /// What is doubtful about it.
    pub warnings: Vec<Notice>,
}

/// Analyses one composition.
///
/// # Errors
/// [`Code::OutOfRange`] with a JSON Pointer for a field out of range; [`Code::Conflict`] or
/// [`Code::Missing`] where totals are given twice or not at all; [`Code::OutsideModel`] where no
/// pH balances the charges or too much is dissolved.
///
/// ```
/// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
/// use guardcell::solution::analysis::{IonsMmolL, SolutionRequest, analyse};
/// let ions = IonsMmolL { k: 10.0, cl: 10.0, ..IonsMmolL::default() };
/// let report = analyse(&SolutionRequest::from_mmol_l(ions).with_temp_c(20.0))?;
/// // OIML R 56 and the CRC Handbook: 1413 µS/cm at 25 °C
/// assert!((report.ec25_us_cm / 1413.0 - 1.0).abs() < 0.005);
/// assert!(report.ec_us_cm < report.ec25_us_cm);
/// # Ok::<(), guardcell::solution::Error>(())
/// ```
pub fn analyse(request: &SolutionRequest) -> Result<SolutionResponse, Error> {
    request.check_bounds()?;
    request.co2.map_or(Ok(()), |co2| co2.check_bounds()).map_err(|e| e.within("/co2"))?;
    let composition = composition(request)?;
    let condition = condition(request)?;
    let temperature = ThermodynamicTemperature::new::<degree_celsius>(request.temp_c);
    let table = if request.ions_mmol_l.is_some() { "/ions_mmol_l" } else { "/ions_mg_l" };
    let s = speciate(&composition, temperature, condition).map_err(|e| e.within(table))?;
    let at_25 = s.conductivity_range_at(ThermodynamicTemperature::new::<degree_celsius>(25.0))?;
    let saturation = Phase::ALL
        .iter()
        .filter(|p| **p != Phase::CarbonDioxideGas)
        .filter_map(|p| Some((*p, s.saturation_index(*p)?.log10())))
        .collect::<Vec<_>>();
    Ok(SolutionResponse {
        ec25_us_cm: in_us_per_cm(at_25.value),
        ec25_range_us_cm: bounds(at_25),
        ec_us_cm: in_us_per_cm(s.conductivity()),
        temp_c: request.temp_c,
        ph: s.ph().value(),
        ionic_strength_mol_kg: s.ionic_strength().get::<mole_per_kilogram>(),
        osmolality_mosm_kg: s.osmolality().get::<mole_per_kilogram>() * 1000.0,
        dic_mmol_l: in_mmol_per_l(s.composition()[Solute::Dic]),
        species_mmol_l: s
            .species()
            .map(|x| (x.name.to_owned(), in_mmol_per_l(x.concentration)))
            .collect(),
        saturation_index: saturation
            .iter()
            .map(|(p, index)| (p.data().key.to_owned(), *index))
            .collect(),
        charge_imbalance_percent: s.charge_imbalance().get::<percent>(),
        assumptions: assumptions(request),
        warnings: warnings(&s, &saturation),
    })
}

fn bounds(range: ConductivityRange) -> Bounds {
    Bounds {
        low: in_us_per_cm(range.low),
        value: Some(in_us_per_cm(range.value)),
        high: in_us_per_cm(range.high),
    }
}

fn composition(request: &SolutionRequest) -> Result<Composition, Error> {
    match (request.ions_mmol_l, request.ions_mg_l) {
        (Some(ions), None) => {
            ions.check_bounds().map_err(|e| e.within("/ions_mmol_l"))?;
            Ok(ions.composition())
        }
        (None, Some(ions)) => {
            ions.check_bounds().map_err(|e| e.within("/ions_mg_l"))?;
            Ok(ions.composition())
        }
        (Some(_), Some(_)) => Err(Error::new(
            Code::Conflict,
            "totals are given in mmol/L and in mg/L",
            "give ions_mmol_l or ions_mg_l, not both",
        )
        .at("/ions_mg_l")),
        (None, None) => Err(Error::new(
            Code::Missing,
            "no totals are given",
            "give ions_mmol_l, such as {\"k\": 10, \"no3\": 10}, or ions_mg_l",
        )
        .at("/ions_mmol_l")),
    }
}

fn condition(request: &SolutionRequest) -> Result<Condition, Error> {
    Ok(Condition {
        acidity: match request.ph {
            None => Acidity::ChargeBalance,
            Some(ph) => Acidity::Measured(Ph::new(ph).map_err(|e| e.at("/ph"))?),
        },
        carbon_dioxide: match request.co2 {
            None | Some(Co2::Closed) => CarbonDioxide::Closed,
            Some(Co2::OpenPco2Atm(atm)) => CarbonDioxide::Open(Pressure::new::<atmosphere>(atm)),
        },
    })
}

fn assumptions(request: &SolutionRequest) -> Vec<Notice> {
    let mut out = Vec::new();
    if request.ph.is_none() {
        out.push(Notice::new(
            NoticeCode::PhFromBalance,
            "The pH follows from the charge balance: the totals are taken to be complete.",
        ));
    }
    match request.co2 {
        None => out.push(Notice::new(NoticeCode::ClosedToAir, "No CO2 is exchanged with the air.")),
        Some(Co2::Closed) => {}
        Some(Co2::OpenPco2Atm(atm)) => out.push(Notice::new(
            NoticeCode::OpenToAir,
            format!("In equilibrium with air of {atm:e} atm CO2; the inorganic carbon given is not used."),
        )),
    }
    out.push(
        Notice::new(
            NoticeCode::MixtureRule,
            "Ions of one sign and different charge are added half way between Kohlrausch's law \
             and the rule of the reference; ec25_range_us_cm holds both.",
        )
        .with_sources(data::MIXTURE_SHARE.sources),
    );
    out
}

fn warnings(s: &Speciated, saturation: &[(Phase, f64)]) -> Vec<Notice> {
    let mut out: Vec<Notice> = s
        .warnings()
        .into_iter()
        .map(|w| {
            let code = match w {
                Warning::IonicStrength { .. } => NoticeCode::BeyondValidity,
                Warning::PhFromBalance { .. } => NoticeCode::PhImplausible,
                Warning::Imbalance { .. } => NoticeCode::ChargeImbalance,
                Warning::Urea { .. } => NoticeCode::UreaInvisible,
            };
            Notice::new(code, w.to_string())
        })
        .collect();
    // Hydroxyapatite, over which nearly every feed is supersaturated, grows from brushite: it
    // matters where that can form.
    let brushite = saturation.iter().any(|(p, index)| *p == Phase::Brushite && *index > 0.0);
    let matters = |phase: Phase| phase != Phase::Hydroxyapatite || brushite;
    for (phase, index) in saturation.iter().filter(|(p, index)| *index > 0.0 && matters(*p)) {
        let row = phase.data();
        out.push(
            Notice::new(
                NoticeCode::CanPrecipitate,
                format!(
                    "{} ({}) can form, saturation index {index:.2}: the answer is for the \
                     solution before it does.",
                    row.name, row.formula
                ),
            )
            .with_sources(row.sources),
        );
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ask(json: &str) -> Result<SolutionResponse, Error> {
        analyse(&serde_json::from_str(json).unwrap())
    }

    #[test]
    fn the_wire_form_is_understood() {
        let r = ask(r#"{"ions_mmol_l": {"ca": 2, "dic": 4}, "temp_c": 18, "ph": 7.5}"#).unwrap();
        assert_eq!(r.ph, 7.5);
        assert!(r.saturation_index.contains_key("calcite"));
        assert!(!r.saturation_index.contains_key("gypsum"));
        let r = ask(r#"{"ions_mmol_l": {"k": 1, "no3": 1}, "co2": {"open_pco2_atm": 4.2e-4}}"#);
        assert!(r.unwrap().dic_mmol_l > 0.01);
        assert!(serde_json::from_str::<SolutionRequest>(r#"{"ions_mmol_l": {"fe": 1}}"#).is_err());
    }

    #[test]
    fn a_total_of_next_to_nothing_is_nothing() {
        let pure = ask(r#"{"ions_mmol_l": {}}"#).unwrap();
        for ion in ["ca", "mg", "nh4", "p", "so4", "dic", "cl"] {
            for total in ["1e-25", "1e-31", "1e-100", "1e-307", "2.3e-313"] {
                let r = ask(&format!(r#"{{"ions_mmol_l": {{"{ion}": {total}}}}}"#)).unwrap();
                assert!((r.ph - pure.ph).abs() < 1e-6, "{ion} {total}: {}", r.ph);
            }
        }
    }

    #[test]
    fn milligrams_and_millimoles_agree() {
        let a = ask(r#"{"ions_mmol_l": {"k": 2, "no3": 1, "p": 1}}"#).unwrap();
        let b = ask(r#"{"ions_mg_l": {"k": 78.196, "no3": 62.004, "p": 30.974}}"#).unwrap();
        assert!((a.ec25_us_cm / b.ec25_us_cm - 1.0).abs() < 1e-4, "{a:?} {b:?}");
    }

    #[test]
    fn errors_point_at_the_field() {
        for (json, pointer) in [
            (r#"{"ions_mmol_l": {"k": -1}}"#, "/ions_mmol_l/k"),
            (r#"{"ions_mmol_l": {"k": 1}, "temp_c": 60}"#, "/temp_c"),
            (r#"{"ions_mmol_l": {"k": 1}, "ph": 15}"#, "/ph"),
            (r#"{"ions_mmol_l": {}, "co2": {"open_pco2_atm": -1}}"#, "/co2/open_pco2_atm"),
            (r#"{"ions_mmol_l": {}, "ions_mg_l": {}}"#, "/ions_mg_l"),
            (r#"{"ions_mmol_l": {"k": 5900}}"#, "/ions_mmol_l"),
            ("{}", "/ions_mmol_l"),
        ] {
            assert_eq!(ask(json).unwrap_err().pointer(), pointer, "{json}");
        }
    }

    #[test]
    fn a_missing_anion_is_named() {
        let r = ask(r#"{"ions_mmol_l": {"k": 10, "no3": 6}}"#).unwrap();
        let w = r.warnings.iter().find(|w| w.code == NoticeCode::PhImplausible).unwrap();
        assert!(w.message.contains("an anion is missing"), "{w:?}");
        let r = ask(r#"{"ions_mmol_l": {"k": 10, "no3": 6}, "ph": 6}"#).unwrap();
        assert!((r.charge_imbalance_percent - 25.0).abs() < 0.1);
        assert!(r.warnings.iter().any(|w| w.code == NoticeCode::ChargeImbalance));
    }
}

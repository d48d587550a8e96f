//! One analysed composition: the function behind the verb `solution`.

use crate::error::{Place, SolutionError};
use crate::notice::{Bounds, Notice};
use crate::speciation::{
    Acidity, CarbonDioxide, Condition, ConductivityRange, Ph, Speciated, Warning, speciate,
};
use guardcell_reference::aqueous::Phase;
use guardcell_reference::{Composition, Solute, parameters::solution as data};
use guardcell_units::atomic_weight::Element;
use guardcell_units::quantity::{
    Pressure, ThermodynamicTemperature, in_mmol_per_l, in_us_per_cm, mmol_per_l,
};
use guardcell_units::uom::si::{
    molality::mole_per_kilogram, pressure::atmosphere, ratio::percent,
    thermodynamic_temperature::degree_celsius,
};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A composition and the conditions under which it is analysed. Give the totals in
/// `ions_mmol_l` or in `ions_mg_l`, not in both.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub struct SolutionRequest {
    /// Totals in mmol/L.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ions_mmol_l: Option<IonsMmolL>,
    /// Totals in mg/L.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ions_mg_l: Option<IonsMgL>,
    /// The temperature, 0 to 40 °C; 25 where left out.
    #[serde(default = "room")]
    pub temp_c: f64,
    /// The measured pH, 0 to 14; where left out it follows from the charge balance.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ph: Option<f64>,
    /// Whether carbon dioxide is exchanged with the air; closed where left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub co2: Option<Co2>,
}

const fn room() -> f64 {
    25.0
}

/// Whether carbon dioxide is exchanged with the air.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Co2 {
    /// No exchange: `dic` is what the solution holds.
    Closed,
    /// At rest with air of this partial pressure of CO2, in atm (about 4.2e-4 outdoors): `dic`
    /// follows and the one given is not used.
    OpenPco2Atm(f64),
}

/// Totals in mmol/L; what is left out is nought.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
pub struct IonsMmolL {
    /// Calcium.
    pub ca: f64,
    /// Magnesium.
    pub mg: f64,
    /// Potassium.
    pub k: f64,
    /// Sodium.
    pub na: f64,
    /// Ammoniacal nitrogen, NH4 and NH3.
    pub nh4: f64,
    /// Nitrate.
    pub no3: f64,
    /// Total phosphate, H3PO4 to PO4.
    pub p: f64,
    /// Sulfate.
    pub so4: f64,
    /// Chloride.
    pub cl: f64,
    /// Total inorganic carbon, CO2, HCO3 and CO3.
    pub dic: f64,
    /// Urea.
    pub urea: f64,
}

/// Totals in mg/L, each weighed as its field says; what is left out is nought.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
pub struct IonsMgL {
    /// Calcium, as Ca.
    pub ca: f64,
    /// Magnesium, as Mg.
    pub mg: f64,
    /// Potassium, as K.
    pub k: f64,
    /// Sodium, as Na.
    pub na: f64,
    /// Ammoniacal nitrogen, as NH4.
    pub nh4: f64,
    /// Nitrate, as NO3.
    pub no3: f64,
    /// Total phosphate, as P.
    pub p: f64,
    /// Sulfate, as SO4.
    pub so4: f64,
    /// Chloride, as Cl.
    pub cl: f64,
    /// Total inorganic carbon, as C.
    pub dic: f64,
    /// Urea, as CO(NH2)2.
    pub urea: f64,
}

/// What a solution holds and how it behaves.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub struct SolutionReport {
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
    /// log10(IAP/K) of each solid whose parts are present; above nought it can form.
    pub saturation_index: BTreeMap<String, f64>,
    /// (cations − anions)/(cations + anions) of the species, in per cent: nought where the pH
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
/// [`SolutionError::Value`] with a JSON Pointer where a field is out of range or totals are given
/// twice; [`SolutionError::Unbalanced`] where no pH balances the charges.
///
/// ```
/// use guardcell_solution::analysis::{IonsMmolL, SolutionRequest, analyse};
/// let request: SolutionRequest = SolutionRequest {
///     ions_mmol_l: Some(IonsMmolL { k: 10.0, cl: 10.0, ..Default::default() }),
///     ions_mg_l: None,
///     temp_c: 20.0,
///     ph: None,
///     co2: None,
/// };
/// let report = analyse(&request)?;
/// assert!((report.ec25_us_cm / 1413.0 - 1.0).abs() < 0.005);
/// assert!(report.ec_us_cm < report.ec25_us_cm);
/// # Ok::<(), guardcell_solution::SolutionError>(())
/// ```
pub fn analyse(request: &SolutionRequest) -> Result<SolutionReport, SolutionError> {
    let composition = composition(request)?;
    let condition = condition(request)?;
    let temperature = ThermodynamicTemperature::new::<degree_celsius>(request.temp_c);
    let s = speciate(&composition, temperature, condition).map_err(|e| place(e, request))?;
    let at_25 = s.conductivity_range_at(ThermodynamicTemperature::new::<degree_celsius>(25.0))?;
    let saturation = Phase::ALL
        .iter()
        .filter(|p| **p != Phase::CarbonDioxideGas)
        .filter_map(|p| Some((*p, s.saturation_index(*p)?.log10())))
        .collect::<Vec<_>>();
    Ok(SolutionReport {
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

fn value(pointer: impl Into<String>, what: String, remedy: &str) -> SolutionError {
    SolutionError::Value { place: Place::pointer(pointer), what, remedy: remedy.to_owned() }
}

fn composition(request: &SolutionRequest) -> Result<Composition, SolutionError> {
    let (table, totals) = match (request.ions_mmol_l, request.ions_mg_l) {
        (Some(i), None) => ("ions_mmol_l", i.in_order()),
        (None, Some(i)) => ("ions_mg_l", i.in_order_mmol_l()),
        (Some(_), Some(_)) => {
            return Err(value(
                "/ions_mg_l",
                "totals are given in mmol/L and in mg/L".into(),
                "Give ions_mmol_l or ions_mg_l, not both",
            ));
        }
        (None, None) => {
            return Err(SolutionError::Missing {
                place: Place::pointer("/ions_mmol_l"),
                what: "no totals are given".into(),
                remedy: "Give ions_mmol_l, such as {\"k\": 10, \"no3\": 10}, or ions_mg_l".into(),
            });
        }
    };
    let high = data::TOTAL_HIGH.value;
    let mut out = Composition::PURE_WATER;
    for (solute, mmol_l) in Solute::ALL.into_iter().zip(totals) {
        if !(0.0..=high).contains(&mmol_l) {
            return Err(value(
                format!("/{table}/{}", solute.name()),
                format!("{mmol_l} mmol/L"),
                &format!("A total is a number from 0 to {high} mmol/L"),
            ));
        }
        out[solute] = mmol_per_l(mmol_l);
    }
    Ok(out)
}

fn condition(request: &SolutionRequest) -> Result<Condition, SolutionError> {
    Ok(Condition {
        acidity: match request.ph {
            None => Acidity::ChargeBalance,
            Some(ph) => Acidity::Measured(Ph::new(ph).map_err(|e| place(e, request))?),
        },
        carbon_dioxide: match request.co2 {
            None | Some(Co2::Closed) => CarbonDioxide::Closed,
            Some(Co2::OpenPco2Atm(atm)) => CarbonDioxide::Open(Pressure::new::<atmosphere>(atm)),
        },
    })
}

/// Puts the JSON Pointer of the field at fault before a message.
fn place(error: SolutionError, request: &SolutionRequest) -> SolutionError {
    let pointer = match error {
        SolutionError::Temperature { .. } => "/temp_c",
        SolutionError::Ph { .. } => "/ph",
        SolutionError::CarbonDioxide { .. } => "/co2/open_pco2_atm",
        SolutionError::TooConcentrated | SolutionError::Unbalanced { .. } => {
            if request.ions_mmol_l.is_some() { "/ions_mmol_l" } else { "/ions_mg_l" }
        }
        other => return other,
    };
    let text = error.to_string();
    let (what, remedy) = text.split_once("; ").unwrap_or((&text, ""));
    value(pointer, what.to_owned(), remedy)
}

fn assumptions(request: &SolutionRequest) -> Vec<Notice> {
    let mut out = Vec::new();
    if request.ph.is_none() {
        out.push(Notice::new(
            "ph-from-balance",
            "the pH follows from the charge balance: the totals are taken to be complete",
        ));
    }
    match request.co2 {
        None => out.push(Notice::new("closed-to-air", "no CO2 is exchanged with the air")),
        Some(Co2::Closed) => {}
        Some(Co2::OpenPco2Atm(atm)) => out.push(Notice::new(
            "open-to-air",
            format!("at rest with air of {atm:e} atm CO2; the inorganic carbon given is not used"),
        )),
    }
    out.push(
        Notice::new(
            "mixture-rule",
            "ions of one sign and different charge are added half way between Kohlrausch's law \
             and the reference's rule; ec25_range_us_cm holds both",
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
                Warning::IonicStrength { .. } => "beyond-validity",
                Warning::PhFromBalance { .. } => "ph-implausible",
                Warning::Imbalance { .. } => "charge-imbalance",
                Warning::Urea { .. } => "urea-invisible",
            };
            Notice::new(code, w.to_string())
        })
        .collect();
    for (phase, index) in saturation.iter().filter(|(_, index)| *index > 0.0) {
        let row = phase.data();
        out.push(
            Notice::new(
                "can-precipitate",
                format!(
                    "{} ({}) can form, saturation index {index:.2}: the answer is for the \
                     solution before it does",
                    row.name, row.formula
                ),
            )
            .with_sources(row.sources),
        );
    }
    out
}

impl IonsMmolL {
    /// In the order of [`Solute::ALL`].
    const fn in_order(self) -> [f64; 11] {
        let Self { ca, mg, k, na, nh4, no3, p, so4, cl, dic, urea } = self;
        [ca, mg, k, na, nh4, no3, p, so4, cl, dic, urea]
    }
}

impl IonsMgL {
    /// In mmol/L, in the order of [`Solute::ALL`].
    fn in_order_mmol_l(self) -> [f64; 11] {
        let Self { ca, mg, k, na, nh4, no3, p, so4, cl, dic, urea } = self;
        let mg_l = [ca, mg, k, na, nh4, no3, p, so4, cl, dic, urea];
        core::array::from_fn(|i| {
            let solute = Solute::ALL[i];
            let g_per_mol = match solute {
                Solute::P => Element::P.g_per_mol(),
                Solute::Dic => Element::C.g_per_mol(),
                other => other.formula().g_per_mol(),
            };
            mg_l[i] / g_per_mol
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ask(json: &str) -> Result<SolutionReport, SolutionError> {
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
    fn faults_are_placed() {
        for (json, pointer) in [
            (r#"{"ions_mmol_l": {"k": -1}}"#, "/ions_mmol_l/k: "),
            (r#"{"ions_mmol_l": {"k": 1}, "temp_c": 60}"#, "/temp_c: "),
            (r#"{"ions_mmol_l": {"k": 1}, "ph": 15}"#, "/ph: "),
            (r#"{"ions_mmol_l": {}, "co2": {"open_pco2_atm": -1}}"#, "/co2/open_pco2_atm: "),
            (r#"{"ions_mmol_l": {}, "ions_mg_l": {}}"#, "/ions_mg_l: "),
            (r#"{"ions_mmol_l": {"k": 5900}}"#, "/ions_mmol_l: "),
            ("{}", "/ions_mmol_l: "),
        ] {
            let message = ask(json).unwrap_err().to_string();
            assert!(message.starts_with(pointer), "{json}: {message}");
        }
    }

    #[test]
    fn a_missing_anion_is_named() {
        let r = ask(r#"{"ions_mmol_l": {"k": 10, "no3": 6}}"#).unwrap();
        let w = r.warnings.iter().find(|w| w.code == "ph-implausible").unwrap();
        assert!(w.says.contains("an anion is missing"), "{w:?}");
        let r = ask(r#"{"ions_mmol_l": {"k": 10, "no3": 6}, "ph": 6}"#).unwrap();
        assert!((r.charge_imbalance_percent - 25.0).abs() < 0.1);
        assert!(r.warnings.iter().any(|w| w.code == "charge-imbalance"));
    }
}

//! Conductivity of a composition: the one door through which this crate asks for it.

use crate::error::SolutionError;
use guardcell_reference::{Composition, Solute};
use guardcell_units::quantity::{
    ElectricalConductivity, ThermodynamicTemperature, in_mmol_per_l, us_per_cm,
};
use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;

/// 25 °C, to which specific conductance refers.
pub(crate) fn reference_temperature() -> ThermodynamicTemperature {
    ThermodynamicTemperature::new::<degree_celsius>(25.0)
}

/// Equivalent limiting conductances at 25 °C in S·cm²/mol with charges (CRC Handbook, ionic
/// conductivity and diffusion at infinite dilution), phosphate as H2PO4⁻ and carbon as HCO3⁻.
const IONS: [(Solute, f64, f64); 10] = [
    (Solute::Ca, 2.0, 119.0),
    (Solute::Mg, 2.0, 106.0),
    (Solute::K, 1.0, 73.5),
    (Solute::Na, 1.0, 50.1),
    (Solute::Nh4, 1.0, 73.5),
    (Solute::No3, -1.0, 71.4),
    (Solute::P, -1.0, 33.0),
    (Solute::So4, -2.0, 160.0 / 2.0),
    (Solute::Cl, -1.0, 76.3),
    (Solute::Dic, -1.0, 44.5),
];

/// The conductivity at a temperature by the Debye–Hückel–Onsager law for a mixture.
pub(crate) fn conductance_of(
    composition: &Composition,
    temperature: ThermodynamicTemperature,
) -> Result<ElectricalConductivity, SolutionError> {
    let ions = IONS.map(|(s, z, l)| (in_mmol_per_l(composition[s]), z, l));
    let strength: f64 = ions.iter().map(|(c, z, _)| c * z * z).sum::<f64>() / 2000.0;
    let side = |sign: f64| {
        let (mut eq, mut z_sum, mut l_sum) = (0.0, 0.0, 0.0);
        for (c, z, l) in ions.iter().filter(|(_, z, _)| z * sign > 0.0) {
            let e = c * z.abs();
            eq += e;
            z_sum += e * z.abs();
            l_sum += e * l;
        }
        if eq > 0.0 { (z_sum / eq, l_sum / eq) } else { (1.0, 60.0) }
    };
    let (cations, anions) = (side(1.0), side(-1.0));
    let root = strength.sqrt();
    let kappa: f64 = ions
        .iter()
        .map(|(c, z, l0)| {
            let (zc, lc) = if *z > 0.0 { anions } else { cations };
            let za = z.abs();
            let q = za * zc / (za + zc) * (l0 + lc) / (zc * l0 + za * lc);
            let slope = 30.16 * za + 0.7817 * za * zc * q / (1.0 + q.sqrt()) * l0;
            za * c * (l0 - slope * root / (1.0 + 1.31 * root)).max(0.0)
        })
        .sum();
    let dt = temperature.get::<degree_celsius>() - 25.0;
    Ok(us_per_cm(kappa * (1.0 + 0.02 * dt)))
}

/// The specific conductance, at 25 °C.
pub(crate) fn specific_conductance_of(
    composition: &Composition,
) -> Result<ElectricalConductivity, SolutionError> {
    conductance_of(composition, reference_temperature())
}

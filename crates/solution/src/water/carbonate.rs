//! Alkalinity, inorganic carbon and pH of a water: the closed carbonate system.
//!
//! Constants of Plummer & Busenberg (1982) from `data/complexes.csv`; activities by Davies (1962).
//! Borate, silicate and phosphate alkalinity are not counted. Valid 0–40 °C and below an ionic
//! strength of 0.1 mol/L.

use guardcell_reference::aqueous::complexes;
use guardcell_reference::parameters::solution as parameter;

/// Mixed constants (activity of H⁺, concentrations of the rest) at one temperature and ionic
/// strength, for mol/L.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Carbonate {
    k1: f64,
    k2: f64,
    kw: f64,
    gamma1: f64,
    /// log10 of the Henry constant, mol/L/atm.
    log_kh: f64,
}

impl Carbonate {
    /// The constants at a temperature in °C and an ionic strength in mol/L.
    pub(crate) fn at(temp_c: f64, ionic_mol_l: f64) -> Self {
        let kelvin = temp_c + 273.15;
        let log_k = |name: &str, otherwise: f64| {
            complexes()
                .iter()
                .find(|c| c.name == name)
                .map_or(otherwise, |c| c.log_k.at_kelvin(kelvin))
        };
        let hco3 = log_k("HCO3-", parameter::CARBONATE_PK2.number());
        let co2 =
            log_k("CO2", parameter::CARBONATE_PK1.number() + parameter::CARBONATE_PK2.number());
        let oh = log_k("OH-", -parameter::WATER_PK.number());
        let i = ionic_mol_l.clamp(0.0, 0.5);
        let root = i.sqrt();
        let a = parameter::DEBYE_HUCKEL_A.coefficient();
        let log_gamma = -a * (root / (1.0 + root) - 0.3 * i);
        let gamma = |z2: f64| 10_f64.powf(log_gamma * z2);
        Self {
            k1: 10_f64.powf(hco3 - co2) / gamma(1.0),
            k2: 10_f64.powf(-hco3) * gamma(1.0) / gamma(4.0),
            kw: 10_f64.powf(oh) / gamma(1.0),
            gamma1: gamma(1.0),
            log_kh: parameter::CARBON_DIOXIDE_LOG_KH.number(),
        }
    }

    /// Shares of HCO3⁻ and CO3²⁻ in the inorganic carbon.
    fn shares(&self, ph: f64) -> (f64, f64) {
        let h = 10_f64.powf(-ph);
        let d = h * h + self.k1 * h + self.k1 * self.k2;
        (self.k1 * h / d, self.k1 * self.k2 / d)
    }

    /// OH⁻ less H⁺, mol/L.
    fn water_part(&self, ph: f64) -> f64 {
        let h = 10_f64.powf(-ph);
        self.kw / h - h / self.gamma1
    }

    /// Inorganic carbon, mmol/L, of an alkalinity in meq/L at a pH; not below 0.
    pub(crate) fn dic_mmol_l(&self, alkalinity_meq_l: f64, ph: f64) -> f64 {
        let (a1, a2) = self.shares(ph);
        ((alkalinity_meq_l / 1000.0 - self.water_part(ph)) / (a1 + 2.0 * a2)).max(0.0) * 1000.0
    }

    /// Partial pressure of CO2 in equilibrium with an alkalinity at a pH, atm.
    pub(crate) fn pco2_atm(&self, alkalinity_meq_l: f64, ph: f64) -> f64 {
        let dic = self.dic_mmol_l(alkalinity_meq_l, ph) / 1000.0;
        let (a1, a2) = self.shares(ph);
        dic * (1.0 - a1 - a2) / 10_f64.powf(self.log_kh)
    }
}

#[cfg(test)]
mod tests {
    use super::Carbonate;

    // Plummer & Busenberg (1982), Geochim. Cosmochim. Acta 46: 1011–1040: pK1 6.352, pK2 10.329
    // at 25 °C; half the carbon is bicarbonate at pK1.
    #[test]
    fn half_way_points() {
        let c = Carbonate::at(25.0, 0.0);
        let (hco3, _) = c.shares(6.352);
        assert!((hco3 - 0.5).abs() < 0.002);
        // All of it is bicarbonate at the end point near pH 8.3.
        assert!((c.dic_mmol_l(2.0, 8.3) - 2.0).abs() < 0.03);
    }
}

//! A stock as the ions of the model.

use super::activity::{Molalities, is_bounded, is_known};
use super::solid::{Saturation, Solids};
use crate::speciation::Molal;
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::solution as data;
use guardcell_reference::pitzer::BrineIon;
use guardcell_reference::{Composition, Solute};
use guardcell_units::quantity::{Molality, ThermodynamicTemperature, in_mmol_per_l};
use guardcell_units::uom::si::molality::mole_per_kilogram;
use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;

/// A concentrated solution: molalities of the ions and a temperature from 0 to 40 °C.
#[derive(Debug, Clone)]
pub struct Brine {
    molalities: Molalities,
    solids: Solids,
}

impl Brine {
    /// A stock from its totals per litre. Phosphate is divided into H2PO4⁻ and HPO4²⁻ by the
    /// charge that the other ions leave.
    ///
    /// # Errors
    /// [`Error`] where the temperature, an ion, a pair of ions, the acidity or the strength
    /// is outside what the parameters cover.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::reference::{Composition, Solute};
    /// use guardcell::solution::pitzer::Brine;
    /// use guardcell::units::quantity::{celsius, mmol_per_l};
    /// let mut c = Composition::PURE_WATER;
    /// // Potassium sulfate and chloride, 0.5 and 1 mol/L: the sulfate comes down.
    /// for (s, x) in [(Solute::K, 2000.0), (Solute::So4, 500.0), (Solute::Cl, 1000.0)] {
    ///     c[s] = mmol_per_l(x);
    /// }
    /// let stock = Brine::from_composition(&c, celsius(10.0))?;
    /// assert!(stock.saturations().iter().any(|s| s.key == "arcanite" && s.low > 0.0));
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    pub fn from_composition(
        composition: &Composition,
        temperature: ThermodynamicTemperature,
    ) -> Result<Self, Error> {
        let molal = Molal::from_litre(composition, temperature)?;
        let mol_l = |s: Solute| in_mmol_per_l(composition[s]) * 1e-3;
        // Redlich & Meyer (1964): beyond infinite dilution, salts take up k·I^1.5 more.
        let strength = 0.5
            * [(Solute::Ca, 4.0), (Solute::Mg, 4.0), (Solute::So4, 4.0)]
                .iter()
                .chain(&MONOVALENT.map(|s| (s, 1.0)))
                .map(|(s, z2)| z2 * mol_l(*s))
                .sum::<f64>();
        let swelling = data::STOCK_VOLUME_SLOPE.coefficient() * strength.powf(1.5) * 1e-3;
        let water_kg_l = molal.water_kg_l - molal.constants.water.density_kg_l * swelling;
        if water_kg_l < data::WATER_LOW.kg_per_l() {
            return Err(outside(format!(
                "a litre of it would hold less than {} kg of water",
                data::WATER_LOW.kg_per_l()
            )));
        }
        let m = |s: Solute| mol_l(s) / water_kg_l;
        check_neutral(m(Solute::Urea), "urea", data::STOCK_UREA.mol_per_kg())?;
        check_neutral(m(Solute::Dic), "carbonate", data::STOCK_CARBONATE.mol_per_kg())?;
        let other =
            2.0 * (m(Solute::Ca) + m(Solute::Mg)) + m(Solute::K) + m(Solute::Na) + m(Solute::Nh4)
                - m(Solute::Cl)
                - m(Solute::No3)
                - 2.0 * m(Solute::So4)
                - m(Solute::Dic);
        let phosphate = m(Solute::P);
        let all = m(Solute::Cl) + m(Solute::No3) + 2.0 * m(Solute::So4) + phosphate;
        let doubt = data::STOCK_CHARGE_DOUBT.percent() / 100.0 * all;
        if other < phosphate - doubt {
            return Err(outside("it holds free acid, for which the model has no parameters"));
        }
        if other > 2.0 * phosphate + doubt {
            return Err(outside("its anions are not all known: the cations have more charge"));
        }
        let basic =
            if other - phosphate > doubt { (other - phosphate).min(phosphate) } else { 0.0 };
        let mut molalities = Molalities::default();
        for (ion, value) in [
            (BrineIon::Ca, m(Solute::Ca)),
            (BrineIon::Mg, m(Solute::Mg)),
            (BrineIon::K, m(Solute::K)),
            (BrineIon::Na, m(Solute::Na)),
            (BrineIon::Nh4, m(Solute::Nh4)),
            (BrineIon::Cl, m(Solute::Cl)),
            (BrineIon::No3, m(Solute::No3)),
            (BrineIon::H2po4, phosphate - basic),
            (BrineIon::Hpo4, basic),
            (BrineIon::So4, m(Solute::So4)),
        ] {
            molalities[ion as usize] = value;
        }
        Self::checked(molalities, temperature)
    }

    /// A solution from its ions per kilogram of water, phosphate already divided.
    ///
    /// # Errors
    /// As [`Self::from_composition`].
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::reference::pitzer::BrineIon;
    /// use guardcell::solution::pitzer::Brine;
    /// use guardcell::units::quantity::{Molality, celsius};
    /// use guardcell::units::uom::si::molality::mole_per_kilogram;
    /// let m = Molality::new::<mole_per_kilogram>;
    /// // Potassium chloride dissolves to 4.8 mol/kg at 25 °C.
    /// let b = Brine::from_molalities(&[(BrineIon::K, m(4.8)), (BrineIon::Cl, m(4.8))], celsius(25.0))?;
    /// assert!(b.saturations()[0].low.abs() < 0.02);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    pub fn from_molalities(
        ions: &[(BrineIon, Molality)],
        temperature: ThermodynamicTemperature,
    ) -> Result<Self, Error> {
        let mut molalities = Molalities::default();
        for (ion, value) in ions {
            molalities[*ion as usize] += value.get::<mole_per_kilogram>();
        }
        Self::checked(molalities, temperature)
    }

    fn checked(
        mut molalities: Molalities,
        temperature: ThermodynamicTemperature,
    ) -> Result<Self, Error> {
        let temp_c = temperature.get::<degree_celsius>();
        let range = data::TEMPERATURE_LOW.celsius()..=data::TEMPERATURE_HIGH.celsius();
        if !range.contains(&temp_c) || molalities.iter().any(|m| !(0.0..=100.0).contains(m)) {
            return Err(outside("its temperature or a molality is out of range"));
        }
        for m in &mut molalities {
            if *m < data::STOCK_TRACE.mol_per_kg() {
                *m = 0.0;
            }
        }
        let strength = 0.5
            * BrineIon::ALL
                .iter()
                .zip(molalities)
                .map(|(i, m)| f64::from(i.charge() * i.charge()) * m)
                .sum::<f64>();
        if strength > data::STOCK_IONIC_STRENGTH.mol_per_kg() {
            return Err(outside(format!(
                "its ionic strength is {strength:.1} mol/kg; the model holds to {}",
                data::STOCK_IONIC_STRENGTH.mol_per_kg()
            )));
        }
        for cation in BrineIon::ALL.into_iter().filter(|i| i.charge() > 0) {
            for anion in BrineIon::ALL.into_iter().filter(|i| i.charge() < 0) {
                let both = molalities[cation as usize] * molalities[anion as usize];
                if both > 0.0 && !is_known(cation, anion) {
                    return Err(outside(format!(
                        "the model has no parameters for {} with {}",
                        name(cation),
                        name(anion)
                    )));
                }
            }
        }
        Ok(Self { molalities, solids: Solids::at(temp_c) })
    }

    /// Every solid that the ions present can form, by exchange too, with its saturation index.
    #[must_use]
    pub fn saturations(&self) -> Vec<Saturation> {
        self.solids.saturations(&self.molalities)
    }

    /// The largest share of the strength, at most 1, at which no solid is supersaturated, even at
    /// the high end of its index.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::reference::pitzer::BrineIon;
    /// use guardcell::solution::pitzer::Brine;
    /// use guardcell::units::quantity::{Molality, celsius};
    /// use guardcell::units::uom::si::molality::mole_per_kilogram;
    /// let m = Molality::new::<mole_per_kilogram>;
    /// // Twice as much potassium sulfate as dissolves at 25 °C (0.69 mol/kg).
    /// let twice = [(BrineIon::K, m(2.76)), (BrineIon::So4, m(1.38))];
    /// let b = Brine::from_molalities(&twice, celsius(25.0))?;
    /// // The published constants dissolve up to 9 % less than the handbook.
    /// assert!((0.45..=0.51).contains(&b.clear_share()));
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn clear_share(&self) -> f64 {
        let clear = |share: f64| {
            self.solids
                .saturations(&self.molalities.map(|m| m * share))
                .iter()
                .all(|s| s.high <= 0.0)
        };
        if clear(1.0) {
            return 1.0;
        }
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..20 {
            let middle = f64::midpoint(low, high);
            if clear(middle) { low = middle } else { high = middle }
        }
        low
    }

    /// Whether an interaction that matters here is only bounded by its neighbours.
    #[must_use]
    pub fn is_bounded(&self) -> bool {
        let present = |i: BrineIon| self.molalities[i as usize] > 0.0;
        BrineIon::ALL
            .into_iter()
            .filter(|c| present(*c))
            .any(|c| BrineIon::ALL.into_iter().any(|a| present(a) && is_bounded(c, a)))
    }
}

fn outside(detail: impl Into<String>) -> Error {
    Error::new(
        Code::OutsideModel,
        detail.into(),
        "keep to the stock strength on the labels, or divide the products otherwise",
    )
}

const MONOVALENT: [Solute; 6] =
    [Solute::K, Solute::Na, Solute::Nh4, Solute::Cl, Solute::No3, Solute::P];

fn check_neutral(mol_kg: f64, what: &str, limit: f64) -> Result<(), Error> {
    if mol_kg > limit {
        return Err(outside(format!(
            "it holds {mol_kg:.2} mol/kg of {what}; the model has no parameters for more than \
             {limit}"
        )));
    }
    Ok(())
}

const fn name(ion: BrineIon) -> &'static str {
    match ion {
        BrineIon::Ca => "calcium",
        BrineIon::Mg => "magnesium",
        BrineIon::K => "potassium",
        BrineIon::Na => "sodium",
        BrineIon::Nh4 => "ammonium",
        BrineIon::Cl => "chloride",
        BrineIon::No3 => "nitrate",
        BrineIon::H2po4 => "dihydrogen phosphate",
        BrineIon::Hpo4 => "hydrogen phosphate",
        BrineIon::So4 => "sulfate",
    }
}

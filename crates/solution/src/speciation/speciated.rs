//! A composition at equilibrium, and what follows from it.

use super::condition::{Acidity, Condition, Ph};
use super::constants::{COMPONENTS, Constants};
use super::solve::{Hydrogen, Problem, Solved, solve};
use super::warning::Warning;
use crate::conductance::{Conductance, conductance};
use crate::saturation::SaturationIndex;
use guardcell_error::{Code, Error};
use guardcell_reference::aqueous::{Component, Phase, complexes, ion};
use guardcell_reference::parameters::solution as data;
use guardcell_reference::{Composition, Solute};
use guardcell_units::quantity::{
    ElectricalConductivity, Molality, MolarConcentration, Ratio, ThermodynamicTemperature,
    in_mmol_per_l, mmol_per_l, us_per_cm,
};
use guardcell_units::uom::si::molality::mole_per_kilogram;
use guardcell_units::uom::si::ratio::ratio;
use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;

/// A composition at equilibrium: its ions, pairs and acids, and what follows from them.
#[derive(Debug, Clone)]
pub struct Speciated {
    solved: Solved,
    constants: Constants,
    water_kg_l: f64,
    condition: Condition,
}

/// One dissolved species and its concentration.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct SpeciesAmount {
    /// The species, such as `CaHCO3+`.
    pub name: &'static str,
    /// Its charge number.
    pub charge: i32,
    /// Its concentration.
    pub concentration: MolarConcentration,
}

/// A conductivity and the interval in which it is held to lie: the uncertainty of single-salt
/// data and that of the rule by which ions of different charge are mixed.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct ConductivityRange {
    /// The value.
    pub value: ElectricalConductivity,
    /// The low end.
    pub low: ElectricalConductivity,
    /// The high end.
    pub high: ElectricalConductivity,
}

impl From<Conductance> for ConductivityRange {
    fn from(c: Conductance) -> Self {
        Self {
            value: us_per_cm(c.us_cm),
            low: us_per_cm(c.low_us_cm),
            high: us_per_cm(c.high_us_cm),
        }
    }
}

/// Which component carries each solute, in the order of [`Solute::ALL`] without urea.
const CARRIERS: [(Solute, Component); 10] = [
    (Solute::Ca, Component::Ca),
    (Solute::Mg, Component::Mg),
    (Solute::K, Component::K),
    (Solute::Na, Component::Na),
    (Solute::Nh4, Component::Nh4),
    (Solute::No3, Component::No3),
    (Solute::P, Component::Po4),
    (Solute::So4, Component::So4),
    (Solute::Cl, Component::Cl),
    (Solute::Dic, Component::Co3),
];

/// Brings a composition to equilibrium.
///
/// Valid from 0 to 40 °C and to an ionic strength of 1 mol/kg (see [`Speciated::warnings`]).
///
/// # Errors
/// When a total, the temperature or the condition is out of range, and when the totals are so far
/// out of charge balance that no pH from 0 to 14 balances them.
///
/// ```
/// # mod guardcell {
/// #     pub mod reference { pub use guardcell_reference::*; }
/// #     pub mod solution { pub use guardcell_solution::*; }
/// #     pub mod units { pub use guardcell_units::*; }
/// # }
/// use guardcell::reference::{Composition, Solute};
/// use guardcell::solution::{Condition, speciate};
/// use guardcell::units::quantity::{ThermodynamicTemperature, in_us_per_cm, mmol_per_l};
/// use guardcell::units::uom::si::thermodynamic_temperature::degree_celsius;
/// let mut c = Composition::PURE_WATER;
/// c[Solute::K] = mmol_per_l(10.0);
/// c[Solute::Cl] = mmol_per_l(10.0);
/// let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
/// let s = speciate(&c, t, Condition::default())?;
/// // OIML R 56 and the CRC Handbook: 1413 µS/cm
/// assert!((in_us_per_cm(s.specific_conductance()?) - 1413.0).abs() < 7.0);
/// # Ok::<(), guardcell::solution::Error>(())
/// ```
pub fn speciate(
    composition: &Composition,
    temperature: ThermodynamicTemperature,
    condition: Condition,
) -> Result<Speciated, Error> {
    guardcell_call::checkpoint();
    let Molal { constants, totals, urea, water_kg_l } =
        Molal::from_litre(composition, temperature)?;
    let problem = Problem {
        totals,
        urea,
        hydrogen: match condition.acidity {
            Acidity::ChargeBalance => Hydrogen::Balance,
            Acidity::Measured(ph) => Hydrogen::Ph(ph.value()),
        },
        open_atm: condition.carbon_dioxide.open_atm()?,
    };
    let solved = solve(&problem, &constants)?;
    if problem.hydrogen == Hydrogen::Balance && Ph::new(solved.ph()).is_err() {
        let charge: f64 = CARRIERS
            .iter()
            .map(|(s, c)| in_mmol_per_l(composition[*s]) * charge_near_neutral(*c))
            .sum();
        let (more, less) = if charge > 0.0 { ("cations", "anions") } else { ("anions", "cations") };
        return Err(Error::new(
            Code::OutsideModel,
            format!(
                "{more} exceed {less} by {:.4} mmol/L of charge, and no pH from 0 to 14 balances \
                 that",
                charge.abs()
            ),
            "complete the analysis or state the pH",
        ));
    }
    Ok(Speciated { solved, constants, water_kg_l, condition })
}

/// A composition per kilogram of water, with the constants of its temperature.
#[derive(Debug, Clone)]
pub(crate) struct Molal {
    pub(crate) constants: Constants,
    /// Totals in mol/kg in the order of [`Component::ALL`]; that of H is not set.
    pub(crate) totals: [f64; COMPONENTS],
    pub(crate) urea: f64,
    pub(crate) water_kg_l: f64,
}

impl Molal {
    pub(crate) fn from_litre(
        composition: &Composition,
        temperature: ThermodynamicTemperature,
    ) -> Result<Self, Error> {
        let celsius = celsius(temperature)?;
        let mut totals = [0.0; COMPONENTS];
        let mut volume_l = 0.0;
        for (solute, total) in composition.iter() {
            let value = in_mmol_per_l(total);
            let limit = data::TOTAL_HIGH.mmol_per_l();
            if !(0.0..=limit).contains(&value) {
                return Err(Error::new(
                    Code::OutOfRange,
                    format!(
                        "{} mmol/L of {} is out of range",
                        guardcell_units::round::significant(value, 4),
                        solute.name()
                    ),
                    format!("give 0 to {limit} mmol/L"),
                )
                .at(format!("/{}", solute.name())));
            }
            volume_l += value * 1e-6 * volume_cm3_mol(solute);
        }
        let constants = Constants::at(celsius);
        let water_kg_l = constants.water.density_kg_l * (1.0 - volume_l);
        if water_kg_l < data::WATER_LOW.kg_per_l() {
            return Err(super::solve::too_concentrated());
        }
        // Below this, less than one ion in ten tonnes of water, there is nothing; further down still
        // the products of two molalities underflow and the equations cannot be solved.
        let nothing = f64::EPSILON * f64::EPSILON;
        let molal = |solute: Solute| {
            let m = in_mmol_per_l(composition[solute]) * 1e-3 / water_kg_l;
            if m > nothing { m } else { 0.0 }
        };
        for (solute, component) in CARRIERS {
            totals[component as usize] = molal(solute);
        }
        Ok(Self { constants, totals, urea: molal(Solute::Urea), water_kg_l })
    }
}

/// The charge a component carries near pH 7, where phosphate and carbonate hold protons.
fn charge_near_neutral(component: Component) -> f64 {
    match component {
        Component::Po4 => -1.5,
        Component::Co3 => -1.0,
        other => f64::from(other.ion().charge),
    }
}

fn celsius(temperature: ThermodynamicTemperature) -> Result<f64, Error> {
    let value = temperature.get::<degree_celsius>();
    let (low, high) = (data::TEMPERATURE_LOW.celsius(), data::TEMPERATURE_HIGH.celsius());
    // Conversion from kelvin may leave the last digit off a bound.
    if (low - 1e-9..=high + 1e-9).contains(&value) {
        Ok(value)
    } else {
        Err(Error::new(
            Code::OutOfRange,
            format!("{value} °C is outside the range of the constants"),
            format!("give {low} to {high} °C"),
        ))
    }
}

/// Partial molar volume at infinite dilution in the form that prevails near pH 6–7.
fn volume_cm3_mol(solute: Solute) -> f64 {
    let row = match solute {
        Solute::Ca => Some(Component::Ca.ion()),
        Solute::Mg => Some(Component::Mg.ion()),
        Solute::K => Some(Component::K.ion()),
        Solute::Na => Some(Component::Na.ion()),
        Solute::Nh4 => Some(Component::Nh4.ion()),
        Solute::No3 => Some(Component::No3.ion()),
        Solute::So4 => Some(Component::So4.ion()),
        Solute::Cl => Some(Component::Cl.ion()),
        Solute::P => ion("H2PO4-"),
        Solute::Dic => ion("HCO3-"),
        Solute::Urea => ion("urea"),
    };
    row.and_then(|r| r.volume_cm3_mol).unwrap_or(0.0)
}

impl Speciated {
    /// The temperature of the equilibrium.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::ThermodynamicTemperature, uom::si::thermodynamic_temperature::degree_celsius};
    /// let t = ThermodynamicTemperature::new::<degree_celsius>(18.0);
    /// let s = speciate(&Default::default(), t, Condition::default())?;
    /// assert!((s.temperature().get::<degree_celsius>() - 18.0).abs() < 1e-9);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn temperature(&self) -> ThermodynamicTemperature {
        ThermodynamicTemperature::new::<degree_celsius>(self.solved.celsius)
    }

    /// The condition under which it was found.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::*, uom::si::{molality::mole_per_kilogram, ratio::ratio, thermodynamic_temperature::degree_celsius}};
    /// # let mut c = Composition::PURE_WATER;
    /// # for (s, x) in [(Solute::K, 10.0), (Solute::No3, 10.0)] { c[s] = mmol_per_l(x); }
    /// # let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// # let s = speciate(&c, t, Condition::default())?; // 10 mmol/L of KNO3
    /// assert_eq!(s.condition(), Condition::default());
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn condition(&self) -> Condition {
        self.condition
    }

    /// The pH. Pure water has pH 7.00 at 25 °C:
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::ThermodynamicTemperature, uom::si::thermodynamic_temperature::degree_celsius};
    /// let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// let s = speciate(&Default::default(), t, Condition::default())?;
    /// assert!((s.ph().value() - 7.0).abs() < 0.01);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn ph(&self) -> Ph {
        match self.condition.acidity {
            Acidity::Measured(ph) => ph,
            Acidity::ChargeBalance => Ph::within(self.solved.ph()),
        }
    }

    /// The ionic strength, per kilogram of water.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::*, uom::si::{molality::mole_per_kilogram, ratio::ratio, thermodynamic_temperature::degree_celsius}};
    /// # let mut c = Composition::PURE_WATER;
    /// # for (s, x) in [(Solute::K, 10.0), (Solute::No3, 10.0)] { c[s] = mmol_per_l(x); }
    /// # let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// # let s = speciate(&c, t, Condition::default())?; // 10 mmol/L of KNO3
    /// assert!((s.ionic_strength().get::<mole_per_kilogram>() - 0.01).abs() < 1e-4);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn ionic_strength(&self) -> Molality {
        Molality::new::<mole_per_kilogram>(self.solved.ionic_strength)
    }

    /// The osmolality: what is dissolved, urea included, times its osmotic coefficient.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::*, uom::si::{molality::mole_per_kilogram, ratio::ratio, thermodynamic_temperature::degree_celsius}};
    /// # let mut c = Composition::PURE_WATER;
    /// # for (s, x) in [(Solute::K, 10.0), (Solute::No3, 10.0)] { c[s] = mmol_per_l(x); }
    /// # let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// # let s = speciate(&c, t, Condition::default())?; // 10 mmol/L of KNO3
    /// let mosm = s.osmolality().get::<mole_per_kilogram>() * 1000.0;
    /// assert!((19.0..20.1).contains(&mosm));
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn osmolality(&self) -> Molality {
        Molality::new::<mole_per_kilogram>(self.solved.osmolality)
    }

    /// The activity of water.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::*, uom::si::{molality::mole_per_kilogram, ratio::ratio, thermodynamic_temperature::degree_celsius}};
    /// # let mut c = Composition::PURE_WATER;
    /// # for (s, x) in [(Solute::K, 10.0), (Solute::No3, 10.0)] { c[s] = mmol_per_l(x); }
    /// # let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// # let s = speciate(&c, t, Condition::default())?; // 10 mmol/L of KNO3
    /// assert!(s.water_activity().get::<ratio>() < 1.0);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn water_activity(&self) -> Ratio {
        Ratio::new::<ratio>(self.solved.ln_water.exp())
    }

    /// (cations − anions)/(cations + anions): zero where the pH followed from the balance.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::*, uom::si::{molality::mole_per_kilogram, ratio::ratio, thermodynamic_temperature::degree_celsius}};
    /// # let mut c = Composition::PURE_WATER;
    /// # for (s, x) in [(Solute::K, 10.0), (Solute::No3, 10.0)] { c[s] = mmol_per_l(x); }
    /// # let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// # let s = speciate(&c, t, Condition::default())?; // 10 mmol/L of KNO3
    /// assert!(s.charge_imbalance().get::<ratio>().abs() < 1e-9);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn charge_imbalance(&self) -> Ratio {
        let (cations, anions) = self.solved.charges();
        Ratio::new::<ratio>((cations - anions) / (cations + anions))
    }

    /// Every species that is present, water left out.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::*, uom::si::{molality::mole_per_kilogram, ratio::ratio, thermodynamic_temperature::degree_celsius}};
    /// # let mut c = Composition::PURE_WATER;
    /// # for (s, x) in [(Solute::K, 10.0), (Solute::No3, 10.0)] { c[s] = mmol_per_l(x); }
    /// # let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// # let s = speciate(&c, t, Condition::default())?; // 10 mmol/L of KNO3
    /// let k = s.species().find(|x| x.name == "K+").unwrap();
    /// assert!((in_mmol_per_l(k.concentration) - 10.0).abs() < 1e-6);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    pub fn species(&self) -> impl Iterator<Item = SpeciesAmount> + '_ {
        let free = Component::ALL.into_iter().map(|c| (c.ion().name, c.ion().charge));
        let bound = complexes().iter().map(|c| (c.name, c.charge));
        let amounts = self.solved.components.iter().chain(&self.solved.complexes);
        let urea = ("urea", 0, self.solved.urea);
        free.chain(bound)
            .zip(amounts)
            .map(|((name, charge), m)| (name, charge, *m))
            .chain(core::iter::once(urea))
            .filter(|(_, _, m)| *m > 0.0)
            .map(|(name, charge, m)| SpeciesAmount {
                name,
                charge,
                concentration: mmol_per_l(m * self.water_kg_l * 1e3),
            })
    }

    /// The totals of the solution as it stands: those given, save that the inorganic carbon of a
    /// solution open to air is what it took up.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::*, uom::si::{molality::mole_per_kilogram, ratio::ratio, thermodynamic_temperature::degree_celsius}};
    /// # let mut c = Composition::PURE_WATER;
    /// # for (s, x) in [(Solute::K, 10.0), (Solute::No3, 10.0)] { c[s] = mmol_per_l(x); }
    /// # let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// # let s = speciate(&c, t, Condition::default())?; // 10 mmol/L of KNO3
    /// assert!((in_mmol_per_l(s.composition()[Solute::No3]) - 10.0).abs() < 1e-6);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn composition(&self) -> Composition {
        let totals = self.solved.totals();
        let mut out = Composition::PURE_WATER;
        for (solute, component) in CARRIERS {
            out[solute] = mmol_per_l(totals[component as usize] * self.water_kg_l * 1e3);
        }
        out[Solute::Urea] = mmol_per_l(self.solved.urea * self.water_kg_l * 1e3);
        out
    }

    /// The saturation index of a phase, none where one of its parts is absent.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute, aqueous::Phase};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::{ThermodynamicTemperature, mmol_per_l}, uom::si::thermodynamic_temperature::degree_celsius};
    /// let mut c = Composition::PURE_WATER;
    /// c[Solute::Ca] = mmol_per_l(15.2); // what dissolves of gypsum at 25 °C
    /// c[Solute::So4] = mmol_per_l(15.2);
    /// let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// let s = speciate(&c, t, Condition::default())?;
    /// assert!(s.saturation_index(Phase::Gypsum).unwrap().log10().abs() < 0.03);
    /// assert!(s.saturation_index(Phase::Calcite).is_none());
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn saturation_index(&self, phase: Phase) -> Option<SaturationIndex> {
        self.solved.saturation(phase).map(SaturationIndex::of)
    }

    /// The conductivity at the temperature of the equilibrium.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::*, uom::si::{molality::mole_per_kilogram, ratio::ratio, thermodynamic_temperature::degree_celsius}};
    /// # let mut c = Composition::PURE_WATER;
    /// # for (s, x) in [(Solute::K, 10.0), (Solute::No3, 10.0)] { c[s] = mmol_per_l(x); }
    /// # let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// # let s = speciate(&c, t, Condition::default())?; // 10 mmol/L of KNO3
    /// // CRC Handbook: 1357.5 µS/cm (from memory)
    /// assert!((in_us_per_cm(s.conductivity()) / 1357.5 - 1.0).abs() < 0.01);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn conductivity(&self) -> ElectricalConductivity {
        self.here().value
    }

    /// The conductivity of the same solution, closed, brought to another temperature: nothing is
    /// added or lost, and the equilibria are those of that temperature.
    ///
    /// # Errors
    /// When the temperature is out of range.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::{ThermodynamicTemperature, in_us_per_cm, mmol_per_l}, uom::si::thermodynamic_temperature::degree_celsius};
    /// let mut c = Composition::PURE_WATER;
    /// c[Solute::K] = mmol_per_l(9.97); // 0.01 mol/kg of KCl
    /// c[Solute::Cl] = mmol_per_l(9.97);
    /// let at = |t| ThermodynamicTemperature::new::<degree_celsius>(t);
    /// let s = speciate(&c, at(25.0), Condition::default())?;
    /// // Wu, Koch & Pratt (1991): 1141.45 µS/cm at 15 °C
    /// let k = in_us_per_cm(s.conductivity_at(at(15.0))?);
    /// assert!((k / 1141.45 - 1.0).abs() < 0.005);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    pub fn conductivity_at(
        &self,
        temperature: ThermodynamicTemperature,
    ) -> Result<ElectricalConductivity, Error> {
        Ok(self.conductivity_range_at(temperature)?.value)
    }

    /// As [`Self::conductivity_at`], with the interval in which the value is held to lie.
    ///
    /// # Errors
    /// When the temperature is out of range.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::*, uom::si::{molality::mole_per_kilogram, ratio::ratio, thermodynamic_temperature::degree_celsius}};
    /// # let mut c = Composition::PURE_WATER;
    /// # for (s, x) in [(Solute::K, 10.0), (Solute::No3, 10.0)] { c[s] = mmol_per_l(x); }
    /// # let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// # let s = speciate(&c, t, Condition::default())?; // 10 mmol/L of KNO3
    /// let range = s.conductivity_range_at(t)?;
    /// assert!(range.low < range.value && range.value < range.high);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    pub fn conductivity_range_at(
        &self,
        temperature: ThermodynamicTemperature,
    ) -> Result<ConductivityRange, Error> {
        let celsius = celsius(temperature)?;
        if (celsius - self.solved.celsius).abs() < 1e-6 {
            return Ok(self.here());
        }
        let constants = Constants::at(celsius);
        let problem = Problem {
            totals: self.solved.totals(),
            urea: self.solved.urea,
            hydrogen: Hydrogen::Total,
            open_atm: None,
        };
        let solved = solve(&problem, &constants)?;
        let water_kg_l =
            self.water_kg_l * constants.water.density_kg_l / self.constants.water.density_kg_l;
        Ok(conductance(&solved, &constants.water, water_kg_l).into())
    }

    /// The specific conductance: the conductivity at 25 °C.
    ///
    /// # Errors
    /// As [`Self::conductivity_at`].
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::*, uom::si::{molality::mole_per_kilogram, ratio::ratio, thermodynamic_temperature::degree_celsius}};
    /// # let mut c = Composition::PURE_WATER;
    /// # for (s, x) in [(Solute::K, 10.0), (Solute::No3, 10.0)] { c[s] = mmol_per_l(x); }
    /// # let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// # let s = speciate(&c, t, Condition::default())?; // 10 mmol/L of KNO3
    /// assert_eq!(s.specific_conductance()?, s.conductivity());
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    pub fn specific_conductance(&self) -> Result<ElectricalConductivity, Error> {
        self.conductivity_at(ThermodynamicTemperature::new::<degree_celsius>(25.0))
    }

    fn here(&self) -> ConductivityRange {
        conductance(&self.solved, &self.constants.water, self.water_kg_l).into()
    }

    /// What is doubtful about the answer.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::*, uom::si::{molality::mole_per_kilogram, ratio::ratio, thermodynamic_temperature::degree_celsius}};
    /// # let mut c = Composition::PURE_WATER;
    /// # for (s, x) in [(Solute::K, 10.0), (Solute::No3, 10.0)] { c[s] = mmol_per_l(x); }
    /// # let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// # let s = speciate(&c, t, Condition::default())?; // 10 mmol/L of KNO3
    /// assert!(s.warnings().is_empty());
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn warnings(&self) -> Vec<Warning> {
        let mut out = Vec::new();
        let mol_kg = self.solved.ionic_strength;
        if mol_kg > data::IONIC_STRENGTH_VALID.mol_per_kg() {
            out.push(Warning::IonicStrength { mol_kg });
        }
        let ph = self.solved.ph();
        let plausible = data::PH_PLAUSIBLE_LOW.ph()..=data::PH_PLAUSIBLE_HIGH.ph();
        if self.condition.acidity == Acidity::ChargeBalance && !plausible.contains(&ph) {
            out.push(Warning::PhFromBalance { ph });
        }
        let percent = self.charge_imbalance().get::<ratio>() * 100.0;
        if percent.abs() > data::IMBALANCE_REPORTED.percent() {
            out.push(Warning::Imbalance { percent });
        }
        let urea = self.solved.urea * self.water_kg_l * 1e3;
        if urea > 0.0 {
            out.push(Warning::Urea { mmol_l: urea });
        }
        out
    }

    /// The largest relative residual of a mass or charge balance (for tests of the solver).
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::reference::{Composition, Solute};
    /// # use guardcell::solution::{Condition, speciate};
    /// # use guardcell::units::{quantity::*, uom::si::{molality::mole_per_kilogram, ratio::ratio, thermodynamic_temperature::degree_celsius}};
    /// # let mut c = Composition::PURE_WATER;
    /// # for (s, x) in [(Solute::K, 10.0), (Solute::No3, 10.0)] { c[s] = mmol_per_l(x); }
    /// # let t = ThermodynamicTemperature::new::<degree_celsius>(25.0);
    /// # let s = speciate(&c, t, Condition::default())?; // 10 mmol/L of KNO3
    /// assert!(s.balance_error().get::<ratio>() < 1e-9);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn balance_error(&self) -> Ratio {
        Ratio::new::<ratio>(self.solved.error)
    }
}

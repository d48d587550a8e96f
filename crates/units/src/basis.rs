//! Mass concentrations *as* a basis: as N, as P2O5, as CaCO3 …
//!
//! A basis is a formula that stands for one analyte: 1 mol of `P2O5` stands for 2 mol of the
//! analyte phosphorus. Two concentrations convert into each other only when they stand for the
//! same analyte, and add only when the basis is the same; anything else does not compile.

use crate::atomic_weight::Element::{self, C, Ca as ECa, Cl as ECl, H, K as EK, Mg as EMg};
use crate::atomic_weight::Element::{N as EN, Na as ENa, O, P as EP, S as ES};
use crate::formula::Formula;
use crate::quantity::{MassConcentration, MolarConcentration, in_mg_per_l, mg_per_l};
use core::{fmt, marker::PhantomData, ops};

/// What a basis stands for: the element (or quantity) that stays the same when the basis changes.
pub trait Analyte: 'static {
    /// The name in words, for messages.
    const NAME: &'static str;
}

/// A way to state the mass of an analyte, such as P2O5 for phosphorus.
pub trait Basis: 'static {
    /// What this basis stands for.
    type Analyte: Analyte;
    /// The symbol as it is written after a unit, such as `P2O5` in `mg/L P2O5`.
    const SYMBOL: &'static str;
    /// The formula whose mass is counted.
    const FORMULA: Formula;
    /// How many units of the analyte one formula unit stands for.
    const COUNT: f64;
    /// The charge of the ion of that formula, without its sign; 0 where the formula is not an ion of
    /// one definite charge (N, P, oxides).
    const CHARGE: u8;
    /// The same as a value, for bases chosen at run time.
    const INFO: &'static BasisInfo;
}

/// A basis as a value, for bases that come with a text or a request.
#[derive(Clone, Copy, Debug)]
#[non_exhaustive]
pub struct BasisInfo {
    /// The symbol, such as `P2O5`.
    pub symbol: &'static str,
    /// What the basis stands for, in words.
    pub analyte: &'static str,
    /// The formula whose mass is counted.
    pub formula: Formula,
    /// How many units of the analyte one formula unit stands for.
    pub(crate) count: f64,
    /// See [`Basis::CHARGE`].
    pub charge: u8,
}

/// A symbol stands for one basis.
impl PartialEq for BasisInfo {
    fn eq(&self, other: &Self) -> bool {
        core::ptr::eq(self, other) || self.symbol == other.symbol
    }
}

impl BasisInfo {
    /// The basis of that symbol, exactly as written.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::basis::BasisInfo;
    /// assert_eq!(BasisInfo::of_symbol("K2O").unwrap().analyte, "potassium");
    /// assert!(BasisInfo::of_symbol("XY").is_none());
    /// ```
    #[must_use]
    pub fn of_symbol(symbol: &str) -> Option<&'static Self> {
        BASES.iter().copied().find(|b| b.symbol == symbol)
    }

    /// What one mass unit on this basis is on another; `None` for another analyte.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::basis::BasisInfo;
    /// let (p, p2o5) = (BasisInfo::of_symbol("P").unwrap(), BasisInfo::of_symbol("P2O5").unwrap());
    /// assert!((p2o5.factor_to(p).unwrap() - 0.4364).abs() < 1e-4);
    /// assert!(p.factor_to(BasisInfo::of_symbol("N").unwrap()).is_none());
    /// ```
    #[must_use]
    pub fn factor_to(&self, other: &Self) -> Option<f64> {
        let same = core::ptr::eq(self.analyte, other.analyte) || self.analyte == other.analyte;
        same.then(|| {
            (other.formula.g_per_mol() / other.count) / (self.formula.g_per_mol() / self.count)
        })
    }
}

macro_rules! analytes {
    ($($name:ident = $words:literal;)*) => {
        /// The analytes that bases stand for.
        pub mod analyte {
            $(
                #[doc = concat!("The analyte ", $words, ".")]
                #[derive(Clone, Copy, Debug, PartialEq, Eq)]
                pub struct $name;
                impl super::Analyte for $name {
                    const NAME: &'static str = $words;
                }
            )*
        }
    };
}

analytes! {
    Nitrogen = "nitrogen";
    Phosphorus = "phosphorus";
    Potassium = "potassium";
    Calcium = "calcium";
    Magnesium = "magnesium";
    Sulfur = "sulfur";
    Sodium = "sodium";
    Chloride = "chloride";
    Carbonate = "inorganic carbon";
    Silicon = "silicon";
    Boron = "boron";
    Iron = "iron";
    Manganese = "manganese";
    Zinc = "zinc";
    Copper = "copper";
    Molybdenum = "molybdenum";
    Cobalt = "cobalt";
    Nickel = "nickel";
    Aluminium = "aluminium";
    Fluoride = "fluoride";
}

macro_rules! bases {
    ($($name:ident: $analyte:ident, $symbol:literal, $count:literal, $charge:literal, [$($atoms:tt)*];)*) => {
        $(
            #[doc = concat!("Stated as ", $symbol, ".")]
            #[derive(Clone, Copy, Debug, PartialEq, Eq)]
            pub struct $name;
            impl Basis for $name {
                type Analyte = analyte::$analyte;
                const SYMBOL: &'static str = $symbol;
                const FORMULA: Formula = Formula::new(&[$($atoms)*]);
                const COUNT: f64 = $count;
                const CHARGE: u8 = $charge;
                const INFO: &'static BasisInfo = &BasisInfo {
                    symbol: Self::SYMBOL,
                    analyte: <Self::Analyte as Analyte>::NAME,
                    formula: Self::FORMULA,
                    count: Self::COUNT,
                    charge: Self::CHARGE,
                };
            }
        )*

        /// Every basis, as values.
        pub static BASES: &[&BasisInfo] = &[$(<$name as Basis>::INFO),*];
    };
}

bases! {
    N: Nitrogen, "N", 1.0, 0, [(EN, 1)];
    NO3: Nitrogen, "NO3", 1.0, 1, [(EN, 1), (O, 3)];
    NO2: Nitrogen, "NO2", 1.0, 1, [(EN, 1), (O, 2)];
    NH4: Nitrogen, "NH4", 1.0, 1, [(EN, 1), (H, 4)];
    NH3: Nitrogen, "NH3", 1.0, 0, [(EN, 1), (H, 3)];
    Urea: Nitrogen, "urea", 2.0, 0, [(C, 1), (O, 1), (EN, 2), (H, 4)];
    P: Phosphorus, "P", 1.0, 0, [(EP, 1)];
    P2O5: Phosphorus, "P2O5", 2.0, 0, [(EP, 2), (O, 5)];
    PO4: Phosphorus, "PO4", 1.0, 3, [(EP, 1), (O, 4)];
    HPO4: Phosphorus, "HPO4", 1.0, 2, [(H, 1), (EP, 1), (O, 4)];
    H2PO4: Phosphorus, "H2PO4", 1.0, 1, [(H, 2), (EP, 1), (O, 4)];
    K: Potassium, "K", 1.0, 1, [(EK, 1)];
    K2O: Potassium, "K2O", 2.0, 0, [(EK, 2), (O, 1)];
    Ca: Calcium, "Ca", 1.0, 2, [(ECa, 1)];
    CaO: Calcium, "CaO", 1.0, 0, [(ECa, 1), (O, 1)];
    CaCO3: Calcium, "CaCO3", 1.0, 2, [(ECa, 1), (C, 1), (O, 3)];
    Mg: Magnesium, "Mg", 1.0, 2, [(EMg, 1)];
    MgO: Magnesium, "MgO", 1.0, 0, [(EMg, 1), (O, 1)];
    MgCO3: Magnesium, "MgCO3", 1.0, 2, [(EMg, 1), (C, 1), (O, 3)];
    S: Sulfur, "S", 1.0, 0, [(ES, 1)];
    SO3: Sulfur, "SO3", 1.0, 0, [(ES, 1), (O, 3)];
    SO4: Sulfur, "SO4", 1.0, 2, [(ES, 1), (O, 4)];
    Na: Sodium, "Na", 1.0, 1, [(ENa, 1)];
    Na2O: Sodium, "Na2O", 2.0, 0, [(ENa, 2), (O, 1)];
    Cl: Chloride, "Cl", 1.0, 1, [(ECl, 1)];
    HCO3: Carbonate, "HCO3", 1.0, 1, [(H, 1), (C, 1), (O, 3)];
    CO3: Carbonate, "CO3", 1.0, 2, [(C, 1), (O, 3)];
    CO2: Carbonate, "CO2", 1.0, 0, [(C, 1), (O, 2)];
    Si: Silicon, "Si", 1.0, 0, [(Element::Si, 1)];
    SiO2: Silicon, "SiO2", 1.0, 0, [(Element::Si, 1), (O, 2)];
    B: Boron, "B", 1.0, 0, [(Element::B, 1)];
    B2O3: Boron, "B2O3", 2.0, 0, [(Element::B, 2), (O, 3)];
    H3BO3: Boron, "H3BO3", 1.0, 0, [(H, 3), (Element::B, 1), (O, 3)];
    Fe: Iron, "Fe", 1.0, 0, [(Element::Fe, 1)];
    Mn: Manganese, "Mn", 1.0, 0, [(Element::Mn, 1)];
    Zn: Zinc, "Zn", 1.0, 0, [(Element::Zn, 1)];
    Cu: Copper, "Cu", 1.0, 0, [(Element::Cu, 1)];
    Mo: Molybdenum, "Mo", 1.0, 0, [(Element::Mo, 1)];
    MoO3: Molybdenum, "MoO3", 1.0, 0, [(Element::Mo, 1), (O, 3)];
    Co: Cobalt, "Co", 1.0, 0, [(Element::Co, 1)];
    Ni: Nickel, "Ni", 1.0, 0, [(Element::Ni, 1)];
    Al: Aluminium, "Al", 1.0, 0, [(Element::Al, 1)];
    F: Fluoride, "F", 1.0, 1, [(Element::F, 1)];
}

/// A mass concentration stated as basis `B`: `Of<P2O5>` is "so many mg/L as P2O5".
///
/// ```
/// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
/// use guardcell::units::basis::{K, K2O, Of};
/// let k2o = Of::<K2O>::from_mg_per_l(100.0);
/// assert!((k2o.to::<K>().mg_per_l() - 83.01).abs() < 0.01);
/// ```
pub struct Of<B> {
    mass: MassConcentration,
    basis: PhantomData<fn() -> B>,
}

impl<B: Basis> Of<B> {
    /// Nothing of it.
    pub const ZERO: Self = Self {
        mass: MassConcentration { dimension: PhantomData, units: PhantomData, value: 0.0 },
        basis: PhantomData,
    };

    /// From a mass concentration that is meant as `B`.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::basis::{N, Of};
    /// use guardcell::units::quantity::mg_per_l;
    /// assert_eq!(Of::<N>::new(mg_per_l(150.0)), Of::from_mg_per_l(150.0));
    /// ```
    #[must_use]
    pub const fn new(mass: MassConcentration) -> Self {
        Self { mass, basis: PhantomData }
    }

    /// From a number of mg/L as `B`.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::basis::{N, Of};
    /// assert_eq!(Of::<N>::from_mg_per_l(150.0).to_string(), "150 mg/L N");
    /// ```
    #[must_use]
    pub fn from_mg_per_l(value: f64) -> Self {
        Self::new(mg_per_l(value))
    }

    /// The mass concentration, whose basis the caller now has to remember.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::basis::{N, Of};
    /// use guardcell::units::quantity::in_mg_per_l;
    /// assert_eq!(in_mg_per_l(Of::<N>::from_mg_per_l(150.0).mass_concentration()), 150.0);
    /// ```
    #[must_use]
    pub const fn mass_concentration(self) -> MassConcentration {
        self.mass
    }

    /// The number of mg/L as `B`.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::basis::{N, Of};
    /// assert_eq!(Of::<N>::from_mg_per_l(150.0).mg_per_l(), 150.0);
    /// ```
    #[must_use]
    pub fn mg_per_l(self) -> f64 {
        in_mg_per_l(self.mass)
    }

    /// The same analyte on another basis, by formula mass.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::basis::{Of, P, P2O5};
    /// let label = Of::<P2O5>::from_mg_per_l(100.0);
    /// assert!((label.to::<P>().mg_per_l() - 43.64).abs() < 0.01);
    /// ```
    #[must_use]
    pub fn to<C: Basis<Analyte = B::Analyte>>(self) -> Of<C> {
        let factor = (C::FORMULA.g_per_mol() / C::COUNT) / (B::FORMULA.g_per_mol() / B::COUNT);
        Of::new(self.mass * factor)
    }

    /// The molar concentration of the analyte (of P atoms for P2O5, not of P2O5 units).
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::{basis::{N, Of}, quantity::in_mmol_per_l};
    /// assert!((in_mmol_per_l(Of::<N>::from_mg_per_l(14.007).molar()) - 1.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn molar(self) -> MolarConcentration {
        (self.mass / B::FORMULA.molar_mass() * B::COUNT).into()
    }

    /// From the molar concentration of the analyte.
    ///
    /// ```
    /// # mod guardcell { pub mod units { pub use guardcell_units::*; } }
    /// use guardcell::units::basis::{Ca, Of};
    /// use guardcell::units::quantity::mmol_per_l;
    /// assert!((Of::<Ca>::from_molar(mmol_per_l(2.0)).mg_per_l() - 80.156).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn from_molar(analyte: MolarConcentration) -> Self {
        Self::new((analyte * B::FORMULA.molar_mass() / B::COUNT).into())
    }
}

impl<B> Clone for Of<B> {
    fn clone(&self) -> Self {
        *self
    }
}
impl<B> Copy for Of<B> {}

impl<B: Basis> fmt::Debug for Of<B> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mg/L {}", self.mg_per_l(), B::SYMBOL)
    }
}

impl<B> PartialEq for Of<B> {
    fn eq(&self, other: &Self) -> bool {
        self.mass == other.mass
    }
}
impl<B> PartialOrd for Of<B> {
    fn partial_cmp(&self, other: &Self) -> Option<core::cmp::Ordering> {
        self.mass.partial_cmp(&other.mass)
    }
}
impl<B: Basis> Default for Of<B> {
    fn default() -> Self {
        Self::ZERO
    }
}
impl<B: Basis> ops::Add for Of<B> {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.mass + other.mass)
    }
}
impl<B: Basis> ops::Sub for Of<B> {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.mass - other.mass)
    }
}
impl<B: Basis> fmt::Display for Of<B> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let number = crate::round::significant(self.mg_per_l(), 10);
        write!(f, "{number} mg/L {}", B::SYMBOL)
    }
}
impl<B: Basis> ops::SubAssign for Of<B> {
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
    }
}
impl<B: Basis> ops::Mul<Of<B>> for f64 {
    type Output = Of<B>;
    fn mul(self, of: Of<B>) -> Of<B> {
        of * self
    }
}
impl<B: Basis> ops::AddAssign for Of<B> {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}
impl<B: Basis> ops::Mul<f64> for Of<B> {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.mass * factor)
    }
}
impl<B: Basis> ops::Div<f64> for Of<B> {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self::new(self.mass / divisor)
    }
}
impl<B: Basis> ops::Div for Of<B> {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        (self.mass / other.mass).value
    }
}
impl<B: Basis> core::iter::Sum for Of<B> {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, |a, b| a + b)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Factors printed in Havlin et al., Soil Fertility and Fertilizers, and used on every
    // state label guide: P2O5 × 0.4364 = P, K2O × 0.8301 = K (both from atomic weights).
    #[test]
    fn oxide_factors() {
        assert!((Of::<P2O5>::from_mg_per_l(1.0).to::<P>().mg_per_l() - 0.4364).abs() < 5e-5);
        assert!((Of::<K2O>::from_mg_per_l(1.0).to::<K>().mg_per_l() - 0.8301).abs() < 6e-5);
        assert!((Of::<N>::from_mg_per_l(1.0).to::<NO3>().mg_per_l() - 4.4267).abs() < 5e-4);
    }

    #[test]
    fn molar_and_back() {
        let p = Of::<P2O5>::from_mg_per_l(100.0);
        let back = Of::<P2O5>::from_molar(p.molar());
        assert!((back.mg_per_l() - 100.0).abs() < 1e-9);
    }
}

//! A label worked out: how strong a dose is, which ions it brings and what a meter sees of it.
//!
//! # Feed strength
//! Feed strength is the mass of everything dissolved that came from the feed, in one litre.
//! For a powder that is the powder itself: 0.3 g of a fully soluble powder in one litre is a feed
//! strength of 300 mg/L, whatever its analysis, because carriers, dye, chelate and crystal water
//! come out of the bag too and the scale weighs them. A powder whose label says that only part of
//! it dissolves counts that part (`soluble_percent`). A liquid is mostly water, so there the
//! dissolved solids count: the stated `soluble_percent`, or else the ions, urea and trace elements
//! that its analysis accounts for. Feed strength is therefore a little more than the sum of the
//! ions; both are shown in a recipe. The practice table (300, 150, 100, 50 mg/L) is in feed
//! strength.

use crate::label::{Analysis, ELEMENTS, Form, Label, PercentOf};
use crate::notice::{Notice, NoticeCode};
use guardcell_error::{Code, Error};
use guardcell_reference::Composition;
use guardcell_units::atomic_weight::Element;
use guardcell_units::basis::{N, Of};
use guardcell_units::quantity::{Mass, MassConcentration, Volume, in_mg_per_l, mg_per_l};
use guardcell_units::uom::si::{mass::gram, volume::milliliter};

mod closure;
mod figures;
mod materials;
mod nonnegative;
mod supplement;

pub(crate) use figures::{conductance_bounds, element_of_ions};

/// How much of a product to take. A liquid without a density has no mass, a powder no volume.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Amount {
    /// By mass.
    pub(crate) mass: Option<Mass>,
    /// By volume, for a liquid.
    pub(crate) volume: Option<Volume>,
}

/// A label worked out. Amounts inside are per unit of product: 1 g where percentages are of mass,
/// 1 mL where they are of volume. With supplements (`with` of the label) a unit is one of the feed
/// with its share of each, and strength counts them.
///
/// ```
/// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } pub mod units { pub use guardcell_units::*; } }
/// use guardcell::solution::{Label, Product};
/// use guardcell::units::quantity::mg_per_l;
/// let label = Label::from_toml(r#"
/// name = "Example 13-2-13"
/// derived_from = ["potassium nitrate", "calcium nitrate", "monopotassium phosphate"]
/// [guaranteed]
/// n_percent = 13
/// nitrate_n_percent = 12.4
/// ammoniacal_n_percent = 0.6
/// p2o5_percent = 2
/// k2o_percent = 13
/// "#)?.remove(0);
/// let product = Product::new(&label)?;
/// // 300 mg/L of a powder with 13 % N is 39 ppm N.
/// assert!((product.nitrogen_at(mg_per_l(300.0)).mg_per_l() - 39.0).abs() < 1e-9);
/// # Ok::<(), guardcell::solution::Error>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Product {
    name: String,
    label: Label,
    analysis: Analysis,
    /// mg of dissolved solids from one unit.
    solids_mg: f64,
    /// What one unit dissolves into: one composition where the counter-ions are known, else the
    /// two closures.
    ions: Vec<Composition>,
    /// Amount of each fitted material in one unit, mg, with its name in the materials table.
    materials: Vec<(&'static str, f64)>,
    /// mg of each element in one unit, those of its materials included.
    elements: [(Element, f64); ELEMENTS.len()],
    assumptions: Vec<Notice>,
    beside: Vec<Beside>,
}

/// A supplement of a product, worked out.
#[derive(Debug, Clone, PartialEq)]
struct Beside {
    product: Product,
    /// Units of it for one unit of the feed.
    units: f64,
}

impl Product {
    /// Works a label out.
    ///
    /// # Errors
    /// As [`Label::check`].
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::{Label, Product};
    /// let label = Label::from_csv("name,n_percent\nUrea,46\n")?.remove(0);
    /// assert_eq!(Product::new(&label)?.name(), "Urea");
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    pub fn new(label: &Label) -> Result<Self, Error> {
        let mut product = Self::alone(label)?;
        for (i, other) in label.with.iter().enumerate() {
            product.add(other).map_err(|e| e.within(&format!("/with/{i}")))?;
        }
        Ok(product)
    }

    /// A label without its supplements.
    fn alone(label: &Label) -> Result<Self, Error> {
        let mut analysis = Analysis::of(label)?;
        let mut assumptions = Vec::new();
        if label.form_assumed {
            assumptions.push(Notice::new(
                NoticeCode::FormAssumed,
                "The text of the label does not say whether the product is a powder or a liquid; \
                 it is taken as a powder. For a liquid, state form = \"liquid\" and its density: \
                 most of a liquid is water, and a dose weighed as powder is far too weak.",
            ));
        }
        let fitted = materials::fit(label, &analysis, &mut assumptions);
        if let Some(f) = &fitted
            && !analysis.forms_stated
        {
            f.split_nitrogen(&mut analysis, &mut assumptions);
        }
        let (ions, materials) = match fitted {
            Some(f) => (vec![f.composition], f.materials),
            None => (closure::close(&analysis, &mut assumptions), Vec::new()),
        };
        let solids_mg = Self::solids(label, &analysis, &ions, &mut assumptions);
        if solids_mg.is_nan() || solids_mg <= 0.0 {
            return Err(Error::new(
                Code::Missing,
                "the analysis accounts for nothing dissolved",
                "give a nutrient above 0 %, or soluble_percent",
            )
            .at("/guaranteed"));
        }
        let elements = elements(&analysis, &ions, &materials);
        Ok(Self {
            name: label.mix_name(),
            label: label.clone(),
            analysis,
            solids_mg,
            ions,
            materials,
            elements,
            assumptions,
            beside: Vec::new(),
        })
    }

    fn solids(
        label: &Label,
        analysis: &Analysis,
        ions: &[Composition],
        assumptions: &mut Vec<Notice>,
    ) -> f64 {
        match (label.soluble_percent, label.form) {
            (Some(p), _) => p * 10.0,
            (None, Form::Powder) => 1000.0,
            (None, Form::Liquid) => {
                let mean = ions.iter().map(|c| in_mg_per_l(c.dissolved_mass())).sum::<f64>()
                    / ions.len().max(1) as f64;
                let traces: f64 = [
                    Element::B,
                    Element::Co,
                    Element::Cu,
                    Element::Fe,
                    Element::Mn,
                    Element::Mo,
                    Element::Zn,
                    Element::Si,
                ]
                .into_iter()
                .map(|e| analysis.of_element(e))
                .sum();
                assumptions.push(Notice::new(
                    NoticeCode::LiquidSolidsFromAnalysis,
                    format!(
                        "The label does not say how much of this liquid is dissolved solids; the \
                         {:.0} % that its analysis accounts for is taken as feed. State \
                         soluble_percent if it is known.",
                        (mean + traces) / 10.0
                    ),
                ));
                mean + traces
            }
        }
    }

    /// The name on the label, with those of its supplements.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The label.
    #[must_use]
    pub fn label(&self) -> &Label {
        &self.label
    }

    /// What was assumed to get from the label to ions.
    #[must_use]
    pub fn assumptions(&self) -> &[Notice] {
        &self.assumptions
    }

    /// Whether any of its nitrogen is urea, which carries no charge and which no conductivity
    /// meter sees.
    #[must_use]
    pub fn has_urea(&self) -> bool {
        self.analysis.urea_n > 0.0
    }

    /// The total nitrogen at a feed strength.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::solution::{Label, Product};
    /// # use guardcell::units::quantity::mg_per_l;
    /// let label = Label::from_csv("name,n_percent\nX,15\n")?.remove(0);
    /// let n = Product::new(&label)?.nitrogen_at(mg_per_l(100.0));
    /// assert!((n.mg_per_l() - 15.0).abs() < 1e-9);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn nitrogen_at(&self, strength: MassConcentration) -> Of<N> {
        Of::from_mg_per_l(self.analysis.of_element(Element::N) * self.units_per_l(strength))
    }

    /// The urea nitrogen at a feed strength.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::solution::{Label, Product};
    /// # use guardcell::units::quantity::mg_per_l;
    /// let label = Label::from_csv("name,n_percent,urea_n_percent\nX,20,10\n")?.remove(0);
    /// let n = Product::new(&label)?.urea_nitrogen_at(mg_per_l(100.0));
    /// assert!((n.mg_per_l() - 10.0).abs() < 1e-9);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn urea_nitrogen_at(&self, strength: MassConcentration) -> Of<N> {
        Of::from_mg_per_l(self.analysis.urea_n * self.units_per_l(strength))
    }

    /// What a feed strength brings, one composition where the label names its materials, else
    /// the two closures between which the truth lies.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::solution::{Label, Product};
    /// # use guardcell::units::quantity::mg_per_l;
    /// let label = Label::from_csv("name,n_percent,nitrate_n_percent,k2o_percent\nX,13,13,46\n")?.remove(0);
    /// assert_eq!(Product::new(&label)?.compositions_at(mg_per_l(100.0)).len(), 2);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn compositions_at(&self, strength: MassConcentration) -> Vec<Composition> {
        let units = self.units_per_l(strength);
        self.ions.iter().map(|c| *c * units).collect()
    }

    /// What a feed strength brings, taking the mean of the two closures where the label does not
    /// name its materials.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod solution { pub use guardcell_solution::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// # use guardcell::solution::{Label, Product};
    /// # use guardcell::units::quantity::{in_mmol_per_l, mg_per_l};
    /// use guardcell::reference::Solute;
    /// let label = Label::from_toml("name = \"X\"\nderived_from = [\"potassium nitrate\"]\n[guaranteed]\nn_percent = 13.85\nk2o_percent = 46.58\n")?.remove(0);
    /// let c = Product::new(&label)?.composition_at(mg_per_l(101.1));
    /// assert!((in_mmol_per_l(c[Solute::No3]) - 1.0).abs() < 0.01);
    /// # Ok::<(), guardcell::solution::Error>(())
    /// ```
    #[must_use]
    pub fn composition_at(&self, strength: MassConcentration) -> Composition {
        self.mean_ions() * self.units_per_l(strength)
    }

    pub(crate) fn analysis(&self) -> &Analysis {
        &self.analysis
    }

    pub(crate) fn ions(&self) -> &[Composition] {
        &self.ions
    }

    pub(crate) fn materials(&self) -> &[(&'static str, f64)] {
        &self.materials
    }

    pub(crate) fn mean_ions(&self) -> Composition {
        mean(&self.ions)
    }

    /// mg/L of feed strength from units per litre.
    pub(crate) fn strength_of_units(&self, units_per_l: f64) -> MassConcentration {
        mg_per_l(units_per_l * self.solids_mg)
    }

    /// Units (g or mL) per litre for a feed strength.
    pub(crate) fn units_per_l(&self, strength: MassConcentration) -> f64 {
        in_mg_per_l(strength) / self.solids_mg // above 0: checked in `new`
    }

    /// An amount from units (g or mL).
    pub(crate) fn amount_of_units(&self, units: f64) -> Amount {
        let grams = |g: f64| Mass::new::<gram>(g);
        let millilitres = |v: f64| Volume::new::<milliliter>(v);
        let density = self.label.density_kg_l;
        match (self.label.percent_of, self.label.form) {
            (PercentOf::Mass, Form::Powder) => Amount { mass: Some(grams(units)), volume: None },
            (PercentOf::Mass, Form::Liquid) => {
                Amount { mass: Some(grams(units)), volume: density.map(|d| millilitres(units / d)) }
            }
            (PercentOf::Volume, _) => {
                Amount { mass: density.map(|d| grams(units * d)), volume: Some(millilitres(units)) }
            }
        }
    }

    /// Each element's mg in one unit, with its symbol.
    pub(crate) fn elements(&self) -> impl Iterator<Item = (Element, f64)> + '_ {
        self.elements.iter().copied()
    }
}

fn mean(ions: &[Composition]) -> Composition {
    let share = 1.0 / ions.len().max(1) as f64;
    ions.iter().fold(Composition::PURE_WATER, |sum, c| sum + *c * share)
}

/// Each element's mg in one unit. Elements the label does not state but its materials bring
/// (sulfate, chloride, sodium, calcium of a nitrate) are taken from the ions.
fn elements(
    analysis: &Analysis,
    ions: &[Composition],
    materials: &[(&str, f64)],
) -> [(Element, f64); ELEMENTS.len()] {
    let ions = mean(ions);
    ELEMENTS.map(|e| {
        let from_ions = if materials.is_empty() {
            None // a closure is an assumption, not a constituent
        } else {
            element_of_ions(&ions, e)
        };
        let stated = analysis.is_stated(e).then(|| analysis.of_element(e));
        (e, stated.or(from_ions).unwrap_or(0.0))
    })
}

//! A checked request with its products and water worked out.

use super::request::{RecipeRequest, TargetMeaning};
use super::target::{BasisName, Target};
use crate::conduct::specific_conductance_of;
use crate::product::{Product, element_of_ions};
use crate::water::Water;
use guardcell_error::{Code, Error, excerpt};
use guardcell_reference::parameters::solution as parameter;
use guardcell_reference::{Composition, Solute};
use guardcell_units::atomic_weight::Element;
use guardcell_units::basis::{Basis, Ca, CaO, K, K2O, Mg, MgO, N, Of, P, P2O5, S, SO4};
use guardcell_units::quantity::{in_mg_per_l, in_mmol_per_l, in_us_per_cm};
use guardcell_units::round::significant;

/// Products, water and targets of one request; amounts are in units (g or mL) per litre.
pub(super) struct Case<'a> {
    pub(super) request: &'a RecipeRequest,
    pub(super) products: Vec<Product>,
    pub(super) water: Water,
    pub(super) temp_c: f64,
    /// For each product, what one unit dissolves into: the closure that conducts least, the mean,
    /// and the one that conducts most.
    pub(super) least: Vec<Composition>,
    pub(super) mean: Vec<Composition>,
    pub(super) most: Vec<Composition>,
}

impl<'a> Case<'a> {
    pub(super) fn of(request: &'a RecipeRequest) -> Result<Self, Error> {
        request.check()?;
        let temp_c = request.temp_c.unwrap_or(25.0);
        let products = request
            .products
            .iter()
            .enumerate()
            .map(|(i, l)| Product::new(l).map_err(|e| e.within(&format!("/products/{i}"))))
            .collect::<Result<Vec<_>, _>>()?;
        for (i, p) in products.iter().enumerate() {
            if products.iter().take(i).any(|o| o.name() == p.name()) {
                return Err(Error::new(
                    Code::DuplicateId,
                    format!("duplicate product {:?}", excerpt(p.name(), 60)),
                    "give each product once, or give different products different names",
                )
                .at(format!("/products/{i}/name")));
            }
        }
        let water = match &request.water {
            Some(r) => Water::from_report(r).map_err(|e| e.within("/water"))?,
            None => Water::pure(),
        };
        let mut least = Vec::new();
        let mut mean = Vec::new();
        let mut most = Vec::new();
        for p in &products {
            let mut ranked = p
                .ions()
                .iter()
                .map(|c| {
                    // 0.3 unit in a litre is an ordinary strength; the order does not depend on it.
                    specific_conductance_of(&(*c * 0.3)).map(|k| (in_us_per_cm(k), *c))
                })
                .collect::<Result<Vec<_>, _>>()?;
            ranked.sort_by(|a, b| a.0.total_cmp(&b.0));
            let end = |r: Option<&(f64, Composition)>| r.map_or(Composition::PURE_WATER, |r| r.1);
            least.push(end(ranked.first()));
            most.push(end(ranked.last()));
            mean.push(p.mean_ions());
        }
        Ok(Self { request, products, water, temp_c, least, mean, most })
    }

    /// Feed and water together, with one composition a product.
    pub(super) fn mixture(&self, ions: &[Composition], units: &[f64]) -> Composition {
        ions.iter().zip(units).fold(self.water.composition(), |sum, (c, x)| sum + *c * *x)
    }

    /// Specific conductance of a mixture, µS/cm, on the footing of the water's stated EC.
    pub(super) fn ec25(&self, ions: &[Composition], units: &[f64]) -> Result<f64, Error> {
        let k =
            specific_conductance_of(&self.mixture(ions, units)).map_err(|e| self.outside(&e))?;
        Ok(in_us_per_cm(k) + self.water.ec_offset_us_cm())
    }

    /// Refuses amounts that a litre cannot hold, naming the target that asks for them.
    pub(super) fn check_amounts(&self, units: &[f64]) -> Result<(), Error> {
        let limit = parameter::PRODUCT_PER_LITRE_HIGH.g_per_l();
        let sum: f64 = units.iter().sum();
        if sum <= limit {
            return Ok(());
        }
        // At the most that a litre holds, the target that is furthest from its figure.
        let most: Vec<f64> = units.iter().map(|u| u * limit / sum).collect();
        let demand = |t: &Target| t.wanted() / self.figure(t, &most).unwrap_or(t.wanted());
        let targets = self.request.targets.iter().enumerate();
        let (index, target) = targets
            .max_by(|a, b| demand(a.1).total_cmp(&demand(b.1)))
            .map_or((0, String::new()), |(i, t)| (i, t.to_string()));
        Err(Error::new(
            Code::Unreachable,
            format!(
                "{target} needs {} g or mL of product in a litre, more than the {limit} that a \
                 litre holds",
                significant(sum, 3)
            ),
            "lower the target, or check the figures of the label",
        )
        .at(format!("/targets/{index}")))
    }

    /// An error of the model for a mixture, as one of the targets that ask for it.
    pub(super) fn outside(&self, e: &Error) -> Error {
        if e.code() == Code::Internal {
            return e.clone();
        }
        let (pointer, what) = match &self.request.targets[..] {
            [one] => ("/targets/0", one.to_string()),
            _ => ("/targets", "these targets together".to_owned()),
        };
        Error::new(
            Code::Unreachable,
            format!("{what} cannot be reached: {}", e.detail()),
            "lower the target, or check the figures of the label",
        )
        .at(pointer)
    }

    pub(super) fn water_ec25(&self) -> f64 {
        in_us_per_cm(self.water.ec25())
    }

    /// What one unit of a product adds to a linear target, in the target's unit; `None` for EC.
    pub(super) fn coefficient(&self, target: &Target, product: &Product) -> Option<f64> {
        match target {
            Target::Nutrient { basis, .. } => {
                let element = basis.element();
                let mg = product.elements().find(|(e, _)| *e == element).map_or(0.0, |(_, mg)| mg);
                Some(mg * basis.per_element())
            }
            Target::FeedStrength { .. } => Some(in_mg_per_l(product.strength_of_units(1.0))),
            Target::Ec25 { .. } | Target::Ec25AboveWater { .. } => None,
        }
    }

    /// What the water counts towards a target.
    pub(super) fn water_part(&self, target: &Target) -> f64 {
        match target {
            Target::Nutrient { basis, .. }
                if self.request.target_meaning == TargetMeaning::Total =>
            {
                element_of_ions(&self.water.composition(), basis.element()).unwrap_or(0.0)
                    * basis.per_element()
            }
            _ => 0.0,
        }
    }

    /// The figure a target has at these amounts, in its own unit and with its meaning.
    pub(super) fn figure(&self, target: &Target, units: &[f64]) -> Result<f64, Error> {
        match target {
            Target::Ec25 { .. } => self.ec25(&self.mean, units),
            Target::Ec25AboveWater { .. } => Ok(self.ec25(&self.mean, units)? - self.water_ec25()),
            _ => Ok(self.water_part(target)
                + self
                    .products
                    .iter()
                    .zip(units)
                    .map(|(p, x)| self.coefficient(target, p).unwrap_or(0.0) * x)
                    .sum::<f64>()),
        }
    }
}

impl BasisName {
    /// The element the basis stands for.
    pub(super) const fn element(self) -> Element {
        match self {
            Self::N => Element::N,
            Self::P | Self::P2O5 => Element::P,
            Self::K | Self::K2O => Element::K,
            Self::Ca | Self::CaO => Element::Ca,
            Self::Mg | Self::MgO => Element::Mg,
            Self::S | Self::SO4 => Element::S,
            Self::Fe => Element::Fe,
            Self::Mn => Element::Mn,
            Self::Zn => Element::Zn,
            Self::Cu => Element::Cu,
            Self::B => Element::B,
            Self::Mo => Element::Mo,
            Self::Si => Element::Si,
        }
    }

    /// mg as this basis for 1 mg of the element.
    pub(super) fn per_element(self) -> f64 {
        fn ratio<E: Basis, B: Basis<Analyte = E::Analyte>>() -> f64 {
            Of::<E>::from_mg_per_l(1.0).to::<B>().mg_per_l()
        }
        match self {
            Self::P2O5 => ratio::<P, P2O5>(),
            Self::K2O => ratio::<K, K2O>(),
            Self::CaO => ratio::<Ca, CaO>(),
            Self::MgO => ratio::<Mg, MgO>(),
            Self::SO4 => ratio::<S, SO4>(),
            Self::N => ratio::<N, N>(),
            _ => 1.0,
        }
    }
}

/// Chloride or sodium of a composition, mg/L.
pub(super) fn mg_of(c: &Composition, s: Solute) -> f64 {
    use guardcell_units::uom::si::molar_mass::gram_per_mole;
    in_mmol_per_l(c[s]) * s.molar_mass().get::<gram_per_mole>()
}

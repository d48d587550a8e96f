//! Stock tanks: concentrates, their solubility in the cold and what precipitates in them.

mod solids;

pub use solids::TankSolid;

use crate::injector::{Convention, Injector};
use crate::label::Label;
use crate::notice::{Notice, NoticeCode};
use crate::product::Product;
use guardcell_call::{Bound, Bounded, bounds};
use guardcell_error::Error;
use guardcell_reference::material::{Material, materials};
use guardcell_reference::parameters::solution as parameter;
use guardcell_reference::solubility::solubility;
use guardcell_reference::{Composition, Solute};
use guardcell_units::atomic_weight::Element;
use guardcell_units::quantity::{ThermodynamicTemperature, in_mmol_per_l};
use guardcell_units::uom::si::mass::gram;
use guardcell_units::uom::si::thermodynamic_temperature::degree_celsius;
use guardcell_units::uom::si::volume::milliliter;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A product and how much of it the finished solution holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct TankProduct {
    /// Its label.
    pub label: Label,
    /// How much of it one litre of finished solution holds, g (mL for a liquid without a density).
    pub per_litre: f64,
}

/// A question about stock tanks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct TankRequest {
    /// The products.
    pub products: Vec<TankProduct>,
    /// N of the injector's 1:N.
    pub injector_n: f64,
    /// What N counts.
    pub convention: Convention,
    /// The volume of stock, L.
    pub stock_l: f64,
    /// The coldest temperature the tank will see, °C (0–40).
    pub coldest_c: f64,
}

bounds! { TankProduct {
    per_litre: Bound::number(1e-6, 100.0, "g or mL"),
} }

bounds! { TankRequest {
    products: Bound::items(1, 200),
    injector_n: Bound::number(1.0, 2000.0, ""),
    stock_l: Bound::number(0.01, 1e5, "L"),
    coldest_c: Bound::number(0.0, 40.0, "°C"),
} }

/// One tank.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Tank {
    /// `A`, `B`, …
    pub tank: String,
    /// What to dissolve in it.
    pub products: Vec<TankAmount>,
    /// Salts of the stock against their solubility at the coldest temperature.
    pub solubility: Vec<SaltMargin>,
    /// Every solid that the ions present can form, by exchange too, nearest to saturation first;
    /// omitted where the stock is outside the model (a warning says why).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub solids: Option<Vec<TankSolid>>,
    /// The share of this strength, percent, up to which nothing comes down at the coldest
    /// temperature; omitted where the stock is outside the model.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stays_clear_to_percent: Option<f64>,
}

/// An amount of one product in a stock.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct TankAmount {
    /// The product.
    pub name: String,
    /// Grams (mL for a liquid without a density) per litre of stock.
    pub per_litre: f64,
    /// Grams (mL) for the whole stock.
    pub amount: f64,
    /// `g` or `mL`.
    pub unit: String,
}

/// A salt in a stock against its solubility.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct SaltMargin {
    /// The salt.
    pub salt: String,
    /// How much of it the stock holds, g in 100 g of water.
    pub holds_g_per_100_g: f64,
    /// Its solubility alone at the coldest temperature, g in 100 g of water.
    pub dissolves_g_per_100_g: f64,
    /// Holds over dissolves, percent. Salts that share an ion dissolve less than alone.
    pub percent_of_solubility: f64,
}

/// How to divide products among stock tanks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct TankResponse {
    /// The tanks, as few as the products allow.
    pub tanks: Vec<Tank>,
    /// Pairs of products that must not share a tank, and why.
    pub apart: Vec<Notice>,
    /// What a reader should know.
    pub warnings: Vec<Notice>,
}

/// Divides products among stock tanks and checks each against solubility in the cold.
///
/// Calcium does not share a concentrate with sulfate or phosphate (gypsum and calcium phosphates
/// come down), which is the rule of every greenhouse bulletin; the rest go together.
///
/// # Errors
/// [`Error`] with a JSON Pointer for a wrong label, ratio, volume or temperature.
///
/// ```
/// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
/// use guardcell::solution::{Label, TankRequest, tank};
/// use guardcell::solution::injector::Convention;
/// use guardcell::solution::tank::TankProduct;
/// let label = |name: &str, csv: &str| -> Result<_, guardcell::solution::Error> {
///     Ok(TankProduct { label: Label::from_csv(&format!("name,derived_from,{csv}"))?.remove(0), per_litre: 0.5 })
/// };
/// let answer = tank(&TankRequest {
///     products: vec![
///         label("a", "n_percent,ca_percent\nCalcium nitrate,calcium nitrate,15.5,19\n")?,
///         label("b", "mg_percent,s_percent\nEpsom salt,magnesium sulfate,9.8,13\n")?,
///     ],
///     injector_n: 100.0,
///     convention: Convention::OneInN,
///     stock_l: 10.0,
///     coldest_c: 5.0,
/// })?;
/// assert_eq!(answer.tanks.len(), 2);
/// # Ok::<(), guardcell::solution::Error>(())
/// ```
pub fn tank(request: &TankRequest) -> Result<TankResponse, Error> {
    request.check_bounds()?;
    let injector =
        Injector::new(request.injector_n, request.convention).map_err(|e| e.at("/injector_n"))?;
    let stocks = stocks(request, injector.dilution_factor())?;
    let mut apart = Vec::new();
    let mut tanks: Vec<Vec<usize>> = Vec::new();
    for (i, stock) in stocks.iter().enumerate() {
        guardcell_call::checkpoint();
        for other in stocks.iter().take(i) {
            guardcell_call::checkpoint();
            if let Some(why) = conflict(stock, other) {
                apart.push(why);
            }
        }
        let free = tanks.iter_mut().find(|t| {
            t.iter().all(|j| stocks.get(*j).is_none_or(|o| conflict(stock, o).is_none()))
        });
        match free {
            Some(t) => t.push(i),
            None => tanks.push(vec![i]),
        }
    }
    let temperature = ThermodynamicTemperature::new::<degree_celsius>(request.coldest_c);
    let mut warnings = cautions(&stocks);
    let mut answer = Vec::new();
    for (number, members) in tanks.iter().enumerate() {
        let name = char::from(b'A' + u8::try_from(number % 26).unwrap_or(0)).to_string();
        let held: Vec<&Stock> = members.iter().filter_map(|i| stocks.get(*i)).collect();
        let solubility = margins(&held, request.coldest_c);
        for m in solubility
            .iter()
            .filter(|m| m.percent_of_solubility > parameter::STOCK_SOLUBILITY_LIMIT.percent())
        {
            warnings.push(Notice::new(
                NoticeCode::NotSolubleInTheCold,
                format!(
                    "Tank {name} would hold {:.1} g {} in 100 g of water; at {} °C {:.1} g \
                     dissolve. Use a lower injector ratio, split the tank, or keep it warmer.",
                    m.holds_g_per_100_g, m.salt, request.coldest_c, m.dissolves_g_per_100_g
                ),
            ));
        }
        let mixture = held.iter().fold(Composition::PURE_WATER, |sum, s| sum + s.ions);
        let judged = solids::judge(&mixture, temperature, &name);
        warnings.extend(judged.warnings);
        answer.push(Tank {
            tank: name,
            products: held.iter().map(|s| s.amount(request.stock_l)).collect(),
            solubility,
            solids: judged.solids,
            stays_clear_to_percent: judged.clear_percent,
        });
    }
    Ok(TankResponse { tanks: answer, apart, warnings })
}

/// A product at the strength of its stock.
struct Stock {
    product: Product,
    units_per_l: f64,
    ions: Composition,
}

impl Stock {
    fn mmol(&self, s: Solute) -> f64 {
        in_mmol_per_l(self.ions[s])
    }

    fn amount(&self, stock_l: f64) -> TankAmount {
        let one = self.product.amount_of_units(self.units_per_l);
        let (per_litre, unit) = match (one.mass, one.volume) {
            (_, Some(v)) => (v.get::<milliliter>(), "mL"),
            (Some(m), None) => (m.get::<gram>(), "g"),
            (None, None) => (self.units_per_l, "g"),
        };
        TankAmount {
            name: self.product.name().to_owned(),
            per_litre,
            amount: per_litre * stock_l,
            unit: unit.to_owned(),
        }
    }
}

fn stocks(request: &TankRequest, factor: f64) -> Result<Vec<Stock>, Error> {
    let mut list = Vec::new();
    for (i, p) in request.products.iter().enumerate() {
        p.check_bounds().map_err(|e| e.within(&format!("/products/{i}")))?;
        let product =
            Product::new(&p.label).map_err(|e| e.within(&format!("/products/{i}/label")))?;
        let units_per_l = p.per_litre * factor;
        let ions = product.mean_ions() * units_per_l;
        list.push(Stock { product, units_per_l, ions });
    }
    Ok(list)
}

/// Why two stocks must not share a tank.
fn conflict(a: &Stock, b: &Stock) -> Option<Notice> {
    let least = parameter::STOCK_CONFLICT.mmol_per_l();
    for (x, y) in [(a, b), (b, a)] {
        if x.mmol(Solute::Ca) < least {
            continue;
        }
        for (s, what, solid) in
            [(Solute::So4, "sulfate", "gypsum"), (Solute::P, "phosphate", "calcium phosphate")]
        {
            if y.mmol(s) >= least {
                return Some(Notice::new(
                    NoticeCode::CalciumApart,
                    format!(
                        "{:?} brings calcium and {:?} brings {what}: in a concentrate {solid} \
                         comes down.",
                        x.product.name(),
                        y.product.name()
                    ),
                ));
            }
        }
    }
    None
}

/// Warnings that hold for the products by themselves.
fn cautions(stocks: &[Stock]) -> Vec<Notice> {
    let least = parameter::STOCK_CONFLICT.mmol_per_l();
    let mut list = Vec::new();
    for s in stocks {
        let ca = s.mmol(Solute::Ca);
        let other = s.mmol(Solute::So4).max(s.mmol(Solute::P));
        if ca >= least && other >= least {
            list.push(Notice::new(
                NoticeCode::CalciumInOneBag,
                format!(
                    "{:?} holds calcium together with sulfate or phosphate. Such products stay \
                     clear only up to the strength their label states, in soft or acid water.",
                    s.product.name()
                ),
            ));
        }
        if s.product.materials().is_empty() {
            list.push(Notice::new(
                NoticeCode::SolubilityUnknown,
                format!(
                    "The label of {:?} names no materials, so its solubility is not checked: keep \
                     to the stock strength its label allows.",
                    s.product.name()
                ),
            ));
        }
    }
    list
}

/// Every salt of a tank against its solubility alone.
fn margins(held: &[&Stock], coldest_c: f64) -> Vec<SaltMargin> {
    let temperature = ThermodynamicTemperature::new::<degree_celsius>(coldest_c);
    let mut grams: BTreeMap<&'static str, f64> = BTreeMap::new();
    let mut solids = 0.0;
    for s in held {
        for (name, mg) in s.product.materials() {
            let Some(m) = materials().iter().find(|m| m.name == *name) else {
                continue;
            };
            let dry = anhydrous_share(m);
            *grams.entry(name).or_insert(0.0) += mg * dry * s.units_per_l / 1000.0;
            solids += mg * s.units_per_l / 1000.0;
        }
    }
    // What the salts take up of the litre leaves this much water, g.
    let water = (1000.0 - parameter::STOCK_VOLUME_OF_SALTS.ml_per_g() * solids).max(200.0);
    grams
        .into_iter()
        .filter_map(|(name, g)| {
            let dissolves = solubility(name)?.at(temperature);
            let holds = g / water * 100.0;
            Some(SaltMargin {
                salt: name.to_owned(),
                holds_g_per_100_g: holds,
                dissolves_g_per_100_g: dissolves,
                percent_of_solubility: 100.0 * holds / dissolves,
            })
        })
        .collect()
}

/// The share of a material's mass that is not crystal water.
fn anhydrous_share(m: &Material) -> f64 {
    let waters = m
        .formula_text
        .rsplit('·')
        .next()
        .and_then(|last| last.strip_suffix("H2O"))
        .filter(|_| m.formula_text.contains('·'))
        .map_or(0.0, |n| if n.is_empty() { 1.0 } else { n.parse().unwrap_or(0.0) });
    let water = 2.0 * Element::H.g_per_mol() + Element::O.g_per_mol();
    1.0 - waters * water / m.formula.g_per_mol()
}

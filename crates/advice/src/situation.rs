//! Feed, water, pressure and tolerance of a request, worked out once.

use crate::reason::{Reason, ReasonCode};
use crate::request::AdviceRequest;
use guardcell_error::{Code, Error};
use guardcell_film::{Mix, ResidueThreshold};
use guardcell_reference::parameters::practice as p;
use guardcell_reference::{Composition, Solute};
use guardcell_solution::{Product, Water};
use guardcell_units::basis::{CaCO3, Of};
use guardcell_units::quantity::{
    ArealMassDensity, Pressure, Ratio, ThermodynamicTemperature, mg_per_l, mmol_per_l,
};
use guardcell_units::uom::si::{
    areal_mass_density::gram_per_square_meter, molar_mass::gram_per_mole, pressure::pascal,
    ratio::ratio, thermodynamic_temperature::degree_celsius,
};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

/// A mix is remembered by strength (in µg/L), temperature (in steps of 5 °C) and water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct MixKey {
    strength_ug_l: u64,
    temperature_step: i32,
    water: WaterKind,
}

/// Which water a mix is made with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum WaterKind {
    Own,
    Pure,
    Hard,
}

impl MixKey {
    /// The same with hard water, to see what an unknown water could do.
    pub(crate) const fn hard_water(self) -> Self {
        Self { water: WaterKind::Hard, ..self }
    }
}

/// Feed, water, pressure and tolerance of a request.
#[derive(Debug)]
pub(crate) struct Situation<'a> {
    pub(crate) request: &'a AdviceRequest,
    pub(crate) product: Option<Product>,
    pub(crate) water: Water,
    pub(crate) tolerance: f64,
    pub(crate) threshold: ResidueThreshold,
    pub(crate) pressure: Pressure,
    pub(crate) plain: Mix,
    mixes: RefCell<BTreeMap<MixKey, Rc<Mix>>>,
}

/// Deliquescence moves by about 1 % relative humidity over this step.
const TEMPERATURE_STEP_C: f64 = 5.0;

impl<'a> Situation<'a> {
    pub(crate) fn of(request: &'a AdviceRequest) -> Result<Self, Error> {
        let product =
            request.feed.as_ref().map(Product::new).transpose().map_err(|e| e.within("/feed"))?;
        if request.feed.as_ref().is_some_and(|f| f.foliar == Some(false)) {
            return Err(Error::new(
                Code::Conflict,
                "the label does not allow this product on leaves",
                "choose a product whose label allows it",
            )
            .at("/feed/foliar"));
        }
        let water = match &request.water {
            Some(report) => Water::from_report(report).map_err(|e| e.within("/water"))?,
            None => Water::pure(),
        };
        Ok(Self {
            request,
            product,
            water,
            tolerance: request.site.grower.tolerance.unwrap_or(p::TOLERANCE.value),
            threshold: threshold(request),
            pressure: pressure_at(request.site.elevation_m),
            plain: Mix::pure_water(),
            mixes: RefCell::default(),
        })
    }

    pub(crate) fn key(&self, mg_l: f64, temp_c: f64, pure_water: bool) -> MixKey {
        MixKey {
            // Strengths are 0 to a few thousand mg/L and temperatures −5 to 50 °C.
            strength_ug_l: (mg_l * 1000.0).round() as u64,
            temperature_step: (temp_c / TEMPERATURE_STEP_C).round() as i32,
            water: if pure_water { WaterKind::Pure } else { WaterKind::Own },
        }
    }

    /// Feed and water together, as they dry.
    pub(crate) fn mixes(&self, key: MixKey) -> Rc<Mix> {
        if let Some(known) = self.mixes.borrow().get(&key) {
            return Rc::clone(known);
        }
        let temperature = ThermodynamicTemperature::new::<degree_celsius>(
            f64::from(key.temperature_step) * TEMPERATURE_STEP_C,
        );
        let water = match key.water {
            WaterKind::Own => self.water.composition(),
            WaterKind::Pure => Composition::PURE_WATER,
            WaterKind::Hard => hard_water(),
        };
        let feed = self.feed(key.strength_ug_l as f64 / 1000.0);
        let mixes = Rc::new(Mix::new(&(feed + water), temperature));
        self.mixes.borrow_mut().insert(key, Rc::clone(&mixes));
        mixes
    }

    /// What the feed brings at a strength. Without a label it is taken as potassium sulfate, the
    /// common feed salt that turns solid first, so that residue is not made light of.
    fn feed(&self, mg_l: f64) -> Composition {
        if let Some(product) = &self.product {
            return product.composition_at(mg_per_l(mg_l));
        }
        let g_per_mol = |s: Solute| s.molar_mass().get::<gram_per_mole>();
        let moles = mg_l / (2.0 * g_per_mol(Solute::K) + g_per_mol(Solute::So4));
        let mut c = Composition::PURE_WATER;
        c[Solute::K] = mmol_per_l(2.0 * moles);
        c[Solute::So4] = mmol_per_l(moles);
        c
    }

    /// What holds for every plant.
    pub(crate) fn cautions(&self) -> Vec<Reason> {
        let mut out = vec![
            Reason::new(
                ReasonCode::LabelRules,
                "The product's own label and local rules come first; where they ask for less, give less.",
            ),
            Reason::new(
                ReasonCode::LowerSideFirst,
                "Spray the lower side of the leaves first: orchid stomata are mostly there.",
            )
            .source("goh1977stomatal"),
            Reason::new(
                ReasonCode::RootTips,
                "Shake or blot drops off growing root tips: a drop hanging there concentrates as it dries.",
            )
            .source("common practice, no source"),
            Reason::new(
                ReasonCode::CrownWater,
                "Tip water out of crowns and new growths: left there it rots them.",
            )
            .source("common practice, no source"),
            Reason::new(
                ReasonCode::AerosolCare,
                "Do not breathe the mist; keep it off lamps, plugs, heaters and fans, and switch them off where it may reach them.",
            ),
            Reason::new(
                ReasonCode::WatchResidue,
                "When the leaves are dry, look for white residue. If there is any, give the next round at half the strength, until there is none.",
            )
            .source("common practice, no source"),
        ];
        out.extend(own_threshold(self.request));
        let scale = self.water.residue().scale_caco3_mg_l;
        if scale > p::SCALE_WORTH_SAYING.value {
            out.push(
                Reason::new(
                    ReasonCode::ScaleFromWater,
                    format!(
                        "The water alone leaves {scale:.0} mg of carbonate scale a litre when it \
                         dries. That white is not feed: a weaker feed does not help, rain or \
                         reverse-osmosis water does."
                    ),
                )
                .with("scale_caco3_mg_l", scale.round()),
            );
        }
        out
    }
}

/// Mean air pressure at a height by the standard atmosphere, 101.325 kPa at sea level (ICAO 1993,
/// as in ASHRAE 2017 chapter 1, equation 3).
fn pressure_at(elevation_m: f64) -> Pressure {
    Pressure::new::<pascal>(101_325.0 * (1.0 - 2.25577e-5 * elevation_m).powf(5.2559))
}

/// A calcium bicarbonate water of the alkalinity that stands in for an unknown hard one.
fn hard_water() -> Composition {
    let alkalinity = Of::<CaCO3>::from_mg_per_l(p::HARD_WATER_ALKALINITY.value).molar();
    let mut c = Composition::PURE_WATER;
    c[Solute::Ca] = alkalinity;
    c[Solute::Dic] = alkalinity * 2.0;
    c
}

/// The grower's own threshold where it is known, else the shipped one.
fn threshold(request: &AdviceRequest) -> ResidueThreshold {
    let shipped = ResidueThreshold::shipped();
    request.site.grower.residue_threshold_g_m2.map_or(shipped, |median| {
        let log_sd = request.site.grower.residue_threshold_log_sd;
        ResidueThreshold::new(
            ArealMassDensity::new::<gram_per_square_meter>(median),
            log_sd.map_or(shipped.log_sd(), Ratio::new::<ratio>),
        )
    })
}

/// That the grower's own threshold is used, and how far it is from the shipped one.
fn own_threshold(request: &AdviceRequest) -> Option<Reason> {
    let grower = &request.site.grower;
    let own = grower.residue_threshold_g_m2?;
    let shipped = ResidueThreshold::shipped().median().get::<gram_per_square_meter>();
    let learned = match grower.residue_threshold_looks {
        Some(1) => ", learned from one look at dry leaves".to_owned(),
        Some(n) => format!(", learned from {n} looks at dry leaves"),
        None => String::new(),
    };
    let mut reason = Reason::new(
        ReasonCode::ThresholdLearned,
        format!(
            "Residue is taken to be seen here from about {own:.3} g/m\u{b2} on{learned}; the \
             shipped value is {shipped:.3}."
        ),
    )
    .with("residue_threshold_g_m2", own)
    .with("shipped_g_m2", shipped);
    if let Some(n) = grower.residue_threshold_looks {
        reason = reason.with("looks", n);
    }
    Some(reason)
}

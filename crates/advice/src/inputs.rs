//! Feed, water, pressure, tolerance and threshold of a request, worked out once.

use crate::reason::{Draft, Reason};
use crate::reason_code::ReasonCode;
use crate::request::AdviceRequest;
use guardcell_error::{Code, Error};
use guardcell_film::{Mix, ResidueThreshold};
use guardcell_reference::parameters::practice as p;
use guardcell_reference::{Composition, Solute};
use guardcell_solution::{Label, Product, Water};
use guardcell_units::basis::{CaCO3, Of};
use guardcell_units::quantity::{
    ArealMassDensity, Pressure, Ratio, ThermodynamicTemperature, mg_per_l, mmol_per_l,
};
use guardcell_units::uom::si::{
    areal_mass_density::gram_per_square_meter, molar_concentration::mole_per_cubic_meter,
    molar_mass::gram_per_mole, pressure::pascal, ratio::ratio,
    thermodynamic_temperature::degree_celsius,
};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

/// Which water a mix is made with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum MixWater {
    /// The water of the request with so many per cent of it replaced by rain.
    WithRain(u8),
    /// A hard water, to see what an unknown water could do.
    Hard,
}

impl MixWater {
    /// The water of the request as it is.
    pub(crate) const OWN: Self = Self::WithRain(0);
}

/// A mix is remembered by strength (in µg/L), the temperature of its table and the water.
type MixKey = (u64, i32, MixWater);

/// Feed, water, pressure, tolerance and threshold of a request.
#[derive(Debug)]
pub(crate) struct Inputs<'a> {
    pub(crate) request: &'a AdviceRequest,
    pub(crate) product: Option<Product>,
    pub(crate) water: Water,
    pub(crate) tolerance: f64,
    pub(crate) threshold: ResidueThreshold,
    pub(crate) pressure: Pressure,
    pub(crate) plain: Mix,
    mixes: RefCell<BTreeMap<MixKey, Rc<Mix>>>,
    /// Number of the group whose proposed strength holds for a plant.
    group_of: BTreeMap<&'a str, usize>,
}

/// Mixes are prepared for every fifth degree; between them their results are interpolated.
/// Deliquescence moves by about 1 % relative humidity over this step.
const MIX_STEP_C: f64 = 5.0;
/// The mixes hold the temperature within 0 to 50 °C.
const MIX_STEPS: f64 = 10.0;

/// Two prepared mixes around a temperature, and how far it lies towards the second.
pub(crate) struct Mixes {
    pub(crate) lower: Rc<Mix>,
    pub(crate) upper: Rc<Mix>,
    pub(crate) towards_upper: f64,
}

impl<'a> Inputs<'a> {
    pub(crate) fn new(request: &'a AdviceRequest) -> Result<Self, Error> {
        let product =
            request.feed.as_ref().map(Product::new).transpose().map_err(|e| e.within("/feed"))?;
        request.feed.as_ref().map_or(Ok(()), allowed_on_leaves).map_err(|e| e.within("/feed"))?;
        let water = match &request.water {
            Some(report) => Water::from_report(report).map_err(|e| e.within("/water"))?,
            None => Water::pure(),
        };
        Ok(Self {
            request,
            product,
            water,
            tolerance: request.site.grower.tolerance.unwrap_or(p::TOLERANCE.number()),
            threshold: threshold(request),
            pressure: pressure_at(request.site.elevation_m),
            plain: Mix::pure_water(),
            mixes: RefCell::default(),
            group_of: groups(request),
        })
    }

    /// What the journal proposes for a plant, mg/L, and the strength that left white, where that
    /// is why.
    pub(crate) fn proposed(&self, plant: &str) -> (Option<f64>, Option<f64>) {
        let grower = &self.request.site.grower;
        match self.group_of.get(plant).and_then(|i| grower.next_strengths.get(*i)) {
            Some(g) => (g.next_strength_mg_l, g.next_strength_after_white_at_mg_l),
            None => (grower.next_strength_mg_l, grower.next_strength_after_white_at_mg_l),
        }
    }

    /// What one visible residue costs, in full doses forgone: who accepts it more readily than
    /// others counts it for less, in the same proportion.
    pub(crate) fn residue_cost(&self) -> f64 {
        p::RESIDUE_COST.number() * p::TOLERANCE.number() / self.tolerance
    }

    /// Feed and water together, as they dry, at a temperature.
    pub(crate) fn mixes(&self, mg_l: f64, temp_c: f64, water: MixWater) -> Mixes {
        let place = (temp_c / MIX_STEP_C).clamp(0.0, MIX_STEPS);
        let lower = place.floor();
        // Strengths are 0 to a few thousand mg/L.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "small")]
        let (strength, step) = ((mg_l * 1000.0).round() as u64, lower as i32);
        let first = self.mix((strength, step, water));
        let towards_upper = place - lower;
        let upper = if towards_upper > 0.0 {
            self.mix((strength, step + 1, water))
        } else {
            Rc::clone(&first)
        };
        Mixes { lower: first, upper, towards_upper }
    }

    /// One mix for a drying time: that of water hardly depends on the temperature of the mix.
    pub(crate) fn nearest_mix(&self, mg_l: f64, temp_c: f64, water: MixWater) -> Rc<Mix> {
        let mixes = self.mixes(mg_l, temp_c, water);
        if mixes.towards_upper < 0.5 { mixes.lower } else { mixes.upper }
    }

    fn mix(&self, key: MixKey) -> Rc<Mix> {
        if let Some(known) = self.mixes.borrow().get(&key) {
            return Rc::clone(known);
        }
        let (strength_ug_l, step, water) = key;
        let temperature =
            ThermodynamicTemperature::new::<degree_celsius>(f64::from(step) * MIX_STEP_C);
        let water = match water {
            MixWater::WithRain(percent) => {
                self.water.composition() * (1.0 - f64::from(percent.min(100)) / 100.0)
            }
            MixWater::Hard => hard_water(),
        };
        let feed = self.feed(strength_ug_l as f64 / 1000.0);
        let mix = Rc::new(Mix::new(&(feed + water), temperature));
        self.mixes.borrow_mut().insert(key, Rc::clone(&mix));
        mix
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

    /// The share of the dissolved feed that is urea, by mass.
    pub(crate) fn urea_share(&self) -> f64 {
        urea_share(&self.feed(PROBE_MG_L))
    }

    /// What holds for every plant.
    pub(crate) fn cautions(&self) -> Vec<Reason> {
        let general = [
            (ReasonCode::LabelRules, None),
            (ReasonCode::RootTips, Some("common practice, no source")),
            (ReasonCode::CrownWater, Some("common practice, no source")),
            (ReasonCode::AerosolCare, None),
            (ReasonCode::WatchResidue, Some("common practice, no source")),
        ];
        let mut out: Vec<Reason> = general
            .into_iter()
            .map(|(code, source)| {
                let draft = Draft::new(code);
                match source {
                    Some(source) => draft.source(source).done(),
                    None => draft.done(),
                }
            })
            .collect();
        out.insert(1, lower_side());
        out.extend(own_threshold(self.request));
        if self.product.is_none() {
            out.push(Draft::new(ReasonCode::FeedUnknown).done());
        }
        let scale = self.water.residue().scale_caco3_mg_l;
        if scale > p::SCALE_WORTH_SAYING.mg_per_l() {
            out.push(
                Draft::new(ReasonCode::ScaleFromWater)
                    .with("scale_caco3_mg_l", scale.round())
                    .variant("caution"),
            );
        }
        out
    }
}

/// Refuses a feed whose label, or that of a supplement, does not allow it on leaves.
pub(crate) fn allowed_on_leaves(feed: &Label) -> Result<(), Error> {
    let pointer = if feed.foliar == Some(false) {
        "/foliar".to_owned()
    } else if let Some(i) = feed.with.iter().position(|s| s.label.foliar == Some(false)) {
        format!("/with/{i}/label/foliar")
    } else {
        return Ok(());
    };
    let detail = "the label does not allow this product on leaves";
    Err(Error::new(Code::Conflict, detail, "choose a product whose label allows it").at(pointer))
}

/// Which side of the leaves to spray first, from the species whose sides were counted.
fn lower_side() -> Reason {
    let sides = guardcell_reference::stomata::sides();
    let draft = Draft::new(ReasonCode::LowerSideFirst)
        .with("species", sides.species)
        .with("lower_only", sides.lower_only);
    sides.sources.iter().fold(draft, |d, key| d.source(key)).done()
}

/// The strength at which the make-up of a feed is looked at, mg/L.
pub(crate) const PROBE_MG_L: f64 = 100.0;

/// The share of a feed that is urea, by mass, from what it brings at [`PROBE_MG_L`].
pub(crate) fn urea_share(feed: &Composition) -> f64 {
    // 1 mol/m³ is 1 mmol/L, so moles times molar mass is mg/L.
    let mg_l = feed[Solute::Urea].get::<mole_per_cubic_meter>()
        * Solute::Urea.molar_mass().get::<gram_per_mole>();
    (mg_l / PROBE_MG_L).clamp(0.0, 1.0)
}

/// Mean air pressure at a height by the standard atmosphere, 101.325 kPa at sea level (ICAO 1993,
/// as in ASHRAE 2017 chapter 1, equation 3).
fn pressure_at(elevation_m: f64) -> Pressure {
    Pressure::new::<pascal>(101_325.0 * (1.0 - 2.25577e-5 * elevation_m).powf(5.2559))
}

/// A calcium bicarbonate water of the alkalinity that is tried for an unknown hard one.
fn hard_water() -> Composition {
    let alkalinity = Of::<CaCO3>::from_mg_per_l(p::HARD_WATER_ALKALINITY.mg_per_l()).molar();
    let mut c = Composition::PURE_WATER;
    c[Solute::Ca] = alkalinity;
    c[Solute::Dic] = alkalinity * 2.0;
    c
}

/// The group of each plant that has one; of several the first.
fn groups(request: &AdviceRequest) -> BTreeMap<&str, usize> {
    let mut out = BTreeMap::new();
    for (i, group) in request.site.grower.next_strengths.iter().enumerate() {
        for plant in &group.plants {
            out.entry(plant.as_str()).or_insert(i);
        }
    }
    out
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
    let mut reason = Draft::new(ReasonCode::ThresholdLearned)
        .with("residue_threshold_g_m2", own)
        .with("shipped_g_m2", shipped);
    let variant = match grower.residue_threshold_looks {
        Some(1) => "one-look",
        Some(_) => "looks",
        None => "",
    };
    if let Some(n) = grower.residue_threshold_looks {
        reason = reason.with("looks", n);
    }
    Some(reason.variant(variant))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trial::House;

    // Mixes are made for every fifth degree from 0 to 50 °C.
    #[test]
    fn a_temperature_lies_between_the_mixes_round_it() {
        House::new("2026-06-21T12:00:00Z", 24, 0..=1, |_| (20.0, 70.0, 0.3)).timeline(|line| {
            let at = |temp_c| line.inputs().mixes(300.0, temp_c, MixWater::OWN);
            for (temp_c, below, above, share) in [
                (22.5, 20.0, 25.0, 0.5),
                (21.0, 20.0, 25.0, 0.2),
                (29.0, 25.0, 30.0, 0.8),
                (20.0, 20.0, 20.0, 0.0),
                (-8.0, 0.0, 0.0, 0.0),
                (60.0, 50.0, 50.0, 0.0),
            ] {
                let mixes = at(temp_c);
                assert!((mixes.towards_upper - share).abs() < 1e-9, "{temp_c}");
                assert!(Rc::ptr_eq(&mixes.lower, &at(below).lower), "{temp_c}");
                assert!(Rc::ptr_eq(&mixes.upper, &at(above).lower), "{temp_c}");
                let nearest = line.inputs().nearest_mix(300.0, temp_c, MixWater::OWN);
                let nearer = if share < 0.5 { below } else { above };
                assert!(Rc::ptr_eq(&nearest, &at(nearer).lower), "{temp_c}");
            }
            assert!(!Rc::ptr_eq(&at(20.0).lower, &at(25.0).lower));
        });
    }
}

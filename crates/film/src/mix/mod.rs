//! The dissolved mix of a film: the humidity that keeps it wet, and what turns solid below.

mod equilibrium;
mod ions;
mod mixing;
mod node;
mod walker;

pub use mixing::Mixing;
pub(crate) use node::Node;

use guardcell_reference::parameters::film as data;
use guardcell_reference::salts::Salt;
use guardcell_reference::{Composition, Scale};
use guardcell_units::quantity::{
    MassConcentration, Ratio, ThermodynamicTemperature, in_mg_per_l, mg_per_l,
};
use guardcell_units::uom::si::{ratio::ratio, thermodynamic_temperature::degree_celsius};
use ions::Candidate;
use serde::{Deserialize, Serialize};
use walker::{Walker, bisect};

/// What is on the leaf at a humidity.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "kebab-case")]
pub enum FilmState {
    /// All feed salts are dissolved.
    Wet,
    /// Solids beside a solution that does not dry.
    PartlySolid,
    /// Solids alone (or nothing, for pure water).
    Dry,
}

/// The mix of a solution, prepared once: how its water activity, solids and scale go as it dries.
///
/// Build one for each bucket and reuse it: everything else is a look-up. Temperature enters through
/// the deliquescence humidities; within a few degrees one mix serves.
///
/// Model: ions taken pairwise, water by the Zdanovskii–Stokes–Robinson rule from published Pitzer
/// parameters of the single salts (25 °C), solids by Gibbs–Duhem on the same rule with the few
/// mixing terms that published pairs ask for. Doubts: no double salts; supersaturation before
/// crystals form is not modelled, and makes leaves stay wet below the values given; a pair that
/// was not fitted is met within `mixing_sd` of `data/film.csv`.
#[derive(Clone, Debug)]
pub struct Mix {
    /// From the most dilute (highest water activity) down.
    pub(crate) nodes: Vec<Node>,
    pub(crate) scale_g: f64,
    pub(crate) dissolved_g: f64,
    imbalance: f64,
    wet_above: f64,
    dry_below: f64,
    first_solid: Option<&'static Salt>,
}

/// Lowest humidity that is followed; what is liquid there stays so in any room.
const LOWEST: f64 = 0.08;
/// Dissolved mass in g/L that counts as none: a microgram per litre.
const NOTHING_G: f64 = 1e-6;
const FINE_STEP: f64 = 0.02;
const FINE_BELOW: f64 = 0.92;
const COARSE_STEP: f64 = 0.5;
const COARSE_FROM: f64 = 11.9; // −ln(1 − a) of the most dilute node, inside the tables

impl Mix {
    /// Nothing dissolved.
    #[must_use]
    pub fn pure_water() -> Self {
        Self {
            nodes: Vec::new(),
            scale_g: 0.0,
            dissolved_g: 0.0,
            imbalance: 0.0,
            wet_above: 1.0,
            dry_below: 1.0,
            first_solid: None,
        }
    }

    /// The mix of a composition at a temperature (held between 0 and 50 °C).
    ///
    /// Carbonates of calcium and magnesium are taken out first ([`Scale`]): they fall once the
    /// carbon dioxide has left. The charge that is left is closed as the docs of
    /// [`Self::charge_imbalance`] say.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod film { pub use guardcell_film::*; }
    /// #     pub mod reference { pub use guardcell_reference::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::film::Mix;
    /// use guardcell::reference::{Composition, Solute};
    /// use guardcell::units::{quantity::{ThermodynamicTemperature, mmol_per_l}, uom::si::{ratio::percent, thermodynamic_temperature::degree_celsius}};
    /// let mut c = Composition::PURE_WATER;
    /// c[Solute::K] = mmol_per_l(3.0);
    /// c[Solute::No3] = mmol_per_l(3.0);
    /// let mix = Mix::new(&c, ThermodynamicTemperature::new::<degree_celsius>(25.0));
    /// // Potassium nitrate alone: Greenspan 1977, 93.6 % at 25 °C.
    /// assert!((mix.stays_wet_above().get::<percent>() - 93.6).abs() < 1.5);
    /// ```
    #[must_use]
    pub fn new(composition: &Composition, temperature: ThermodynamicTemperature) -> Self {
        Self::with_mixing(composition, temperature, &Mixing::shipped())
    }

    /// The mix with other terms of the mixing rule than the shipped ones, for fitting them.
    #[must_use]
    pub fn with_mixing(
        composition: &Composition,
        temperature: ThermodynamicTemperature,
        mixing: &Mixing,
    ) -> Self {
        let c = temperature.get::<degree_celsius>();
        let c = if c.is_finite() { c.clamp(0.0, 50.0) } else { 25.0 };
        let temperature = ThermodynamicTemperature::new::<degree_celsius>(c);
        let scale = Scale::new(composition);
        let closed = ions::closed(composition, &scale);
        let dissolved_g: f64 =
            closed.species.iter().zip(&closed.masses_g_mol).map(|(n, g)| n * g / 1000.0).sum();
        // What rounding leaves after the scale is taken out is nothing.
        let dissolved_g = if dissolved_g > NOTHING_G { dissolved_g } else { 0.0 };
        let mut mix = Self {
            scale_g: in_mg_per_l(scale.mass()) / 1000.0,
            dissolved_g,
            imbalance: closed.imbalance,
            ..Self::pure_water()
        };
        if dissolved_g > 0.0 {
            let candidates = ions::candidates(&closed.species, temperature, mixing.hydrate_share);
            mix.follow(&closed, &candidates, mixing);
        }
        mix
    }

    /// Follows the mix down in water activity and keeps the path.
    fn follow(&mut self, closed: &ions::Closed, candidates: &[Candidate], mixing: &Mixing) {
        let mut state = Walker::new(closed, candidates, mixing);
        let mut x = COARSE_FROM;
        let mut path: Vec<f64> = Vec::with_capacity(128);
        while 1.0 - (-x).exp() > FINE_BELOW {
            path.push(1.0 - (-x).exp());
            x -= COARSE_STEP;
        }
        let steps = ((FINE_BELOW - LOWEST) / FINE_STEP).round() as u32;
        path.extend((0..=steps).map(|i| FINE_BELOW - FINE_STEP * f64::from(i)));
        self.wet_above = LOWEST;
        self.dry_below = 0.0;
        for a in path {
            let before = state.clone();
            let wet = state.step(a);
            if self.first_solid.is_none()
                && let Some(i) = state.first_soluble_solid()
            {
                self.first_solid = Some(candidates[i].salt);
                let high = self.nodes.last().map_or(1.0, |n| n.a);
                self.wet_above = bisect(a, high, |a| {
                    let mut s = before.clone();
                    s.step(a);
                    s.first_soluble_solid().is_some()
                });
                self.push_soluble_edge(&before);
            }
            if wet {
                self.push(state.node(a));
                continue;
            }
            let high = self.nodes.last().map_or(1.0, |n| n.a);
            self.dry_below = bisect(a, high, |a| !before.clone().step(a));
            let mut last = before.clone();
            if last.step(self.dry_below + 1e-9) {
                self.push(last.node(self.dry_below + 1e-9));
            }
            self.push(state.node(self.dry_below));
            break;
        }
        if self.dry_below > self.wet_above {
            self.wet_above = self.dry_below;
        }
    }

    /// A node where the first soluble solid appears, so that the path has its kink in place.
    fn push_soluble_edge(&mut self, before: &Walker<'_>) {
        let a = self.wet_above;
        let mut s = before.clone();
        if self.nodes.last().is_none_or(|n| n.a > a + 1e-6) && s.step(a) {
            self.push(s.node(a));
        }
    }

    /// Adds a node. Crystals that have formed are kept: where the parameters, stretched to very
    /// concentrated solutions, would dissolve them again in drier air, the split stays as it was.
    fn push(&mut self, mut node: Node) {
        if let Some(last) = self.nodes.last() {
            let (was, is) = (last.solids_g - last.bound_g, node.solids_g - node.bound_g);
            let bound_g = node.bound_g.max(last.bound_g);
            if was > is {
                node = Node { a: node.a, k: node.k, ..*last };
            }
            node.solids_g = was.max(is) + bound_g;
            node.bound_g = bound_g;
        }
        self.nodes.push(node);
    }

    /// The mass of everything dissolved in the solution as sprayed, scale formers included as the
    /// carbonates they become.
    #[must_use]
    pub fn strength(&self) -> MassConcentration {
        mg_per_l((self.dissolved_g + self.scale_g) * 1000.0)
    }

    /// The carbonates that fall out as the film dries, per volume of the solution as sprayed.
    #[must_use]
    pub fn scale(&self) -> MassConcentration {
        mg_per_l(self.scale_g * 1000.0)
    }

    /// The share of charge that could not be closed and was omitted (signed: positive if cations
    /// were in excess). Carbon takes up to two charges and phosphate one or two, as the cations
    /// ask; a surplus of anions is that of a strong acid or of a missing cation.
    #[must_use]
    pub fn charge_imbalance(&self) -> Ratio {
        Ratio::new::<ratio>(self.imbalance)
    }

    /// The humidity at and above which every feed salt is dissolved; 100 % for pure water. Gypsum
    /// and carbonate scale are not counted: they fall out of the wettest film.
    #[must_use]
    pub fn stays_wet_above(&self) -> Ratio {
        Ratio::new::<ratio>(self.wet_above)
    }

    /// The mutual deliquescence humidity: below it nothing liquid is left. 0 where the mix does not
    /// dry at any humidity that is followed (8 %).
    #[must_use]
    pub fn dry_below(&self) -> Ratio {
        Ratio::new::<ratio>(self.dry_below)
    }

    /// The soluble salt that forms first as the film dries; none for pure water.
    #[must_use]
    pub const fn first_solid(&self) -> Option<&'static Salt> {
        self.first_solid
    }

    /// What is on the leaf when it has come to equilibrium with a humidity.
    #[must_use]
    pub fn state_at(&self, humidity: Ratio) -> FilmState {
        let a = humidity.get::<ratio>();
        if a >= self.wet_above {
            FilmState::Wet
        } else if a > self.dry_below {
            FilmState::PartlySolid
        } else {
            FilmState::Dry
        }
    }

    /// The share of the feed salts (by dry mass, without scale) that is solid at equilibrium with a
    /// humidity.
    ///
    /// ```
    /// # mod guardcell {
    /// #     pub mod film { pub use guardcell_film::*; }
    /// #     pub mod units { pub use guardcell_units::*; }
    /// # }
    /// use guardcell::film::Mix;
    /// use guardcell::units::{quantity::Ratio, uom::si::ratio::{percent, ratio}};
    /// assert_eq!(Mix::pure_water().solid_share(Ratio::new::<percent>(50.0)).get::<ratio>(), 0.0);
    /// ```
    #[must_use]
    pub fn solid_share(&self, humidity: Ratio) -> Ratio {
        let share = if self.dissolved_g > 0.0 {
            let node = self.at(humidity.get::<ratio>());
            ((node.solids_g - node.bound_g) / self.dissolved_g).clamp(0.0, 1.0)
        } else {
            0.0
        };
        Ratio::new::<ratio>(share)
    }

    /// The path at a water activity, per litre sprayed.
    pub(crate) fn at(&self, a: f64) -> Node {
        let (Some(first), Some(last)) = (self.nodes.first(), self.nodes.last()) else {
            return Node {
                a,
                k: 0.0,
                salts_g: 0.0,
                urea_g: 0.0,
                solids_g: 0.0,
                solid_urea_g: 0.0,
                bound_g: 0.0,
            };
        };
        if a >= first.a {
            return Node { a: a.min(1.0 - 1e-12), ..*first };
        }
        if a <= last.a {
            return Node { a, ..*last };
        }
        let below = self.nodes.partition_point(|n| n.a > a); // 1..len, by the two tests above
        Node::between(&self.nodes[below], &self.nodes[below - 1], a)
    }
}

impl Mix {
    /// The water activity at which the mix holds this much water, in g per litre sprayed.
    pub(crate) fn activity_at_water(&self, water_g: f64) -> f64 {
        let (Some(first), Some(last)) = (self.nodes.first(), self.nodes.last()) else {
            return 1.0;
        };
        if water_g >= first.water_g() {
            return water_g / (water_g + first.k); // k = W (1 − a)/a
        }
        if water_g <= last.water_g() {
            return last.a;
        }
        let below = self.nodes.partition_point(|n| n.water_g() > water_g); // 1..len, as in `at`
        let (wet, dry) = (&self.nodes[below - 1], &self.nodes[below]);
        // Straight in 1/W, which is nearly straight in a; from the wetter node where the drier holds none.
        let (w1, w2) = (wet.water_g(), dry.water_g().max(1e-9));
        let s = ((1.0 / water_g - 1.0 / w1) / (1.0 / w2 - 1.0 / w1)).clamp(0.0, 1.0);
        wet.a + s * (dry.a - wet.a)
    }

    /// Concentration of the solution at a point of the path, in g/L of solution.
    pub(crate) fn concentration(node: &Node) -> f64 {
        let solutes = node.salts_g + node.urea_g;
        let litres = node.water_g() / data::WATER_DENSITY.kg_per_m3()
            + solutes / 1000.0 * data::SOLUTE_SPECIFIC_VOLUME.ml_per_g();
        if litres > 0.0 { solutes / litres } else { 0.0 }
    }
}

#[cfg(test)]
mod tests;

//! The path of a film in water and water activity, and the time it takes.

use crate::mix::{Mix, Node};
use crate::surface::FluxCurve;
use guardcell_reference::parameters::film as data;

/// A film of a mix: the mix gives water against water activity, the load the scale.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Path<'a> {
    pub(crate) mix: &'a Mix,
    /// Kilograms of solution, taken as litres, per m².
    pub(crate) load: f64,
    /// Water in kg/m² at the start.
    pub(crate) start: f64,
}

impl<'a> Path<'a> {
    pub(crate) fn new(mix: &'a Mix, load: f64) -> Self {
        let solutes = (mix.dissolved_g + mix.scale_g) / 1000.0;
        Self { mix, load, start: load * (1.0 - solutes).max(0.0) }
    }

    /// Water in kg/m² at a point of the mix.
    pub(crate) fn water(&self, node: &Node) -> f64 {
        node.water_g() / 1000.0 * self.load
    }

    /// The water activity of the film with this much water in kg/m².
    pub(crate) fn activity(&self, water: f64) -> f64 {
        if self.load > 0.0 { self.mix.activity_at_water(water / self.load * 1000.0) } else { 1.0 }
    }

    /// The water in kg/m² at which the leaf counts as dry to the touch.
    pub(crate) fn dry_water(&self) -> f64 {
        if self.mix.dissolved_g > 0.0 {
            (data::DAMP_LIMIT.g_per_m2() / 1000.0).min(data::DAMP_SHARE.number() * self.start)
        } else {
            0.0
        }
    }

    /// Water in kg/m² that stays at a resting activity.
    pub(crate) fn resting_water(&self, resting: f64) -> f64 {
        if self.mix.dissolved_g > 0.0 {
            if resting >= 1.0 {
                self.start
            } else {
                self.water(&self.mix.at(resting)).min(self.start)
            }
        } else if resting >= 1.0 {
            self.start
        } else {
            0.0
        }
    }

    /// The highest concentration in g/L on the way to a resting activity.
    pub(crate) fn peak_g_l(&self, resting: f64) -> f64 {
        let at_start = self.mix.dissolved_g + self.mix.scale_g;
        let on_the_way = self
            .mix
            .nodes
            .iter()
            .filter(|n| n.a >= resting && n.k > 0.0)
            .map(Mix::concentration)
            .fold(at_start, f64::max);
        let last = self.mix.at(resting);
        if last.k > 0.0 && self.water(&last) < self.start {
            on_the_way.max(Mix::concentration(&last))
        } else {
            on_the_way
        }
    }

    /// Seconds from the start until this much water in kg/m² is left; `None` if it never is.
    pub(crate) fn seconds_to(&self, target: f64, curve: &FluxCurve) -> Option<f64> {
        if self.start <= target {
            return Some(0.0);
        }
        let mut water = self.start;
        let mut flux = curve.at(self.activity(water));
        let mut seconds = 0.0;
        for node in &self.mix.nodes {
            let next = self.water(node);
            if next >= water {
                continue;
            }
            let (next, a) =
                if next <= target { (target, self.activity(target)) } else { (next, node.a) };
            let next_flux = curve.at(a);
            seconds += leg(water - next, flux, next_flux)?;
            if next <= target {
                return Some(seconds);
            }
            (water, flux) = (next, next_flux);
        }
        // Pure water, or a mix that stays liquid down to the driest node: the flux no longer changes.
        let to_go = water - target;
        (flux > 0.0 && self.mix.nodes.is_empty()).then(|| seconds + to_go / flux)
    }
}

/// Seconds for a loss of water in kg/m² while the flux goes from one value to another, straight in
/// the water; `None` if the flux stops on the way.
pub(crate) fn leg(loss: f64, from: f64, to: f64) -> Option<f64> {
    if from <= 0.0 || to <= 0.0 {
        return None;
    }
    let change = to / from - 1.0;
    Some(if change.abs() < 1e-6 { loss / from } else { loss * change.ln_1p() / (to - from) })
}

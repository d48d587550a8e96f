//! The calls of this crate.

use crate::recipe::Target;
use guardcell_call::{Call, Error, Group, Work};

/// What to weigh of which product for a target, in this water.
#[derive(Clone, Copy, Debug)]
pub struct Recipe;

impl Call for Recipe {
    type Request = crate::RecipeRequest;
    type Response = crate::RecipeResponse;
    const NAME: &'static str = "recipe";
    const PATH: &'static str = "recipes";
    const GROUP: Group = Group::Solution;
    const SUMMARY: &'static str = "What to weigh of which product for a target, in this water";
    const DESCRIPTION: &'static str = "Solves for the masses of the products that reach feed \
        strength or nutrient targets within ceilings, rounds them to what the scale can weigh, and \
        predicts the conductivity, pH and ions of the result. A target that cannot be reached is \
        refused with what blocks it.";
    const EXAMPLE: &'static str = include_str!("../calls/recipe.json");

    fn work(request: &crate::RecipeRequest) -> Work {
        // Each reading of a meter among targets and ceilings is a tangent in every product, found
        // anew some ten times; the programme again for each ceiling that is in the way.
        let count = |n: usize| n as u64;
        let products = count(request.products.len());
        let is_ec = |t: &&Target| matches!(t, Target::Ec25 { .. } | Target::Ec25AboveWater { .. });
        let ec = count(request.targets.iter().filter(is_ec).count())
            + u64::from(request.ceilings.ec25_us_cm.is_some());
        let linear = 10 * (count(request.targets.len()) + 4);
        Work::of(2_000 + products * (linear + 3_000 * ec), "products × targets")
    }

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        crate::recipe(request)
    }
}

/// A composition that is found by its conductivity: some hundred equilibria.
const BY_CONDUCTIVITY: Work = Work::of(15_000, "");

/// A water report completed, with headroom, blend and residue.
#[derive(Clone, Copy, Debug)]
pub struct Water;

impl Call for Water {
    type Request = crate::WaterRequest;
    type Response = crate::WaterResponse;
    const NAME: &'static str = "water";
    const PATH: &'static str = "waters";
    const GROUP: Group = Group::Solution;
    const SUMMARY: &'static str = "A water report completed, with headroom, blend and residue";
    const DESCRIPTION: &'static str = "Completes a partial water report (ions, hardness, alkalinity, \
        conductivity) by charge balance and conductivity, says which figures are assumed, and \
        gives the room left below a conductivity ceiling, the blend with rain water that meets a \
        target, and the residue the water leaves alone.";
    const EXAMPLE: &'static str = include_str!("../calls/water.json");

    fn work(_: &crate::WaterRequest) -> Work {
        BY_CONDUCTIVITY
    }

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        crate::water(request)
    }
}

/// Conductivity, pH, species and saturation of one composition.
#[derive(Clone, Copy, Debug)]
pub struct Solution;

impl Call for Solution {
    type Request = crate::SolutionRequest;
    type Response = crate::SolutionResponse;
    const NAME: &'static str = "solution";
    const PATH: &'static str = "solutions";
    const GROUP: Group = Group::Solution;
    const SUMMARY: &'static str = "Conductivity, pH, species and saturation of one composition";
    const DESCRIPTION: &'static str = "Solves the chemical equilibrium of the given totals (ion \
        pairs, acids, carbonate, activity) and computes the conductivity from the species. Valid \
        from 0 to 40 °C and up to an ionic strength of about 1 mol/kg.";
    const EXAMPLE: &'static str = include_str!("../calls/solution.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        crate::analyse(request)
    }
}

/// The feed strength that a meter reading indicates.
#[derive(Clone, Copy, Debug)]
pub struct Meter;

impl Call for Meter {
    type Request = crate::MeterRequest;
    type Response = crate::MeterResponse;
    const NAME: &'static str = "meter";
    const PATH: &'static str = "meters";
    const GROUP: Group = Group::Solution;
    const SUMMARY: &'static str = "The feed strength that a meter reading indicates";
    const DESCRIPTION: &'static str = "Inverts the conductivity model for one product in one water: \
        from a reading in µS/cm or on a stated ppm scale to feed strength and ppm N, with the range \
        that the accuracy of the meter allows.";
    const EXAMPLE: &'static str = include_str!("../calls/meter.json");

    fn work(_: &crate::MeterRequest) -> Work {
        BY_CONDUCTIVITY
    }

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        crate::meter(request)
    }
}

/// How much acid brings a water to a target.
#[derive(Clone, Copy, Debug)]
pub struct Acid;

impl Call for Acid {
    type Request = crate::AcidRequest;
    type Response = crate::AcidResponse;
    const NAME: &'static str = "acid";
    const PATH: &'static str = "acids";
    const GROUP: Group = Group::Solution;
    const SUMMARY: &'static str = "How much acid brings a water to a pH or alkalinity";
    const DESCRIPTION: &'static str = "Titrates the water with the acid as bought and gives the \
        volume or mass to add, the nutrients it brings, and the safety notes. Always add acid to \
        water and check the pH with a meter.";
    const EXAMPLE: &'static str = include_str!("../calls/acid.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        crate::acid(request)
    }
}

/// Which concentrates may share a stock tank.
#[derive(Clone, Copy, Debug)]
pub struct Tank;

impl Call for Tank {
    type Request = crate::TankRequest;
    type Response = crate::TankResponse;
    const NAME: &'static str = "tank";
    const PATH: &'static str = "tanks";
    const GROUP: Group = Group::Solution;
    const SUMMARY: &'static str = "Which concentrates may share a stock tank";
    const DESCRIPTION: &'static str = "Checks each product at stock strength for solubility at the \
        coldest temperature and each pair for salts that would precipitate, and divides the \
        products over as few tanks as possible.";
    const EXAMPLE: &'static str = include_str!("../calls/tank.json");

    fn work(request: &crate::TankRequest) -> Work {
        let products = request.products.len() as u64;
        Work::of(2_000 + 300 * products * products, "products squared")
    }

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        crate::tank(request)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answers<C: Call>() {
        let request: C::Request = serde_json::from_str(C::EXAMPLE).unwrap();
        let answer = C::run(&request);
        assert!(answer.is_ok(), "{}: {:?}", C::NAME, answer.err());
    }

    #[test]
    fn every_example_is_answered() {
        answers::<Recipe>();
        answers::<Water>();
        answers::<Solution>();
        answers::<Meter>();
        answers::<Acid>();
        answers::<Tank>();
    }
}

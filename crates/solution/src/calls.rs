//! The calls of this crate.

use guardcell_call::{Call, Error, Group};

/// What to weigh of which product for a target, in this water.
#[derive(Clone, Copy, Debug)]
pub struct Recipe;

impl Call for Recipe {
    type Request = crate::RecipeRequest;
    type Response = crate::Recipe;
    const NAME: &'static str = "recipe";
    const PATH: &'static str = "recipes";
    const GROUP: Group = Group::Solution;
    const SUMMARY: &'static str = "What to weigh of which product for a target, in this water";
    const DESCRIPTION: &'static str = "Solves for the masses of the products that reach feed \
        strength or nutrient targets within ceilings, rounds them to what the scale can weigh, and \
        predicts the conductivity, pH and ions of the result. A target that cannot be reached is \
        refused with what blocks it.";
    const EXAMPLE: &'static str = include_str!("../calls/recipe.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::recipe(request)?)
    }
}

/// A water report completed, with headroom, blend and residue.
#[derive(Clone, Copy, Debug)]
pub struct Water;

impl Call for Water {
    type Request = crate::WaterRequest;
    type Response = crate::WaterAnswer;
    const NAME: &'static str = "water";
    const PATH: &'static str = "waters";
    const GROUP: Group = Group::Solution;
    const SUMMARY: &'static str = "A water report completed, with headroom, blend and residue";
    const DESCRIPTION: &'static str = "Completes a partial water report (ions, hardness, alkalinity, \
        conductivity) by charge balance and conductivity, says which figures are assumed, and \
        gives the room left below a conductivity ceiling, the blend with rain water that meets a \
        target, and the residue the water leaves alone.";
    const EXAMPLE: &'static str = include_str!("../calls/water.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::water(request)?)
    }
}

/// Conductivity, pH, species and saturation of one composition.
#[derive(Clone, Copy, Debug)]
pub struct Solution;

impl Call for Solution {
    type Request = crate::SolutionRequest;
    type Response = crate::SolutionReport;
    const NAME: &'static str = "solution";
    const PATH: &'static str = "solutions";
    const GROUP: Group = Group::Solution;
    const SUMMARY: &'static str = "Conductivity, pH, species and saturation of one composition";
    const DESCRIPTION: &'static str = "Solves the chemical equilibrium of the given totals (ion \
        pairs, acids, carbonate, activity) and computes the conductivity from the species. Valid \
        from 0 to 40 °C and up to an ionic strength of about 1 mol/kg.";
    const EXAMPLE: &'static str = include_str!("../calls/solution.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::analyse(request)?)
    }
}

/// The feed strength that a meter reading indicates.
#[derive(Clone, Copy, Debug)]
pub struct Meter;

impl Call for Meter {
    type Request = crate::MeterRequest;
    type Response = crate::MeterAnswer;
    const NAME: &'static str = "meter";
    const PATH: &'static str = "meters";
    const GROUP: Group = Group::Solution;
    const SUMMARY: &'static str = "The feed strength that a meter reading indicates";
    const DESCRIPTION: &'static str = "Inverts the conductivity model for one product in one water: \
        from a reading in µS/cm or on a stated ppm scale to feed strength and ppm N, with the range \
        that the accuracy of the meter allows.";
    const EXAMPLE: &'static str = include_str!("../calls/meter.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::meter(request)?)
    }
}

/// How much acid brings a water to a target.
#[derive(Clone, Copy, Debug)]
pub struct Acid;

impl Call for Acid {
    type Request = crate::AcidRequest;
    type Response = crate::AcidAnswer;
    const NAME: &'static str = "acid";
    const PATH: &'static str = "acids";
    const GROUP: Group = Group::Solution;
    const SUMMARY: &'static str = "How much acid brings a water to a pH or alkalinity";
    const DESCRIPTION: &'static str = "Titrates the water with the acid as bought and gives the \
        volume or mass to add, the nutrients it brings, and the safety notes. Always add acid to \
        water and check the pH with a meter.";
    const EXAMPLE: &'static str = include_str!("../calls/acid.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::acid(request)?)
    }
}

/// Which concentrates may share a stock tank.
#[derive(Clone, Copy, Debug)]
pub struct Tank;

impl Call for Tank {
    type Request = crate::TankRequest;
    type Response = crate::TankAnswer;
    const NAME: &'static str = "tank";
    const PATH: &'static str = "tanks";
    const GROUP: Group = Group::Solution;
    const SUMMARY: &'static str = "Which concentrates may share a stock tank";
    const DESCRIPTION: &'static str = "Checks each product at stock strength for solubility at the \
        coldest temperature and each pair for salts that would precipitate, and divides the \
        products over as few tanks as possible.";
    const EXAMPLE: &'static str = include_str!("../calls/tank.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::tank(request)?)
    }
}

impl From<crate::SolutionError> for Error {
    fn from(e: crate::SolutionError) -> Self {
        use crate::SolutionError as S;
        use guardcell_error::Code;
        let (code, place, what, remedy) = match e {
            S::Syntax { place, what, remedy } => (Code::InvalidText, place, what, remedy),
            S::Missing { place, what, remedy } => (Code::Missing, place, what, remedy),
            S::Value { place, what, remedy } => (Code::OutOfRange, place, what, remedy),
            S::Ambiguous { place, what, remedy } => (Code::Conflict, place, what, remedy),
            S::Impossible { place, what, remedy } => (Code::Unreachable, place, what, remedy),
            S::Solver { .. } | S::NotConverged { .. } => return Self::internal(e.to_string()),
            other => return Self::new(Code::OutsideModel, other.to_string(), ""),
        };
        let error = Self::new(code, what, remedy);
        match place {
            crate::Place::Pointer(pointer) => error.at(pointer),
            crate::Place::Line { line, column } => {
                error.on_line(line as u64).at_column(column as u64)
            }
            crate::Place::Whole => error,
        }
    }
}

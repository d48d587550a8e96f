//! How much of which product for a target, in this water.

mod answer;
mod case;
mod ceilings;
mod profile;
mod programme;
mod request;
mod rounding;
mod single;
mod solve;
mod warnings;

pub use answer::{
    Blocking, ElementAmount, MeterPpm, NitrogenForms, RecipeProduct, RecipeResponse, Rounding,
    Spoons, TargetReached,
};
pub use request::{BasisName, Ceilings, RecipeRequest, ScaleResolution, Target, TargetMeaning};
pub use solve::recipe;

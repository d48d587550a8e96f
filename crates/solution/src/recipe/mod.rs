//! How much of which product for a target, in this water.

mod answer;
mod request;
mod solve;

pub use answer::{
    Blocking, ElementAmount, MeterPpm, NitrogenForms, Recipe, RecipeProduct, Rounding, Spoons,
    TargetReached,
};
pub use request::{BasisName, Ceilings, RecipeRequest, ScaleResolution, Target, TargetMeaning};
pub use solve::recipe;

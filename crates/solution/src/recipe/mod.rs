//! How much of which product for a target, in this water.

mod answer;
mod blocking;
mod case;
mod ceilings;
mod linear;
mod profile;
mod programme;
mod request;
mod rounding;
mod single;
mod solve;
mod target;
mod warnings;

pub use answer::{
    Blocking, ElementAmount, MeterPpm, NitrogenForms, RecipeProduct, RecipeResponse,
    RecipeSupplement, Rounding, Spoons, TargetReached,
};
pub use request::{CeilingName, Ceilings, RecipeRequest, ScaleResolution, TargetMeaning};
pub use solve::recipe;
pub use target::{BasisName, Target};

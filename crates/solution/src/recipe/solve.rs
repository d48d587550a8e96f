//! From a request to a recipe.

use super::answer::Recipe;
use super::request::RecipeRequest;
use crate::error::SolutionError;

/// The amounts of the products that reach the targets in this water.
///
/// # Errors
/// [`SolutionError`] with a JSON Pointer into the request for a wrong label, water or target;
/// [`SolutionError::Impossible`] where no amount reaches a single product's target, or the water
/// alone is over a ceiling.
pub fn recipe(request: &RecipeRequest) -> Result<Recipe, SolutionError> {
    let _ = request;
    Err(SolutionError::Solver { what: "recipe".into(), iterations: 0 })
}

//! Hand-computed cases of the plan.

//! A reason with the numbers it rests on.

use crate::code::Code;

/// A number that a reason rests on, for display.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Input {
    /// What it is, ending in its unit if it has one, such as `vpd_kpa`.
    pub name: &'static str,
    /// The number.
    pub value: f64,
}

/// Why an opening is as it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// What it says.
    pub code: Code,
    /// The inputs it rests on; may be empty.
    pub inputs: Vec<Input>,
}

impl Reason {
    /// A reason without inputs.
    #[must_use]
    pub const fn new(code: Code) -> Self {
        Self { code, inputs: Vec::new() }
    }
}

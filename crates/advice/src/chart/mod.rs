//! Pictures: the safe-strength chart and the 24-hour ribbon. Each comes as data, as SVG, as lines
//! for a terminal, and as a text alternative. They are legible in black and white: a number or a
//! pattern stands wherever a shade does.

mod ribbon;
mod ribbon_svg;
mod strength;
mod strength_svg;

pub use ribbon::{DayRibbonRequest, DayRibbonResponse, RibbonAir, RibbonGroup, ribbon};
pub use strength::{
    AirColumn, StrengthCell, StrengthChartRequest, StrengthChartResponse, strength_chart,
};

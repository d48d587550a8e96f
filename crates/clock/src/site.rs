//! A location with its light: what the plants take for day and night.

use crate::lamps::Lamps;
use crate::location::Location;

/// What lights the plants.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Light {
    /// The sun alone.
    Sun,
    /// Lamps alone: a room without daylight.
    Lamps(Lamps),
    /// The sun, and lamps on a timer.
    SunAndLamps(Lamps),
}

/// Whether winter reaches the plants.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Shelter {
    /// In a house, room or case.
    #[default]
    UnderCover,
    /// In the open: on trees, in beds.
    Outdoors,
}

/// A location with its light.
#[derive(Clone, Debug, PartialEq)]
pub struct Site {
    /// Where it is.
    pub location: Location,
    /// What lights it.
    pub light: Light,
    /// Whether it is under cover.
    pub shelter: Shelter,
}

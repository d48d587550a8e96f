//! Limits near the answer, in words.

use crate::decide::{Near, NearKind};
use crate::reason::{Draft, Reason};
use crate::reason_code::ReasonCode;
use guardcell_reference::parameters::film;

pub(super) fn reasons(near: &[Near]) -> Vec<Reason> {
    near.iter().map(reason).collect()
}

fn reason(near: &Near) -> Reason {
    let variant = match (near.kind, near.beyond_mg_l) {
        (NearKind::Drier, None) => "drier-none",
        (NearKind::Drier, Some(_)) => "drier",
        (NearKind::Damper, _) => "damper",
        (NearKind::Moves, _) => "moves",
        (NearKind::Calmer, _) => "calmer",
        (NearKind::Colder, _) => "colder",
        (NearKind::CoolNight, _) => "cool-night",
        (NearKind::WarmerNight, _) => "warmer-night",
    };
    Draft::new(ReasonCode::NearLimit)
        .with("limit", variant)
        .with("value", near.value)
        .with("at", near.at)
        .with("distance", (near.value - near.at).abs())
        .with("beyond_mg_l", near.beyond_mg_l)
        .with("error", film::HUMIDITY_SD.percent())
        .variant(variant)
}

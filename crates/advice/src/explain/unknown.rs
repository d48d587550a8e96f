//! What was not known, in words: what was assumed instead and how to find out.

use super::window::three_digits;
use crate::decide::{UnknownKind, UnknownSpread};
use crate::reason::Unknown;
use crate::site::CheckedArea;

pub(super) fn of_area(unknowns: &[UnknownSpread], area: &CheckedArea) -> Vec<Unknown> {
    unknowns.iter().map(|u| worded(u, area)).collect()
}

fn worded(u: &UnknownSpread, area: &CheckedArea) -> Unknown {
    let name = &area.description.name;
    let (what, assumed, measure) = match u.kind {
        UnknownKind::Threshold => (
            "at which residue this grower sees white".to_owned(),
            "the shipped threshold, calibrated on common practice".to_owned(),
            "note after each round whether you see white, and at which strength",
        ),
        UnknownKind::AirSpeed => (
            format!("the air speed in {name}"),
            "light air".to_owned(),
            "state air_m_s of the area, or hold up a strip of tissue and note still, light, fan, breezy or windy",
        ),
        UnknownKind::Water => (
            "what the water holds".to_owned(),
            "pure water".to_owned(),
            "give the water report: EC, hardness and alkalinity are enough",
        ),
        UnknownKind::Feed => (
            "the feed".to_owned(),
            "salts that turn solid early (potassium sulfate)".to_owned(),
            "give the label of the product",
        ),
        UnknownKind::Hygrometer => (
            format!("how far the hygrometer in {name} is off"),
            format!("nothing; ±{:.0} % was tried", u.points),
            "check it in a closed bag over moist table salt: it should read 75 %",
        ),
        UnknownKind::DayForecast => (
            format!("the air of the following day in {name}"),
            format!("the forecast; ±{:.0} % was tried", u.points),
            "ask again nearer to the time, with newer readings",
        ),
        UnknownKind::DayAssumed => (
            format!("the air of the following day in {name}"),
            format!("a day like the last; ±{:.0} % was tried", u.points),
            "give a forecast, or ask again nearer to the time with newer readings",
        ),
    };
    Unknown {
        what,
        assumed,
        spread: three_digits(u.spread),
        measure: measure.to_owned(),
        plants: Vec::new(),
    }
}

pub(super) fn growth() -> Unknown {
    Unknown {
        what: "whether it grows".into(),
        assumed: "in active growth".into(),
        spread: 1.0,
        measure: "look for a green root tip or a new growth; without one leave it alone".into(),
        plants: Vec::new(),
    }
}

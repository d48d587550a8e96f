//! Where the sun is and when it rises and sets.
//!
//! Positions are those of the SPA (Reda & Andreas 2004) at sea level with a level horizon;
//! sunrise and sunset are when the centre of the disc is at −0.8333° (34′ of refraction and 16′
//! of radius), civil twilight at −6°. Hills, roofs and shade cloth are not known here.

mod crossing;
mod date;
mod event;
mod position;

pub(crate) use crossing::HalfDays;
pub use date::{Sun, SunCourse, sun_on};
pub use event::{SunEvent, SunEventKind, sun_events};
pub use position::sun_elevation;

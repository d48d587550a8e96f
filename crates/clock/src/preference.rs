//! Which opening to use first: common practice, no source.

use crate::air::Hour;
use crate::calendar::DAY_SECONDS;
use crate::code::Code;
use crate::interval::{Interval, hours};
use crate::light_hours::{LightHours, overlap};
use crate::opening::Preference;
use crate::phase::Phase;
use crate::site::Shelter;
use guardcell_reference::PeakTime;
use guardcell_reference::parameters::clock as p;

/// The last rank that practice still allows; beyond it, practice is against.
const ALLOWED: u8 = 3;
const REFUSED: u8 = 4;

/// The rank (1 is best) and why. `mixed` if the plant may run either pathway.
pub(crate) fn rank(
    interval: &Interval,
    light: &LightHours,
    air: &[Hour],
    mixed: bool,
) -> Preference {
    let (rank, code) = match (interval.phase, interval.part) {
        (Phase::PhaseI, Some(PeakTime::PreDawn)) => (1, Code::CamBeforeDawnBest),
        (Phase::PhaseI, Some(PeakTime::Evening)) => match dusk(interval, light, air) {
            (2, code) => (3, code), // it is dark already: less time to dry
            refused => refused,
        },
        (Phase::PhaseI, _) => (3, Code::CamMidNight),
        (Phase::PhaseII, _) if interval.either => (1, Code::EitherPathwayFirst),
        (Phase::PhaseII, _) => (3, Code::CamAfterDawn),
        (Phase::PhaseIV, _) => dusk(interval, light, air),
        (Phase::DayOpen, Some(PeakTime::Noon)) => (3, Code::C3MiddayDries),
        (Phase::DayOpen, Some(PeakTime::Forenoon)) => (1, Code::C3MorningBest),
        (Phase::DayOpen, _) => (2, Code::C3LaterInDay),
    };
    if mixed && !interval.either && rank < ALLOWED {
        return Preference { rank: rank + 1, code: Code::OnePathwayOnly };
    }
    Preference { rank, code }
}

/// Late afternoon to dusk: only if the plant can be dry, or warm, through the night; not
/// outdoors in winter, nor in a cool room.
fn dusk(interval: &Interval, light: &LightHours, air: &[Hour]) -> (u8, Code) {
    if light.shelter == Shelter::Outdoors {
        let daylight = overlap(&light.sun, interval.start - DAY_SECONDS, interval.start);
        if daylight < hours(p::WINTER_DAY_LENGTH.hours()) {
            return (REFUSED, Code::DuskNotInWinter);
        }
    }
    match night_mean_c(interval, light, air) {
        Some(t) if t < p::COOL_NIGHT.celsius() => (REFUSED, Code::DuskNotInCoolRoom),
        Some(t) if t >= p::WARM_NIGHT.celsius() => (2, Code::CamDuskWarm),
        _ => (2, Code::CamDuskIfDry),
    }
}

/// Mean air temperature of the dark that the interval runs into, if any of it is known.
fn night_mean_c(interval: &Interval, light: &LightHours, air: &[Hour]) -> Option<f64> {
    let i = light.dark.partition_point(|&(_, end)| end <= interval.start);
    let &(start, end) = light.dark.get(i)?;
    let first = air.partition_point(|h| h.end <= start);
    let (mut sum, mut n) = (0.0, 0_u32);
    for hour in air.iter().skip(first).take_while(|h| h.start < end) {
        sum += hour.temperature_c;
        n += 1;
    }
    (n > 0).then(|| sum / f64::from(n))
}

//! Candidate openings in plain seconds, before they become times of day.

use crate::air::Hour;
use crate::{Code, LightHours, PeakTime, Phase};
use guardcell_reference::parameters::clock as p;

/// A stretch of time with one phase and one probability.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Piece {
    pub(crate) start: i64,
    pub(crate) end: i64,
    pub(crate) phase: Phase,
    pub(crate) part: Option<PeakTime>,
    /// Probability of open stomata, 0 … 1.
    pub(crate) open: f64,
    /// Open by C3 and by CAM alike.
    pub(crate) either: bool,
    /// Set of [`Code::bit`].
    pub(crate) codes: u64,
    pub(crate) air: Range,
}

/// The range of the air over a piece; empty where nothing is known of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Range {
    pub(crate) coldest_c: f64,
    pub(crate) warmest_c: f64,
    pub(crate) driest_kpa: f64,
}

impl Range {
    pub(crate) const EMPTY: Self = Self {
        coldest_c: f64::INFINITY,
        warmest_c: f64::NEG_INFINITY,
        driest_kpa: f64::NEG_INFINITY,
    };

    pub(crate) fn with(self, other: Self) -> Self {
        Self {
            coldest_c: self.coldest_c.min(other.coldest_c),
            warmest_c: self.warmest_c.max(other.warmest_c),
            driest_kpa: self.driest_kpa.max(other.driest_kpa),
        }
    }
}

/// Temperatures between which a pathway opens: shut, fully open, fully open, shut.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Temperatures {
    pub(crate) closed_low_c: f64,
    pub(crate) open_low_c: f64,
    pub(crate) open_high_c: f64,
    pub(crate) closed_high_c: f64,
}

pub(crate) const C3: Temperatures = Temperatures {
    closed_low_c: p::C3_TEMPERATURE_CLOSED_LOW.value,
    open_low_c: p::C3_TEMPERATURE_OPEN_LOW.value,
    open_high_c: p::C3_TEMPERATURE_OPEN_HIGH.value,
    closed_high_c: p::C3_TEMPERATURE_CLOSED_HIGH.value,
};

pub(crate) const CAM: Temperatures = Temperatures {
    closed_low_c: p::CAM_TEMPERATURE_CLOSED_LOW.value,
    open_low_c: p::CAM_TEMPERATURE_OPEN_LOW.value,
    open_high_c: p::CAM_TEMPERATURE_OPEN_HIGH.value,
    closed_high_c: p::CAM_TEMPERATURE_CLOSED_HIGH.value,
};

/// Relative stomatal conductance at a vapour pressure deficit: 1 − m ln(D/D₀), within 0 … 1
/// (Oren et al. 1999).
pub(crate) fn vpd_factor(vpd_kpa: f64) -> f64 {
    let d = vpd_kpa / p::STOMATA_VPD_REFERENCE.value;
    if d <= 1.0 {
        return 1.0;
    }
    (1.0 - p::STOMATA_VPD_SLOPE.value * d.ln()).clamp(0.0, 1.0)
}

pub(crate) fn temperature_factor(t_c: f64, t: &Temperatures) -> f64 {
    let rise = (t_c - t.closed_low_c) / (t.open_low_c - t.closed_low_c);
    let fall = (t.closed_high_c - t_c) / (t.closed_high_c - t.open_high_c);
    rise.min(fall).clamp(0.0, 1.0)
}

/// Narrows pieces by the air, hour by hour. Returns the codes of what was cut out.
pub(crate) fn narrow(pieces: &[Piece], hours: &[Hour], t: &Temperatures) -> (Vec<Piece>, u64) {
    let mut out: Vec<Piece> = Vec::with_capacity(pieces.len());
    let mut cut = 0;
    for piece in pieces {
        let mut at = piece.start;
        let first = hours.partition_point(|h| h.end <= at);
        for hour in hours.iter().skip(first) {
            if hour.start >= piece.end {
                break;
            }
            if hour.start > at {
                push(&mut out, unknown_air(piece, at, hour.start));
                at = hour.start;
            }
            let end = hour.end.min(piece.end);
            let (factor, codes) = hour_factor(hour, t);
            if factor < p::STOMATA_OPEN_MINIMUM.value {
                cut |= shut(codes);
            } else {
                push(
                    &mut out,
                    Piece {
                        start: at,
                        end,
                        open: piece.open * factor,
                        codes: piece.codes | codes,
                        air: Range {
                            coldest_c: hour.temperature_c,
                            warmest_c: hour.temperature_c,
                            driest_kpa: hour.vpd_kpa,
                        },
                        ..*piece
                    },
                );
            }
            at = end;
        }
        if at < piece.end {
            push(&mut out, unknown_air(piece, at, piece.end));
        }
    }
    (out, cut)
}

fn unknown_air(piece: &Piece, start: i64, end: i64) -> Piece {
    Piece { start, end, codes: piece.codes | Code::AirUnknown.bit(), ..*piece }
}

fn hour_factor(hour: &Hour, t: &Temperatures) -> (f64, u64) {
    let (dry, warm) = (vpd_factor(hour.vpd_kpa), temperature_factor(hour.temperature_c, t));
    let mut codes = 0;
    if dry < 1.0 {
        codes |= Code::VpdNarrows.bit();
    }
    if warm < 1.0 {
        codes |= if hour.temperature_c < t.open_low_c {
            Code::ColdNarrows.bit()
        } else {
            Code::HeatNarrows.bit()
        };
    }
    (dry * warm, codes)
}

/// The codes of hours left out, from the codes of what narrowed them.
fn shut(narrowed: u64) -> u64 {
    [
        (Code::VpdNarrows, Code::VpdShuts),
        (Code::ColdNarrows, Code::ColdShuts),
        (Code::HeatNarrows, Code::HeatShuts),
    ]
    .iter()
    .filter(|(n, _)| narrowed & n.bit() != 0)
    .fold(0, |set, (_, s)| set | s.bit())
}

/// Appends a piece, joined to the last where it goes on in the same phase and part; the
/// probability of the joined piece is the mean over its time.
pub(crate) fn push(out: &mut Vec<Piece>, piece: Piece) {
    if piece.start >= piece.end {
        return;
    }
    match out.last_mut() {
        Some(last)
            if last.end == piece.start
                && last.phase == piece.phase
                && last.part == piece.part
                && last.either == piece.either =>
        {
            let (a, b) = ((last.end - last.start) as f64, (piece.end - piece.start) as f64);
            last.open = (last.open * a + piece.open * b) / (a + b);
            last.end = piece.end;
            last.codes |= piece.codes;
            last.air = last.air.with(piece.air);
        }
        _ => out.push(piece),
    }
}

/// Appends a piece clipped to the window.
pub(crate) fn push_clipped(out: &mut Vec<Piece>, light: &LightHours, piece: Piece) {
    push(out, Piece { start: piece.start.max(light.from), end: piece.end.min(light.to), ..piece });
}

/// Seconds in a parameter given in minutes.
pub(crate) const fn minutes(value: f64) -> i64 {
    (value * 60.0) as i64
}

/// Seconds in a parameter given in hours.
pub(crate) const fn hours(value: f64) -> i64 {
    (value * 3600.0) as i64
}

#[cfg(test)]
mod tests {
    use super::{C3, temperature_factor, vpd_factor};

    #[test]
    fn vpd_response_follows_its_source() {
        // Oren et al. 1999: gs/gs(1 kPa) = 1 - 0.6 ln D
        for (d, expected) in [(0.5, 1.0), (1.0, 1.0), (2.0, 0.584), (3.0, 0.341), (6.0, 0.0)] {
            assert!((vpd_factor(d) - expected).abs() < 1e-3, "{d} kPa");
        }
    }

    #[test]
    fn temperature_factor_is_a_trapezoid() {
        assert_eq!(temperature_factor(-10.0, &C3), 0.0);
        assert_eq!(temperature_factor(20.0, &C3), 1.0);
        assert_eq!(temperature_factor(45.0, &C3), 0.0);
        assert!((temperature_factor(8.5, &C3) - 0.5).abs() < 1e-12);
    }
}

//! Quantities with times of their own, joined on the times of the temperature.

use crate::assemble::Gathered;
use crate::report::{Effect, IssueCode};
use crate::row::{Cell, Measured, Row, RowPlace, values};
use crate::unit::QuantityName;
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};

/// One value and its moment.
#[derive(Debug, Clone)]
pub(crate) struct Observed {
    pub(crate) place: RowPlace,
    pub(crate) time: Timestamp,
    pub(crate) cell: Cell,
}

/// The values of one quantity.
#[derive(Debug, Clone)]
pub(crate) struct Sequence {
    /// What messages call it.
    pub(crate) name: String,
    pub(crate) quantity: QuantityName,
    /// How far outside its range a value is taken as the limit, in the unit of a reading.
    pub(crate) limit_within: f64,
    /// In the order of time.
    pub(crate) values: Vec<Observed>,
}

/// A temperature, with what has the same time from the same element.
#[derive(Debug, Clone)]
pub(crate) struct Moment {
    pub(crate) place: RowPlace,
    pub(crate) time: Timestamp,
    pub(crate) measured: Vec<Measured>,
}

/// What holds for every reading of a join.
#[derive(Debug, Clone)]
pub(crate) struct Joined {
    pub(crate) area: Option<String>,
    pub(crate) zone: TimeZone,
    pub(crate) forecast: bool,
    /// How far apart values of one reading may be, in seconds.
    pub(crate) tolerance_s: f64,
}

/// Joins sequences on the times of the first, which is that of the temperature.
#[cfg(not(target_family = "wasm"))]
pub(crate) fn join_sequences(
    mut sequences: Vec<Sequence>,
    joined: &Joined,
    gathered: &mut Gathered,
) {
    if sequences.is_empty() {
        return;
    }
    let Sequence { quantity, limit_within, values, .. } = sequences.remove(0);
    let moments = values.into_iter().map(|o| Moment {
        place: o.place,
        time: o.time,
        measured: vec![(quantity, o.cell, limit_within)],
    });
    join(moments.collect(), &sequences, joined, gathered);
}

/// Makes a row of each moment with the nearest value of each sequence; what finds no moment is
/// reported.
pub(crate) fn join(
    moments: Vec<Moment>,
    others: &[Sequence],
    joined: &Joined,
    gathered: &mut Gathered,
) {
    let tolerance = SignedDuration::from_secs_f64(joined.tolerance_s);
    let mut used: Vec<Vec<bool>> = others.iter().map(|s| vec![false; s.values.len()]).collect();
    for moment in moments {
        gathered.possible += 1;
        let mut measured = moment.measured;
        for (sequence, used) in others.iter().zip(&mut used) {
            let partner = nearest(&sequence.values, moment.time, tolerance);
            if let Some(flag) = partner.and_then(|i| used.get_mut(i)) {
                *flag = true;
            }
            let cell = partner
                .and_then(|i| sequence.values.get(i))
                .map_or(Cell::Missing, |o| o.cell.clone());
            measured.push((sequence.quantity, cell, sequence.limit_within));
        }
        if let Some(values) = values(&measured, &moment.place, &mut gathered.issues) {
            gathered.rows.push(Row {
                place: moment.place,
                time: moment.time,
                zone: joined.zone.clone(),
                area: joined.area.clone(),
                values,
                forecast: joined.forecast,
            });
        }
    }
    for (sequence, used) in others.iter().zip(&used) {
        for (o, _) in sequence.values.iter().zip(used).filter(|(_, used)| !**used) {
            let quantity = Some(sequence.quantity);
            gathered.issues.add(IssueCode::NoPartner, Effect::LeftOut, quantity, &o.place, || {
                format!(
                    "{} has a value with no temperature within {} s (`tolerance_s`)",
                    sequence.name, joined.tolerance_s
                )
            });
        }
    }
}

/// The value nearest to a time, within the tolerance; of two as near the earlier.
fn nearest(sorted: &[Observed], time: Timestamp, tolerance: SignedDuration) -> Option<usize> {
    let after = sorted.partition_point(|o| o.time < time);
    [after.checked_sub(1), Some(after)]
        .into_iter()
        .flatten()
        .filter_map(|i| Some((i, sorted.get(i)?.time.duration_since(time).abs())))
        .filter(|(_, apart)| *apart <= tolerance)
        .min_by_key(|(_, apart)| *apart)
        .map(|(i, _)| i)
}

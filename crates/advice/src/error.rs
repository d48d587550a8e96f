//! What can be wrong with a request.

use thiserror::Error;

/// A request that cannot be answered. Every variant says where the fault is (a JSON Pointer into
/// the request), what is wrong and what would be right.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum RequestError {
    /// A value out of its range or of the wrong form.
    #[error("{pointer}: {wrong}; {right}")]
    Value {
        /// JSON Pointer to the value.
        pointer: String,
        /// What is wrong.
        wrong: String,
        /// What would be right.
        right: String,
    },
    /// Two plants share an identifier.
    #[error("{pointer}: the id {id:?} is also that of {other}; give every plant an id of its own")]
    DuplicatePlant {
        /// JSON Pointer to the second plant.
        pointer: String,
        /// The identifier.
        id: String,
        /// JSON Pointer to the first plant.
        other: String,
    },
    /// A plant or a reading names an area that the site does not have.
    #[error(
        "{pointer}: the area {area:?} is not one of the site's ({known}); name one of these, or add it to the site"
    )]
    UnknownArea {
        /// JSON Pointer to the name.
        pointer: String,
        /// The name.
        area: String,
        /// The areas the site has.
        known: String,
    },
    /// The time zone is not in the database.
    #[error(
        "{pointer}: {zone:?} is not a time zone of the IANA database; write it like `Europe/London`"
    )]
    UnknownZone {
        /// JSON Pointer to the zone.
        pointer: String,
        /// What was given.
        zone: String,
    },
    /// There are no readings, or none for an area with plants in it.
    #[error(
        "{pointer}: no readings for the area {area:?} between {from} and {to}; give readings that cover this time, or another `at`"
    )]
    NoReadings {
        /// JSON Pointer to the readings.
        pointer: String,
        /// The area.
        area: String,
        /// Start of the time looked at.
        from: String,
        /// End of the time looked at.
        to: String,
    },
    /// The label cannot be used.
    #[error("/feed: {0}")]
    Feed(guardcell_solution::Error),
    /// The water report cannot be used.
    #[error("/water: {0}")]
    Water(guardcell_solution::Error),
    /// The sun or the lamps cannot be placed.
    #[error("/site: {0}")]
    Clock(guardcell_clock::ClockError),
    /// The film cannot be computed.
    #[error("/readings: {0}")]
    Film(guardcell_film::FilmError),
}

impl RequestError {
    /// A value out of its range or of the wrong form.
    pub(crate) fn value(
        pointer: impl Into<String>,
        wrong: impl Into<String>,
        right: impl Into<String>,
    ) -> Self {
        Self::Value { pointer: pointer.into(), wrong: wrong.into(), right: right.into() }
    }
}

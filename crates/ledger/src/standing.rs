//! Which entries stand: neither corrected nor taken back, up to a moment, in the order of time.

use crate::check;
use crate::entry::{Entry, Event};
use crate::moment::Moment;
use guardcell_error::Error;
use std::collections::BTreeSet;

/// The entries that stand up to a moment (RFC 3339), in the order of time: neither corrected, nor
/// taken back, nor a taking back.
///
/// # Errors
/// For a moment that cannot be read, or an entry with a value that cannot be right, with the pointer
/// to it.
///
/// ```
/// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
/// use guardcell::ledger::standing_entries;
/// assert!(standing_entries(&[], "2026-06-21T18:00:00+01:00")?.is_empty());
/// # Ok::<(), guardcell_error::Error>(())
/// ```
pub fn standing_entries<'a>(entries: &'a [Entry], until: &str) -> Result<Vec<&'a Entry>, Error> {
    let timed = standing(entries, Moment::parse("/at", until)?)?;
    Ok(timed.into_iter().map(|t| t.entry).collect())
}

/// An entry with its time read.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Timed<'a> {
    pub(crate) when: Moment,
    pub(crate) entry: &'a Entry,
}

/// The entries that stand up to a moment, in the order of time. An entry that another one
/// supersedes is omitted, whatever the order in which they are given, and so is a retraction.
///
/// # Errors
/// For an entry with a value that cannot be right, with the pointer to it.
pub(crate) fn standing(entries: &[Entry], until: Moment) -> Result<Vec<Timed<'_>>, Error> {
    let corrected: BTreeSet<&str> =
        entries.iter().filter_map(|e| e.supersedes.as_deref()).collect();
    let mut out = Vec::with_capacity(entries.len());
    for (i, entry) in entries.iter().enumerate() {
        check::entry(entry).map_err(|e| e.within(&format!("/entries/{i}")))?;
        let gone = corrected.contains(entry.id.as_str());
        if gone || matches!(entry.event, Event::Retraction(_)) {
            continue;
        }
        let when =
            Moment::parse("/at", &entry.at).map_err(|e| e.within(&format!("/entries/{i}")))?;
        if when.instant <= until.instant {
            out.push(Timed { when, entry });
        }
    }
    out.sort_by_key(|t| t.when.instant);
    Ok(out)
}

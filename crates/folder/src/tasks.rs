//! What is due today beside the spraying: flush, soak, look for white, wipe, count growth, look at a
//! rescue, and what the grower wrote down to do.

use crate::time::day;
use guardcell::Error;
use guardcell::advice::{PlantEntry, Standing};
use guardcell::ledger::{
    Entry, Event, LedgerRequest, Level, Place, Sign, ledger, standing_entries,
};
use guardcell::reference::parameters::practice;
use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// What is to be done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TaskKind {
    /// Soak a plant without roots.
    Soak,
    /// Look for white on leaves that were sprayed.
    Look,
    /// Wipe leaves on which white was seen, so that the next look counts.
    Wipe,
    /// Flush a pot with plain water.
    Flush,
    /// Look at plants without roots that were soaked for long without a sign.
    Rescue,
    /// Count what is new on plants whose growth is counted.
    Count,
    /// What the grower wrote down to do.
    Own,
}

impl TaskKind {
    /// The word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Soak => "soak",
            Self::Look => "look",
            Self::Wipe => "wipe",
            Self::Flush => "flush",
            Self::Rescue => "rescue",
            Self::Count => "count",
            Self::Own => "own",
        }
    }
}

/// Something that is due, with its plants.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Task {
    /// What is to be done.
    pub kind: TaskKind,
    /// The plants, by id, in the order of the collection.
    pub plants: Vec<String>,
    /// The day that it is due since, or the day of what it follows; none for what is due daily.
    pub since: Option<Date>,
    /// What the grower wrote down, and the entry of it.
    pub own: Option<(String, String)>,
}

/// What is due at a moment (RFC 3339, the offset is that of the grower's clock), from the collection
/// and the entries of its journal. Entries after the moment, corrected and retracted ones do not
/// count; plants that are not in the collection have no tasks.
///
/// # Errors
///
/// A moment or an entry that cannot be read.
///
/// ```
/// let text = "id,name,area,setting,standing\nA1,Phalaenopsis,room,potted,rootless\n";
/// let plants = guardcell_folder::collection("collection.csv", text)?.plants;
/// let tasks = guardcell_folder::tasks(&plants, &[], "2026-06-21T08:00:00Z")?;
/// assert_eq!(tasks[0].kind, guardcell_folder::TaskKind::Soak);
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn tasks(plants: &[PlantEntry], entries: &[Entry], at: &str) -> Result<Vec<Task>, Error> {
    let today = day(at)
        .ok_or_else(|| Error::internal(format!("{at:?} is not the moment of a list of tasks")))?;
    let standing = standing_entries(entries, at)?;
    let mut out = Vec::new();
    out.extend(soaks(plants, &standing, today));
    out.extend(look(plants, &standing));
    out.extend(wipe(plants, &standing));
    out.extend(flush(plants, entries, at, today)?);
    out.extend(rescue(plants, &standing, today));
    out.extend(count(plants, &standing, today));
    out.extend(own(entries, &standing, today));
    Ok(out)
}

/// Plants without roots that had fewer soaks today than practice gives.
fn soaks(plants: &[PlantEntry], standing: &[&Entry], today: Date) -> Option<Task> {
    let done = |id: &str| {
        let soaks = standing.iter().filter(|e| {
            matches!(&e.event, Event::Soak(s) if s.plants.iter().any(|p| p == id))
                && day(&e.at) == Some(today)
        });
        soaks.count() as f64 >= practice::SOAKS_A_DAY.number()
    };
    let due = plants.iter().filter(|p| p.standing == Standing::Rootless && !done(&p.id));
    task(TaskKind::Soak, due.map(|p| p.id.clone()).collect(), None)
}

/// The plants of the last round with feed that nobody has looked at since.
fn look(plants: &[PlantEntry], standing: &[&Entry]) -> Option<Task> {
    let (at, entry, round) =
        standing.iter().enumerate().rev().find_map(|(i, e)| match &e.event {
            Event::Round(r) if r.feed_strength_mg_l > 0.0 => Some((i, e, r)),
            _ => None,
        })?;
    let looked = standing.get(at..)?.iter().any(|e| matches!(&e.event, Event::Residue(_)));
    if looked {
        return None;
    }
    let sprayed: BTreeSet<&str> = round.plants.iter().map(|p| p.plant.as_str()).collect();
    let due = plants.iter().filter(|p| sprayed.contains(p.id.as_str()));
    task(TaskKind::Look, due.map(|p| p.id.clone()).collect(), day(&entry.at))
}

/// Plants whose last look found white on the leaf.
fn wipe(plants: &[PlantEntry], standing: &[&Entry]) -> Option<Task> {
    let mut since = None;
    let mut due = Vec::new();
    for plant in plants {
        let last = standing.iter().rev().find_map(|e| match &e.event {
            Event::Wipe(w) if w.plants.contains(&plant.id) => Some(None),
            Event::Residue(r) if r.place == Place::Leaf && r.plants.contains(&plant.id) => {
                Some((r.level != Level::None).then_some(e))
            }
            _ => None,
        });
        if let Some(entry) = last.flatten() {
            since = since.max(day(&entry.at));
            due.push(plant.id.clone());
        }
    }
    task(TaskKind::Wipe, due, since)
}

/// Pots whose last flush, or first feed, is longer ago than practice allows, as the ledger has it.
fn flush(
    plants: &[PlantEntry],
    entries: &[Entry],
    at: &str,
    today: Date,
) -> Result<Option<Task>, Error> {
    let books = ledger(&LedgerRequest::new(entries.to_vec(), at).with_plants(plants.to_vec()))?;
    // The accounts of the collection come first, in its order; others of the journal follow.
    let accounts = books.plants.into_iter().take(plants.len());
    let due = accounts.filter_map(|p| Some((p.id, p.flush_due?.parse().ok()?)));
    Ok(due_by(TaskKind::Flush, due, today))
}

/// Plants without roots whose soaks began, or that were last looked at, longer ago than practice has
/// it. A count of nothing new is a look.
fn rescue(plants: &[PlantEntry], standing: &[&Entry], today: Date) -> Option<Task> {
    let since = |id: &str| {
        let mut first = None;
        for e in standing {
            let named = e.event.plants().contains(&id);
            match &e.event {
                Event::Soak(_) if named && first.is_none() => first = day(&e.at),
                Event::Growth(_) | Event::Response(_) if named && first.is_some() => {
                    first = day(&e.at);
                }
                _ => {}
            }
        }
        after(first?, practice::RESCUE_LOOK_AFTER.days())
    };
    let rootless = plants.iter().filter(|p| p.standing == Standing::Rootless);
    let due = rootless.filter_map(|p| Some((p.id.clone(), since(&p.id)?)));
    due_by(TaskKind::Rescue, due, today)
}

/// Plants whose growth is counted, and was last counted longer ago than practice has it.
fn count(plants: &[PlantEntry], standing: &[&Entry], today: Date) -> Option<Task> {
    let due_on = |id: &str| {
        let last = standing.iter().rev().find_map(|e| match &e.event {
            Event::Growth(g) if g.measure.is_some() && g.plants.iter().any(|p| p == id) => {
                day(&e.at)
            }
            _ => None,
        })?;
        after(last, practice::GROWTH_LOOK_EVERY.days())
    };
    let lost = |id: &str| {
        standing.iter().any(|e| {
            matches!(&e.event, Event::Response(r)
                if r.sign == Sign::Loss && r.plants.iter().any(|p| p == id))
        })
    };
    let kept = plants.iter().filter(|p| !lost(&p.id));
    let due = kept.filter_map(|p| Some((p.id.clone(), due_on(&p.id)?)));
    due_by(TaskKind::Count, due, today)
}

/// What the grower wrote down and is due: each on its own, the longest due first.
fn own(entries: &[Entry], standing: &[&Entry], today: Date) -> Vec<Task> {
    // A task that was corrected is known by the entry that stands for it now.
    let newer: BTreeMap<&str, &str> =
        entries.iter().filter_map(|e| Some((e.supersedes.as_deref()?, e.id.as_str()))).collect();
    let latest = |id: &str| {
        let mut id = id.to_owned();
        for _ in 0..newer.len() {
            match newer.get(id.as_str()) {
                Some(next) => id = (*next).to_owned(),
                None => break,
            }
        }
        id
    };
    let mut out: Vec<Task> = Vec::new();
    for entry in standing {
        let Event::Task(written) = &entry.event else { continue };
        let done = standing.iter().rev().find_map(|e| match &e.event {
            Event::Done(d) if latest(&d.task) == entry.id => day(&e.at),
            _ => None,
        });
        let due = match (done, written.every_days) {
            (None, _) => written.due.parse().ok(),
            (Some(done), Some(days)) => after(done, f64::from(days)),
            (Some(_), None) => None,
        };
        if let Some(due) = due.filter(|due| *due <= today) {
            out.push(Task {
                kind: TaskKind::Own,
                plants: written.plants.clone(),
                since: Some(due),
                own: Some((entry.note.trim().to_owned(), entry.id.clone())),
            });
        }
    }
    out.sort_by_key(|t| t.since);
    out
}

/// What is due by today, since the first of its days.
fn due_by(kind: TaskKind, due: impl Iterator<Item = (String, Date)>, today: Date) -> Option<Task> {
    let (plants, days): (Vec<String>, Vec<Date>) = due.filter(|(_, on)| *on <= today).unzip();
    task(kind, plants, days.into_iter().min())
}

/// A day so many days later.
fn after(day: Date, days: f64) -> Option<Date> {
    day.checked_add(jiff::Span::new().days(days as i64)).ok()
}

fn task(kind: TaskKind, plants: Vec<String>, since: Option<Date>) -> Option<Task> {
    if plants.is_empty() { None } else { Some(Task { kind, plants, since, own: None }) }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plants() -> Vec<PlantEntry> {
        let text = "id,name,area,setting,standing,last_flush\n\
                    A1,Phalaenopsis,room,potted,ordinary,2026-05-01\n\
                    A2,Vanda,room,basket,ordinary,2026-05-01\n\
                    A3,Phalaenopsis,room,potted,rootless,\n";
        crate::collection("c.csv", text).unwrap().plants
    }

    fn entry(id: &str, at: &str, event: &str) -> Entry {
        let text = format!(
            "{{\"id\":\"{id}\",\"recorded\":\"2026-06-22T00:00:00Z\",\"at\":\"{at}\",\"site\":\"S\",{event}}}"
        );
        guardcell::read_request::<Entry>(text.as_bytes()).unwrap()
    }

    fn kinds(entries: &[Entry], at: &str) -> Vec<(TaskKind, Vec<String>)> {
        let found = tasks(&plants(), entries, at).unwrap();
        found.into_iter().map(|t| (t.kind, t.plants)).collect()
    }

    #[test]
    fn a_flush_is_due_after_28_days() {
        // 1 May and 28 days is 29 May; a basket has no pot to flush.
        let due =
            |at: &str| kinds(&[], at).iter().any(|(k, p)| *k == TaskKind::Flush && p == &["A1"]);
        assert!(!due("2026-05-28T08:00:00Z"));
        assert!(due("2026-05-29T08:00:00Z"));
    }

    #[test]
    fn soaks_end_for_today_after_two() {
        let soak = |id: &str, at: &str| {
            entry(
                id,
                at,
                "\"event\":{\"kind\":\"soak\",\"plants\":[\"A3\"],\"feed_strength_mg_l\":50,\"duration_min\":30}",
            )
        };
        let due = |entries: &[Entry]| {
            kinds(entries, "2026-06-21T20:00:00Z").iter().any(|(k, _)| *k == TaskKind::Soak)
        };
        let first = soak("e1", "2026-06-21T08:00:00Z");
        assert!(due(&[]) && due(std::slice::from_ref(&first)));
        assert!(!due(&[first.clone(), soak("e2", "2026-06-21T13:00:00Z")]));
        assert!(due(&[first, soak("e2", "2026-06-20T13:00:00Z")]), "yesterday does not count");
    }

    /// A1 was flushed on 1 May; practice (no source) gives a pot 28 days.
    #[test]
    fn a_lost_plant_is_not_flushed() {
        let due = |entries: &[Entry]| {
            kinds(entries, "2026-06-21T20:00:00Z").iter().any(|(k, _)| *k == TaskKind::Flush)
        };
        let loss = "\"event\":{\"kind\":\"response\",\"plants\":[\"A1\"],\"sign\":\"loss\"}";
        assert!(due(&[]));
        assert!(!due(&[entry("e1", "2026-06-20T08:00:00Z", loss)]));
    }

    #[test]
    fn white_is_looked_for_and_then_wiped() {
        let round = entry(
            "e1",
            "2026-06-21T06:00:00Z",
            "\"event\":{\"kind\":\"round\",\"plants\":[{\"plant\":\"A1\"}],\"feed_strength_mg_l\":150,\"passes\":1}",
        );
        let seen = |level: &str| {
            entry(
                "e2",
                "2026-06-21T18:00:00Z",
                &format!(
                    "\"event\":{{\"kind\":\"residue\",\"plants\":[\"A1\"],\"level\":\"{level}\"}}"
                ),
            )
        };
        let at = "2026-06-21T20:00:00Z";
        let has =
            |entries: &[Entry], kind: TaskKind| kinds(entries, at).iter().any(|(k, _)| *k == kind);
        assert!(has(std::slice::from_ref(&round), TaskKind::Look));
        let white = [round.clone(), seen("faint")];
        assert!(!has(&white, TaskKind::Look) && has(&white, TaskKind::Wipe));
        let clean = [round, seen("none")];
        assert!(!has(&clean, TaskKind::Look) && !has(&clean, TaskKind::Wipe));
    }

    fn noted(id: &str, at: &str, event: &str, note: &str) -> Entry {
        let mut entry = entry(id, at, event);
        entry.note = note.to_owned();
        entry
    }

    /// 21 days (data/practice.csv, common practice, no source) after 1 June is 22 June; a count of
    /// nothing on 10 June moves that to 1 July.
    #[test]
    fn a_rescue_is_looked_at() {
        let soak = entry(
            "e1",
            "2026-06-01T08:00:00Z",
            "\"event\":{\"kind\":\"soak\",\"plants\":[\"A3\"],\"feed_strength_mg_l\":50,\"duration_min\":30}",
        );
        let count = entry(
            "e2",
            "2026-06-10T08:00:00Z",
            "\"event\":{\"kind\":\"growth\",\"plants\":[\"A3\"],\"measure\":\"new_root\",\"value\":0}",
        );
        let due = |entries: &[Entry], at: &str| {
            kinds(entries, at).iter().any(|(k, p)| *k == TaskKind::Rescue && p == &["A3"])
        };
        let first = std::slice::from_ref(&soak);
        assert!(!due(first, "2026-06-21T20:00:00Z") && due(first, "2026-06-22T20:00:00Z"));
        let both = [soak.clone(), count.clone()];
        assert!(!due(&both, "2026-06-30T20:00:00Z") && due(&both, "2026-07-01T20:00:00Z"));
        // Counted every 30 days: 10 June and 30 days is 10 July.
        let counted =
            |at: &str| kinds(&both, at).iter().any(|(k, p)| *k == TaskKind::Count && p == &["A3"]);
        assert!(!counted("2026-07-09T20:00:00Z") && counted("2026-07-10T20:00:00Z"));
    }

    #[test]
    fn what_was_written_down_is_due_until_done_and_due_again() {
        let task = noted(
            "t1",
            "2026-06-01T08:00:00Z",
            "\"event\":{\"kind\":\"task\",\"plants\":[\"A1\"],\"due\":\"2026-06-10\",\"every_days\":30}",
            "clean the mister",
        );
        let done =
            entry("t2", "2026-06-12T08:00:00Z", "\"event\":{\"kind\":\"done\",\"task\":\"t1\"}");
        let due = |entries: &[Entry], at: &str| {
            let all = tasks(&plants(), entries, at).unwrap();
            all.into_iter().find_map(|t| Some((t.own?.0, t.since?.to_string())))
        };
        let open = [task.clone()];
        assert_eq!(due(&open, "2026-06-09T20:00:00Z"), None);
        let said = Some(("clean the mister".to_owned(), "2026-06-10".to_owned()));
        assert_eq!(due(&open, "2026-06-11T20:00:00Z"), said);
        let both = [task.clone(), done.clone()];
        assert_eq!(due(&both, "2026-07-11T20:00:00Z"), None);
        let again = Some(("clean the mister".to_owned(), "2026-07-12".to_owned()));
        assert_eq!(due(&both, "2026-07-12T20:00:00Z"), again);
        // A correction of the task keeps what was done.
        let mut corrected = noted(
            "t3",
            "2026-06-01T08:00:00Z",
            "\"event\":{\"kind\":\"task\",\"due\":\"2026-06-10\"}",
            "clean both misters",
        );
        corrected.supersedes = Some("t1".into());
        assert_eq!(due(&[task, done, corrected], "2026-08-01T20:00:00Z"), None);
    }

    #[test]
    fn a_wipe_ends_the_task() {
        let white = entry(
            "e1",
            "2026-06-20T08:00:00Z",
            "\"event\":{\"kind\":\"residue\",\"plants\":[\"A1\"],\"level\":\"faint\"}",
        );
        let wiped = entry(
            "e2",
            "2026-06-21T08:00:00Z",
            "\"event\":{\"kind\":\"wipe\",\"plants\":[\"A1\"]}",
        );
        let due = |entries: &[Entry]| {
            kinds(entries, "2026-06-22T20:00:00Z").iter().any(|(k, _)| *k == TaskKind::Wipe)
        };
        assert!(due(std::slice::from_ref(&white)) && !due(&[white, wiped]));
    }
}

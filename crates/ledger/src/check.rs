//! Checks of a draft: every number in its range, every name usable in every format.

use crate::entry::{Conditions, Draft, Entry, Event, Growth, PlantShare, Window};
use crate::moment::Moment;
use guardcell_call::Bounded;
use guardcell_error::{Code, Error, excerpt};

type Checked = Result<(), Error>;

const NAME_LONGEST: usize = 64;

impl Draft {
    /// The entry that this draft becomes, checked, with its times in canonical form; nothing is
    /// recorded.
    ///
    /// # Errors
    /// For a value that cannot be right, with the pointer to it.
    ///
    /// ```
    /// # mod guardcell { pub mod ledger { pub use guardcell_ledger::*; } }
    /// # use guardcell::ledger::Draft;
    /// let draft: Draft = serde_json::from_str(
    ///     r#"{"at": "2026-06-21 05:10+01:00", "site": "Fernhollow",
    ///         "event": {"kind": "flush", "plants": ["F012"], "volume_ml": 2000}}"#,
    /// ).unwrap();
    /// let entry = draft.checked("f1", "2026-06-21T06:00:00Z").unwrap();
    /// assert_eq!(entry.at, "2026-06-21T05:10:00+01:00");
    /// ```
    pub fn checked(self, id: &str, recorded: &str) -> Result<Entry, Error> {
        let mut draft = self;
        name("/id", id)?;
        draft.check_bounds()?;
        let recorded = Moment::parse("/recorded", recorded)?.rfc3339();
        let at = Moment::parse("/at", &draft.at)?;
        if let Some(zone) = &draft.zone {
            at.check_zone(zone)?;
        }
        name("/site", &draft.site)?;
        if let Some(old) = &draft.supersedes {
            name("/supersedes", old)?;
        }
        note(&draft)?;
        event(&draft.event).map_err(|e| e.within("/event"))?;
        if let Event::Round(round) = &mut draft.event
            && let Some(planned) = &mut round.window
        {
            *planned = window(planned).map_err(|e| e.within("/event"))?;
        }
        Ok(Entry {
            id: id.to_owned(),
            recorded,
            at: at.rfc3339(),
            zone: draft.zone,
            site: draft.site,
            supersedes: draft.supersedes,
            event: draft.event,
            note: draft.note,
        })
    }
}

/// An entry that comes from outside: every number in its range, every name usable.
pub(crate) fn entry(entry: &Entry) -> Checked {
    entry.check_bounds()?;
    name("/id", &entry.id)?;
    name("/site", &entry.site)?;
    event(&entry.event).map_err(|e| e.within("/event"))
}

/// The note, and what an entry of its kind cannot do without.
fn note(draft: &Draft) -> Checked {
    if let Some(c) = draft.note.chars().find(|c| c.is_control() && !matches!(c, '\n' | '\t')) {
        return Err(Error::new(
            Code::InvalidText,
            format!("it holds the control character U+{:04X}", u32::from(c)),
            "write plain text with line feeds",
        )
        .at("/note"));
    }
    match (&draft.event, &draft.supersedes) {
        (Event::Retraction(_), None) => Err(Error::new(
            Code::Missing,
            "a retraction names no entry",
            "give the id of the entry that was a mistake",
        )
        .at("/supersedes")),
        (Event::Note(_), _) if draft.note.trim().is_empty() => {
            Err(Error::new(Code::Missing, "it is blank", "write the note").at("/note"))
        }
        (Event::Task(_), _) if draft.note.trim().is_empty() => {
            Err(Error::new(Code::Missing, "it is blank", "say what is to be done").at("/note"))
        }
        _ => Ok(()),
    }
}

/// Pointers are relative to the event.
fn event(event: &Event) -> Checked {
    match event {
        Event::Round(r) => {
            r.check_bounds()?;
            shares(&r.plants, r.volume_ml)?;
            names([
                ("/product", &r.product),
                ("/water", &r.water),
                ("/wetting_agent", &r.wetting_agent),
                ("/sprayer", &r.sprayer),
            ])?;
            nitrogen(r.feed_strength_mg_l, r.n_mg_l)?;
            r.window.as_ref().map_or(Ok(()), |w| window(w).map(drop))?;
            conditions(r.conditions.as_ref())
        }
        Event::RootFeed(r) => {
            r.check_bounds()?;
            shares(&r.plants, r.volume_ml)?;
            names([("/product", &r.product)])?;
            nitrogen(r.feed_strength_mg_l, r.n_mg_l)
        }
        Event::Residue(r) => {
            r.check_bounds()?;
            if r.plants.is_empty() && r.group.is_none() {
                return Err(Error::new(
                    Code::Missing,
                    "neither plants nor a group",
                    "say which plants were looked at, or name their group",
                )
                .at("/plants"));
            }
            plants(&r.plants)?;
            names([("/group", &r.group), ("/round", &r.round)])?;
            conditions(r.conditions.as_ref())
        }
        Event::Flush(f) => {
            f.check_bounds()?;
            plants(&f.plants)
        }
        Event::Soak(s) => {
            s.check_bounds()?;
            plants(&s.plants)
        }
        Event::Response(r) => {
            r.check_bounds()?;
            plants(&r.plants)
        }
        Event::Growth(g) => {
            g.check_bounds()?;
            plants(&g.plants)?;
            growth(g)
        }
        Event::Wipe(w) => {
            w.check_bounds()?;
            plants(&w.plants)
        }
        Event::Task(t) => {
            t.check_bounds()?;
            crate::moment::date(&t.due).map_err(|e| e.at("/due"))?;
            plants(&t.plants)
        }
        Event::Done(d) => {
            d.check_bounds()?;
            name("/task", &d.task)
        }
        Event::Note(n) => {
            n.check_bounds()?;
            plants(&n.plants)
        }
        Event::Retraction(_) => Ok(()),
    }
}

/// A measure has a value, a count is whole, and something is said at all.
fn growth(g: &Growth) -> Checked {
    let missing =
        |detail: &str, hint: &str, at: &str| Err(Error::new(Code::Missing, detail, hint).at(at));
    if let Some(photo) = &g.photo {
        let wrong = photo.trim() != photo || photo.chars().any(char::is_control);
        if wrong {
            return Err(Error::new(
                Code::InvalidText,
                "the file name has blanks round it or a control character",
                "write the name of the file",
            )
            .at("/photo"));
        }
    }
    match (g.measure, g.value) {
        (Some(_), None) => missing("it is not said how many", "give the value", "/value"),
        (None, Some(_)) => missing("it is not said of what", "give the measure", "/measure"),
        (None, None) if g.photo.is_none() => {
            missing("nothing was measured", "give a measure with a value, or a photo", "/measure")
        }
        (Some(m), Some(v)) if m.is_count() && v.fract() != 0.0 => {
            Err(Error::new(Code::InvalidText, format!("{v} is not a count"), "give a whole number")
                .at("/value"))
        }
        _ => Ok(()),
    }
}

/// A name that survives every format: no separators of lists, no control characters, no blanks
/// round it.
pub(crate) fn name(pointer: &str, text: &str) -> Checked {
    let wrong = if text.is_empty() || text.trim() != text {
        "it is blank or has blanks round it"
    } else if text.chars().count() > NAME_LONGEST {
        "it has more than 64 characters"
    } else if text.chars().any(|c| c.is_control() || c == ';') {
        "it holds a semicolon or a control character"
    } else {
        return Ok(());
    };
    Err(Error::new(
        Code::InvalidText,
        format!("{:?}: {wrong}", excerpt(text, 80)),
        "give 1 to 64 characters without semicolons",
    )
    .at(pointer))
}

fn names<const N: usize>(list: [(&str, &Option<String>); N]) -> Checked {
    list.into_iter()
        .filter_map(|(pointer, text)| text.as_deref().map(|t| (pointer, t)))
        .try_for_each(|(pointer, text)| name(pointer, text))
}

fn plants(list: &[String]) -> Checked {
    distinct(list.iter().map(String::as_str), |i| format!("/plants/{i}"))
}

fn distinct<'a>(list: impl Iterator<Item = &'a str>, pointer: impl Fn(usize) -> String) -> Checked {
    let mut seen = std::collections::BTreeSet::new();
    for (i, plant) in list.enumerate() {
        name(&pointer(i), plant)?;
        if !seen.insert(plant) {
            return Err(Error::new(
                Code::DuplicateId,
                format!("duplicate plant {plant:?}"),
                "name each plant once",
            )
            .at(pointer(i)));
        }
    }
    Ok(())
}

/// The plants cannot have got more than was given. A thousandth is left for rounding.
fn shares(list: &[PlantShare], total: Option<f64>) -> Checked {
    distinct(list.iter().map(|p| p.plant.as_str()), |i| format!("/plants/{i}/plant"))?;
    for (i, p) in list.iter().enumerate() {
        p.check_bounds().map_err(|e| e.within(&format!("/plants/{i}")))?;
    }
    let given: f64 = list.iter().filter_map(|p| p.volume_ml).sum();
    match total {
        Some(total) if given > total * 1.001 => Err(Error::new(
            Code::Conflict,
            format!("the plants got {given} mL of {total} mL"),
            "give a total that is at least their sum, or omit it",
        )
        .at("/volume_ml")),
        _ => Ok(()),
    }
}

fn nitrogen(mg_l: f64, n_mg_l: Option<f64>) -> Checked {
    match n_mg_l {
        Some(n) if n > mg_l => Err(Error::new(
            Code::Conflict,
            format!("{n} mg/L N in {mg_l} mg/L of feed"),
            "give at most the feed strength",
        )
        .at("/n_mg_l")),
        _ => Ok(()),
    }
}

/// A window in canonical form.
fn window(w: &Window) -> Result<Window, Error> {
    let from = Moment::parse("/window/from", &w.from)?;
    let to = Moment::parse("/window/to", &w.to)?;
    if to.instant <= from.instant {
        return Err(Error::new(
            Code::Conflict,
            "it is not after the start",
            "give an end after the start",
        )
        .at("/window/to"));
    }
    Ok(Window { from: from.rfc3339(), to: to.rfc3339() })
}

fn conditions(c: Option<&Conditions>) -> Checked {
    let Some(c) = c else { return Ok(()) };
    c.check_bounds().map_err(|e| e.within("/conditions"))?;
    if *c == Conditions::default() {
        return Err(Error::new(Code::Missing, "they are empty", "give at least one, or omit them")
            .at("/conditions"));
    }
    Ok(())
}

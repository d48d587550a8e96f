//! Checks of a draft: every number in its range, every name usable in every format.

use crate::entry::{Conditions, Draft, Entry, Event, PlantShare, Window};
use crate::error::JournalError;
use crate::moment::Moment;
use guardcell::reference::parameters::journal;

type Checked = Result<(), JournalError>;

const NOTE_LONGEST: usize = 10_000;
const NAME_LONGEST: usize = 64;
const PLANTS_MOST: usize = 10_000;

impl Draft {
    /// The entry that this draft becomes, checked, with its times in canonical form; nothing is
    /// recorded.
    ///
    /// # Errors
    /// [`JournalError::Value`] with the pointer to what cannot be right.
    ///
    /// ```
    /// # use guardcell_journal::Draft;
    /// let draft: Draft = serde_json::from_str(
    ///     r#"{"at": "2026-06-21 05:10+01:00", "site": "Fernhollow",
    ///         "event": {"kind": "flush", "plants": ["F012"], "volume_ml": 2000}}"#,
    /// ).unwrap();
    /// let entry = draft.checked("f1", "2026-06-21T06:00:00Z").unwrap();
    /// assert_eq!(entry.at, "2026-06-21T05:10:00+01:00");
    /// ```
    pub fn checked(self, id: &str, recorded: &str) -> Result<Entry, JournalError> {
        entry(self, id.to_owned(), recorded.to_owned())
    }
}

/// The entry that a draft becomes, with its times in canonical form.
pub(crate) fn entry(draft: Draft, id: String, recorded: String) -> Result<Entry, JournalError> {
    let mut draft = draft;
    name("/id", &id)?;
    let recorded = Moment::parse("/recorded", &recorded)?.rfc3339();
    let at = Moment::parse("/at", &draft.at)?;
    if let Some(zone) = &draft.zone {
        at.check_zone(zone)?;
    }
    name("/site", &draft.site)?;
    if let Some(old) = &draft.supersedes {
        name("/supersedes", old)?;
    }
    if draft.note.chars().count() > NOTE_LONGEST {
        return Err(JournalError::value(
            "/note",
            format!("it has more than {NOTE_LONGEST} characters"),
            "shorten it",
        ));
    }
    if let Some(c) = draft.note.chars().find(|c| c.is_control() && !matches!(c, '\n' | '\t')) {
        return Err(JournalError::value(
            "/note",
            format!("it holds the control character U+{:04X}", u32::from(c)),
            "plain text with line feeds",
        ));
    }
    event(&mut draft.event)?;
    match (&draft.event, &draft.supersedes) {
        (Event::Retraction(_), None) => Err(JournalError::value(
            "/supersedes",
            "a retraction names no entry",
            "give the id of the entry that was a mistake",
        )),
        (Event::Note(_), _) if draft.note.trim().is_empty() => {
            Err(JournalError::value("/note", "it is blank", "write the note"))
        }
        _ => Ok(()),
    }?;
    Ok(Entry {
        id,
        recorded,
        at: at.rfc3339(),
        zone: draft.zone,
        site: draft.site,
        supersedes: draft.supersedes,
        event: draft.event,
        note: draft.note,
    })
}

fn event(event: &mut Event) -> Checked {
    match event {
        Event::Round(r) => {
            shares(&r.plants)?;
            product(r.product.as_deref())?;
            strength(r.feed_strength_mg_l, r.n_mg_l)?;
            if !(1..=10).contains(&r.passes) {
                return Err(JournalError::value(
                    "/event/passes",
                    format!("{} passes", r.passes),
                    "give 1 to 10",
                ));
            }
            volume("/event/volume_ml", r.volume_ml)?;
            sum(&r.plants, r.volume_ml)?;
            if let Some(w) = &mut r.window {
                window(w)?;
            }
            conditions(r.conditions.as_ref())
        }
        Event::RootFeed(r) => {
            shares(&r.plants)?;
            product(r.product.as_deref())?;
            strength(r.feed_strength_mg_l, r.n_mg_l)?;
            volume("/event/volume_ml", r.volume_ml)?;
            sum(&r.plants, r.volume_ml)?;
            drain(r.drain_ml, r.drain_mg_l)
        }
        Event::Residue(r) => {
            if r.plants.is_empty() && r.group.is_none() {
                return Err(JournalError::value(
                    "/event/plants",
                    "neither plants nor a group",
                    "say which plants were looked at, or name their group",
                ));
            }
            plants(&r.plants)?;
            if let Some(group) = &r.group {
                name("/event/group", group)?;
            }
            if let Some(round) = &r.round {
                name("/event/round", round)?;
            }
            conditions(r.conditions.as_ref())
        }
        Event::Flush(f) => {
            some(&f.plants)?;
            volume("/event/volume_ml", f.volume_ml)?;
            drain(f.drain_ml, f.drain_mg_l)
        }
        Event::Soak(s) => {
            some(&s.plants)?;
            strength(s.feed_strength_mg_l, None)?;
            range("/event/duration_min", s.duration_min, 0.1, 1440.0, "min")
        }
        Event::Response(r) => some(&r.plants),
        Event::Note(n) => plants(&n.plants),
        Event::Retraction(_) => Ok(()),
    }
}

/// Refuses a number outside `low ..= high`; not-a-number is outside.
pub(crate) fn range(pointer: &str, value: f64, low: f64, high: f64, unit: &str) -> Checked {
    if value >= low && value <= high {
        return Ok(());
    }
    // A slip of the keyboard is not repeated with three hundred noughts.
    let given = if value.abs() < 1e9 { value.to_string() } else { format!("{value:e}") };
    Err(JournalError::value(
        pointer,
        format!("{given} {unit} is out of range"),
        format!("give a value from {low} to {high} {unit}"),
    ))
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
    Err(JournalError::value(
        pointer,
        format!("{text:?}: {wrong}"),
        "give 1 to 64 characters without semicolons",
    ))
}

fn product(text: Option<&str>) -> Checked {
    text.map_or(Ok(()), |t| name("/event/product", t))
}

fn some(list: &[String]) -> Checked {
    if list.is_empty() {
        return Err(no_plants());
    }
    plants(list)
}

fn no_plants() -> JournalError {
    JournalError::value("/event/plants", "there are none", "name at least one plant")
}

fn plants(list: &[String]) -> Checked {
    distinct(list.iter().map(String::as_str), |i| format!("/event/plants/{i}"))
}

fn distinct<'a>(list: impl Iterator<Item = &'a str>, pointer: impl Fn(usize) -> String) -> Checked {
    let mut seen = std::collections::BTreeSet::new();
    for (i, plant) in list.enumerate() {
        name(&pointer(i), plant)?;
        if i >= PLANTS_MOST {
            return Err(JournalError::value(
                pointer(i),
                format!("there are more than {PLANTS_MOST} plants"),
                "split the entry",
            ));
        }
        if !seen.insert(plant) {
            return Err(JournalError::value(
                pointer(i),
                format!("duplicate plant {plant:?}"),
                "name each plant once",
            ));
        }
    }
    Ok(())
}

fn shares(list: &[PlantShare]) -> Checked {
    if list.is_empty() {
        return Err(no_plants());
    }
    distinct(list.iter().map(|p| p.plant.as_str()), |i| format!("/event/plants/{i}/plant"))?;
    for (i, p) in list.iter().enumerate() {
        volume(&format!("/event/plants/{i}/volume_ml"), p.volume_ml)?;
    }
    Ok(())
}

fn volume(pointer: &str, v: Option<f64>) -> Checked {
    v.map_or(Ok(()), |v| range(pointer, v, 0.0, 1e6, "mL"))
}

/// The plants cannot have got more than was given. A thousandth is left for rounding.
fn sum(list: &[PlantShare], total: Option<f64>) -> Checked {
    let Some(total) = total else { return Ok(()) };
    let given: f64 = list.iter().filter_map(|p| p.volume_ml).sum();
    if given <= total * 1.001 {
        return Ok(());
    }
    Err(JournalError::value(
        "/event/volume_ml",
        format!("the plants got {given} mL of {total} mL"),
        "give a total that is at least their sum, or leave it out",
    ))
}

fn strength(mg_l: f64, n_mg_l: Option<f64>) -> Checked {
    range("/event/feed_strength_mg_l", mg_l, 0.0, 10_000.0, "mg/L")?;
    n_mg_l.map_or(Ok(()), |n| range("/event/n_mg_l", n, 0.0, mg_l, "mg/L N"))
}

fn drain(ml: Option<f64>, mg_l: Option<f64>) -> Checked {
    volume("/event/drain_ml", ml)?;
    mg_l.map_or(Ok(()), |v| range("/event/drain_mg_l", v, 0.0, 100_000.0, "mg/L"))
}

fn window(w: &mut Window) -> Checked {
    let from = Moment::parse("/event/window/from", &w.from)?;
    let to = Moment::parse("/event/window/to", &w.to)?;
    if to.instant <= from.instant {
        return Err(JournalError::value(
            "/event/window/to",
            "it is not after the start",
            "give an end after the start",
        ));
    }
    *w = Window { from: from.rfc3339(), to: to.rfc3339() };
    Ok(())
}

fn conditions(c: Option<&Conditions>) -> Checked {
    let Some(c) = c else { return Ok(()) };
    let check = |field: &str, v: Option<f64>, low, high, unit| {
        v.map_or(Ok(()), |v| range(&format!("/event/conditions/{field}"), v, low, high, unit))
    };
    let most = journal::RESIDUE_MOST.value;
    check("temp_c", c.temp_c, -5.0, 50.0, "°C")?;
    check("rh_percent", c.rh_percent, 0.0, 100.0, "%")?;
    check("air_m_s", c.air_m_s, 0.0, 30.0, "m/s")?;
    check("residue_g_m2", c.residue_g_m2, 0.0, most, "g/m²")?;
    check("residue_log_sd", c.residue_log_sd, 0.01, 3.0, "")?;
    check("scale_g_m2", c.scale_g_m2, 0.0, most, "g/m²")?;
    if *c == Conditions::default() {
        return Err(JournalError::value(
            "/event/conditions",
            "they are empty",
            "give at least one, or leave them out",
        ));
    }
    Ok(())
}

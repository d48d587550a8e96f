//! One entry as one row of CSV. Lists are joined by semicolons, which names cannot hold.

use guardcell::ledger::{
    Conditions, Done, Draft, Entry, Event, Flush, Growth, Level, Measure, Nature, Note, Place,
    PlantShare, Residue, Response, Retraction, RootFeed, Round, Sign, Soak, Task, Window, Wipe,
};
use std::cell::RefCell;
use std::collections::BTreeMap;

/// The columns, each with what it holds.
pub const COLUMNS: &[(&str, &str)] = &[
    ("id", "identifier of the entry; made up where blank"),
    ("recorded", "when it was recorded, RFC 3339; now where blank"),
    ("at", "when it happened, RFC 3339 with offset"),
    ("zone", "IANA time zone of the place"),
    ("site", "name of the site"),
    (
        "kind",
        "round, root_feed, residue, flush, soak, response, growth, wipe, task, done, note or \
         retraction",
    ),
    ("supersedes", "identifier of the entry that this one corrects"),
    ("plants", "identifiers of the plants, joined by semicolons"),
    ("volumes_ml", "mL for each plant, in the order of `plants`, joined by semicolons"),
    ("group", "residue: a name for the plants looked at"),
    ("product", "round, root_feed: what was dissolved"),
    ("feed_strength_mg_l", "round, root_feed, soak: mg/L of dissolved feed"),
    ("n_mg_l", "round, root_feed: mg/L N"),
    ("water", "round: the water it was dissolved in"),
    ("wetting_agent", "round: the wetting agent"),
    ("sprayer", "round: the sprayer"),
    ("passes", "round: passes over each plant; 1 where blank"),
    ("volume_ml", "round, root_feed, flush: mL over all plants"),
    ("window_from", "round: start of the window, RFC 3339 with offset"),
    ("window_to", "round: end of the window, RFC 3339 with offset"),
    ("temp_c", "round, residue: air temperature, °C"),
    ("rh_percent", "round, residue: relative humidity, %"),
    ("air_m_s", "round, residue: air speed at the leaves, m/s"),
    ("residue_g_m2", "round, residue: modelled residue of feed salts, g/m²"),
    ("residue_log_sd", "round, residue: its log-normal uncertainty"),
    ("scale_g_m2", "round, residue: modelled carbonate scale, g/m²"),
    ("level", "residue: none, faint, clear or heavy"),
    ("place", "residue: leaf, root_tip or pot_surface; leaf where blank"),
    ("nature", "residue: feed, scale or unknown; unknown where blank"),
    ("wiped", "residue: whether the leaves had been wiped before that round, yes or no"),
    ("round", "residue: identifier of the round it followed"),
    ("drain_ml", "root_feed, flush: mL that ran out below"),
    ("drain_mg_l", "root_feed, flush: mg/L dissolved in that"),
    ("duration_min", "soak: minutes"),
    ("sign", "response: root_tip, new_growth, bud or loss"),
    (
        "measure",
        "growth: new_root, new_leaf, new_pseudobulb, flower, lost_leaf, leaf_length_mm or weight_g",
    ),
    ("value", "growth: how many, or how much in the unit of the measure"),
    ("photo", "growth: the file name of a photo"),
    ("due", "task: the day it is due, YYYY-MM-DD"),
    ("every_days", "task: days after which it is due again; once only where blank"),
    ("task", "done: identifier of the task"),
    ("note", "free remarks"),
];

/// The row of an entry, in the order of [`COLUMNS`].
pub(crate) fn write(entry: &Entry) -> Vec<String> {
    let mut cells: BTreeMap<&str, String> = BTreeMap::new();
    let mut put = |column: &'static str, text: String| {
        cells.insert(column, text);
    };
    put("id", entry.id.clone());
    put("recorded", entry.recorded.clone());
    put("at", entry.at.clone());
    put("zone", entry.zone.clone().unwrap_or_default());
    put("site", entry.site.clone());
    put("kind", entry.event.kind().to_owned());
    put("supersedes", entry.supersedes.clone().unwrap_or_default());
    put("plants", entry.event.plants().join(";"));
    put("note", entry.note.clone());
    match &entry.event {
        Event::Round(r) => {
            put("volumes_ml", volumes(&r.plants));
            put("product", r.product.clone().unwrap_or_default());
            put("feed_strength_mg_l", r.feed_strength_mg_l.to_string());
            put("n_mg_l", number(r.n_mg_l));
            put("water", r.water.clone().unwrap_or_default());
            put("wetting_agent", r.wetting_agent.clone().unwrap_or_default());
            put("sprayer", r.sprayer.clone().unwrap_or_default());
            put("passes", r.passes.to_string());
            put("volume_ml", number(r.volume_ml));
            if let Some(w) = &r.window {
                put("window_from", w.from.clone());
                put("window_to", w.to.clone());
            }
            air(r.conditions.as_ref(), &mut put);
        }
        Event::RootFeed(r) => {
            put("volumes_ml", volumes(&r.plants));
            put("product", r.product.clone().unwrap_or_default());
            put("feed_strength_mg_l", r.feed_strength_mg_l.to_string());
            put("n_mg_l", number(r.n_mg_l));
            put("volume_ml", number(r.volume_ml));
            put("drain_ml", number(r.drain_ml));
            put("drain_mg_l", number(r.drain_mg_l));
        }
        Event::Residue(r) => {
            put("group", r.group.clone().unwrap_or_default());
            put("level", r.level.word().to_owned());
            put("place", r.place.word().to_owned());
            put("nature", r.nature.word().to_owned());
            let yes_or_no = |w| if w { "yes" } else { "no" };
            put("wiped", r.wiped.map_or("", yes_or_no).to_owned());
            put("round", r.round.clone().unwrap_or_default());
            air(r.conditions.as_ref(), &mut put);
        }
        Event::Flush(f) => {
            put("volume_ml", number(f.volume_ml));
            put("drain_ml", number(f.drain_ml));
            put("drain_mg_l", number(f.drain_mg_l));
        }
        Event::Soak(s) => {
            put("feed_strength_mg_l", s.feed_strength_mg_l.to_string());
            put("duration_min", s.duration_min.to_string());
        }
        Event::Response(r) => put("sign", r.sign.word().to_owned()),
        Event::Growth(g) => {
            put("measure", g.measure.map_or("", Measure::word).to_owned());
            put("value", number(g.value));
            put("photo", g.photo.clone().unwrap_or_default());
        }
        Event::Task(t) => {
            put("due", t.due.clone());
            put("every_days", t.every_days.map_or_else(String::new, |n| n.to_string()));
        }
        Event::Done(d) => put("task", d.task.clone()),
        Event::Wipe(_) | Event::Note(_) | Event::Retraction(_) => {}
    }
    COLUMNS.iter().map(|(c, _)| cells.remove(c).unwrap_or_default()).collect()
}

fn number(v: Option<f64>) -> String {
    v.map_or_else(String::new, |v| v.to_string())
}

fn volumes(plants: &[PlantShare]) -> String {
    if plants.iter().all(|p| p.volume_ml.is_none()) {
        return String::new();
    }
    plants.iter().map(|p| number(p.volume_ml)).collect::<Vec<_>>().join(";")
}

fn air(c: Option<&Conditions>, put: &mut impl FnMut(&'static str, String)) {
    let Some(c) = c else { return };
    put("temp_c", number(c.temp_c));
    put("rh_percent", number(c.rh_percent));
    put("air_m_s", number(c.air_m_s));
    put("residue_g_m2", number(c.residue_g_m2));
    put("residue_log_sd", number(c.residue_log_sd));
    put("scale_g_m2", number(c.scale_g_m2));
}

/// The columns of a file, in its own order.
#[derive(Debug)]
pub(crate) struct Columns(Vec<&'static str>);

impl Columns {
    /// Reads the header row.
    pub(crate) fn read(record: &csv::StringRecord) -> Result<Self, String> {
        let mut found: Vec<&'static str> = Vec::new();
        for (i, cell) in record.iter().enumerate() {
            let cell = cell.trim_start_matches('\u{feff}').trim();
            let Some((column, _)) = COLUMNS.iter().find(|(c, _)| *c == cell) else {
                let known: Vec<&str> = COLUMNS.iter().map(|c| c.0).collect();
                return Err(format!(
                    "field {}: {cell:?} is not a column of the journal; the columns are {}",
                    i + 1,
                    known.join(", ")
                ));
            };
            if found.contains(column) {
                return Err(format!("field {}: duplicate column {cell:?}", i + 1));
            }
            found.push(column);
        }
        for needed in ["at", "site", "kind"] {
            if !found.contains(&needed) {
                return Err(format!("the column {needed:?} is missing"));
            }
        }
        Ok(Self(found))
    }

    /// Reads one row.
    pub(crate) fn draft(&self, record: &csv::StringRecord) -> Result<Draft, String> {
        if record.len() != self.0.len() {
            return Err(format!("{} fields; the header has {}", record.len(), self.0.len()));
        }
        let cells = self
            .0
            .iter()
            .copied()
            .zip(record.iter())
            .filter(|(_, text)| !text.is_empty())
            .collect::<BTreeMap<_, _>>();
        let row = Row(RefCell::new(cells));
        let kind = row.must("kind")?;
        let event = row.event(kind)?;
        let draft = Draft {
            id: row.text("id"),
            recorded: row.text("recorded"),
            at: row.must("at")?.to_owned(),
            zone: row.text("zone"),
            site: row.must("site")?.to_owned(),
            supersedes: row.text("supersedes"),
            event,
            note: row.text("note").unwrap_or_default(),
        };
        let left = row.0.borrow();
        if let Some((column, text)) = left.iter().next() {
            return Err(format!(
                "column {column:?}: {text:?} has no meaning for a {kind}; leave it blank"
            ));
        }
        Ok(draft)
    }
}

/// The cells of a row that have not been read yet.
struct Row<'a>(RefCell<BTreeMap<&'static str, &'a str>>);

impl<'a> Row<'a> {
    fn take(&self, column: &str) -> Option<&'a str> {
        self.0.borrow_mut().remove(column)
    }

    fn text(&self, column: &str) -> Option<String> {
        self.take(column).map(str::to_owned)
    }

    fn must(&self, column: &str) -> Result<&'a str, String> {
        self.take(column).ok_or_else(|| format!("column {column:?}: it is blank; it is needed"))
    }

    fn number(&self, column: &str) -> Result<Option<f64>, String> {
        self.take(column).map(|t| parse(column, t)).transpose()
    }

    fn need(&self, column: &str) -> Result<f64, String> {
        parse(column, self.must(column)?)
    }

    fn plants(&self) -> Vec<String> {
        self.take("plants").map_or_else(Vec::new, |t| t.split(';').map(str::to_owned).collect())
    }

    fn shares(&self) -> Result<Vec<PlantShare>, String> {
        let plants = self.plants();
        let volumes: Vec<Option<f64>> = match self.take("volumes_ml") {
            None => vec![None; plants.len()],
            Some(text) => text
                .split(';')
                .map(|t| if t.is_empty() { Ok(None) } else { parse("volumes_ml", t).map(Some) })
                .collect::<Result<_, _>>()?,
        };
        if volumes.len() != plants.len() {
            return Err(format!(
                "column \"volumes_ml\": {} volumes for {} plants; give one for each, or none",
                volumes.len(),
                plants.len()
            ));
        }
        Ok(plants
            .into_iter()
            .zip(volumes)
            .map(|(plant, volume_ml)| PlantShare { plant, volume_ml })
            .collect())
    }

    fn word<T: Copy>(
        &self,
        column: &str,
        all: &[T],
        word: impl Fn(T) -> &'static str,
    ) -> Result<Option<T>, String> {
        let Some(text) = self.take(column) else { return Ok(None) };
        match all.iter().copied().find(|v| word(*v) == text) {
            Some(v) => Ok(Some(v)),
            None => {
                let words: Vec<&str> = all.iter().map(|v| word(*v)).collect();
                Err(format!("column {column:?}: {text:?}; write one of {}", words.join(", ")))
            }
        }
    }

    fn air(&self) -> Result<Option<Conditions>, String> {
        let c = Conditions {
            temp_c: self.number("temp_c")?,
            rh_percent: self.number("rh_percent")?,
            air_m_s: self.number("air_m_s")?,
            residue_g_m2: self.number("residue_g_m2")?,
            residue_log_sd: self.number("residue_log_sd")?,
            scale_g_m2: self.number("scale_g_m2")?,
        };
        Ok((c != Conditions::default()).then_some(c))
    }

    fn window(&self) -> Result<Option<Window>, String> {
        match (self.text("window_from"), self.text("window_to")) {
            (None, None) => Ok(None),
            (Some(from), Some(to)) => Ok(Some(Window { from, to })),
            (Some(_), None) => Err("column \"window_to\": it is blank; give start and end".into()),
            (None, Some(_)) => {
                Err("column \"window_from\": it is blank; give start and end".into())
            }
        }
    }

    fn wiped(&self) -> Result<Option<bool>, String> {
        match self.take("wiped") {
            None => Ok(None),
            Some("yes") => Ok(Some(true)),
            Some("no") => Ok(Some(false)),
            Some(other) => Err(format!("column \"wiped\": {other:?}; write yes or no")),
        }
    }

    fn every_days(&self) -> Result<Option<u32>, String> {
        let parsed = |t: &str| {
            t.parse()
                .map_err(|_| format!("column \"every_days\": {t:?}; give a whole number of days"))
        };
        self.take("every_days").map(parsed).transpose()
    }

    fn passes(&self) -> Result<u8, String> {
        self.take("passes").map_or(Ok(1), |t| {
            t.parse().map_err(|_| format!("column \"passes\": {t:?}; give a whole number, 1 to 10"))
        })
    }

    fn event(&self, kind: &str) -> Result<Event, String> {
        Ok(match kind {
            "round" => Event::Round(Round {
                plants: self.shares()?,
                product: self.text("product"),
                water: self.text("water"),
                wetting_agent: self.text("wetting_agent"),
                sprayer: self.text("sprayer"),
                feed_strength_mg_l: self.need("feed_strength_mg_l")?,
                n_mg_l: self.number("n_mg_l")?,
                passes: self.passes()?,
                volume_ml: self.number("volume_ml")?,
                window: self.window()?,
                conditions: self.air()?,
            }),
            "root_feed" => Event::RootFeed(RootFeed {
                plants: self.shares()?,
                product: self.text("product"),
                feed_strength_mg_l: self.need("feed_strength_mg_l")?,
                n_mg_l: self.number("n_mg_l")?,
                volume_ml: self.number("volume_ml")?,
                drain_ml: self.number("drain_ml")?,
                drain_mg_l: self.number("drain_mg_l")?,
            }),
            "residue" => Event::Residue(Residue {
                plants: self.plants(),
                group: self.text("group"),
                level: self
                    .word("level", Level::ALL, Level::word)?
                    .ok_or("column \"level\": it is blank; write none, faint, clear or heavy")?,
                place: self.word("place", Place::ALL, Place::word)?.unwrap_or_default(),
                nature: self.word("nature", Nature::ALL, Nature::word)?.unwrap_or_default(),
                wiped: self.wiped()?,
                round: self.text("round"),
                conditions: self.air()?,
            }),
            "flush" => Event::Flush(Flush {
                plants: self.plants(),
                volume_ml: self.number("volume_ml")?,
                drain_ml: self.number("drain_ml")?,
                drain_mg_l: self.number("drain_mg_l")?,
            }),
            "soak" => Event::Soak(Soak {
                plants: self.plants(),
                feed_strength_mg_l: self.need("feed_strength_mg_l")?,
                duration_min: self.need("duration_min")?,
            }),
            "response" => Event::Response(Response {
                plants: self.plants(),
                sign: self.word("sign", Sign::ALL, Sign::word)?.ok_or(
                    "column \"sign\": it is blank; write root_tip, new_growth, bud or loss",
                )?,
            }),
            "growth" => Event::Growth(Growth {
                plants: self.plants(),
                measure: self.word("measure", Measure::ALL, Measure::word)?,
                value: self.number("value")?,
                photo: self.text("photo"),
            }),
            "wipe" => Event::Wipe(Wipe { plants: self.plants() }),
            "task" => Event::Task(Task {
                plants: self.plants(),
                due: self.text("due").ok_or("column \"due\": it is blank; write a day")?,
                every_days: self.every_days()?,
            }),
            "done" => Event::Done(Done {
                task: self.text("task").ok_or("column \"task\": it is blank; name the entry")?,
            }),
            "note" => Event::Note(Note { plants: self.plants() }),
            "retraction" => Event::Retraction(Retraction {}),
            other => {
                return Err(format!(
                    "column \"kind\": {other:?}; write round, root_feed, residue, flush, soak, \
                     response, growth, wipe, task, done, note or retraction"
                ));
            }
        })
    }
}

fn parse(column: &str, text: &str) -> Result<f64, String> {
    match text.trim().parse::<f64>() {
        Ok(v) if v.is_finite() => Ok(v),
        _ => Err(format!("column {column:?}: {text:?} is not a number; write it like 12.5")),
    }
}

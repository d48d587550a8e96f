//! What an entry of the journal holds. Wire types, shared by every face.

use guardcell_call::{Bound, bounds, words};
use guardcell_reference::parameters::journal;
use serde::{Deserialize, Serialize};

/// Names of plants, products, groups, entries.
const NAME: Bound = Bound::text(1, 64);
/// A time.
const TIME: Bound = Bound::text(1, 64);
/// The plants of an entry; of some kinds there may be none.
const PLANTS: Bound = Bound::items(1, 10_000);
const ANY_PLANTS: Bound = Bound::items(0, 10_000);
const STRENGTH: Bound = Bound::number(0.0, 10_000.0, "mg/L");
const VOLUME: Bound = Bound::number(0.0, 1e6, "mL");
const DRAIN: Bound = Bound::number(0.0, 1e5, "mg/L");
const RESIDUE: Bound = Bound::number(0.0, journal::RESIDUE_MOST.g_per_m2(), "g/m²");

bounds! { Draft {
    id: NAME, recorded: TIME, at: TIME, zone: TIME, site: NAME, supersedes: NAME,
    note: Bound::text(0, 10_000),
} }

bounds! { Entry {
    id: NAME, recorded: TIME, at: TIME, zone: TIME, site: NAME, supersedes: NAME,
    note: Bound::text(0, 10_000),
} }

bounds! { PlantShare { plant: NAME, volume_ml: VOLUME } }

bounds! { Round {
    plants: PLANTS,
    product: NAME,
    water: NAME,
    wetting_agent: NAME,
    sprayer: NAME,
    feed_strength_mg_l: STRENGTH,
    n_mg_l: STRENGTH,
    passes: Bound::number(1.0, 10.0, ""),
    volume_ml: VOLUME,
} }

bounds! { Window { from: TIME, to: TIME } }

bounds! { Conditions {
    temp_c: Bound::number(-5.0, 50.0, "°C"),
    rh_percent: Bound::number(0.0, 100.0, "%"),
    air_m_s: Bound::number(0.0, 30.0, "m/s"),
    residue_g_m2: RESIDUE,
    residue_log_sd: Bound::number(0.01, 3.0, ""),
    scale_g_m2: RESIDUE,
} }

bounds! { RootFeed {
    plants: PLANTS,
    product: NAME,
    feed_strength_mg_l: STRENGTH,
    n_mg_l: STRENGTH,
    volume_ml: VOLUME,
    drain_ml: VOLUME,
    drain_mg_l: DRAIN,
} }

bounds! { Residue { plants: ANY_PLANTS, group: NAME, round: NAME } }

bounds! { Flush { plants: PLANTS, volume_ml: VOLUME, drain_ml: VOLUME, drain_mg_l: DRAIN } }

bounds! { Soak {
    plants: PLANTS,
    feed_strength_mg_l: STRENGTH,
    duration_min: Bound::number(0.1, 1440.0, "min"),
} }

bounds! { Response { plants: PLANTS } }

bounds! { Growth {
    plants: PLANTS,
    value: Bound::number(0.0, 1e6, ""),
    photo: Bound::text(1, 200),
} }

bounds! { Wipe { plants: PLANTS } }

bounds! { Task {
    plants: ANY_PLANTS,
    due: Bound::text(10, 10),
    every_days: Bound::number(1.0, 3660.0, "d"),
} }

bounds! { Done { task: NAME } }

bounds! { Note { plants: ANY_PLANTS } }

/// An entry to be recorded. An [`Entry`] in JSON is a valid draft too: that is how an export is
/// imported again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Draft {
    /// An identifier of the caller's own, 1 to 64 characters. Given twice with the same content
    /// the entry is recorded once, so a caller that was interrupted can simply try again. The
    /// journal makes one up if it is missing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// When it was recorded, RFC 3339; now if it is missing. Only imports set it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recorded: Option<String>,
    /// When it happened, RFC 3339 with the offset of the grower's clock.
    pub at: String,
    /// IANA time zone of the place, such as `Europe/London`; must have that offset at that time.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zone: Option<String>,
    /// The name of the site.
    pub site: String,
    /// The entry that this one corrects. The old one is kept.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub supersedes: Option<String>,
    /// What happened.
    pub event: Event,
    /// Free remarks, up to 10,000 characters.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// A recorded entry.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// The identifier.
    pub id: String,
    /// When it was recorded, RFC 3339.
    pub recorded: String,
    /// When it happened, RFC 3339 with the offset of the grower's clock.
    pub at: String,
    /// IANA time zone of the place.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zone: Option<String>,
    /// The name of the site.
    pub site: String,
    /// The entry that this one corrects.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub supersedes: Option<String>,
    /// What happened.
    pub event: Event,
    /// Free remarks.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

impl From<Entry> for Draft {
    fn from(e: Entry) -> Self {
        Self {
            id: Some(e.id),
            recorded: Some(e.recorded),
            at: e.at,
            zone: e.zone,
            site: e.site,
            supersedes: e.supersedes,
            event: e.event,
            note: e.note,
        }
    }
}

/// What happened.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Event {
    /// Plants were misted with feed.
    Round(Round),
    /// Plants were watered with feed at the root.
    RootFeed(RootFeed),
    /// Somebody looked for residue.
    Residue(Residue),
    /// A pot was flushed with plain water.
    Flush(Flush),
    /// A rootless plant was soaked.
    Soak(Soak),
    /// A plant did something.
    Response(Response),
    /// Something was counted or measured on plants, or a photo was taken.
    Growth(Growth),
    /// Leaves were wiped clean.
    Wipe(Wipe),
    /// Something is to be done by a day; the note says what.
    Task(Task),
    /// A task was done.
    Done(Done),
    /// Only a note.
    Note(Note),
    /// The entry it supersedes was a mistake and stands for nothing.
    Retraction(Retraction),
}

macro_rules! kinds {
    ($($variant:ident = $word:literal),* $(,)?) => {
        impl Event {
            /// The word of each kind, in order.
            pub const KINDS: &'static [&'static str] = &[$($word),*];

            /// The word on the wire.
            #[must_use]
            pub const fn kind(&self) -> &'static str {
                match self { $(Self::$variant(_) => $word),* }
            }
        }
    };
}

kinds! {
    Round = "round",
    RootFeed = "root_feed",
    Residue = "residue",
    Flush = "flush",
    Soak = "soak",
    Response = "response",
    Growth = "growth",
    Wipe = "wipe",
    Task = "task",
    Done = "done",
    Note = "note",
    Retraction = "retraction",
}

impl Event {
    /// The plants it names, in its order.
    #[must_use]
    pub fn plants(&self) -> Vec<&str> {
        match self {
            Self::Round(r) => r.plants.iter().map(|p| p.plant.as_str()).collect(),
            Self::RootFeed(r) => r.plants.iter().map(|p| p.plant.as_str()).collect(),
            Self::Residue(Residue { plants, .. })
            | Self::Flush(Flush { plants, .. })
            | Self::Soak(Soak { plants, .. })
            | Self::Response(Response { plants, .. })
            | Self::Growth(Growth { plants, .. })
            | Self::Wipe(Wipe { plants })
            | Self::Task(Task { plants, .. })
            | Self::Note(Note { plants, .. }) => plants.iter().map(String::as_str).collect(),
            Self::Done(_) | Self::Retraction(_) => Vec::new(),
        }
    }
}

/// One plant and how much it got.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct PlantShare {
    /// The grower's identifier of the plant.
    pub plant: String,
    /// Volume given to it, over all passes, in mL.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
}

/// A round that was given: one feed strength, one or more plants.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Round {
    /// The plants, and the volume of each where it is known.
    pub plants: Vec<PlantShare>,
    /// The product that was dissolved.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub product: Option<String>,
    /// The water it was dissolved in, by the grower's own name for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water: Option<String>,
    /// The wetting agent that was added; `none` where the grower has given one up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wetting_agent: Option<String>,
    /// The sprayer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sprayer: Option<String>,
    /// Feed strength, mg/L of dissolved feed, 0 (plain water) to 10,000.
    pub feed_strength_mg_l: f64,
    /// Nitrogen in it, mg/L N.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub n_mg_l: Option<f64>,
    /// Passes over each plant, 1 to 10.
    #[serde(default = "one")]
    pub passes: u8,
    /// Volume sprayed over all plants and passes, in mL.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
    /// The window it was advised for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub window: Option<Window>,
    /// The air of that day and what the model of the film made of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub conditions: Option<Conditions>,
}

const fn one() -> u8 {
    1
}

/// From when to when.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Window {
    /// Start, RFC 3339 with offset.
    pub from: String,
    /// End, RFC 3339 with offset.
    pub to: String,
}

/// The air of the day and the residue modelled for it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Conditions {
    /// Air temperature in °C, −5 to 50.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temp_c: Option<f64>,
    /// Relative humidity in %, 0 to 100.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rh_percent: Option<f64>,
    /// Air speed at the leaves in m/s, 0 to 30.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_m_s: Option<f64>,
    /// Modelled residue of feed salts, g/m², 0 to 20.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residue_g_m2: Option<f64>,
    /// Its log-normal uncertainty (standard deviation of the natural logarithm), that of the film
    /// load included, 0.01 to 3.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residue_log_sd: Option<f64>,
    /// Modelled carbonate scale from the water alone, g/m², 0 to 20.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scale_g_m2: Option<f64>,
}

/// Feed given at the root.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct RootFeed {
    /// The plants, and the volume of each where it is known.
    pub plants: Vec<PlantShare>,
    /// The product that was dissolved.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub product: Option<String>,
    /// Feed strength, mg/L of dissolved feed, 0 to 10,000.
    pub feed_strength_mg_l: f64,
    /// Nitrogen in it, mg/L N.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub n_mg_l: Option<f64>,
    /// Volume given over all plants, in mL.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
    /// What ran out below, over all plants, in mL.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drain_ml: Option<f64>,
    /// What was dissolved in that, in mg/L.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drain_mg_l: Option<f64>,
}

/// What was seen once dry.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Residue {
    /// The plants looked at; may be empty where `group` is given.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub plants: Vec<String>,
    /// A name for plants that look alike to a looker: dark glossy leaves, the mounted wall.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<String>,
    /// How much was seen.
    pub level: Level,
    /// Where.
    #[serde(default)]
    pub place: Place,
    /// What it is, where known.
    #[serde(default)]
    pub nature: Nature,
    /// Whether the leaves had been wiped clean before the round that is looked at; taken as yes
    /// where not given. White on leaves that were not is white since the last wipe, from whichever
    /// round.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wiped: Option<bool>,
    /// The entry of the round it followed; where not given, the last round on the same plants.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub round: Option<String>,
    /// Conditions and modelled residue, where they are not in the entry of the round.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub conditions: Option<Conditions>,
}

/// How much residue was seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Level {
    /// Looked for and not seen.
    None,
    /// Seen only in slanting light or when looked for.
    Faint,
    /// Seen at once.
    Clear,
    /// A crust or white all over.
    Heavy,
}

/// Where residue was seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Place {
    /// On a leaf.
    #[default]
    Leaf,
    /// On a root tip.
    RootTip,
    /// On the pot or the top of the mix.
    PotSurface,
}

/// What the residue is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Nature {
    /// Feed salts: wiped off with plain water.
    Feed,
    /// Carbonate scale: stays when wiped with plain water.
    Scale,
    /// Not known.
    #[default]
    Unknown,
}

/// A pot flushed with plain water.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Flush {
    /// The plants.
    pub plants: Vec<String>,
    /// Water poured through over all plants, in mL.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub volume_ml: Option<f64>,
    /// What ran out below, over all plants, in mL.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drain_ml: Option<f64>,
    /// What was dissolved in that, in mg/L.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drain_mg_l: Option<f64>,
}

/// A rescue soak of a rootless plant.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Soak {
    /// The plants.
    pub plants: Vec<String>,
    /// Feed strength, mg/L of dissolved feed, 0 to 10,000.
    pub feed_strength_mg_l: f64,
    /// How long, in minutes, up to 1,440.
    pub duration_min: f64,
}

/// What a plant did.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Response {
    /// The plants.
    pub plants: Vec<String>,
    /// What was seen.
    pub sign: Sign,
}

/// A sign of growth, or the end of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Sign {
    /// A new or moving root tip.
    RootTip,
    /// A new shoot or leaf.
    NewGrowth,
    /// A spike or bud.
    Bud,
    /// The plant died.
    Loss,
}

/// What was counted or measured on each of some plants, or a photo of them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Growth {
    /// The plants.
    pub plants: Vec<String>,
    /// What was counted or measured; required with `value`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measure: Option<Measure>,
    /// How many, or how much in the unit of the measure, on each plant. Counts are of what is new
    /// since the look before; 0 says that somebody looked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// The file name of a photo.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub photo: Option<String>,
}

/// What is counted or measured on a plant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Measure {
    /// New roots since the look before.
    NewRoot,
    /// New leaves.
    NewLeaf,
    /// New pseudobulbs or growths.
    NewPseudobulb,
    /// Flowers that opened.
    Flower,
    /// Leaves that were lost.
    LostLeaf,
    /// The length of the longest leaf, mm.
    LeafLengthMm,
    /// The weight, g.
    WeightG,
}

impl Measure {
    /// Whether it is a count: a whole number that adds up over time.
    #[must_use]
    pub const fn is_count(self) -> bool {
        !matches!(self, Self::LeafLengthMm | Self::WeightG)
    }
}

/// Leaves that were wiped clean: the next look tells about the rounds after it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Wipe {
    /// The plants.
    pub plants: Vec<String>,
}

/// Something that is to be done by a day. What it is, is in the note of the entry.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Task {
    /// The plants it is about, if any.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub plants: Vec<String>,
    /// The day it is due, `YYYY-MM-DD`.
    pub due: String,
    /// Days after which it is due again once it was done; once only where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub every_days: Option<u32>,
}

/// A task that was done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Done {
    /// The entry of the task.
    pub task: String,
}

/// Only a note; the text is in the entry.
#[derive(Debug, Clone, PartialEq, Default, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Note {
    /// The plants it is about, if any.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub plants: Vec<String>,
}

/// The entry it supersedes was a mistake.
#[derive(Debug, Clone, PartialEq, Default, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Retraction {}

words!(Level: None = "none", Faint = "faint", Clear = "clear", Heavy = "heavy");
words!(Place: Leaf = "leaf", RootTip = "root_tip", PotSurface = "pot_surface");
words!(Nature: Feed = "feed", Scale = "scale", Unknown = "unknown");
words!(Measure: NewRoot = "new_root", NewLeaf = "new_leaf", NewPseudobulb = "new_pseudobulb",
    Flower = "flower", LostLeaf = "lost_leaf", LeafLengthMm = "leaf_length_mm",
    WeightG = "weight_g");
words!(Sign: RootTip = "root_tip", NewGrowth = "new_growth", Bud = "bud", Loss = "loss");

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_those_of_the_wire() {
        for v in Level::ALL {
            assert_eq!(serde_json::to_value(v).unwrap(), v.word());
        }
        for v in Place::ALL {
            assert_eq!(serde_json::to_value(v).unwrap(), v.word());
        }
        for v in Nature::ALL {
            assert_eq!(serde_json::to_value(v).unwrap(), v.word());
        }
        for v in Measure::ALL {
            assert_eq!(serde_json::to_value(v).unwrap(), v.word());
        }
        for v in Sign::ALL {
            assert_eq!(serde_json::to_value(v).unwrap(), v.word());
        }
    }

    #[test]
    fn an_unknown_field_is_refused_at_every_depth() {
        let good = r#"{"at":"2026-06-21T18:00:00Z","site":"house","event":{"kind":"soak","plants":["a"],"feed_strength_mg_l":50,"duration_min":30}}"#;
        assert!(serde_json::from_str::<Draft>(good).is_ok());
        for bad in [
            good.replace("\"site\"", "\"sites\""),
            good.replace("\"duration_min\":30", "\"duration_min\":30,\"x\":1"),
            good.replace("\"soak\"", "\"bath\""),
        ] {
            assert!(serde_json::from_str::<Draft>(&bad).is_err(), "{bad}");
        }
    }
}

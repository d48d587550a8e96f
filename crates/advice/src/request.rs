//! What a caller asks: site, readings, water, feed, plants, settings. One wire type per part,
//! shared by every face of guardcell.

use guardcell_call::{Bound, bounds};
use guardcell_clock::{LampCycle, LampRun, LightKind, WaterStatus};
use guardcell_reference::Leaf;
use guardcell_solution::{Label, WaterReport};
use serde::{Deserialize, Serialize};

/// A request for advice: who may be fed, when, how strong.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct AdviceRequest {
    /// The place, its areas and its grower.
    pub site: SiteDescription,
    /// The air: one reading (advice for now) or an hourly series (advice by window).
    pub readings: Vec<Reading>,
    /// The plants.
    pub plants: Vec<PlantEntry>,
    /// The product that is fed, as its label states it. Without it the feed is taken as unknown
    /// salts and the answer says what that leaves open.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feed: Option<Label>,
    /// The water the feed is mixed with and the mister topped up with. Without it, pure water is
    /// assumed and the answer says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water: Option<WaterReport>,
    /// When the answer starts: a date (`2026-06-21`, taken as local noon) or an RFC 3339 time.
    pub at: String,
    /// How many hours the answer looks ahead; 36 when not given (tonight and tomorrow).
    #[serde(default = "default_hours")]
    pub hours: u16,
}

bounds! { AdviceRequest {
    hours: Bound::number(1.0, 168.0, "h"),
    plants: Bound::items(1, 20_000),
    readings: Bound::items(1, 200_000),
    at: Bound::text(1, 64),
} }

const fn default_hours() -> u16 {
    36
}

/// The place: where it is, its areas, and what its grower has to work with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct SiteDescription {
    /// The name of the site.
    pub name: String,
    /// Latitude in degrees, north positive, −90 to 90.
    pub latitude_deg: f64,
    /// Longitude in degrees, east positive, −180 to 180.
    pub longitude_deg: f64,
    /// IANA time zone, such as `Europe/London`.
    pub time_zone: String,
    /// Height above sea level in metres; 0 when not given.
    #[serde(default)]
    pub elevation_m: f64,
    /// The parts of the site with an air or a light of their own.
    pub areas: Vec<AreaDescription>,
    /// What the grower has and wants.
    #[serde(default)]
    pub grower: GrowerSettings,
}

bounds! { SiteDescription {
    name: Bound::text(0, 200),
    latitude_deg: Bound::number(-90.0, 90.0, "°"),
    longitude_deg: Bound::number(-180.0, 180.0, "°"),
    time_zone: Bound::text(1, 100),
    elevation_m: Bound::number(-430.0, 5500.0, "m"),
    areas: Bound::items(1, 200),
} }

/// One part of a site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct AreaDescription {
    /// The identifier that plants and readings name.
    pub id: String,
    /// The name in words.
    pub name: String,
    /// Under a roof, under glass, or outdoors.
    pub shelter: Shelter,
    /// Where its light comes from.
    #[serde(default)]
    pub light: LightKind,
    /// Lamp hours; these or a cycle are required when `light` has lamps.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lamps: Vec<LampRun>,
    /// Lamps that are on and off in turn, instead of lamp hours.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lamp_cycle: Option<LampCycle>,
    /// What the plants of the area have had to drink.
    #[serde(default)]
    pub water_status: WaterStatus,
    /// Whether its plants rest in the dark months; says nothing of lamp-lit areas and outdoors.
    #[serde(default)]
    pub winter: Winter,
    /// Air speed in m/s used where a reading has none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_m_s: Option<f64>,
}

bounds! { AreaDescription {
    id: Bound::text(1, 100),
    name: Bound::text(0, 200),
    lamps: Bound::items(0, 24),
    air_m_s: Bound::number(0.0, 30.0, "m/s"),
} }

/// How an area is sheltered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Shelter {
    /// A room of a house.
    Room,
    /// A glasshouse.
    Glass,
    /// Outdoors.
    Outdoors,
}

/// Whether plants under cover that see the sun alone rest in the dark months.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Winter {
    /// They rest: no evening misting while the days are short, and in a room nothing is misted but
    /// weak and rootless plants.
    #[default]
    Rest,
    /// Growth goes on, by warmth or by lamps that are not described here.
    Grow,
}

/// What the grower has to work with and is willing to accept.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct GrowerSettings {
    /// When the grower can be with the plants, local time; empty means at any hour.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub working_hours: Vec<WorkingHours>,
    /// What a full mister holds, in millilitres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mister_ml: Option<f64>,
    /// The smallest mass the grower's scale shows, in grams.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub scale_g: Option<f64>,
    /// The probability of visible residue the grower accepts, 0.01 to 0.5.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tolerance: Option<f64>,
    /// The grower's own residue threshold, in g/m², where it has been learned.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residue_threshold_g_m2: Option<f64>,
    /// The standard deviation of its natural logarithm; that of the shipped threshold when not
    /// given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residue_threshold_log_sd: Option<f64>,
    /// How many looks at dry leaves it was learned from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub residue_threshold_looks: Option<u32>,
    /// The highest strength that the journal proposes for the next round, mg/L: no plant gets more.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next_strength_mg_l: Option<f64>,
    /// The strength that left white, mg/L, where that is why the journal proposes no more.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next_strength_after_white_at_mg_l: Option<f64>,
    /// What the journal proposes for plants that are looked at as a group of their own, instead
    /// of the strength above.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub next_strengths: Vec<GroupStrength>,
    /// Whether the grower logs white only, so that a round without a look was probably clean. The
    /// journal counts such rounds as half a clean look.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub logs_only_white: bool,
    /// Seconds to find and spray one plant once; that of the practice table when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seconds_per_plant: Option<f64>,
    /// Minutes to measure and mix one fill of the mister; that of the practice table when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes_per_fill: Option<f64>,
    /// The product that is fed where several labels are given: its name or a part of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub feed: Option<String>,
}

bounds! { GrowerSettings {
    working_hours: Bound::items(0, 24),
    mister_ml: Bound::number(50.0, 20_000.0, "mL"),
    scale_g: Bound::number(0.001, 100.0, "g"),
    tolerance: Bound::number(0.01, 0.5, ""),
    residue_threshold_g_m2: Bound::number(1e-4, 10.0, "g/m²"),
    residue_threshold_log_sd: Bound::number(0.01, 3.0, ""),
    residue_threshold_looks: Bound::number(0.0, 1e6, ""),
    next_strength_mg_l: NEXT_STRENGTH,
    next_strength_after_white_at_mg_l: NEXT_STRENGTH,
    next_strengths: Bound::items(0, 1000),
    seconds_per_plant: Bound::number(1.0, 3600.0, "s"),
    minutes_per_fill: Bound::number(0.0, 120.0, "min"),
    feed: Bound::text(0, 200),
} }

/// 0 is plain water.
const NEXT_STRENGTH: Bound = Bound::number(0.0, 1e4, "mg/L");

/// What the journal proposes for some plants.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct GroupStrength {
    /// The plants, by id. Ids that are not in the collection do no harm.
    pub plants: Vec<String>,
    /// The highest strength for the next round, mg/L; what practice gives where absent.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next_strength_mg_l: Option<f64>,
    /// The strength that left white, mg/L, where that is why.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next_strength_after_white_at_mg_l: Option<f64>,
}

bounds! { GroupStrength {
    plants: Bound::items(0, 20_000),
    next_strength_mg_l: NEXT_STRENGTH,
    next_strength_after_white_at_mg_l: NEXT_STRENGTH,
} }

/// A period of the day in local time; `to` earlier than `from` runs over midnight.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct WorkingHours {
    /// Start, `HH:MM`.
    #[cfg_attr(feature = "schema", schemars(regex(pattern = "^([01][0-9]|2[0-3]):[0-5][0-9]$")))]
    pub from: String,
    /// End, `HH:MM`.
    #[cfg_attr(feature = "schema", schemars(regex(pattern = "^([01][0-9]|2[0-3]):[0-5][0-9]$")))]
    pub to: String,
}

/// One reading (or forecast) of the air of an area.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// When, RFC 3339 with offset.
    #[cfg_attr(feature = "schema", schemars(extend("format" = "date-time")))]
    pub time: String,
    /// The area it holds for; every area when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub area: Option<String>,
    /// Air temperature in °C.
    pub temp_c: f64,
    /// Relative humidity in %.
    pub rh_percent: f64,
    /// Air speed at the leaves in m/s.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_m_s: Option<f64>,
    /// Global radiation at the leaves in W/m².
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub radiation_w_m2: Option<f64>,
}

bounds! { Reading {
    time: Bound::text(1, 64),
    area: Bound::text(0, 100),
    temp_c: Reading::TEMP_C.bound(),
    rh_percent: Reading::RH_PERCENT.bound(),
    air_m_s: Reading::AIR_M_S.bound(),
    radiation_w_m2: Reading::RADIATION_W_M2.bound(),
} }

/// The range a number of a reading is accepted from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadingRange {
    /// The field of [`Reading`].
    pub field: &'static str,
    /// The lowest value accepted, in `unit`.
    pub low: f64,
    /// The highest value accepted, in `unit`.
    pub high: f64,
    /// The unit.
    pub unit: &'static str,
}

impl ReadingRange {
    const fn new(field: &'static str, low: f64, high: f64, unit: &'static str) -> Self {
        Self { field, low, high, unit }
    }

    const fn bound(self) -> Bound {
        Bound::number(self.low, self.high, self.unit)
    }
}

impl Reading {
    const TEMP_C: ReadingRange = ReadingRange::new("temp_c", -5.0, 50.0, "°C");
    const RH_PERCENT: ReadingRange = ReadingRange::new("rh_percent", 0.0, 100.0, "%");
    const AIR_M_S: ReadingRange = ReadingRange::new("air_m_s", 0.0, 30.0, "m/s");
    const RADIATION_W_M2: ReadingRange = ReadingRange::new("radiation_w_m2", 0.0, 1500.0, "W/m²");

    /// The ranges of temperature, humidity, air speed and radiation, in this order.
    ///
    /// ```
    /// # mod guardcell { pub mod advice { pub use guardcell_advice::*; } }
    /// use guardcell::advice::Reading;
    /// assert_eq!(Reading::RANGES[1].field, "rh_percent");
    /// ```
    pub const RANGES: [ReadingRange; 4] =
        [Self::TEMP_C, Self::RH_PERCENT, Self::AIR_M_S, Self::RADIATION_W_M2];
}

/// One plant of the collection.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct PlantEntry {
    /// The grower's own identifier, unique in the collection.
    pub id: String,
    /// Genus, species or hybrid as written on the label of the plant.
    pub name: String,
    /// The area it stands in.
    pub area: String,
    /// How it is grown.
    pub setting: Setting,
    /// How strong it is.
    pub standing: Standing,
    /// How large it is.
    #[serde(default)]
    pub size: SizeClass,
    /// Leaf area of one side in cm², where measured; overrides `size`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leaf_area_cm2: Option<f64>,
    /// Whether it is in active growth; root tips count as growth.
    #[serde(default)]
    pub growth: Growth,
    /// What its leaf is like, for a name with no record or a genus that varies.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leaf: Option<Leaf>,
    /// When it was last fed through the leaf, RFC 3339 or a date.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_fed: Option<String>,
    /// When its pot was last flushed with plain water, RFC 3339 or a date.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_flush: Option<String>,
    /// Volume of its pot in litres.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pot_l: Option<f64>,
    /// Feed given at the root each week, in mg of dissolved feed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub root_feed_mg_week: Option<f64>,
    /// The bench or shelf of the area it stands on: plants of one bench are sprayed one after
    /// another.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bench: Option<String>,
    /// Free remarks.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub notes: String,
}

bounds! { PlantEntry {
    id: Bound::text(1, 100),
    name: Bound::text(1, 200),
    area: Bound::text(1, 100),
    leaf_area_cm2: Bound::number(0.1, 1e6, "cm²"),
    last_fed: Bound::text(1, 64),
    last_flush: Bound::text(1, 64),
    pot_l: Bound::number(0.01, 1000.0, "L"),
    root_feed_mg_week: Bound::number(0.0, 1e6, "mg"),
    bench: Bound::text(0, 100),
    notes: Bound::text(0, 2000),
} }

/// How a plant is grown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Setting {
    /// On bark, wood or in a tree.
    Mounted,
    /// In an open basket.
    Basket,
    /// In a pot.
    Potted,
    /// Planted out.
    Landscape,
}

impl Setting {
    /// Whether the roots hang in the air.
    #[must_use]
    pub const fn roots_exposed(self) -> bool {
        matches!(self, Self::Mounted | Self::Basket)
    }

    /// The word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Mounted => "mounted",
            Self::Basket => "basket",
            Self::Potted => "potted",
            Self::Landscape => "landscape",
        }
    }
}

/// How strong a plant is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// Rooted in for years and growing well.
    Established,
    /// Neither of the others.
    Ordinary,
    /// A seedling.
    Seedling,
    /// Small, weak or recovering.
    Weak,
    /// Without living roots.
    Rootless,
}

impl Standing {
    /// The word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Established => "established",
            Self::Ordinary => "ordinary",
            Self::Seedling => "seedling",
            Self::Weak => "weak",
            Self::Rootless => "rootless",
        }
    }
}

/// The size of a plant, by leaf area.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, Hash, Default, PartialOrd, Ord, Serialize, Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum SizeClass {
    /// About 100 cm² of leaf, one side.
    Small,
    /// About 400 cm².
    #[default]
    Medium,
    /// About 1500 cm².
    Large,
    /// About 5000 cm².
    Specimen,
}

/// Whether a plant grows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Growth {
    /// New leaves, growths or root tips are moving.
    Active,
    /// At rest.
    Resting,
    /// Not looked at.
    #[default]
    Unknown,
}

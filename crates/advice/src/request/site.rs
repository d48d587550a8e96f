//! The place that advice is asked for, its areas and its grower.

use guardcell_call::{Bound, bounds, setters};
use guardcell_clock::{LampCycle, LampRun, LightKind, WaterStatus};
use serde::{Deserialize, Serialize};

/// The place: where it is, its areas, and what its grower has to work with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
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
    /// The feeds that the grower gives in turn. Advice is for one product at a time: who reads the
    /// folder picks it, by the rota and the journal.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub feeds: Vec<FeedDescription>,
}

impl SiteDescription {
    /// A site at sea level, at latitude and longitude in degrees (north and east positive), with an
    /// IANA time zone and the areas its plants stand in.
    #[must_use]
    pub fn new(
        name: impl Into<String>,
        latitude_deg: f64,
        longitude_deg: f64,
        time_zone: impl Into<String>,
        areas: Vec<AreaDescription>,
    ) -> Self {
        Self {
            name: name.into(),
            latitude_deg,
            longitude_deg,
            time_zone: time_zone.into(),
            elevation_m: 0.0,
            areas,
            grower: GrowerSettings::default(),
            feeds: Vec::new(),
        }
    }
}

setters! { SiteDescription {
    /// The same at this height above sea level in metres.
    with_elevation_m(elevation_m: f64);
    /// The same with what the grower has and wants.
    with_grower(grower: GrowerSettings);
    /// The same with feeds that are given in turn.
    with_feeds(feeds: Vec<FeedDescription>);
} }

bounds! { SiteDescription {
    name: Bound::text(0, 200),
    latitude_deg: Bound::number(-90.0, 90.0, "°"),
    longitude_deg: Bound::number(-180.0, 180.0, "°"),
    time_zone: Bound::text(1, 100),
    elevation_m: Bound::number(-430.0, 5500.0, "m"),
    areas: Bound::items(1, 200),
    feeds: Bound::items(0, 50),
} }

/// A feed that is given in turn with others.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct FeedDescription {
    /// The name that the rota calls it by. `water` is plain water and no name of a feed.
    pub name: String,
    /// The product by its label: its name or a part of it; the name of the feed when not given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub product: Option<String>,
    /// Supplements that go into the bucket with it. Feed strength counts them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub with: Vec<SupplementDescription>,
    /// The months in which it is given, 1 to 12; all of them when empty. Out of its months its turns
    /// are passed over.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub months: Vec<u8>,
}

bounds! { FeedDescription {
    name: Bound::text(1, 64),
    product: Bound::text(1, 200),
    with: Bound::items(0, 4),
    months: Bound::items(0, 12),
} }

/// A supplement that goes into the bucket with a feed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
pub struct SupplementDescription {
    /// The product by its label: its name or a part of it.
    pub product: String,
    /// How much of it for each gram of the feed, or for each mL of a liquid feed: g of a powder, mL
    /// of a liquid, 0.001 to 1,000.
    pub amount: f64,
}

bounds! { SupplementDescription {
    product: Bound::text(1, 200),
    amount: Bound::number(1e-3, 1e3, ""),
} }

/// One part of a site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
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

impl AreaDescription {
    /// A sun-lit area whose plants were watered as usual.
    #[must_use]
    pub fn new(id: impl Into<String>, name: impl Into<String>, shelter: Shelter) -> Self {
        Self {
            id: id.into(),
            name: name.into(),
            shelter,
            light: LightKind::default(),
            lamps: Vec::new(),
            lamp_cycle: None,
            water_status: WaterStatus::default(),
            winter: Winter::default(),
            air_m_s: None,
        }
    }
}

setters! { AreaDescription {
    /// The same with this source of light.
    with_light(light: LightKind);
    /// The same with these lamp hours.
    with_lamps(lamps: Vec<LampRun>);
    /// The same with lamps in a cycle.
    with_lamp_cycle(lamp_cycle?: LampCycle);
    /// The same with plants supplied with water like this.
    with_water_status(water_status: WaterStatus);
    /// The same with plants that rest or grow in the dark months.
    with_winter(winter: Winter);
    /// The same with this air speed in m/s, where a reading has none.
    with_air_m_s(air_m_s?: f64);
} }

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

impl Shelter {
    /// The word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Room => "room",
            Self::Glass => "glass",
            Self::Outdoors => "outdoors",
        }
    }
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
#[non_exhaustive]
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
    /// The water that feeds are mixed with where several reports are given: its name or a part of
    /// it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water: Option<String>,
    /// The turns in their order, each the name of a feed, or `water` for plain water. After the last
    /// comes the first again. The feeds in their order when empty.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub rota: Vec<String>,
}

setters! { GrowerSettings {
    /// The same with hours in which the grower can be with the plants.
    with_working_hours(working_hours: Vec<WorkingHours>);
    /// The same with a mister that holds this many millilitres.
    with_mister_ml(mister_ml?: f64);
    /// The same with a scale that shows this mass in grams at the least.
    with_scale_g(scale_g?: f64);
    /// The same accepting this probability of visible residue, 0.01 to 0.5.
    with_tolerance(tolerance?: f64);
    /// The same with the grower's own residue threshold in g/m².
    with_residue_threshold_g_m2(residue_threshold_g_m2?: f64);
    /// The same with no feed above this strength in mg/L, as a journal proposes it.
    with_next_strength_mg_l(next_strength_mg_l?: f64);
    /// The same with strengths for plants that are looked at as groups of their own.
    with_next_strengths(next_strengths: Vec<GroupStrength>);
    /// The same with this time in seconds to find and spray one plant once.
    with_seconds_per_plant(seconds_per_plant?: f64);
    /// The same with this time in minutes to measure and mix one fill.
    with_minutes_per_fill(minutes_per_fill?: f64);
    /// The same with the product that is fed: its name or a part of it.
    with_feed(feed?: String);
    /// The same with the water that feeds are mixed with: its name or a part of it.
    with_water(water?: String);
    /// The same with turns in their order, each the name of a feed or `water`.
    with_rota(rota: Vec<String>);
} }

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
    water: Bound::text(0, 200),
    rota: Bound::items(0, 100),
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

impl WorkingHours {
    /// From one time of the day to another, `HH:MM`.
    #[must_use]
    pub fn new(from: impl Into<String>, to: impl Into<String>) -> Self {
        Self { from: from.into(), to: to.into() }
    }
}

//! One plant of the collection, with the words of a grower for it.

use guardcell_call::{Bound, bounds, setters, words};
use guardcell_reference::Leaf;
use serde::{Deserialize, Serialize};

/// One plant of the collection.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(transform = guardcell_call::schema::bounds::<Self>))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
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

impl PlantEntry {
    /// A plant of medium size of which nothing more is known.
    ///
    /// ```
    /// # mod guardcell { pub mod advice { pub use guardcell_advice::*; } }
    /// use guardcell::advice::{PlantEntry, Setting, SizeClass, Standing};
    /// let plant = PlantEntry::new(
    ///     "FH-001",
    ///     "Cattleya labiata",
    ///     "house",
    ///     Setting::Mounted,
    ///     Standing::Established,
    /// )
    /// .with_size(SizeClass::Large);
    /// assert_eq!(plant.size, SizeClass::Large);
    /// ```
    #[must_use]
    pub fn new(
        id: impl Into<String>,
        name: impl Into<String>,
        area: impl Into<String>,
        setting: Setting,
        standing: Standing,
    ) -> Self {
        Self {
            id: id.into(),
            name: name.into(),
            area: area.into(),
            setting,
            standing,
            size: SizeClass::default(),
            leaf_area_cm2: None,
            growth: Growth::default(),
            leaf: None,
            last_fed: None,
            last_flush: None,
            pot_l: None,
            root_feed_mg_week: None,
            bench: None,
            notes: String::new(),
        }
    }
}

setters! { PlantEntry {
    /// The same of this size.
    with_size(size: SizeClass);
    /// The same with this leaf area of one side in cm².
    with_leaf_area_cm2(leaf_area_cm2?: f64);
    /// The same growing or at rest.
    with_growth(growth: Growth);
    /// The same with a leaf like this.
    with_leaf(leaf?: Leaf);
    /// The same last fed through the leaf then, RFC 3339 or a date.
    with_last_fed(last_fed?: String);
    /// The same with a pot last flushed then, RFC 3339 or a date.
    with_last_flush(last_flush?: String);
    /// The same in a pot of this volume in litres.
    with_pot_l(pot_l?: f64);
    /// The same fed at the root with this mass of dissolved feed in mg a week.
    with_root_feed_mg_week(root_feed_mg_week?: f64);
    /// The same on this bench of its area.
    with_bench(bench?: String);
    /// The same with remarks.
    with_notes(notes: String);
} }

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

words!(Setting: Mounted = "mounted", Basket = "basket", Potted = "potted", Landscape = "landscape");
words!(Standing: Established = "established", Ordinary = "ordinary", Seedling = "seedling",
    Weak = "weak", Rootless = "rootless");
words!(SizeClass: Small = "small", Medium = "medium", Large = "large", Specimen = "specimen");
words!(Growth: Active = "active", Resting = "resting", Unknown = "unknown");

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_those_of_the_wire() {
        for v in Setting::ALL {
            assert_eq!(serde_json::to_value(v).unwrap(), v.word());
        }
        for v in Standing::ALL {
            assert_eq!(serde_json::to_value(v).unwrap(), v.word());
        }
        for v in SizeClass::ALL {
            assert_eq!(serde_json::to_value(v).unwrap(), v.word());
        }
        for v in Growth::ALL {
            assert_eq!(serde_json::to_value(v).unwrap(), v.word());
        }
    }
}

//! Reasons: every answer says why, from what, and by which source.
//!
//! The codes stand in one table, which also makes the documentation.

use guardcell_reference::Parameter;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

macro_rules! codes {
    ($($variant:ident = $code:literal: $doc:literal;)*) => {
        /// Why something is advised. On the wire the code is kebab-case English.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum ReasonCode {
            $(
                #[doc = $doc]
                $variant,
            )*
        }

        impl ReasonCode {
            /// Every code with what it means, for the documentation.
            pub const TABLE: &'static [(Self, &'static str, &'static str)] =
                &[$((Self::$variant, $code, $doc)),*];

            /// The code as written.
            #[must_use]
            pub const fn as_str(self) -> &'static str {
                match self {
                    $(Self::$variant => $code,)*
                }
            }
        }
    };
}

codes! {
    OpensByDay = "opens-by-day": "The stomata of the plant open by day (C3).";
    OpensAtNight = "opens-at-night": "The stomata of the plant open at night (CAM).";
    OpensEither = "opens-either": "The pathway varies or is not known: both openings are weighed.";
    NoLeafOpening = "no-leaf-opening": "The plant has no leaves, or its stomata are shut: nothing is gained by timing.";
    TimingInferred = "timing-inferred": "That an open stoma helps uptake is inferred from gas exchange; no work is known that measured it by day against night in a CAM orchid.";
    RuleOfThumb = "rule-of-thumb": "The pathway was guessed from the leaf.";
    NameMended = "name-mended": "The name was taken for another.";
    ParentsDisagree = "parents-disagree": "The parents of the hybrid differ in pathway.";
    StrengthByStanding = "strength-by-standing": "The highest feed strength for a plant of this standing.";
    HumidSinglePass = "humid-single-pass": "Humid, lightly moving air allows the higher strength in one pass.";
    StrengthLowered = "strength-lowered": "The strength was lowered until the probability of visible residue was acceptable.";
    ResidueAcceptable = "residue-acceptable": "The probability of visible residue is within the tolerance.";
    ThresholdLearned = "threshold-learned": "Residue is held against this grower's own threshold, not the shipped one.";
    ResidueTooLikely = "residue-too-likely": "Even the least useful strength would probably leave visible residue.";
    ScaleFromWater = "scale-from-water": "The water alone leaves carbonate scale; a softer top-up is the remedy, not a weaker feed.";
    StaysWet = "stays-wet": "In the air of the window the salts stay liquid and uptake goes on; the driest air that follows decides what turns solid.";
    DriesBeforeUptake = "dries-before-uptake": "The film dries long before the salts have entered; what counts is how much salt is left.";
    WetNight = "wet-night": "The leaves would stay wet too long after dark at this temperature.";
    TooCold = "too-cold": "The air is too cold for feeding through the leaf.";
    TooSunny = "too-sunny": "The sun on the leaves is too strong.";
    OutsideWorkingHours = "outside-working-hours": "Nobody is there in the opening.";
    NotGrowing = "not-growing": "No feed without active growth; root tips count as growth.";
    FedRecently = "fed-recently": "The interval since the last feed has not passed.";
    Rootless = "rootless": "A plant without roots gets soaks, not a place in the round.";
    ReadingsEnd = "readings-end": "The readings end before the window.";
    ReadingOld = "reading-old": "The reading is too old to describe the air now.";
    LowerSideFirst = "lower-side-first": "Orchid stomata are mostly on the lower side of the leaf.";
    RootTips = "root-tips": "A drop hanging at a growing root tip concentrates as it dries; shake or blot it off.";
    CrownWater = "crown-water": "Water left in a crown or new growth rots it.";
    WeeklyCeiling = "weekly-ceiling": "Leaf and root together stay under the weekly ceiling of the pot, or do not.";
    FlushDue = "flush-due": "The pot is due for a flush with plain water.";
    UreaUnseen = "urea-unseen": "The feed holds urea, which a meter does not see.";
    OneBucket = "one-bucket": "One bucket is mixed once and stepped down mister by mister.";
    LabelRules = "label-rules": "The product's own label and local rules come first.";
    AerosolCare = "aerosol-care": "Do not breathe the mist; keep it off lamps, plugs and fans.";
    WatchResidue = "watch-residue": "Look for white residue when dry; if there is any, lower the strength until there is none.";
}

/// One reason.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Reason {
    /// The code, kebab-case English: one of [`codes`].
    pub code: String,
    /// What it says, in plain words with the numbers in them.
    pub message: String,
    /// The inputs it rests on, each with its unit in its name.
    #[serde(default, skip_serializing_if = "Map::is_empty")]
    pub inputs: Map<String, Value>,
    /// Keys of the works it rests on, or `common practice, no source`, or `from memory`.
    #[serde(default)]
    pub sources: Vec<String>,
}

impl Reason {
    /// A reason without inputs or sources yet.
    #[must_use]
    pub fn new(code: ReasonCode, message: impl Into<String>) -> Self {
        Self {
            code: code.as_str().to_owned(),
            message: message.into(),
            inputs: Map::new(),
            sources: Vec::new(),
        }
    }

    /// Adds an input.
    #[must_use]
    pub fn with(mut self, name: &str, value: impl Into<Value>) -> Self {
        self.inputs.insert(name.to_owned(), value.into());
        self
    }

    /// Adds the sources of a parameter, or what it rests on where it has none.
    #[must_use]
    pub fn from_parameter<U>(mut self, p: Parameter<U>) -> Self {
        if p.sources.is_empty() {
            self.push_source(p.basis.word());
        }
        for s in p.sources {
            self.push_source(s);
        }
        self
    }

    /// Adds a source.
    #[must_use]
    pub fn source(mut self, key: &str) -> Self {
        self.push_source(key);
        self
    }

    fn push_source(&mut self, key: &str) {
        if !self.sources.iter().any(|s| s == key) {
            self.sources.push(key.to_owned());
        }
    }
}

impl From<&guardcell_clock::Reason> for Reason {
    fn from(r: &guardcell_clock::Reason) -> Self {
        let mut reason = Self {
            code: r.code.as_str().to_owned(),
            message: r.code.message().to_owned(),
            inputs: Map::new(),
            sources: Vec::new(),
        };
        for b in &r.inputs {
            reason = reason.with(b.name, b.value);
        }
        for key in r.code.sources() {
            reason.push_source(key);
        }
        if reason.sources.is_empty() {
            for p in r.code.parameters() {
                reason.push_source(p.basis.word());
            }
        }
        reason
    }
}

/// Every code that an answer can carry, with what it means: those of the advice and those of the
/// clock.
pub fn codes() -> impl Iterator<Item = (&'static str, &'static str)> {
    let own = ReasonCode::TABLE.iter().map(|(_, code, says)| (*code, *says));
    let clock = guardcell_clock::Code::ALL.iter().map(|c| (c.as_str(), c.message()));
    own.chain(clock)
}

/// Something that was not known, and how much it matters.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Unknown {
    /// What was not known.
    pub what: String,
    /// What was assumed instead.
    pub assumed: String,
    /// How far the answer moves over the plausible range: the change of the probability of
    /// visible residue, or of the probability that the stomata are open, 0 to 1.
    pub spread: f64,
    /// How to find out.
    pub measure: String,
}

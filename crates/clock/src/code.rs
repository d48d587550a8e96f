//! The codes of reasons: one for each thing the clock can say, with its message and sources.

use guardcell_reference::Parameter;
use guardcell_reference::parameters::clock as p;

macro_rules! codes {
    ($($(#[$doc:meta])* $name:ident = $text:literal, $message:literal, [$($param:ident),*], [$($source:literal),*];)*) => {
        /// What the clock can say about an opening, a day or a wet night.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        #[non_exhaustive]
        pub enum Code { $($(#[$doc])* #[doc = $message] $name,)* }

        impl Code {
            /// Every code, in order.
            pub const ALL: &'static [Self] = &[$(Self::$name,)*];

            /// The code on the wire, such as `cam-night-open`.
            ///
            /// ```
            /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } }
            /// assert_eq!(guardcell::clock::Code::CamNightOpen.as_str(), "cam-night-open");
            /// ```
            #[must_use]
            pub const fn as_str(self) -> &'static str {
                match self { $(Self::$name => $text,)* }
            }

            /// What it means, in a sentence.
            ///
            /// ```
            /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } }
            /// assert!(guardcell::clock::Code::NoLight.message().ends_with('.'));
            /// ```
            #[must_use]
            pub const fn message(self) -> &'static str {
                match self { $(Self::$name => $message,)* }
            }

            /// The parameters of `data/clock.csv` that decide it.
            ///
            /// ```
            /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } }
            /// assert!(!guardcell::clock::Code::VpdShuts.parameters().is_empty());
            /// ```
            #[must_use]
            pub fn parameters(self) -> &'static [Parameter] {
                match self { $(Self::$name => const { &[$(p::$param.any()),*] },)* }
            }

            const fn works(self) -> &'static [&'static str] {
                match self { $(Self::$name => &[$($source),*],)* }
            }
        }
    };
}

codes! {
    C3LightOpen = "c3-light-open", "A C3 leaf opens its stomata in the light.", [C3_OPENING_DELAY, PROBABILITY_C3_LIGHT], [];
    C3MiddayDips = "c3-midday-dips", "Around midday the stomata of a C3 leaf in the sun often narrow for some hours.", [C3_MIDDAY_FACTOR], [];
    CamNightOpen = "cam-night-open", "A CAM leaf opens its stomata in the dark (phase I).", [CAM_NIGHT_DELAY, PROBABILITY_CAM_NIGHT], ["osmond1978crassulacean"];
    CamShortCycle = "cam-short-cycle", "In cycles of light and dark as short as this a CAM leaf opens only in the middle of the dark.", [CAM_SHORT_CYCLE, CAM_FULL_CYCLE, CAM_SHORT_CYCLE_START], [];
    CamDawnTail = "cam-dawn-tail", "A well-watered CAM leaf stays open for a while after dawn (phase II).", [CAM_PHASE_II_LENGTH, CAM_PHASE_II_SHARE, PROBABILITY_CAM_PHASE_II], ["osmond1978crassulacean"];
    CamLateAfternoon = "cam-late-afternoon", "A well-watered CAM leaf opens again before dusk, when the night's acid is spent (phase IV).", [CAM_PHASE_IV_LENGTH, CAM_PHASE_IV_SHARE, PROBABILITY_CAM_PHASE_IV], ["osmond1978crassulacean"];
    VpdNarrows = "vpd-narrows", "Dry air narrows the stomata.", [STOMATA_VPD_REFERENCE, STOMATA_VPD_SLOPE], ["herppich1997stomatal"];
    VpdShuts = "vpd-shuts", "Air this dry counts as shutting the stomata; those hours are omitted.", [STOMATA_VPD_REFERENCE, STOMATA_VPD_SLOPE, STOMATA_OPEN_MINIMUM], [];
    ColdNarrows = "cold-narrows", "Cold narrows the stomata.", [C3_TEMPERATURE_OPEN_LOW, CAM_TEMPERATURE_OPEN_LOW], [];
    ColdShuts = "cold-shuts", "Air this cold counts as shutting the stomata; those hours are omitted.", [C3_TEMPERATURE_CLOSED_LOW, CAM_TEMPERATURE_CLOSED_LOW, STOMATA_OPEN_MINIMUM], [];
    HeatNarrows = "heat-narrows", "Heat narrows the stomata.", [C3_TEMPERATURE_OPEN_HIGH, CAM_TEMPERATURE_OPEN_HIGH], [];
    HeatShuts = "heat-shuts", "Air this hot counts as shutting the stomata; those hours are omitted.", [C3_TEMPERATURE_CLOSED_HIGH, CAM_TEMPERATURE_CLOSED_HIGH, STOMATA_OPEN_MINIMUM], [];
    AirUnknown = "air-unknown", "The air of these hours is not known, so neither dryness nor temperature narrows the opening.", [], [];
    DryNoDayTails = "dry-no-day-tails", "Short of water, a CAM leaf keeps to the night: no opening after dawn or before dusk.", [DRY_CAM_FACTOR], ["osmond1978crassulacean"];
    DryLowers = "dry-lowers", "A plant short of water opens less.", [DRY_C3_FACTOR, DRY_CAM_FACTOR], [];
    DroughtShuts = "drought-shuts", "In severe drought the stomata stay shut day and night.", [], [];
    EitherPathway = "either-pathway", "Open by either pathway, so it does not matter which the plant runs.", [], [];
    FacultativeShortCycle = "facultative-short-cycle", "In cycles of light and dark as short as this a plant that can run either pathway opens like a C3 plant.", [FACULTATIVE_C3_CYCLE], [];
    FacultativeSplit = "facultative-split", "The plant can run C3 or CAM; water decides, and both openings are given with their chances.", [FACULTATIVE_CAM_SHARE_WATERED, FACULTATIVE_CAM_SHARE_DRY], [];
    VariableShare = "variable-share", "The pathway is not certain; the probability of CAM weighs the openings of both.", [], [];
    VariableShareUnknown = "variable-share-unknown", "Species of the genus differ and no share is known: an even chance is taken.", [UNKNOWN_CAM_SHARE], [];
    PathwayUnknown = "pathway-unknown", "Nothing is known of the pathway: an even chance of C3 and CAM is taken, which is not an estimate.", [UNKNOWN_CAM_SHARE], [];
    LeaflessRootOnly = "leafless-root-only", "The plant has no leaves: green roots without stomata do the work and there is no leaf opening. Feed by the root, whose velamen takes up water at any hour.", [], ["cockburn1985photosynthetic"];
    NoLight = "no-light", "More than a day without light: no opening is expected.", [], [];
    NoNight = "no-night", "More than a day without dark: a CAM leaf has no night to open in.", [], [];
    MeasuredPeak = "measured-peak", "The widest opening of this taxon was measured at this time of day.", [], ["goh1977stomatal"];
    OffPeak = "off-peak", "The widest opening of this taxon was measured at another time of day.", [OFF_PEAK_FACTOR], ["goh1977stomatal"];
    CamBeforeDawnBest = "cam-before-dawn-best", "Before dawn is best for CAM: open, and the whole day ahead to dry.", [CAM_PRE_DAWN_LENGTH], [];
    CamDuskWarm = "cam-dusk-warm", "Late afternoon to dusk is second best for CAM; practice lets a plant stay wet through a night as warm as this.", [WARM_NIGHT], [];
    CamDuskIfDry = "cam-dusk-if-dry", "Late afternoon to dusk is second best for CAM, but only if the plant dries before the night or the night is warm.", [WARM_NIGHT], [];
    DuskNotInWinter = "dusk-not-in-winter", "Not in the evening outdoors in winter.", [WINTER_DAY_LENGTH], [];
    DuskNotInCoolRoom = "dusk-not-in-cool-room", "Not in the evening where the night is cool.", [COOL_NIGHT], [];
    CamMidNight = "cam-mid-night", "Open, but the plant stays wet in the dark.", [], [];
    CamAfterDawn = "cam-after-dawn", "Open for a while yet, and dries by day; less sure than before dawn.", [CAM_PHASE_II_LENGTH], [];
    C3MorningBest = "c3-morning-best", "The morning is best for C3: open, and all day to dry.", [], [];
    C3MiddayDries = "c3-midday-dries", "Open, but the film dries fast and leaves salt.", [], [];
    C3LaterInDay = "c3-later-in-day", "Open; the plant should still dry before the night.", [], [];
    EitherPathwayFirst = "either-pathway-first", "The overlap of both pathways is the safe choice.", [], [];
    OnePathwayOnly = "one-pathway-only", "Open by one of the two pathways only, so the overlap is the safer choice.", [], [];
    PolarDay = "polar-day", "The sun does not set on this date.", [], [];
    PolarNight = "polar-night", "The sun does not rise on this date.", [], [];
    WetNightFine = "wet-night-fine", "Dry soon enough after dark.", [WET_NIGHT_NEAR_SHARE], ["sirjusingh1996effect"];
    WetNightNear = "wet-night-near", "Near the longest wetness in the dark that counts as safe.", [WET_NIGHT_NEAR_SHARE], ["sirjusingh1996effect"];
    WetNightTooLong = "wet-night-too-long", "Wet in the dark for longer than counts as safe: rot and spotting may follow.", [], ["pnwhandbookorchid", "sirjusingh1996effect"];
    WetNightColdGuess = "wet-night-cold-guess", "In the cold the limit is practice: grey mould itself is slower there.", [WET_NIGHT_LIMIT_10C], [];
    WetNightWarmGuess = "wet-night-warm-guess", "Above 30 °C the limit is carried over from 30 °C.", [WET_NIGHT_LIMIT_30C], [];
}

impl Code {
    /// The keys of the works behind it, those of its parameters included. Empty for common
    /// practice.
    ///
    /// ```
    /// # mod guardcell { pub mod clock { pub use guardcell_clock::*; } }
    /// use guardcell::clock::Code;
    /// assert!(Code::VpdNarrows.sources().contains(&"oren1999survey"));
    /// assert!(Code::C3MorningBest.sources().is_empty());
    /// ```
    #[must_use]
    pub fn sources(self) -> Vec<&'static str> {
        let mut keys = self.works().to_vec();
        for parameter in self.parameters() {
            keys.extend_from_slice(parameter.sources);
        }
        keys.sort_unstable();
        keys.dedup();
        keys
    }

    /// A bit of its own, for sets of codes.
    pub(crate) const fn bit(self) -> u64 {
        1 << self as u8 // fewer than 64 codes: a test counts them
    }
}

impl serde::Serialize for Code {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.as_str())
    }
}

impl<'de> serde::Deserialize<'de> for Code {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = std::borrow::Cow::<'de, str>::deserialize(deserializer)?;
        let known = Self::ALL.iter().copied().find(|code| code.as_str() == text);
        known.ok_or_else(|| serde::de::Error::custom("unknown code of a reason"))
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for Code {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "ClockCode".into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        let names: Vec<&str> = Self::ALL.iter().map(|code| code.as_str()).collect();
        schemars::json_schema!({
            "type": "string",
            "description": "The code of a reason, such as `cam-night-open`.",
            "enum": names
        })
    }
}

#[cfg(test)]
mod tests {
    use super::Code;

    #[test]
    fn codes_fit_a_word_and_are_distinct() {
        assert!(Code::ALL.len() <= 64);
        let mut names: Vec<_> = Code::ALL.iter().map(|c| c.as_str()).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), Code::ALL.len());
    }

    #[test]
    fn every_source_is_in_the_table() {
        for code in Code::ALL {
            for key in code.sources() {
                assert!(guardcell_reference::work(key).is_some(), "{key}");
            }
        }
    }
}

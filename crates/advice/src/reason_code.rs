//! The codes of reasons: one table, which also makes the documentation.

macro_rules! codes {
    ($($variant:ident = $code:literal: $doc:literal;)*) => {
        /// Why something is advised. On the wire the code is kebab-case English.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        #[non_exhaustive]
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

            /// What it means.
            #[must_use]
            pub const fn about(self) -> &'static str {
                match self {
                    $(Self::$variant => $doc,)*
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
    TimingInferred = "timing-inferred": "That open stomata help uptake is inferred from gas exchange and pore size; no work is known that measured foliar uptake by day against night in a CAM orchid, and uptake through the cuticle goes on with stomata shut.";
    RuleOfThumb = "rule-of-thumb": "The pathway was guessed from the leaf.";
    NameMended = "name-mended": "The name was taken for another.";
    ParentsDisagree = "parents-disagree": "The parents of the hybrid differ in pathway.";
    StrengthByStanding = "strength-by-standing": "The highest feed strength for a plant of this standing and size.";
    HumidSinglePass = "humid-single-pass": "Humid, lightly moving air allows the higher strength in one pass.";
    StrengthLowered = "strength-lowered": "The strength is below what practice allows the plant; the reason says which constraint bound it.";
    ResidueAcceptable = "residue-acceptable": "The probability of visible residue is within the tolerance.";
    ThresholdLearned = "threshold-learned": "Residue is held against this grower's own threshold, not the shipped one.";
    JournalProposesLess = "journal-proposes-less": "The journal proposes less than a useful strength for the next round.";
    WaterTurn = "water-turn": "The rota gives plain water this time.";
    ResidueTooLikely = "residue-too-likely": "Even the least useful strength would probably leave visible residue.";
    ScaleFromWater = "scale-from-water": "The water alone leaves carbonate scale; a softer top-up is the remedy, not a weaker feed.";
    FeedUnknown = "feed-unknown": "No label was given, so the feed is taken as potassium sulfate.";
    StaysWet = "stays-wet": "In the air of the window the salts stay liquid and uptake goes on; the driest air that follows decides what turns solid.";
    DriesBeforeUptake = "dries-before-uptake": "The film dries long before the salts have entered; what counts is how much salt is left.";
    VelamenDrinks = "velamen-drinks": "The velamen of hanging roots fills within seconds and is a store from which the root takes up while it stays wet.";
    WetNight = "wet-night": "The leaves would stay wet too long after dark at this temperature.";
    DarkMonth = "dark-month": "The days are short and the area is lit by the sun alone: little or nothing is misted.";
    TooCold = "too-cold": "The air is too cold for feeding through the leaf.";
    TooSunny = "too-sunny": "The sun on the leaves is too strong.";
    OutsideWorkingHours = "outside-working-hours": "Nobody is there in the opening.";
    NotGrowing = "not-growing": "No feed without active growth; root tips count as growth.";
    FedRecently = "fed-recently": "The interval since the last feed has not passed.";
    Rootless = "rootless": "A plant without roots gets soaks, not a place in the round.";
    ReadingsEnd = "readings-end": "The readings end too long before the window.";
    AirAssumed = "air-assumed": "Part of the air is assumed, because the readings end before the time that decides.";
    LowerSideFirst = "lower-side-first": "Orchid stomata are mostly on the lower side of the leaf.";
    RootTips = "root-tips": "A drop hanging at a growing root tip concentrates as it dries; shake or blot it off.";
    CrownWater = "crown-water": "Water left in a crown or new growth rots it.";
    WeeklyCeiling = "weekly-ceiling": "Leaf and root feed together against the weekly ceiling of the pot.";
    FlushDue = "flush-due": "The pot is due for a flush with plain water.";
    GrowthResponse = "growth-response": "What was counted on a plant over months, and how long to wait before it tells about a change of feed.";
    UreaUnseen = "urea-unseen": "The feed holds urea, which a meter does not see.";
    OneBucket = "one-bucket": "One bucket is mixed once and stepped down mister by mister.";
    WalkOrder = "walk-order": "Strengths come in descending order, because the bucket is stepped down; within one by area, then bench.";
    FreshBucket = "fresh-bucket": "The bucket before would be too old for this sitting: it gets its own.";
    BucketSurplus = "bucket-surplus": "What is left in the bucket, and what it is good for.";
    MovedInRound = "moved-in-round": "The round puts the plant at another hour than its best; the reason says what that costs.";
    WeakerInRound = "weaker-in-round": "The round gives the plant a weaker dose than it could have; the reason says what that costs.";
    SittingTooLong = "sitting-too-long": "The sitting takes longer than its window lasts.";
    LabelRules = "label-rules": "The product's own label and local rules come first.";
    AerosolCare = "aerosol-care": "Do not breathe the mist; keep it off lamps, plugs and fans.";
    WatchResidue = "watch-residue": "Look for white residue when dry; if there is any, lower the strength until there is none.";
    NearLimit = "near-limit": "A limit lies within the error of the instruments; the message says what lies beyond it.";
    WaitForWindow = "wait-for-window": "A window comes after the time looked at.";
    WaitUntilDue = "wait-until-due": "The plant is due again at the time given.";
    WaitForLongerDays = "wait-for-longer-days": "The dark months end on the date given.";
    AskAgain = "ask-again": "Nothing in sight: ask again at the time given, with newer readings.";
    BeThere = "be-there": "A window lies outside the working hours of the site.";
    StillTheAir = "still-the-air": "With the fans off and the vents closed there would be a window.";
    AddRain = "add-rain": "With a share of rain or reverse-osmosis water there would be a window.";
    KeepHumid = "keep-humid": "With the humidity kept up there would be a window.";
    PlainWater = "plain-water": "Plain water can be given; it leaves nothing to see.";
}

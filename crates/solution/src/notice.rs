//! Warnings and assumptions that travel with an answer.

use core::fmt;
use serde::{Deserialize, Serialize};

macro_rules! notice_codes {
    ($($variant:ident $code:literal $about:literal;)*) => {
        /// What a [`Notice`] is about. Stable for programs; kebab-case on the wire.
        ///
        /// ```
        /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
        /// use guardcell::solution::NoticeCode;
        /// assert_eq!(NoticeCode::UreaInvisible.as_str(), "urea-invisible");
        /// ```
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[non_exhaustive]
        pub enum NoticeCode {
            $(#[doc = $about] #[serde(rename = $code)] $variant,)*
        }

        impl NoticeCode {
            /// The code as written on the wire.
            #[must_use]
            pub const fn as_str(self) -> &'static str {
                match self { $(Self::$variant => $code,)* }
            }
        }
    };
}

notice_codes! {
    AboveValidity "above-validity" "The solution is stronger than the model is valid for.";
    AcidIntoWater "acid-into-water" "Pour acid into water, never water into acid.";
    BelowTheScale "below-the-scale" "An amount is too small for the step of the scale or syringe.";
    BeyondValidity "beyond-validity" "The ionic strength is beyond the range of the activity coefficients.";
    CalciumApart "calcium-apart" "Calcium and sulfate or phosphate must not share a concentrate.";
    CalciumInOneBag "calcium-in-one-bag" "One product holds calcium together with sulfate or phosphate.";
    CanPrecipitate "can-precipitate" "A solid can form from the solution.";
    ChargeImbalance "charge-imbalance" "Cations and anions of an analysis differ.";
    ClosedToAir "closed-to-air" "No carbon dioxide is exchanged with the air.";
    CounterIonsAssumed "counter-ions-assumed" "The label does not name its materials, so the counter-ions are bounded.";
    FeedStrengthNeverCountsWater "feed-strength-never-counts-water" "Feed strength counts what comes from the feed alone.";
    FiguresAssumed "figures-assumed" "Figures that the water report does not state were assumed.";
    FormAssumed "form-assumed" "The label does not say whether the product is a powder or a liquid.";
    LabelAndLocalRules "label-and-local-rules" "Follow the safety data sheet and local rules.";
    LeavesNotStated "leaves-not-stated" "The label does not say whether the product may be used on leaves.";
    LiquidSolidsFromAnalysis "liquid-solids-from-analysis" "The dissolved solids of a liquid were taken from its analysis.";
    MaterialMisfit "material-misfit" "The materials named on the label fit its analysis only roughly.";
    MaterialNotInTable "material-not-in-table" "A material named on the label is not in the table.";
    MaterialsDoNotFit "materials-do-not-fit" "The materials named on the label cannot make up its analysis.";
    MeasureAfter "measure-after" "Check pH and alkalinity of the treated water.";
    MixtureRule "mixture-rule" "How ions of one sign and different charge add up to a conductivity.";
    NeverNearHypochlorite "never-near-hypochlorite" "Acid and hypochlorite set chlorine gas free.";
    NitricFumes "nitric-fumes" "Nitric acid gives off choking fumes and oxidises.";
    NitrogenFormsFromMaterials "nitrogen-forms-from-materials" "The forms of nitrogen follow from the materials.";
    NitrogenFormsUnknown "nitrogen-forms-unknown" "The label does not split its nitrogen into forms.";
    NoBlendNeeded "no-blend-needed" "The water alone meets the target of the blend.";
    NoBufferLeft "no-buffer-left" "No alkalinity is left to hold the pH.";
    NotForLeaves "not-for-leaves" "The label does not allow use on leaves.";
    NotSolubleInTheCold "not-soluble-in-the-cold" "A stock holds more of a salt than dissolves at its coldest temperature.";
    OpenToAir "open-to-air" "The solution is in equilibrium with air.";
    PhAssumed "ph-assumed" "The report states no pH, so one was assumed.";
    PhFromBalance "ph-from-balance" "The pH follows from the charge balance.";
    PhImplausible "ph-implausible" "The pH from the charge balance points to a missing ion.";
    Precipitation "precipitation" "The solution may turn cloudy or scale.";
    ProtectEyesAndSkin "protect-eyes-and-skin" "Wear protection when handling acid.";
    ReadingCloseToWater "reading-close-to-water" "The reading is hardly above the water's own.";
    Shelf "shelf" "A note of the label on keeping the product.";
    SofterWaterTakenAsPure "softer-water-taken-as-pure" "The softer water has no report and is taken as pure.";
    SolubilityUnknown "solubility-unknown" "The label names no materials, so solubility is not checked.";
    SulfuricHeat "sulfuric-heat" "Sulfuric acid heats water fiercely.";
    TargetsNotMet "targets-not-met" "No mixture of the products meets every target within the ceilings.";
    UreaInvisible "urea-invisible" "Urea carries no charge: no conductivity meter sees it.";
    WaterFiguresAssumed "water-figures-assumed" "Figures of the water that its report does not state were assumed.";
    WaterOverCeiling "water-over-ceiling" "The water alone is over the ceiling.";
}

impl fmt::Display for NoticeCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.as_str())
    }
}

/// Something the reader of an answer should know: a warning, an assumption, a caution.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Notice {
    /// What it is about, such as `urea-invisible`.
    pub code: NoticeCode,
    /// The sentence for a reader.
    pub message: String,
    /// Keys of the works it rests on (`data/sources.csv`); empty for common practice.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sources: Vec<String>,
}

impl Notice {
    /// A notice without a source.
    pub(crate) fn new(code: NoticeCode, message: impl Into<String>) -> Self {
        Self { code, message: message.into(), sources: Vec::new() }
    }

    /// The same with sources.
    pub(crate) fn with_sources(mut self, keys: &[&str]) -> Self {
        self.sources = keys.iter().map(|&k| k.to_owned()).collect();
        self
    }
}

/// A quantity with its bounds. `value` is absent where only the bounds are known, as with the EC
/// of a feed whose counter-ions its label does not name.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Bounds {
    /// The low end.
    pub low: f64,
    /// The most likely value, if there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// The high end.
    pub high: f64,
}

impl Bounds {
    /// The value, or the middle of the bounds.
    ///
    /// ```
    /// # mod guardcell { pub mod solution { pub use guardcell_solution::*; } }
    /// use guardcell::solution::Bounds;
    /// assert_eq!(Bounds { low: 2.0, value: None, high: 4.0 }.middle(), 3.0);
    /// ```
    #[must_use]
    pub fn middle(&self) -> f64 {
        self.value.unwrap_or(f64::midpoint(self.low, self.high))
    }

    /// Every figure converted by a function that rises with its argument.
    pub(crate) fn map(&self, f: impl Fn(f64) -> f64) -> Self {
        Self { low: f(self.low), value: self.value.map(&f), high: f(self.high) }
    }
}

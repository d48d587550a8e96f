//! What an entry of the journal holds. Wire types, shared by every face.

use serde::{Deserialize, Serialize};

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

impl Level {
    /// Every value, lightest first.
    pub const ALL: &'static [Self] = &[Self::None, Self::Faint, Self::Clear, Self::Heavy];

    /// The word on the wire.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Faint => "faint",
            Self::Clear => "clear",
            Self::Heavy => "heavy",
        }
    }
}

//! A taxon of the tables, and a taxon that a query may mean.

use crate::genus::Genus;
use crate::name::NameRecord;
use crate::species::Species;
use crate::traits::Trait;

/// A taxon the tables know.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Taxon {
    /// An accepted genus.
    Genus(&'static Genus),
    /// A species that has records of its own.
    Species(&'static Species),
    /// A hybrid genus.
    Nothogenus(&'static NameRecord),
    /// A cross of two genera written with a hybrid sign.
    Cross(&'static Genus, &'static Genus),
}

impl Taxon {
    /// The trait of the taxon itself.
    #[must_use]
    pub fn traits(self) -> Trait {
        match self {
            Self::Genus(g) => g.traits,
            Self::Species(s) => s.traits,
            Self::Nothogenus(n) => n.traits,
            Self::Cross(a, b) => Trait::cross(a.traits, b.traits),
        }
    }

    /// The accepted name.
    #[must_use]
    pub fn name(self) -> String {
        match self {
            Self::Genus(g) => g.name.to_owned(),
            Self::Species(s) => format!("{} {}", s.genus().name, s.epithet),
            Self::Nothogenus(n) => format!("×{}", n.name),
            Self::Cross(a, b) => format!("{} × {}", a.name, b.name),
        }
    }

    pub(crate) fn order(self) -> u8 {
        match self {
            Self::Genus(_) | Self::Species(_) => 0,
            Self::Nothogenus(_) => 1,
            Self::Cross(..) => 2,
        }
    }
}

/// A taxon a query may mean, and how far the query was from its name.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Candidate {
    /// The taxon.
    pub taxon: Taxon,
    /// The synonym, spelling or abbreviation that led to it.
    pub via: Option<&'static NameRecord>,
    /// Letters added, dropped, changed or swapped in the generic name.
    pub edits: u8,
}

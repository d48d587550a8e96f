//! The calls of this crate.

use crate::report::{GenusReport, GenusRequest};
use crate::search::{SearchReport, SearchRequest};
use guardcell_call::{Call, Error, Group};
use serde::{Deserialize, Serialize};

/// When a plant opens its stomata, how sure that is, and who measured it.
#[derive(Clone, Copy, Debug)]
pub struct Genus;

impl Call for Genus {
    type Request = GenusRequest;
    type Response = GenusReport;
    const NAME: &'static str = "genus";
    const PATH: &'static str = "taxa";
    const GROUP: Group = Group::Taxa;
    const SUMMARY: &'static str =
        "When a plant opens its stomata, how sure that is, and who measured it";
    const DESCRIPTION: &'static str = "Resolves the name on a label (genus, species, hybrid genus, \
        old name, abbreviation, misspelling) and gives what is published about its pathway, with \
        sources and probability. An unknown name is an answer, not an error; `leaf` then gives a \
        rule of thumb.";
    const EXAMPLE: &'static str = include_str!("../calls/genus.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::report::report(request)?)
    }
}

/// Names that begin as the query does.
#[derive(Clone, Copy, Debug)]
pub struct Search;

impl Call for Search {
    type Request = SearchRequest;
    type Response = SearchReport;
    const NAME: &'static str = "search";
    const PATH: &'static str = "taxa/search";
    const GROUP: Group = Group::Taxa;
    const SUMMARY: &'static str = "Names that begin as the query does";
    const DESCRIPTION: &'static str = "For completing a name while it is typed. Case and diacritics \
        are ignored. `more` says whether further names match.";
    const EXAMPLE: &'static str = include_str!("../calls/search.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::search::search(request)?)
    }
}

/// A request for every name of the tables; it has no fields.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct CatalogueRequest {}

/// Every name of the tables.
#[derive(Clone, Copy, Debug)]
pub struct Catalogue;

impl Call for Catalogue {
    type Request = CatalogueRequest;
    type Response = crate::search::Catalogue;
    const NAME: &'static str = "catalogue";
    const PATH: &'static str = "catalogue";
    const GROUP: Group = Group::Taxa;
    const SUMMARY: &'static str = "Every name of the tables, for look-ups without a connection";
    const DESCRIPTION: &'static str = "All names with their kind and how the plant opens its \
        stomata. It changes only with the version of the program.";
    const EXAMPLE: &'static str = include_str!("../calls/catalogue.json");

    fn run(_: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::search::catalogue())
    }
}

impl From<crate::ReferenceError> for Error {
    fn from(e: crate::ReferenceError) -> Self {
        use crate::ReferenceError as R;
        use guardcell_error::Code;
        let (code, detail, hint) = match &e {
            R::EmptyQuery => {
                (Code::Missing, "this is empty".to_owned(), "give a name such as Cattleya labiata")
            }
            R::LongQuery { bytes } => (
                Code::TooLong,
                format!("this has {bytes} bytes"),
                "give the name of one plant, at most 200 bytes",
            ),
            R::Limit { limit } => {
                (Code::OutOfRange, format!("{limit} is out of range"), "give 1 to 50")
            }
        };
        Self::new(code, detail, hint).at(e.pointer())
    }
}

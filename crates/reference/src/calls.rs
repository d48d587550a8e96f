//! The functions that other programs call.

use crate::report::report;
use crate::resolve::is_listed;
use crate::response::{GenusRequest, GenusResponse};
use crate::search::{
    CatalogueRequest, CatalogueResponse, SearchRequest, SearchResponse, catalogue, search,
};
use guardcell_call::{Call, Group, Work};
use guardcell_error::Error;

/// [`report()`] as a call.
#[derive(Clone, Copy, Debug)]
pub struct Genus;

impl Call for Genus {
    type Request = GenusRequest;
    type Response = GenusResponse;
    const NAME: &'static str = "genus";
    const PATH: &'static str = "taxa";
    const GROUP: Group = Group::Taxa;
    const SUMMARY: &'static str = "When a plant opens its stomata, from its name";
    const DESCRIPTION: &'static str = "Takes a name as on a label: a genus, a species, a hybrid, an \
        old name, an abbreviation or a misspelling. Answers the pathway, the opening and the leaf \
        with the grade of the evidence (measured, reported, inferred) and its sources. A name that \
        is not known is an answer, not an error; one that may mean several taxa lists them.";
    const EXAMPLE: &'static str = include_str!("../calls/genus.json");

    fn work(request: &GenusRequest) -> Work {
        if is_listed(&request.query) { Work::TINY } else { Work::SMALL }
    }

    fn run(request: &GenusRequest) -> Result<GenusResponse, Error> {
        report(request)
    }
}

/// [`search()`] as a call.
#[derive(Clone, Copy, Debug)]
pub struct Search;

impl Call for Search {
    type Request = SearchRequest;
    type Response = SearchResponse;
    const NAME: &'static str = "search";
    const PATH: &'static str = "taxa/search";
    const GROUP: Group = Group::Taxa;
    const SUMMARY: &'static str = "Names that begin with a text";
    const DESCRIPTION: &'static str = "For completion while a name is typed: genera and species \
        first, then hybrid genera, old names and abbreviations. If nothing begins with the text, \
        the matches are what a misspelt name may mean.";
    const EXAMPLE: &'static str = include_str!("../calls/search.json");

    fn run(request: &SearchRequest) -> Result<SearchResponse, Error> {
        search(request)
    }
}

/// [`catalogue()`] as a call.
#[derive(Clone, Copy, Debug)]
pub struct Catalogue;

impl Call for Catalogue {
    type Request = CatalogueRequest;
    type Response = CatalogueResponse;
    const NAME: &'static str = "catalogue";
    const PATH: &'static str = "catalogue";
    const GROUP: Group = Group::Taxa;
    const SUMMARY: &'static str = "Every name of the tables";
    const DESCRIPTION: &'static str = "Every genus, hybrid genus, old name, spelling and \
        abbreviation with its pathway, opening and leaf, for a look-up without a connection.";
    const EXAMPLE: &'static str = include_str!("../calls/catalogue.json");

    fn work(_: &CatalogueRequest) -> Work {
        // Some thousand names are written.
        Work::of(5_000, "")
    }

    fn run(_: &CatalogueRequest) -> Result<CatalogueResponse, Error> {
        Ok(catalogue())
    }
}

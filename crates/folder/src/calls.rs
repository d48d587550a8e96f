//! The readers as calls, for hosts that have a text and want its data as JSON: a page, a binding.
//! Each is the function of this crate with the same meaning, and nothing else.

use crate::{Collection, Readings, collection, labels, readings, site, water};
use guardcell::Error;
use guardcell::advice::SiteDescription;
use guardcell::calls::{AnyCall, Call, Group, Work};
use guardcell::solution::{Label, WaterReport};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Every reader.
pub static ALL: &[AnyCall] = &[
    AnyCall::new::<ReadSite>(),
    AnyCall::new::<ReadCollection>(),
    AnyCall::new::<ReadLabels>(),
    AnyCall::new::<ReadWater>(),
    AnyCall::new::<ReadReadings>(),
];

/// A file as its text.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TextFile {
    /// The name of the file, which errors carry; its ending says how a label or a water is written.
    pub file: String,
    /// What is in it.
    pub text: String,
}

impl TextFile {
    /// Reading takes a step for so many bytes, and so many times the bytes.
    const BYTES_A_STEP: u64 = 20;
    const BYTES_A_BYTE: u64 = 24;

    fn work(&self) -> Work {
        let bytes = self.text.len() as u64;
        Work::of(1_000 + bytes / Self::BYTES_A_STEP, "the length of the text")
            .holding(bytes.saturating_mul(Self::BYTES_A_BYTE))
    }
}

/// The labels of a file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Labels {
    /// The labels, in the order of the file.
    pub labels: Vec<Label>,
}

/// A call that reads one text.
macro_rules! reader {
    ($(#[$doc:meta])* $call:ident -> $response:ty, $name:literal, $path:literal,
     $summary:literal, $description:literal, $read:expr) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug)]
        pub struct $call;

        impl Call for $call {
            type Request = TextFile;
            type Response = $response;
            const NAME: &'static str = $name;
            const PATH: &'static str = $path;
            const GROUP: Group = Group::Files;
            const SUMMARY: &'static str = $summary;
            const DESCRIPTION: &'static str = $description;
            const EXAMPLE: &'static str = include_str!(concat!("../calls/", $name, ".json"));

            fn work(request: &TextFile) -> Work {
                request.work()
            }

            fn run(request: &TextFile) -> Result<$response, Error> {
                let read: fn(&str, &str) -> Result<$response, Error> = $read;
                read(&request.file, &request.text)
            }
        }
    };
}

reader! {
    /// Reads a site.
    ReadSite -> SiteDescription, "read_site", "files/site",
    "A site from its text",
    "Needs the text of a site file (TOML): the place, its areas and its grower. Faults have their line \
     and column.",
    site
}

reader! {
    /// Reads a collection.
    ReadCollection -> Collection, "read_collection", "files/collection",
    "A collection from its text",
    "Needs the text of a collection (CSV, one plant a row). The answer has the plants and the line of \
     each; faults have their line and column.",
    collection
}

reader! {
    /// Reads labels.
    ReadLabels -> Labels, "read_labels", "files/labels",
    "Labels of products from their text",
    "Needs the text of a label as TOML, JSON, CSV or the words of a guaranteed analysis; the ending of \
     the name says which.",
    |name, text| labels(name, text).map(|labels| Labels { labels })
}

reader! {
    /// Reads a water report.
    ReadWater -> WaterReport, "read_water", "files/water",
    "A water report from its text",
    "Needs the text of a water report as TOML, or as JSON where its name ends in .json.",
    water
}

reader! {
    /// Reads a table of readings.
    ReadReadings -> Readings, "read_readings", "files/readings",
    "Readings of the air from a table",
    "Needs the text of a table (CSV) with one moment and area a row. The answer has the readings and \
     the line of each; faults have their line and column.",
    readings
}

#[cfg(test)]
mod tests {
    use super::ALL;
    use guardcell::Code;

    #[test]
    fn every_example_is_answered_and_its_answer_is_data() {
        for call in ALL {
            let answer = call.run(call.example().as_bytes()).unwrap_or_else(|e| panic!("{e}"));
            assert!(answer.starts_with(b"{"), "{}", call.name());
        }
    }

    #[test]
    fn a_fault_of_the_text_has_its_place() {
        let text = "id,name,area,setting,standing\\nA1,Vanda,house,hanging,ordinary\\n";
        let request = format!("{{\"file\": \"mine.csv\", \"text\": \"{text}\"}}");
        let error = ALL[1].run(request.as_bytes()).unwrap_err();
        let place = error.place().unwrap();
        assert_eq!((place.file.as_deref(), place.line), (Some("mine.csv"), Some(2)));
        assert_eq!(error.code(), Code::MalformedFile);
    }

    #[test]
    fn a_text_that_needs_too_much_is_refused_before_it_is_read() {
        let long = "x".repeat(16 << 20);
        let request = format!("{{\"file\": \"mine.csv\", \"text\": \"{long}\"}}");
        assert_eq!(ALL[4].run(request.as_bytes()).unwrap_err().code(), Code::TooMany);
    }
}

//! The functions of this crate as calls, for hosts that have a text and want its data as JSON: a page, a
//! binding. Each is the function with the same meaning, and nothing else.

use crate::{
    Collection, EntryLines, Readings, Situation, SituationRequest, collection, entry_lines, labels,
    lines_of_entries, readings, site, situation, water,
};
use guardcell::Error;
use guardcell::advice::SiteDescription;
use guardcell::calls::{AnyCall, Call, Group, Work};
use guardcell::ledger::Entry;
use guardcell::solution::{Label, WaterReport};
use serde::{Deserialize, Serialize};

/// Every call of this crate.
pub static ALL: &[AnyCall] = &[
    AnyCall::new::<ReadSite>(),
    AnyCall::new::<ReadCollection>(),
    AnyCall::new::<ReadLabels>(),
    AnyCall::new::<ReadWater>(),
    AnyCall::new::<ReadReadings>(),
    AnyCall::new::<ReadEntries>(),
    AnyCall::new::<WriteEntries>(),
    AnyCall::new::<WithJournal>(),
];

/// A file as its text.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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

reader! {
    /// Reads entries of a journal.
    ReadEntries -> EntryLines, "read_entries", "files/entries",
    "Entries of a journal from JSON Lines",
    "Needs JSON Lines as `guardcell journal export` writes them. The answer has the entries; faults \
     have their line.",
    entry_lines
}

/// Entries to be written.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct EntriesToWrite {
    /// The entries, in the order of the file.
    pub entries: Vec<Entry>,
}

/// A text that was written.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Written {
    /// The text.
    pub text: String,
}

/// Writes entries of a journal.
#[derive(Clone, Copy, Debug)]
pub struct WriteEntries;

impl Call for WriteEntries {
    type Request = EntriesToWrite;
    type Response = Written;
    const NAME: &'static str = "write_entries";
    const PATH: &'static str = "files/entries/text";
    const GROUP: Group = Group::Files;
    const SUMMARY: &'static str = "Entries of a journal as JSON Lines";
    const DESCRIPTION: &'static str = "Takes entries. Answers the text that `guardcell journal \
        export` writes of them, byte for byte.";
    const EXAMPLE: &'static str = include_str!("../calls/write_entries.json");

    fn work(request: &EntriesToWrite) -> Work {
        Work::of(1_000 + 20 * request.entries.len() as u64, "entries")
    }

    fn run(request: &EntriesToWrite) -> Result<Written, Error> {
        lines_of_entries(&request.entries).map(|text| Written { text })
    }
}

/// Puts a journal into a request for advice.
#[derive(Clone, Copy, Debug)]
pub struct WithJournal;

impl Call for WithJournal {
    type Request = SituationRequest;
    type Response = Situation;
    const NAME: &'static str = "with_journal";
    const PATH: &'static str = "journal/situation";
    const GROUP: Group = Group::Journal;
    const SUMMARY: &'static str =
        "A request for advice with what the journal knows, and what is due";
    const DESCRIPTION: &'static str = "Takes a request for advice, the entries of a journal and the \
        labels there are. Answers the request with the learned threshold, the next strength, what \
        each plant got last and the feed of the turn, to be asked of `advise` and `round`, as \
        `guardcell round` does in a folder; and the tasks that are due. Nothing is stored.";
    const EXAMPLE: &'static str = include_str!("../calls/with_journal.json");

    fn work(request: &SituationRequest) -> Work {
        // As for what learns from them: each day is a step.
        Work::of(10_000 + 420 * request.entries.len() as u64, "entries")
    }

    fn run(request: &SituationRequest) -> Result<Situation, Error> {
        situation(request)
    }
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

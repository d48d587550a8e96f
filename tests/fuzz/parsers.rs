//! Every parser of text, with what to begin from.

use guardcell::Error;
use guardcell::solution::{Label, WaterReport};
use guardcell::units as entry;
use guardcell_conditions::probe::{Known, probe};
use guardcell_conditions::{Map, Options, read_csv, read_json};
use guardcell_journal::{Format, Journal};
use std::path::Path;

/// Reads a text and forgets what it says.
type Read = fn(&str) -> Result<(), Error>;

/// A parser, what it makes of a text, and texts to begin from.
pub struct Parser {
    pub name: &'static str,
    pub read: Read,
    pub seeds: Vec<String>,
}

fn whole(file: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-data").join(file);
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

fn demo(file: &str) -> String {
    let text = whole(file);
    // The beginning of a year of readings says all that a parser can learn.
    text.lines().take(60).map(|line| format!("{line}\n")).collect()
}

fn import(text: &str, format: Format) -> Result<(), Error> {
    let folder = tempfile::tempdir().unwrap();
    let mut journal = Journal::open(&folder.path().join("j"))?;
    journal.import(format, text.as_bytes())?;
    assert!(journal.verify()?.sound(), "what was taken is sound");
    let mut first = Vec::new();
    journal.export(format, &mut first)?;
    let mut again = Journal::open(&folder.path().join("k"))?;
    again.import(format, first.as_slice())?;
    let mut second = Vec::new();
    again.export(format, &mut second)?;
    assert_eq!(first, second, "out and in again is the same");
    Ok(())
}

fn texts(of: &[&str]) -> Vec<String> {
    of.iter().map(|t| (*t).to_owned()).collect()
}

/// The list. A label that can be read is checked and dissolved as well.
pub fn all() -> Vec<Parser> {
    fn product(labels: Vec<Label>) -> Result<(), Error> {
        for label in labels {
            label.check()?;
            guardcell::solution::Product::new(&label)?;
        }
        Ok(())
    }
    let quantities = texts(&[
        "120 ppm P2O5",
        "1,5 g/L",
        "3-2-1",
        "12 °dH as CaCO3",
        "0.6 mS/cm",
        "1:200",
        "68 °F",
        "2 tsp/gal",
        "45 %",
        "5 mmol/L NO3-N",
        "1/2 cup",
        "1.2.3",
        "300 ppm (500 scale)",
    ]);
    fn readings(text: &str, map: &str) -> Result<(), Error> {
        let options = Options::at("2026-06-21T12:00:00Z".parse().unwrap()).allowing_stale(true);
        match Map::parse(&demo(map), map)? {
            Map::Csv(m) => read_csv(&m, text.as_bytes(), "data", &options).map(|_| ()),
            Map::Json(m) => read_json(&m, text.as_bytes(), "data", &options).map(|_| ()),
            Map::SensorThings(_) | Map::Mqtt(_) => Ok(()),
        }
    }
    fn unknown(text: &str) -> Result<(), Error> {
        let now = "2026-06-21T12:00:00Z".parse().unwrap();
        let zone = Some("Atlantic/Azores");
        let known = Known { file: "data", zone, area: None, date_order: None, now };
        probe(text.as_bytes(), &known).map(|_| ())
    }
    let entries = demo("journal.jsonl");
    let mut list = vec![
        Parser {
            name: "an unknown logger",
            read: unknown,
            seeds: vec![demo("logger/logger.csv"), demo("logger/endpoint.json")],
        },
        Parser {
            name: "label.toml",
            read: |t| product(Label::from_toml(t)?),
            seeds: vec![
                demo("labels/fernhollow-drop-6-2-5.toml"),
                demo("labels/fernhollow-leaf-20-20-20.toml"),
            ],
        },
        Parser {
            name: "label.json",
            read: |t| product(Label::from_json(t)?),
            seeds: vec![demo("labels/fernhollow-plain-8-8-14.json")],
        },
        Parser {
            name: "label.csv",
            read: |t| product(Label::from_csv(t)?),
            seeds: vec![demo("labels/fernhollow-single-salts.csv")],
        },
        Parser {
            name: "label.txt",
            read: |t| product(vec![Label::from_text(t)?]),
            seeds: vec![demo("labels/fernhollow-bloom-10-30-20.txt")],
        },
        Parser {
            name: "water.toml",
            read: |t| {
                guardcell::solution::Water::from_report(&WaterReport::from_toml(t)?).map(|_| ())
            },
            seeds: vec![demo("tap.toml"), demo("water.toml"), demo("rain.toml")],
        },
        Parser {
            name: "map.toml",
            read: |t| Map::parse(t, "map.toml").map(|_| ()),
            seeds: vec![
                demo("logger/logger.toml"),
                demo("logger/endpoint.toml"),
                demo("logger/sensorthings.toml"),
            ],
        },
        Parser {
            name: "readings.csv",
            read: |t| readings(t, "logger/logger.toml"),
            seeds: vec![demo("logger/logger.csv")],
        },
        Parser {
            name: "readings.json",
            read: |t| readings(t, "logger/endpoint.toml"),
            seeds: vec![whole("logger/endpoint.json")],
        },
        Parser {
            name: "journal.jsonl",
            read: |t| import(t, Format::Jsonl),
            seeds: vec![entries.lines().take(4).map(|l| format!("{l}\n")).collect()],
        },
        Parser {
            name: "name",
            read: |t| {
                guardcell::reference::report(&guardcell::reference::GenusRequest::new(t))
                    .map(|_| ())
            },
            seeds: texts(&[
                "Cattleya labiata",
                "Phal. amabilis 'Alba' x self",
                "C. × hardyana",
                "Rhyncholaeliocattleya",
                "Æ",
                "mini phal",
            ]),
        },
        Parser {
            name: "request",
            read: |t| guardcell::call("water", t).map(|_| ()),
            seeds: texts(&[guardcell::calls::find("water").unwrap().example()]),
        },
    ];
    let quantity: [(&'static str, Read); 7] = [
        ("concentration", |t| entry::parse_concentration(t).map(|_| ())),
        ("feed strength", |t| entry::parse_feed_strength(t).map(|_| ())),
        ("conductivity", |t| entry::parse_conductivity(t).map(|_| ())),
        ("injector", |t| entry::parse_injector_ratio(t).map(|_| ())),
        ("humidity", |t| entry::parse_humidity(t).map(|_| ())),
        ("mass fraction", |t| entry::parse_mass_fraction(t).map(|_| ())),
        ("bulk density", |t| entry::parse_bulk_density(t).map(|_| ())),
    ];
    list.extend(quantity.map(|(name, read)| Parser { name, read, seeds: quantities.clone() }));
    list
}

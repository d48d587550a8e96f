//! Entries: only ever added, corrected in chains, exported and imported without a byte of
//! difference, refused with the place of the fault.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test ends where its preparation fails, and prints its table"
)]

use guardcell::Code;
use guardcell::ledger::{
    Conditions, Done, Draft, Entry, Event, Flush, Growth, Level, Measure, Nature, Note, Place,
    PlantShare, Residue, Response, Retraction, RootFeed, Round, Sign, Soak, Task, Window, Wipe,
};
use guardcell_journal::{Format, Journal, Selection};
use proptest::prelude::*;
use std::collections::BTreeMap;

fn journal(dir: &tempfile::TempDir, name: &str) -> Journal {
    Journal::open(&dir.path().join(name)).unwrap()
}

fn everything() -> Selection {
    Selection { with_corrected: true, ..Selection::default() }
}

fn exported(journal: &Journal, format: Format) -> Vec<u8> {
    let mut bytes = Vec::new();
    journal.export(format, &mut bytes).unwrap();
    bytes
}

/// Names with all that CSV, JSON and a terminal might trip over; no semicolon, no control.
fn name() -> impl Strategy<Value = String> {
    prop_oneof![
        "[A-Z]{1,3}[0-9]{1,4}",
        "[a-zA-Zäé兰\"',=+@#/|\\\\-]([ a-zA-Z0-9äé兰\"',=+@#/|\\\\-]{0,20}[a-z\"',])?",
    ]
}

fn note() -> impl Strategy<Value = String> {
    prop_oneof![
        3 => Just(String::new()),
        1 => "[ -~äé兰\n\t]{1,60}".prop_filter("not blank", |s| !s.trim().is_empty()),
    ]
}

fn positive(most: f64) -> impl Strategy<Value = f64> {
    prop_oneof![
        Just(0.0),
        0.0..most,
        (0.0..most).prop_map(f64::round),
        Just(most),
        Just(most * 1e-9)
    ]
}

fn maybe<T: std::fmt::Debug + Clone + 'static>(
    s: impl Strategy<Value = T> + 'static,
) -> BoxedStrategy<Option<T>> {
    proptest::option::of(s).boxed()
}

fn plants(least: usize) -> impl Strategy<Value = Vec<String>> {
    proptest::collection::btree_set(name(), least..5).prop_map(|s| s.into_iter().rev().collect())
}

fn shares() -> impl Strategy<Value = Vec<PlantShare>> {
    plants(1).prop_flat_map(|p| {
        let n = p.len();
        proptest::collection::vec(maybe(positive(100.0)), n).prop_map(move |v| {
            p.iter()
                .cloned()
                .zip(v)
                .map(|(plant, volume_ml)| PlantShare { plant, volume_ml })
                .collect()
        })
    })
}

fn conditions() -> BoxedStrategy<Option<Conditions>> {
    maybe((
        maybe(-5.0..50.0),
        maybe(positive(100.0)),
        maybe(positive(30.0)),
        maybe(positive(20.0)),
        maybe(0.01..3.0),
        maybe(positive(20.0)),
    ))
    .prop_map(|c| {
        let (temp_c, rh_percent, air_m_s, residue_g_m2, residue_log_sd, scale_g_m2) = c?;
        let c =
            Conditions { temp_c, rh_percent, air_m_s, residue_g_m2, residue_log_sd, scale_g_m2 };
        (c != Conditions::default()).then_some(c)
    })
    .boxed()
}

// Boxed: the trees of a strategy would overflow the stack of a test.
fn event() -> BoxedStrategy<Event> {
    let window = maybe(Just(Window {
        from: "2026-06-21T04:00:00+01:00".into(),
        to: "2026-06-21T06:30:00+01:00".into(),
    }));
    let feed = (shares(), maybe(name()), positive(10_000.0), maybe(0.0..=1.0));
    let with = (maybe(name()), maybe(name()), maybe(name()));
    let round = (feed, with, 1_u8..=10, window, conditions(), maybe(400.0..1e6)).prop_map(
        |(feed, (water, wetting_agent, sprayer), passes, window, conditions, volume_ml)| {
            let (plants, product, s, n) = feed;
            Event::Round(Round {
                plants,
                product,
                water,
                wetting_agent,
                sprayer,
                feed_strength_mg_l: s,
                n_mg_l: n.map(|n: f64| n * s),
                passes,
                volume_ml,
                window,
                conditions,
            })
        },
    );
    let feed = (shares(), maybe(name()), positive(10_000.0), maybe(0.0..=1.0));
    let root = (feed, maybe(400.0..1e6), maybe(positive(1e6)), maybe(positive(1e5))).prop_map(
        |((plants, product, s, n), volume_ml, drain_ml, drain_mg_l)| {
            Event::RootFeed(RootFeed {
                plants,
                product,
                feed_strength_mg_l: s,
                n_mg_l: n.map(|n: f64| n * s),
                volume_ml,
                drain_ml,
                drain_mg_l,
            })
        },
    );
    let residue = (
        plants(1),
        maybe(name()),
        0_usize..4,
        0_usize..3,
        0_usize..3,
        maybe(name()),
        maybe(any::<bool>()),
        conditions(),
    )
        .prop_map(|(plants, group, l, p, n, round, wiped, conditions)| {
            Event::Residue(Residue {
                plants,
                group,
                level: Level::ALL[l],
                place: Place::ALL[p],
                nature: Nature::ALL[n],
                wiped,
                round,
                conditions,
            })
        });
    let flush = (plants(1), maybe(positive(1e6)), maybe(positive(1e6)), maybe(positive(1e5)))
        .prop_map(|(plants, volume_ml, drain_ml, drain_mg_l)| {
            Event::Flush(Flush { plants, volume_ml, drain_ml, drain_mg_l })
        });
    let soak = (plants(1), positive(10_000.0), 0.1..1440.0).prop_map(|(plants, s, m)| {
        Event::Soak(Soak { plants, feed_strength_mg_l: s, duration_min: m })
    });
    let response = (plants(1), 0_usize..4)
        .prop_map(|(plants, s)| Event::Response(Response { plants, sign: Sign::ALL[s] }));
    let growth = (plants(1), maybe((0_usize..7, 0_u32..100)), name()).prop_map(
        |(plants, counted, photo)| {
            let photo = counted.is_none().then_some(photo);
            let measure = counted.map(|(m, _)| Measure::ALL[m]);
            let value = counted.map(|(_, v)| f64::from(v));
            Event::Growth(Growth { plants, measure, value, photo })
        },
    );
    let task = (plants(0), 1_u32..28, maybe(1_u32..400)).prop_map(|(plants, day, every_days)| {
        Event::Task(Task { plants, due: format!("2027-02-{day:02}"), every_days })
    });
    prop_oneof![
        1 => growth.boxed(),
        1 => task.boxed(),
        1 => plants(1).prop_map(|plants| Event::Wipe(Wipe { plants })),
        1 => name().prop_map(|task| Event::Done(Done { task })),
        3 => round.boxed(),
        1 => root.boxed(),
        3 => residue.boxed(),
        1 => flush.boxed(),
        1 => soak.boxed(),
        1 => response.boxed(),
        1 => plants(0).prop_map(|plants| Event::Note(Note { plants })),
        1 => Just(Event::Retraction(Retraction {})),
    ]
    .boxed()
}

/// A draft, and which earlier entry that still stands it corrects, as a share of them.
fn draft() -> impl Strategy<Value = (Draft, Option<f64>)> {
    let minute = 0_i64..60 * 24 * 365;
    let zone = prop_oneof![Just(None), Just(Some("Europe/London")), Just(Some("America/Bogota"))];
    (minute, zone, name(), event(), note(), maybe(0.0..1.0)).prop_map(
        |(minute, zone, site, event, note, corrects)| {
            let instant = jiff::Timestamp::from_second(1_767_225_600 + minute * 60).unwrap();
            let tz = jiff::tz::db().get(zone.unwrap_or("Asia/Kathmandu")).unwrap();
            let at = instant.to_zoned_datetime(tz).strftime("%Y-%m-%dT%H:%M:%S%:z").to_string();
            let note = match event {
                Event::Note(_) | Event::Task(_) if note.is_empty() => "seen".to_owned(),
                _ => note,
            };
            let corrects = match event {
                Event::Retraction(_) => Some(corrects.unwrap_or(0.5)),
                _ => corrects,
            };
            let zone = zone.map(str::to_owned);
            let draft =
                Draft { id: None, recorded: None, at, zone, site, supersedes: None, event, note };
            (draft, corrects)
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_recorded_stays_and_travels(drafts in proptest::collection::vec(draft(), 1..12)) {
        let dir = tempfile::tempdir().unwrap();
        let mut a = journal(&dir, "a");
        // What should be there, in the order of recording; and what stands.
        let mut told: Vec<Draft> = Vec::new();
        let mut standing: Vec<String> = Vec::new();
        let mut corrected: BTreeMap<String, String> = BTreeMap::new();
        for (mut draft, corrects) in drafts {
            if let Some(share) = corrects {
                if standing.is_empty() {
                    continue;
                }
                let i = (share * standing.len() as f64) as usize;
                draft.supersedes = Some(standing.remove(i.min(standing.len() - 1)));
            }
            let receipt = a.append(draft.clone()).unwrap();
            prop_assert!(!receipt.already_there);
            if let Some(old) = &draft.supersedes {
                corrected.insert(old.clone(), receipt.id.clone());
            }
            standing.push(receipt.id.clone());
            draft.id = Some(receipt.id);
            told.push(draft);
            // Nothing recorded before has changed.
            let there = a.entries(&everything()).unwrap();
            prop_assert_eq!(there.len(), told.len());
            for (entry, draft) in there.iter().zip(&told) {
                let mut back = Draft::from(entry.clone());
                back.recorded = None;
                let mut draft = draft.clone();
                // The one form of a time without an offset from UTC.
                draft.at = draft.at.replace("+00:00", "Z");
                prop_assert_eq!(back, draft);
            }
        }
        // What stands is what nobody corrected, less what was taken back.
        let stands: Vec<Entry> = a.entries(&Selection::default()).unwrap();
        let mut expected: Vec<&str> = told
            .iter()
            .filter(|d| !matches!(d.event, Event::Retraction(_)))
            .filter_map(|d| d.id.as_deref())
            .filter(|id| !corrected.contains_key(*id))
            .collect();
        let mut found: Vec<&str> = stands.iter().map(|e| e.id.as_str()).collect();
        expected.sort_unstable();
        found.sort_unstable();
        prop_assert_eq!(found, expected);
        // A chain leads from any entry to the one that stands and back to the first.
        for draft in &told {
            let id = draft.id.as_deref().unwrap();
            let chain = a.chain(id).unwrap();
            prop_assert!(!corrected.contains_key(&chain[0].id));
            prop_assert!(chain.last().unwrap().supersedes.is_none());
            prop_assert!(chain.iter().any(|e| e.id == id));
            for pair in chain.windows(2) {
                prop_assert_eq!(pair[0].supersedes.as_ref(), Some(&pair[1].id));
            }
            // A second correction of a corrected entry is refused and names the first.
            if let Some(by) = corrected.get(id) {
                let mut again = draft.clone();
                again.id = None;
                again.supersedes = Some(id.to_owned());
                let e = a.append(again).unwrap_err();
                prop_assert_eq!((e.code(), e.pointer()), (Code::Conflict, "/supersedes"));
                prop_assert!(e.hint().contains(by.as_str()));
            }
        }
        let found = a.verify().unwrap();
        prop_assert!(found.sound(), "{:?}", found.problems);
        prop_assert_eq!(found.entries, told.len() as u64);
        prop_assert_eq!(found.standing, stands.len() as u64);
        // Export, import into an empty journal, export: the same bytes; twice: nothing new.
        for (format, name) in
            [(Format::Jsonl, "jsonl"), (Format::Csv, "csv"), (Format::Spreadsheet, "sheet")]
        {
            let first = exported(&a, format);
            let mut b = journal(&dir, name);
            let done = b.import(format, first.as_slice()).unwrap();
            prop_assert_eq!(done.added, told.len() as u64);
            let second = exported(&b, format);
            prop_assert_eq!(String::from_utf8(second).unwrap(), String::from_utf8(first.clone()).unwrap());
            let again = b.import(format, first.as_slice()).unwrap();
            prop_assert_eq!((again.added, again.already_there), (0, told.len() as u64));
            prop_assert_eq!(a.entries(&everything()).unwrap(), b.entries(&everything()).unwrap());
            prop_assert!(b.verify().unwrap().sound());
        }
    }

    /// No text whatever makes an import panic or leave half a file behind.
    #[test]
    fn nonsense_is_refused_whole(text in "(\\{|\"|[a-z;,0-9:\n\\\\ é-])*") {
        let dir = tempfile::tempdir().unwrap();
        let mut a = journal(&dir, "a");
        for format in [Format::Jsonl, Format::Csv, Format::Spreadsheet] {
            let good = match format {
                Format::Jsonl => GOOD_LINE.to_owned() + "\n",
                Format::Csv | Format::Spreadsheet => GOOD_CSV.to_owned(),
            };
            let all = good + &text;
            if a.import(format, all.as_bytes()).is_err() {
                prop_assert!(a.entries(&everything()).unwrap().is_empty());
            } else {
                // Only blank lines may follow.
                prop_assert!(text.trim_matches(['\n', ' ', '"']).is_empty(), "{text:?}");
                return Ok(());
            }
        }
    }
}

const GOOD_LINE: &str = r#"{"id":"x","at":"2026-06-21T05:00:00+01:00","site":"Fernhollow","event":{"kind":"soak","plants":["F1"],"feed_strength_mg_l":50,"duration_min":30}}"#;
const GOOD_CSV: &str = "at,site,kind,plants,feed_strength_mg_l,duration_min\n\
    2026-06-21T05:00:00+01:00,Fernhollow,soak,F1,50,30\n";

fn refused(format: Format, text: &str) -> (u64, String) {
    let dir = tempfile::tempdir().unwrap();
    let mut a = journal(&dir, "a");
    let e = a.import(format, text.as_bytes()).unwrap_err();
    assert!(a.entries(&everything()).unwrap().is_empty(), "half a file was kept");
    let line = e.place().and_then(|p| p.line).unwrap_or_else(|| panic!("{e:?}"));
    (line, e.to_string())
}

#[test]
fn a_bad_line_is_named_with_its_place() {
    let with = |from: &str, to: &str| GOOD_LINE.replace(from, to);
    for (bad, says) in [
        (with("05:00:00+01:00", "05:00:00"), "/at"),
        (with("\"F1\"", "\"F1\",\"F1\""), "/event/plants/1"),
        (with("\"F1\"", ""), "/event/plants"),
        (with("50", "-50"), "/event/feed_strength_mg_l"),
        (with("50", "1e999"), "column"),
        (with("30}", "300000}"), "/event/duration_min"),
        (with("soak", "bath"), "bath"),
        (with("\"site\"", "\"sitee\""), "sitee"),
        (with("Fernhollow", " "), "/site"),
        (with("\"F1\"", "\"F;1\""), "/event/plants/0"),
        (with("\"id\":\"x\",", "\"id\":\"x\",\"supersedes\":\"y\","), "/supersedes"),
        (
            with("\"id\":\"x\",", "\"id\":\"x\",\"zone\":\"Europe/Vienna\","),
            "2026-06-21T06:00:00+02:00",
        ),
        ("{".into(), "column"),
        ("[]".into(), "column"),
    ] {
        let text = format!("{}\n\n{bad}\n", GOOD_LINE.replace("\"x\"", "\"first\""));
        let (line, wrong) = refused(Format::Jsonl, &text);
        assert_eq!(line, 3, "{wrong}");
        assert!(wrong.contains(says), "{bad}: {wrong}");
    }
}

#[test]
fn a_bad_row_is_named_with_its_column() {
    for (from, to, line, says) in [
        (",50,", ",fifty,", 2, "feed_strength_mg_l"),
        (",50,", ",NaN,", 2, "feed_strength_mg_l"),
        (",50,", ",,", 2, "feed_strength_mg_l"),
        ("soak", "bath", 2, "root_feed"),
        ("duration_min", "duration", 1, "duration_min"),
        ("at,", "plants,", 1, "duplicate"),
        ("site,kind", "zone,kind", 1, "\"site\" is missing"),
        (",30\n", "\n", 2, "5 fields"),
        ("soak,F1,50,30", "flush,F1,,30", 2, "no meaning for a flush"),
        ("F1", "", 2, "/event/plants"),
    ] {
        let (at, wrong) = refused(Format::Csv, &GOOD_CSV.replace(from, to));
        assert_eq!(at, line, "{wrong}");
        assert!(wrong.contains(says), "{to}: {wrong}");
    }
}

#[test]
fn a_grower_may_write_the_csv_by_hand() {
    let dir = tempfile::tempdir().unwrap();
    let mut a = journal(&dir, "a");
    let text = "\u{feff}kind,at,site,plants,volumes_ml,feed_strength_mg_l,level,note\r\n\
        round,2026-06-21 05:10+01:00,Fernhollow,F1;F2,12;,300,,\"first, of the year\"\r\n\
        residue,2026-06-21T09:00+01:00,Fernhollow,F1,,,faint,\r\n";
    let done = a.import(Format::Csv, text.as_bytes()).unwrap();
    assert_eq!(done.added, 2);
    let entries =
        a.entries(&Selection { plant: Some("F2".into()), ..Selection::default() }).unwrap();
    let Event::Round(r) = &entries[0].event else { panic!("{entries:?}") };
    assert_eq!(r.plants[0].volume_ml, Some(12.0));
    assert_eq!((r.plants[1].volume_ml, r.passes), (None, 1));
    assert_eq!(entries[0].at, "2026-06-21T05:10:00+01:00");
    assert_eq!(entries[0].note, "first, of the year");
}

#[test]
fn the_same_entry_twice_is_one_and_a_different_one_is_a_conflict() {
    let dir = tempfile::tempdir().unwrap();
    let mut a = journal(&dir, "a");
    let draft: Draft = serde_json::from_str(GOOD_LINE).unwrap();
    let first = a.append(draft.clone()).unwrap();
    let again = a.append(draft.clone()).unwrap();
    assert!(again.already_there && !first.already_there);
    assert_eq!(again.sequence, first.sequence);
    let other = Draft { note: "longer".into(), ..draft };
    assert_eq!(a.append(other).unwrap_err().code(), Code::DuplicateId);
    assert_eq!(a.entries(&everything()).unwrap().len(), 1);
}

#[test]
fn several_entries_are_recorded_all_or_none() {
    let dir = tempfile::tempdir().unwrap();
    let mut a = journal(&dir, "a");
    let draft: Draft = serde_json::from_str(GOOD_LINE).unwrap();
    let bad = Draft { id: None, site: String::new(), ..draft.clone() };
    assert!(a.append_all(vec![draft.clone(), bad]).is_err());
    assert!(a.entries(&everything()).unwrap().is_empty());
    let fix = Draft {
        id: Some("y".into()),
        supersedes: Some("x".into()),
        note: "it was F2".into(),
        ..draft.clone()
    };
    let receipts = a.append_all(vec![draft, fix]).unwrap();
    assert_eq!((receipts[0].sequence, receipts[1].sequence), (1, 2));
    assert_eq!(a.entries(&Selection::default()).unwrap()[0].id, "y");
    assert_eq!(a.chain("x").unwrap().len(), 2);
    assert_eq!(a.chain("z").unwrap_err().code(), Code::Unknown);
}

/// The rule holds for other programs too: the file itself refuses.
#[test]
fn the_file_itself_refuses_changes() {
    let dir = tempfile::tempdir().unwrap();
    let mut a = journal(&dir, "a");
    a.append(serde_json::from_str(GOOD_LINE).unwrap()).unwrap();
    let raw = rusqlite::Connection::open(dir.path().join("a")).unwrap();
    for sql in ["UPDATE entry SET note = ''", "UPDATE entry SET body = '{}'", "DELETE FROM entry"] {
        assert!(raw.execute_batch(sql).is_err(), "{sql}");
    }
    // Somebody who goes round the triggers is found out.
    raw.execute_batch("DROP TRIGGER entry_stays; UPDATE entry SET site = 'elsewhere'").unwrap();
    let found = a.verify().unwrap();
    assert!(found.problems.iter().any(|p| p.contains("do not agree")), "{found:?}");
}

#[test]
fn a_time_range_and_a_site_select() {
    let dir = tempfile::tempdir().unwrap();
    let mut a = journal(&dir, "a");
    for (id, at, site) in [
        ("a", "2026-06-21T23:30:00-05:00", "north"),
        ("b", "2026-06-22T04:00:00Z", "south"),
        ("c", "2026-06-22T06:00:00+02:00", "north"),
    ] {
        let draft: Draft = serde_json::from_str(GOOD_LINE).unwrap();
        a.append(Draft { id: Some(id.into()), at: at.into(), site: site.into(), ..draft }).unwrap();
    }
    let ids = |s: Selection| -> Vec<String> {
        a.entries(&s).unwrap().into_iter().map(|e| e.id).collect()
    };
    // In the order of time, not of the clocks on the wall.
    assert_eq!(ids(Selection::default()), ["b", "c", "a"]);
    assert_eq!(ids(Selection { site: Some("north".into()), ..Default::default() }), ["c", "a"]);
    let from = Some("2026-06-22T04:00:01Z".into());
    assert_eq!(ids(Selection { from, ..Default::default() }), ["a"]);
    let to = Some("2026-06-22T04:00:01Z".into());
    assert_eq!(ids(Selection { to, ..Default::default() }), ["b", "c"]);
    assert!(a.entries(&Selection { to: Some("noon".into()), ..Default::default() }).is_err());
}

//! The ledger and the way from entries to the learned threshold, on entries whose sums are done
//! by hand.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test ends where its preparation fails, and prints its table"
)]

use guardcell::advice::{Growth, PlantEntry, Setting, Standing};
use guardcell::ledger::{
    Draft, Entry, LedgerRequest, Level, Observation, PlantLedger, ReviewRequest, ThresholdRequest,
    ThresholdResponse, learn_threshold, ledger, rounds_of_plan, threshold_of_entries,
};
use guardcell::reference::parameters::{film, practice};
use guardcell_journal::{Journal, Selection};
use serde_json::json;

fn plant(id: &str, setting: Setting, standing: Standing) -> PlantEntry {
    PlantEntry::new(id, "Cattleya", "house", setting, standing).with_growth(Growth::Active)
}

fn at(id: &str, time: &str, event: serde_json::Value) -> Draft {
    serde_json::from_value(json!({"id": id, "at": time, "site": "Fernhollow", "event": event}))
        .unwrap()
}

/// What a journal makes of these drafts.
fn recorded(drafts: Vec<Draft>) -> Vec<Entry> {
    let dir = tempfile::tempdir().unwrap();
    let mut journal = Journal::open(&dir.path().join("house.journal")).unwrap();
    journal.append_all(drafts).unwrap();
    journal.entries(&Selection::default()).unwrap()
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

fn codes(p: &PlantLedger) -> Vec<&str> {
    p.warnings.iter().map(|w| w.code.as_str()).collect()
}

fn june() -> Vec<Draft> {
    vec![
        // 2026-06-15 is a Monday, of week 25.
        at(
            "r1",
            "2026-06-15T05:10:00+01:00",
            json!({"kind": "round", "feed_strength_mg_l": 300, "n_mg_l": 60,
            "passes": 2, "volume_ml": 60, "plants": [{"plant": "M", "volume_ml": 30}, {"plant": "P"}, {"plant": "Q"}]}),
        ),
        // 23:30 on Sunday by the grower's clock, though Monday in UTC: still week 25.
        at(
            "r2",
            "2026-06-21T23:30:00-05:00",
            json!({"kind": "round", "feed_strength_mg_l": 100, "plants": [{"plant": "P", "volume_ml": 15}]}),
        ),
        at(
            "w",
            "2026-06-22T05:00:00+01:00",
            json!({"kind": "round", "feed_strength_mg_l": 0, "plants": [{"plant": "P", "volume_ml": 500}]}),
        ),
        at(
            "f1",
            "2026-06-23T08:00:00+01:00",
            json!({"kind": "root_feed", "feed_strength_mg_l": 400, "n_mg_l": 80, "volume_ml": 500,
            "drain_ml": 100, "drain_mg_l": 500, "plants": [{"plant": "P"}]}),
        ),
        at(
            "x",
            "2026-06-24T08:00:00+01:00",
            json!({"kind": "flush", "plants": ["P"], "volume_ml": 1000, "drain_ml": 800, "drain_mg_l": 250}),
        ),
        at(
            "r3",
            "2026-06-25T05:00:00+01:00",
            json!({"kind": "round", "feed_strength_mg_l": 300, "plants": [{"plant": "P"}]}),
        ),
        at(
            "s",
            "2026-06-25T07:00:00+01:00",
            json!({"kind": "residue", "plants": ["P"], "level": "faint"}),
        ),
        at(
            "t",
            "2026-06-25T19:00:00+01:00",
            json!({"kind": "residue", "plants": ["P"], "level": "none"}),
        ),
        at(
            "k",
            "2026-06-25T20:00:00+01:00",
            json!({"kind": "soak", "plants": ["R"], "feed_strength_mg_l": 50, "duration_min": 30}),
        ),
    ]
}

#[test]
fn sums_by_week_are_those_done_by_hand() {
    let pot = plant("P", Setting::Potted, Standing::Ordinary).with_pot_l(0.4);
    let answer = ledger(
        &LedgerRequest::new(recorded(june()), "2026-06-28T12:00:00+01:00")
            .with_plants(vec![pot, plant("M", Setting::Mounted, Standing::Established)])
            .with_from("2026-06-15".to_owned()),
    )
    .unwrap();
    let ids: Vec<&str> = answer.plants.iter().map(|p| p.id.as_str()).collect();
    assert_eq!(ids, ["P", "M", "Q", "R"]);
    let [p, m, q, r] = answer.plants.as_slice() else { panic!() };
    let weeks: Vec<&str> = p.weeks.iter().map(|w| w.week.as_str()).collect();
    assert_eq!(weeks, ["2026-W25", "2026-W26"]);
    assert_eq!(p.weeks[0].starts, "2026-06-15");
    // One part in 1.5 of what is sprayed stays on the plant (practice table, no source).
    let kept = 1.0 / practice::SPRAY_WASTE.number();
    // Of 60 mL the mounted plant got 30; P and Q share the other 30.
    assert!(close(m.weeks[0].leaf_mg, 30.0 * kept * 0.3));
    assert!(close(m.weeks[0].n_mg, 30.0 * kept * 0.06));
    assert!(close(q.weeks[0].leaf_mg, 15.0 * kept * 0.3));
    assert!(close(p.weeks[0].leaf_mg, 15.0 * kept * 0.3 + 15.0 * kept * 0.1));
    assert_eq!((p.weeks[0].rounds, p.weeks[0].without_n), (2, 1));
    // Week 26: 500 mL of 400 mg/L is 200 mg, less 100 mL of 500 mg/L, 50 mg, that ran out.
    assert!(close(p.weeks[1].root_mg, 150.0));
    assert!(close(p.weeks[1].n_mg, 40.0));
    assert_eq!((p.weeks[1].rounds, p.weeks[1].without_volume, p.weeks[1].flushes), (1, 1, 1));
    assert_eq!(p.weeks[1].residue, Some(Level::Faint));
    // The flush took out 800 mL of 250 mg/L, 200 mg; the round after it has no volume.
    assert!(close(p.drained_mg, 250.0));
    assert!(close(p.given_since_flush_mg, 0.0));
    assert!(close(p.given_mg, 200.0 + p.weeks[0].leaf_mg));
    assert_eq!(p.flushes_not_measured, 0);
    assert_eq!((r.weeks[1].soaks, r.name.as_deref()), (1, None));
    // 0.4 L of pot bears 140 mg a week: week 26 is over it.
    assert!(close(p.weeks[0].ceiling_mg.unwrap(), 0.4 * practice::POT_WEEKLY_SALTS.mg_per_l()));
    assert_eq!(codes(p), ["weekly-ceiling"]);
    assert_eq!(p.warnings[0].inputs["week"], "2026-W26");
    assert_eq!(p.warnings[0].sources, ["common practice, no source"]);
    // Due: an ordinary potted plant every second day, a pot flushed every 28 days.
    assert_eq!(p.last_fed.as_deref(), Some("2026-06-25T05:00:00+01:00"));
    assert_eq!((p.days_since_fed, p.days_since_flush), (Some(3), Some(4)));
    assert_eq!(p.next_due.as_deref(), Some("2026-06-27"));
    assert_eq!(p.flush_due.as_deref(), Some("2026-07-22"));
    // An established mounted plant every day; a mount is not flushed.
    assert_eq!((m.next_due.as_deref(), m.flush_due.as_deref()), (Some("2026-06-16"), None));
}

#[test]
fn a_correction_changes_the_sum_and_a_retraction_takes_it_away() {
    let mut drafts = june();
    let mut fix = at(
        "r1b",
        "2026-06-15T05:10:00+01:00",
        json!({"kind": "round", "feed_strength_mg_l": 150,
        "plants": [{"plant": "M", "volume_ml": 30}]}),
    );
    fix.supersedes = Some("r1".into());
    let mut away = at("r2b", "2026-06-22T09:00:00+01:00", json!({"kind": "retraction"}));
    away.supersedes = Some("r2".into());
    drafts.extend([fix, away]);
    let answer =
        ledger(&LedgerRequest::new(recorded(drafts), "2026-06-28T12:00:00+01:00")).unwrap();
    let of = |id: &str| answer.plants.iter().find(|p| p.id == id).unwrap();
    assert!(close(of("M").weeks[0].leaf_mg, 30.0 / practice::SPRAY_WASTE.number() * 0.15));
    assert!(close(of("P").weeks[0].leaf_mg, 0.0));
    assert!(answer.plants.iter().all(|p| p.id != "Q"));
}

#[test]
fn rounds_too_close_and_a_flush_overdue_are_warned_of() {
    let round = |id: &str, time: &str| {
        at(
            id,
            time,
            json!({"kind": "round", "feed_strength_mg_l": 150,
            "plants": [{"plant": "P", "volume_ml": 10}, {"plant": "M", "volume_ml": 10}]}),
        )
    };
    let drafts = vec![
        round("a", "2026-05-01T05:00:00+01:00"),
        // The next day, though less than 24 hours later: fine for M, too soon for P.
        round("b", "2026-05-02T04:30:00+01:00"),
        // A medium established plant is fed once a day, a potted one every second day: the second
        // and the third time on one day are too often for both.
        round("c", "2026-05-04T05:00:00+01:00"),
        round("d", "2026-05-04T18:00:00+01:00"),
        round("e", "2026-05-04T22:00:00+01:00"),
    ];
    let entries = recorded(drafts);
    let ask = |time: &str| {
        ledger(&LedgerRequest::new(entries.clone(), time).with_plants(vec![
            plant("P", Setting::Potted, Standing::Established),
            plant("M", Setting::Mounted, Standing::Established),
        ]))
        .unwrap()
    };
    let soon = ask("2026-05-05T12:00:00+01:00");
    let counts: Vec<_> = soon
        .plants
        .iter()
        .map(|p| {
            p.warnings.iter().find(|w| w.code == "fed-recently").unwrap().inputs["too_soon"].clone()
        })
        .collect();
    assert_eq!(counts, [json!(3), json!(2)]);
    assert!(!codes(&soon.plants[0]).contains(&"flush-due"));
    // Never flushed: 28 days from the first feed, 1 May.
    let later = ask("2026-05-29T12:00:00+01:00");
    assert_eq!(later.plants[0].flush_due.as_deref(), Some("2026-05-29"));
    assert!(codes(&later.plants[0]).contains(&"flush-due"));
    assert!(!codes(&later.plants[1]).contains(&"flush-due"));
    // Entries after the moment asked for are not there yet.
    let early = ask("2026-05-01T06:00:00+01:00");
    assert_eq!(early.plants[0].weeks[0].rounds, 1);
}

#[test]
fn a_stated_root_feed_counts_for_want_of_entries_and_the_dead_are_due_nothing() {
    let stated = plant("S", Setting::Potted, Standing::Ordinary)
        .with_pot_l(1.0)
        .with_root_feed_mg_week(400.0)
        .with_last_fed("2026-06-01".to_owned())
        .with_last_flush("2026-06-02T08:00:00+01:00".to_owned());
    let ask = |drafts, at: &str| {
        let request = LedgerRequest::new(recorded(drafts), at)
            .with_plants(vec![stated.clone()])
            .with_from("2026-06-15".to_owned());
        ledger(&request).unwrap().plants.remove(0)
    };
    let s = ask(vec![], "2026-06-20T12:00:00+01:00");
    assert!(s.weeks[0].root_stated && close(s.weeks[0].root_mg, 400.0));
    assert_eq!(codes(&s), ["weekly-ceiling"]);
    assert_eq!(
        (s.next_due.as_deref(), s.flush_due.as_deref()),
        (Some("2026-06-03"), Some("2026-06-30"))
    );
    let loss = at(
        "l",
        "2026-06-18T12:00:00+01:00",
        json!({"kind": "response", "plants": ["S"], "sign": "loss"}),
    );
    let s = ask(vec![loss], "2026-06-20T12:00:00+01:00");
    assert_eq!((s.next_due, s.flush_due), (None, None));
    assert!(s.lost.is_some());
}

#[test]
fn bad_requests_are_refused_with_their_place() {
    let ask = |from: Option<&str>, at: &str, plants: Vec<PlantEntry>| {
        let request =
            LedgerRequest::new(vec![], at).with_plants(plants).with_from(from.map(Into::into));
        ledger(&request).unwrap_err().to_string()
    };
    let now = "2026-06-28T12:00:00+01:00";
    assert!(ask(None, "noon", vec![]).starts_with("/at:"));
    assert!(ask(Some("1.6.2026"), now, vec![]).starts_with("/from:"));
    assert!(ask(Some("2026-07-01"), now, vec![]).starts_with("/from:"));
    assert!(ask(Some("2010-07-01"), now, vec![]).starts_with("/from:"));
    let p = plant("P", Setting::Potted, Standing::Weak);
    assert!(ask(None, now, vec![p.clone(), p.clone()]).starts_with("/plants/1/id:"));
    let bad = p.clone().with_pot_l(f64::NAN);
    assert!(ask(None, now, vec![bad]).starts_with("/plants/0/pot_l:"));
    let bad = p.with_last_fed("last week".to_owned());
    assert!(ask(None, now, vec![bad]).starts_with("/plants/0/last_fed:"));
}

#[test]
fn observations_find_the_residue_modelled_for_their_day() {
    let round = |id: &str, time: &str, plant: &str, residue: f64| {
        at(
            id,
            time,
            json!({"kind": "round", "feed_strength_mg_l": 300, "plants": [{"plant": plant}],
            "conditions": {"residue_g_m2": residue, "residue_log_sd": 0.25, "scale_g_m2": 0.01}}),
        )
    };
    let seen = |id: &str, time: &str, rest: serde_json::Value| {
        let mut event = json!({"kind": "residue", "level": "faint", "plants": ["P"]});
        event.as_object_mut().unwrap().extend(rest.as_object().unwrap().clone());
        at(id, time, event)
    };
    let entries = recorded(vec![
        round("r1", "2026-06-15T05:00:00+01:00", "P", 0.01),
        round("r2", "2026-06-16T05:00:00+01:00", "P", 0.02),
        round("r3", "2026-06-16T06:00:00+01:00", "Q", 0.03),
        seen("last", "2026-06-16T12:00:00+01:00", json!({"nature": "feed"})),
        seen("named", "2026-06-16T12:00:00+01:00", json!({"round": "r1", "nature": "feed"})),
        seen("both", "2026-06-16T12:00:00+01:00", json!({})),
        seen("scale", "2026-06-16T12:00:00+01:00", json!({"nature": "scale"})),
        seen(
            "group",
            "2026-06-16T12:00:00+01:00",
            json!({"plants": [], "group": "wall", "nature": "feed"}),
        ),
        seen("own", "2026-06-16T12:00:00+01:00", json!({"conditions": {"residue_g_m2": 0.07}})),
        seen("late", "2026-06-19T12:00:00+01:00", json!({})),
        seen("tip", "2026-06-16T12:00:00+01:00", json!({"place": "root_tip"})),
        seen(
            "no-scale",
            "2026-06-16T12:00:00+01:00",
            json!({"nature": "scale", "conditions": {"residue_g_m2": 0.07}}),
        ),
    ]);
    let answer = threshold(&entries, "2026-06-19T20:00:00+01:00");
    let look = |id: &str| {
        let found = answer.evidence.iter().find(|e| e.observation.entry.as_deref() == Some(id));
        found.unwrap_or_else(|| panic!("{id}")).observation.clone()
    };
    let residue = |id: &str| look(id).whiteness_g_m2().unwrap();
    let white = film::SCALE_VISIBILITY.number();
    assert!(close(residue("last"), 0.02));
    assert!(close(residue("named"), 0.01));
    assert!(close(residue("both"), 0.02 + 0.01 * white));
    assert!(close(residue("scale"), 0.01 * white));
    // The last round of the site, whoever was in it.
    assert!(close(residue("group"), 0.03));
    assert!(close(residue("own"), 0.07));
    let why: Vec<&str> = answer.not_used.iter().map(|n| n.entry.as_str()).collect();
    assert_eq!(why, ["tip", "no-scale", "late"]);
    // A look counts on the day of its round, at its strength; scale does not come from the feed.
    let last = look("last");
    assert_eq!((last.round.as_deref(), last.day.as_str()), (Some("r2"), "2026-06-16"));
    assert_eq!((last.residue_log_sd, last.feed_strength_mg_l), (Some(0.25), Some(300.0)));
    assert_eq!(look("named").day, "2026-06-15");
    assert_eq!(look("scale").feed_strength_mg_l, None);
    let text = answer.to_text();
    for word in ["6 reports", "3 not used", "late", "faint at 0.02 g/m²"] {
        assert!(text.contains(word), "{word}: {text}");
    }
}

/// What the entries teach up to a moment.
fn threshold(entries: &[Entry], at: &str) -> ThresholdResponse {
    threshold_of_entries(&asked(entries, at), None, None, true).unwrap()
}

fn asked(entries: &[Entry], at: &str) -> ReviewRequest {
    ReviewRequest::new(entries.to_vec(), at)
}

/// Every picture is well formed, says its text, and holds no colour.
#[test]
fn pictures_say_what_they_show() {
    let entries = recorded(june());
    let mut pot = plant("P", Setting::Potted, Standing::Ordinary).with_pot_l(0.4);
    pot.name = "<\"&'>".into();
    let l = ledger(
        &LedgerRequest::new(entries.clone(), "2026-06-28T12:00:00+01:00").with_plants(vec![pot]),
    )
    .unwrap();
    let observations = Level::ALL
        .iter()
        .zip([0.02, 0.05, 0.12, 0.3])
        .flat_map(|(level, g)| [0.8, 1.1, 1.3].map(|f| (*level, g * f)))
        .zip(10..)
        .map(|((level, g), day)| Observation {
            feed_g_m2: Some(g),
            ..Observation::new(format!("2026-06-{day}"), level)
        })
        .collect();
    let t = learn_threshold(&ThresholdRequest { observations, ..Default::default() }).unwrap();
    for (svg, text) in [(l.to_svg(), l.to_text()), (t.to_svg(), t.to_text())] {
        well_formed(&svg);
        let first = text.lines().next().unwrap();
        assert!(svg.contains("<desc") && svg.contains(first), "{svg}");
        for colour in svg.split("fill=\"").skip(1).chain(svg.split("stroke=\"").skip(1)) {
            let colour = colour.split('"').next().unwrap();
            assert!(["#000", "#fff", "none", "url(#hatch)"].contains(&colour), "{colour}");
        }
    }
    // Both answers go over the wire and come back.
    let back: guardcell::ledger::Ledger =
        serde_json::from_str(&serde_json::to_string(&l).unwrap()).unwrap();
    assert_eq!(back.plants.len(), l.plants.len());
    if let Some(dir) = std::env::var_os("JOURNAL_PICTURES") {
        std::fs::write(std::path::Path::new(&dir).join("ledger.svg"), l.to_svg()).unwrap();
        std::fs::write(std::path::Path::new(&dir).join("threshold.svg"), t.to_svg()).unwrap();
    }
}

/// Tags open and close in order and nothing is left unescaped (XML 1.0, section 2.1).
fn well_formed(svg: &str) {
    let mut open: Vec<&str> = Vec::new();
    let mut rest = svg;
    while let Some(start) = rest.find('<') {
        assert!(!rest[..start].contains('>'), "a bare > in {}", &rest[..start]);
        let end = start + rest[start..].find('>').expect("a tag without an end");
        let tag = &rest[start + 1..end];
        assert!(tag.matches('"').count().is_multiple_of(2), "{tag}");
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name), "{tag}");
        } else if !tag.ends_with('/') {
            open.push(tag.split_whitespace().next().unwrap());
        }
        rest = &rest[end + 1..];
    }
    assert!(open.is_empty(), "{open:?}");
    for part in svg.split('&').skip(1) {
        let name = part.split(';').next().unwrap();
        assert!(["amp", "lt", "gt", "quot"].contains(&name), "&{name}");
    }
}

#[test]
fn a_plan_becomes_entries_that_can_be_recorded() {
    let group = |area: &str, residue: f64, ids: &[&str]| {
        let plants: Vec<_> =
            ids.iter().map(|id| json!({"id": id, "name": "Laelia", "spray_ml": 20.0})).collect();
        json!({"group": "mounted", "area": area, "plants": plants, "verdict": "feed",
            "start": "2026-06-21T04:00:00+01:00", "end": "2026-06-21T06:00:00+01:00",
            "residue_probability": 0.05, "dry_minutes": 40, "driest_rh_percent": 60,
            "modelled": {"feed_g_m2": residue, "scale_g_m2": 0.0, "feed_log_sd": 0.4, "temp_c": 21.0,
                "rh_percent": 60.0, "air_m_s": 0.3},
            "driest_at": "2026-06-21T14:00:00+01:00", "reasons": []})
    };
    let step = |strength: f64, ml: f64, groups: Vec<serde_json::Value>| {
        json!({"feed_strength_mg_l": strength, "n_mg_l": strength / 5.0,
            "ec25_us_cm": {"low": 1, "high": 2}, "passes": 2, "spray_ml": ml, "fills": [], "groups": groups})
    };
    let steps = vec![
        step(
            300.0,
            80.0,
            vec![
                group("house", 0.01, &["A"]),
                group("house", 0.01, &["B", "C"]),
                group("trees", 0.03, &["E"]),
            ],
        ),
        step(0.0, 20.0, vec![group("house", 0.0, &["D"])]),
    ];
    let plan = serde_json::from_value(json!({"site": "Fernhollow", "from": "2026-06-20T12:00:00+01:00",
        "to": "2026-06-22T00:00:00+01:00", "bucket": null, "alone": [], "cautions": [], "unknowns": [], "sources": [],
        "sittings": [{"start": "2026-06-21T04:00:00+01:00", "end": "2026-06-21T06:00:00+01:00",
            "part_of_day": "before-dawn", "left_over_ml": 0, "left_over_mg_l": 0, "steps": steps}]}))
    .unwrap();
    let drafts = rounds_of_plan(&plan, 0).unwrap();
    assert!(rounds_of_plan(&plan, 1).is_err());
    // One entry for each strength and air: plants of two areas dry in two kinds of air.
    assert_eq!(drafts.len(), 3);
    let mut entries = recorded(drafts);
    let answer = ledger(&LedgerRequest::new(entries.clone(), "2026-06-21T12:00:00+01:00")).unwrap();
    let got: Vec<_> = answer.plants.iter().map(|p| (p.id.as_str(), p.weeks[0].rounds)).collect();
    assert_eq!(got, [("A", 1), ("B", 1), ("C", 1), ("D", 0), ("E", 1)]);
    // 20 mL each of 300 mg/L, of which one part in 1.5 stays.
    assert!(close(answer.plants[1].weeks[0].leaf_mg, 20.0 * 0.3 / practice::SPRAY_WASTE.number()));
    assert!(close(answer.plants[1].weeks[0].n_mg, 20.0 * 0.06 / practice::SPRAY_WASTE.number()));
    // What is seen later on a plant is held against the residue that its plan expected.
    let look =
        serde_json::from_value(json!({"at": "2026-06-21T18:00:00+01:00", "site": "Fernhollow",
        "event": {"kind": "residue", "plants": ["E"], "level": "clear", "nature": "feed"}}))
        .unwrap();
    entries.extend(recorded(vec![look]));
    let answer = threshold(&entries, "2026-06-21T20:00:00+01:00");
    assert!(answer.not_used.is_empty(), "{:?}", answer.not_used);
    let [seen] = answer.evidence.as_slice() else { panic!("{:?}", answer.evidence) };
    assert!(close(seen.observation.whiteness_g_m2().unwrap(), 0.03));
    assert_eq!(seen.observation.residue_log_sd, Some(0.4));
}

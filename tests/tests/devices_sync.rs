//! Several devices and the command line at one journal, over a network that loses, repeats and delays,
//! with clocks that are wrong: in the end all hold the same, and nothing acknowledged is lost.

#[path = "support/house.rs"]
mod house;
mod support;

use guardcell::Code;
use guardcell::ledger::Entry;
use guardcell::ledger::sync::{DeviceJournal, EntriesPage, EntriesTaken, EntryOutcome};
use guardcell_journal::Journal;
use house::{House, entry};
use jiff::{SignedDuration, Timestamp};
use proptest::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// What becomes of a request on its way.
#[derive(Debug, Clone, Copy)]
enum Way {
    Good,
    RequestLost,
    AnswerLost,
    Doubled,
    AnswerLate,
}

#[derive(Debug, Clone)]
enum Step {
    Record {
        device: usize,
        corrects: Option<usize>,
    },
    Send {
        device: usize,
        way: Way,
    },
    Read {
        device: usize,
        way: Way,
    },
    /// The device ends and starts again from what it has stored.
    Restart {
        device: usize,
    },
    /// Answers that were late arrive, the last first.
    Late {
        device: usize,
    },
    CommandLine,
}

fn way() -> impl Strategy<Value = Way> {
    prop_oneof![
        4 => Just(Way::Good),
        1 => Just(Way::RequestLost),
        2 => Just(Way::AnswerLost),
        1 => Just(Way::Doubled),
        2 => Just(Way::AnswerLate),
    ]
}

fn step() -> impl Strategy<Value = Step> {
    let device = 0..3_usize;
    prop_oneof![
        4 => (device.clone(), proptest::option::weighted(0.4, 0..50_usize))
            .prop_map(|(device, corrects)| Step::Record { device, corrects }),
        3 => (device.clone(), way()).prop_map(|(device, way)| Step::Send { device, way }),
        3 => (device.clone(), way()).prop_map(|(device, way)| Step::Read { device, way }),
        1 => device.clone().prop_map(|device| Step::Restart { device }),
        1 => device.prop_map(|device| Step::Late { device }),
        1 => Just(Step::CommandLine),
    ]
}

enum Answered {
    Sent(EntriesTaken),
    Page(EntriesPage),
}

struct Device {
    token: String,
    journal: DeviceJournal,
    /// How far its clock is off, in hours.
    skew: i64,
    late: Vec<Answered>,
    /// Ids that were acknowledged to it.
    acknowledged: BTreeSet<String>,
    recorded: BTreeMap<String, Entry>,
}

impl Device {
    fn record(&mut self, number: usize, id: &str, corrects: Option<usize>) {
        let now: Timestamp = "2026-06-21T05:00:00Z".parse().unwrap();
        let at =
            now + SignedDuration::from_mins(number as i64) + SignedDuration::from_hours(self.skew);
        let known = self.journal.entries();
        let old = corrects.filter(|_| !known.is_empty()).map(|n| known[n % known.len()].id.clone());
        let entry = entry(id, at, old.as_deref());
        self.recorded.insert(id.to_owned(), entry.clone());
        self.journal.record(entry).unwrap();
    }

    fn send(&mut self, house: &House, way: Way) {
        let Some(list) = self.journal.to_send() else { return };
        let body = serde_json::to_vec(&list).unwrap();
        let post = || -> EntriesTaken {
            let answer = house.send(&self.token, &body);
            assert_eq!(answer.status, 200, "{answer:?}");
            serde_json::from_slice(&answer.body).unwrap()
        };
        match way {
            Way::RequestLost => {}
            Way::AnswerLost => drop(post()),
            Way::AnswerLate => {
                let answer = post();
                self.late.push(Answered::Sent(answer));
            }
            Way::Good => {
                let answer = post();
                self.take(Answered::Sent(answer));
            }
            Way::Doubled => {
                let (first, second) = (post(), post());
                self.take(Answered::Sent(second));
                self.take(Answered::Sent(first));
            }
        }
    }

    fn read(&mut self, house: &House, way: Way) -> bool {
        let path = format!("/v1/journal/entries?since={}", self.journal.cursor());
        let get = || -> EntriesPage {
            let answer = house.get(&self.token, &path);
            assert_eq!(answer.status, 200, "{answer:?}");
            serde_json::from_slice(&answer.body).unwrap()
        };
        let mut more = false;
        match way {
            Way::RequestLost | Way::AnswerLost => {}
            Way::AnswerLate => {
                let page = get();
                self.late.push(Answered::Page(page));
            }
            Way::Good | Way::Doubled => {
                let page = get();
                more = page.more;
                if matches!(way, Way::Doubled) {
                    self.journal.arrived(&page);
                }
                self.take(Answered::Page(page));
            }
        }
        more
    }

    fn take(&mut self, answer: Answered) {
        match answer {
            Answered::Sent(taken) => {
                for t in &taken.results {
                    if t.outcome != EntryOutcome::Refused {
                        self.acknowledged.insert(t.id.clone().unwrap());
                    }
                }
                self.journal.answered(&taken);
            }
            Answered::Page(page) => self.journal.arrived(&page),
        }
    }

    fn restart(&mut self) {
        let stored = serde_json::to_string(&self.journal).unwrap();
        let read: DeviceJournal = serde_json::from_str(&stored).unwrap();
        assert_eq!(read, self.journal);
        self.journal = read;
        // What was on its way when it ended never arrives.
        self.late.clear();
    }
}

fn devices(house: &House, skews: [i64; 3]) -> Vec<Device> {
    let device = |skew| Device {
        token: house.pair(),
        journal: DeviceJournal::default(),
        skew,
        late: Vec::new(),
        acknowledged: BTreeSet::new(),
        recorded: BTreeMap::new(),
    };
    skews.map(device).into()
}

/// Everybody has a connection again.
fn settle(house: &House, devices: &mut [Device]) {
    for _ in 0..3 {
        for device in devices.iter_mut() {
            while let Some(late) = device.late.pop() {
                device.take(late);
            }
            device.send(house, Way::Good);
            while device.read(house, Way::Good) {}
        }
    }
}

fn by_id(entries: &[Entry]) -> BTreeMap<&str, &Entry> {
    let map: BTreeMap<&str, &Entry> = entries.iter().map(|e| (e.id.as_str(), e)).collect();
    assert_eq!(map.len(), entries.len(), "an entry is there more than once");
    map
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, max_shrink_iters: 60, ..ProptestConfig::default() })]

    #[test]
    fn all_hold_the_same_in_the_end(
        steps in proptest::collection::vec(step(), 5..50),
        skews in [-60..60_i64, -60..60_i64, -60..60_i64],
    ) {
        let house = House::new();
        let mut devices = devices(&house, skews);
        let mut by_command_line = BTreeSet::new();
        for (number, step) in steps.into_iter().enumerate() {
            match step {
                Step::Record { device, corrects } => {
                    devices[device].record(number, &format!("d{device}-{number}"), corrects);
                }
                Step::Send { device, way } => devices[device].send(&house, way),
                Step::Read { device, way } => drop(devices[device].read(&house, way)),
                Step::Restart { device } => devices[device].restart(),
                Step::Late { device } => {
                    while let Some(late) = devices[device].late.pop() {
                        devices[device].take(late);
                    }
                }
                Step::CommandLine => {
                    let id = format!("cli-{number}");
                    let at = "2026-06-21T05:00:00Z".parse().unwrap();
                    let mut journal = Journal::open(&house.journal()).unwrap();
                    journal.append(entry(&id, at, None).into()).unwrap();
                    by_command_line.insert(id);
                }
            }
        }
        settle(&house, &mut devices);
        let recorded = house.recorded();
        let journal = by_id(&recorded);
        for id in &by_command_line {
            prop_assert!(journal.contains_key(id.as_str()));
        }
        for device in &devices {
            let held: Vec<Entry> = device.journal.entries().into_iter().cloned().collect();
            prop_assert_eq!(&by_id(&held), &journal);
            prop_assert_eq!(device.journal.waiting(), 0);
            for id in &device.acknowledged {
                prop_assert!(journal.contains_key(id.as_str()), "{} was acknowledged and is lost", id);
            }
            // What a grower recorded is in the journal as it was, or still on the device with why.
            for (id, entry) in &device.recorded {
                let aside = device.journal.aside().iter().find(|a| a.entry.id == *id);
                match (journal.get(id.as_str()), aside) {
                    (Some(there), None) => prop_assert_eq!(*there, entry),
                    (None, Some(aside)) => {
                        prop_assert_eq!(&aside.entry, entry);
                        // A second correction of one entry, or a correction of such a one.
                        let code = aside.error.code();
                        prop_assert!(matches!(code, Code::Conflict | Code::Unknown), "{:?}", aside.error);
                        prop_assert!(entry.supersedes.is_some());
                    }
                    other => prop_assert!(false, "{}: {:?}", id, other),
                }
            }
        }
    }
}

/// A journal that was replaced by its backup: what devices hold comes back.
#[test]
fn devices_bring_back_what_a_restore_lost() {
    let house = House::new();
    let mut devices = devices(&house, [0, 30, -30]);
    let backup = house.dir.path().join("backup");
    for number in 0..12 {
        let device = number % 3;
        devices[device].record(number, &format!("d{device}-{number}"), None);
        if number == 5 {
            settle(&house, &mut devices);
            Journal::open(&house.journal()).unwrap().backup(&backup, false).unwrap();
        }
    }
    settle(&house, &mut devices);
    assert_eq!(house.recorded().len(), 12);
    // One has acknowledged entries that have not come back to it yet.
    devices[2].record(20, "d2-20", None);
    devices[2].send(&house, Way::Good);
    Journal::restore(&backup, &house.journal(), true).unwrap();
    assert_eq!(house.recorded().len(), 6);
    // As many others in the meantime, so that the sequence is as long as before.
    let mut journal = Journal::open(&house.journal()).unwrap();
    for number in 0..8 {
        let at = "2026-06-21T05:00:00Z".parse().unwrap();
        journal.append(entry(&format!("cli-{number}"), at, None).into()).unwrap();
    }
    drop(journal);
    settle(&house, &mut devices);
    let recorded = house.recorded();
    assert_eq!(recorded.len(), 6 + 8 + 6 + 1);
    for device in &devices {
        let held: Vec<Entry> = device.journal.entries().into_iter().cloned().collect();
        assert_eq!(by_id(&held), by_id(&recorded));
        assert!(device.journal.aside().is_empty());
    }
}

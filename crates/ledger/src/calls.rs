//! The functions of this crate that other programs can call.

use crate::account::{Ledger as Accounts, LedgerRequest, ledger};
use crate::adherence::{Adherence as Kept, AdherenceRequest, adherence};
use crate::entry::{Draft, Entry as Recorded};
use crate::given::{GivenRequest, GivenRounds, given_rounds};
use crate::review::{ReviewRequest, ReviewResponse, review};
use crate::sync::{DeviceRequest, DeviceResponse, device_step};
use crate::threshold::{ThresholdRequest, ThresholdResponse, learn_threshold};
use guardcell_call::{Call, Group, Work};
use guardcell_error::{Code, Error};
use std::collections::BTreeSet;

/// The residue threshold of a grower and the next feed strength.
#[derive(Debug, Clone, Copy)]
pub struct Threshold;

impl Call for Threshold {
    type Request = ThresholdRequest;
    type Response = ThresholdResponse;
    const NAME: &'static str = "threshold";
    const PATH: &'static str = "journal/threshold";
    const GROUP: Group = Group::Journal;
    const SUMMARY: &'static str = "The residue threshold of a grower, learned from what was seen, \
                                   and the next feed strength";
    const DESCRIPTION: &'static str = "Takes looks for residue and rounds with the residue modelled \
        for them. Answers the residue at which this grower begins to see white, with an interval, \
        and two strengths: what the reports allow, and what is proposed after the rule that white \
        halves the strength. Every number of the model is common practice without a source, \
        chosen by a simulation study; intervals are wide, a factor of about two either way.";
    const EXAMPLE: &'static str = include_str!("../calls/threshold.json");

    fn work(request: &ThresholdRequest) -> Work {
        let days = request.observations.iter().map(|o| o.day.as_str());
        learning(days.chain(request.rounds.iter().map(|r| r.day.as_str())))
    }

    fn run(request: &ThresholdRequest) -> Result<ThresholdResponse, Error> {
        learn_threshold(request)
    }
}

/// The review of a collection from its entries.
#[derive(Debug, Clone, Copy)]
pub struct Review;

impl Call for Review {
    type Request = ReviewRequest;
    type Response = ReviewResponse;
    const NAME: &'static str = "review";
    const PATH: &'static str = "journal/review";
    const GROUP: Group = Group::Journal;
    const SUMMARY: &'static str = "What each plant got, whether its feed strength is right, what \
                                   to change now";
    const DESCRIPTION: &'static str = "Takes the entries of a site and its collection. Answers the \
        learned residue threshold and the next feed strength of the site and of each group with \
        looks enough for its own; for each plant its account by week, its looks, the next strength \
        with the reason, and what to change. Entries that others correct or take back count for \
        nothing, in whatever order they are given.";
    const EXAMPLE: &'static str = include_str!("../calls/review.json");

    fn work(request: &ReviewRequest) -> Work {
        learning(request.entries.iter().map(|e| e.at.as_str()))
    }

    fn run(request: &ReviewRequest) -> Result<ReviewResponse, Error> {
        review(request)
    }
}

/// What each plant got by week, and what is due.
#[derive(Debug, Clone, Copy)]
pub struct Ledger;

impl Call for Ledger {
    type Request = LedgerRequest;
    type Response = Accounts;
    const NAME: &'static str = "ledger";
    const PATH: &'static str = "journal/ledger";
    const GROUP: Group = Group::Journal;
    const SUMMARY: &'static str = "What each plant got by week, and what is due";
    const DESCRIPTION: &'static str = "Takes entries and a collection. Answers for each plant the \
        dissolved feed through leaf and root by week against the ceiling of its pot, what has built \
        up since the last flush, when it was last fed, and when feed and flush are due.";
    const EXAMPLE: &'static str = include_str!("../calls/ledger.json");

    fn work(request: &LedgerRequest) -> Work {
        Work::of(1_000 + 20 * (request.entries.len() + request.plants.len()) as u64, "entries")
    }

    fn run(request: &LedgerRequest) -> Result<Accounts, Error> {
        ledger(request)
    }
}

/// A plan of soaks compared with the entries.
#[derive(Debug, Clone, Copy)]
pub struct Adherence;

impl Call for Adherence {
    type Request = AdherenceRequest;
    type Response = Kept;
    const NAME: &'static str = "adherence";
    const PATH: &'static str = "journal/adherence";
    const GROUP: Group = Group::Journal;
    const SUMMARY: &'static str = "A plan of soaks compared with the entries";
    const DESCRIPTION: &'static str = "Takes a plan of soaks and what was logged. Answers which \
        soaks were done and which were missed, the signs seen since, and whether to look, to go on \
        or to stop.";
    const EXAMPLE: &'static str = include_str!("../calls/adherence.json");

    fn work(request: &AdherenceRequest) -> Work {
        let counts = request.entries.len() + request.soaks.len();
        Work::of(1_000 + 20 * counts as u64, "entries and soaks")
    }

    fn run(request: &AdherenceRequest) -> Result<Kept, Error> {
        adherence(request)
    }
}

/// A draft checked as an entry.
#[derive(Debug, Clone, Copy)]
pub struct Entry;

impl Call for Entry {
    type Request = Draft;
    type Response = Recorded;
    const NAME: &'static str = "entry";
    const PATH: &'static str = "journal/entry";
    const GROUP: Group = Group::Journal;
    const SUMMARY: &'static str = "What was done or seen, checked, as a journal records it";
    const DESCRIPTION: &'static str = "Takes a draft with an identifier and a time of recording. \
        Answers the entry with its times in canonical form. Nothing is stored.";
    const EXAMPLE: &'static str = include_str!("../calls/entry.json");

    fn run(request: &Draft) -> Result<Recorded, Error> {
        let given = |field: &Option<String>, name: &str, hint: &str| {
            field.clone().ok_or_else(|| {
                Error::new(Code::Missing, "this is missing", hint.to_owned()).at(format!("/{name}"))
            })
        };
        let id = given(&request.id, "id", "give an identifier of your own, 1 to 64 characters")?;
        let recorded = given(&request.recorded, "recorded", "give the time, RFC 3339")?;
        request.clone().checked(&id, &recorded)
    }
}

/// A planned sitting as it was given.
#[derive(Debug, Clone, Copy)]
pub struct Given;

impl Call for Given {
    type Request = GivenRequest;
    type Response = GivenRounds;
    const NAME: &'static str = "given";
    const PATH: &'static str = "journal/given";
    const GROUP: Group = Group::Journal;
    const SUMMARY: &'static str = "The entries of a planned sitting as it was given";
    const DESCRIPTION: &'static str = "Takes the plan of a round, the sitting that was done, the \
        plants that were left out and the steps that were done differently. Answers the entries to \
        record, one for each strength and air, with the residue that the plan expects. Nothing is \
        stored.";
    const EXAMPLE: &'static str = include_str!("../calls/given.json");

    fn work(request: &GivenRequest) -> Work {
        let groups = request.plan.sittings.iter().flat_map(|s| &s.steps).flat_map(|s| &s.groups);
        let plants: usize = groups.map(|g| g.plants.len()).sum();
        Work::of(1_000 + 20 * plants as u64, "plants of the plan")
    }

    fn run(request: &GivenRequest) -> Result<GivenRounds, Error> {
        given_rounds(request)
    }
}

/// The journal of a device, one step further.
#[derive(Debug, Clone, Copy)]
pub struct DeviceJournal;

impl Call for DeviceJournal {
    type Request = DeviceRequest;
    type Response = DeviceResponse;
    const NAME: &'static str = "device_journal";
    const PATH: &'static str = "journal/device";
    const GROUP: Group = Group::Journal;
    const SUMMARY: &'static str = "The journal of a device, one step further";
    const DESCRIPTION: &'static str = "Takes the journal of a device as the last answer left it, and \
        what happened: entries recorded, an answer to entries that were sent, a page of the \
        server's journal. Answers the journal now, what to send next and where to read on. \
        Corrections of entries that are not there or are corrected already are refused. Nothing is \
        stored.";
    const EXAMPLE: &'static str = include_str!("../calls/device_journal.json");

    fn work(request: &DeviceRequest) -> Work {
        let arrived = request.arrived.as_ref().map_or(0, |p| p.entries.len());
        let held = request.device.as_ref().map_or(0, |d| d.entries().len());
        Work::of(1_000 + 20 * (held + arrived + request.record.len()) as u64, "entries")
    }

    fn run(request: &DeviceRequest) -> Result<DeviceResponse, Error> {
        device_step(request)
    }
}

/// What it costs to learn from entries with these times: each day is one step of the walk, and the
/// days are what a walk takes its time for.
fn learning<'a>(times: impl Iterator<Item = &'a str>) -> Work {
    let (mut entries, mut days) = (0, BTreeSet::new());
    for time in times {
        entries += 1;
        days.insert(time.get(..10));
    }
    Work::of(10_000 + 20 * entries + 400 * days.len() as u64, "entries and their days")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn example_is_answered<C: Call>() {
        let request: C::Request = serde_json::from_str(C::EXAMPLE).unwrap();
        let response = C::run(&request).unwrap();
        let json = serde_json::to_string(&response).unwrap();
        assert!(serde_json::from_str::<C::Response>(&json).is_ok(), "{}", C::NAME);
    }

    #[test]
    fn what_a_schema_cannot_refuse_is_refused() {
        let request = r#"{"entries": [], "only": ["FH-999"], "at": "2026-06-21T18:00:00+01:00"}"#;
        let error = Review::run(&serde_json::from_str(request).unwrap()).unwrap_err();
        assert_eq!((error.code(), error.pointer()), (Code::Unknown, "/only/0"));
        let mut draft: Draft = serde_json::from_str(Entry::EXAMPLE).unwrap();
        draft.id = None;
        let error = Entry::run(&draft).unwrap_err();
        assert_eq!((error.code(), error.pointer()), (Code::Missing, "/id"));
    }

    #[test]
    fn every_example_is_answered() {
        example_is_answered::<Threshold>();
        example_is_answered::<Review>();
        example_is_answered::<Ledger>();
        example_is_answered::<Adherence>();
        example_is_answered::<Entry>();
        example_is_answered::<Given>();
        example_is_answered::<DeviceJournal>();
    }
}

//! What the journal and the turns of the site put into a request for advice, as `guardcell round`
//! does, and what else is due.

use crate::label::choose_one;
use crate::rota::{Gives, Turn, has_turns, take_turn, usual_product};
use crate::tasks::{Task, tasks};
use guardcell::Error;
use guardcell::advice::AdviceRequest;
use guardcell::ledger::threshold::words;
use guardcell::ledger::{Entry, Event, Known, NextStrength, add_entries};
use guardcell::solution::Label;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// A request for advice, with the journal and the labels that it may draw on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SituationRequest {
    /// The request as it is without a journal. Where it has no feed, one of the labels is chosen.
    pub request: AdviceRequest,
    /// The entries of the journal, in any order, corrected ones and retractions too.
    #[serde(default)]
    pub entries: Vec<Entry>,
    /// The labels there are.
    #[serde(default)]
    pub labels: Vec<Label>,
}

/// What the journal knows, put into a request for advice.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Situation {
    /// The request with the learned threshold, the next strength, what each plant got last, and the
    /// feed of the turn.
    pub request: AdviceRequest,
    /// What was learned; none where the journal has no entry of the site.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub learned: Option<Learned>,
    /// The turn, where the site has feeds in turn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub turn: Option<TurnNow>,
    /// What else is due.
    pub tasks: Vec<TaskNow>,
}

/// What was learned from the journal.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Learned {
    /// Entries of the site that count.
    pub entries: usize,
    /// Looks for residue that tell about a round.
    pub looks: usize,
    /// The learned residue threshold, g/m².
    pub threshold_g_m2: f64,
    /// The low end of its interval, g/m².
    pub low_g_m2: f64,
    /// The high end of its interval, g/m².
    pub high_g_m2: f64,
    /// The next strength of the site.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next: Option<NextStrength>,
    /// What that means, in words.
    pub says: Vec<String>,
    /// Plants that were logged as lost and are still in the collection.
    pub lost: Vec<String>,
}

/// A turn of the rota.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct TurnNow {
    /// The name of the feed, or `water`.
    pub gives: String,
    /// The product of its label; none for water.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub product: Option<String>,
    /// Its place in the rota, from 1.
    pub place: usize,
    /// How many turns the rota has.
    pub of: usize,
    /// Whether a round of it is in the journal of this day already.
    pub begun: bool,
    /// What comes after it.
    pub next: String,
}

/// Something that is due.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct TaskNow {
    /// `soak`, `look`, `wipe`, `flush`, `rescue`, `count`, or `own` for what the grower wrote down.
    pub task: String,
    /// The plants, by id.
    pub plants: Vec<String>,
    /// The day since which it is due, or the day of what it follows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub since: Option<String>,
    /// What the grower wrote down.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub what: Option<String>,
    /// The entry in which that is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub entry: Option<String>,
}

/// Puts what a journal and the turns of the site know into a request for advice.
///
/// # Errors
///
/// An entry that cannot be read, a rota that fits no label, several labels of which none is chosen.
///
/// ```
/// let text = r#"{"entries": [], "request": {"site": {"name": "F", "latitude_deg": 38,
///     "longitude_deg": -28, "time_zone": "Atlantic/Azores", "areas": [{"id": "sill", "name": "Sill",
///     "shelter": "room", "light": "sun"}]}, "readings": [], "at": "2026-06-21",
///     "plants": [{"id": "A1", "name": "Vanda", "area": "sill", "setting": "basket",
///                 "standing": "rootless"}]}}"#;
/// let request = serde_json::from_str(text).unwrap();
/// assert_eq!(guardcell_folder::situation(&request)?.tasks[0].task, "soak");
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn situation(asked: &SituationRequest) -> Result<Situation, Error> {
    let mut request = asked.request.clone();
    let entries = of_site(&asked.entries, &request.site.name);
    let known = add_entries(&mut request, &entries, None)?;
    let start = request.start().map_err(|e| e.within("/request"))?;
    let at = start.strftime("%Y-%m-%dT%H:%M:%S%:z").to_string();
    let turn = take_feed(&mut request, &asked.labels, &entries, &at)?;
    let due = tasks(&request.plants, &entries, &at)?;
    Ok(Situation {
        learned: known.map(learned),
        turn: turn.as_ref().map(TurnNow::from),
        tasks: due.into_iter().map(TaskNow::from).collect(),
        request,
    })
}

/// The entries of a site that nothing corrects.
fn of_site(entries: &[Entry], site: &str) -> Vec<Entry> {
    let corrected: BTreeSet<&str> =
        entries.iter().filter_map(|e| e.supersedes.as_deref()).collect();
    let stands = |e: &&Entry| {
        e.site == site
            && !matches!(e.event, Event::Retraction(_))
            && !corrected.contains(e.id.as_str())
    };
    entries.iter().filter(stands).cloned().collect()
}

/// The feed of the turn; without turns the one label, or that of the site, where none is given.
fn take_feed(
    request: &mut AdviceRequest,
    labels: &[Label],
    entries: &[Entry],
    at: &str,
) -> Result<Option<Turn>, Error> {
    if labels.is_empty() || request.feed.is_some() {
        return Ok(None);
    }
    if !has_turns(&request.site) {
        let usual = usual_product(&request.site);
        request.feed = Some(choose_one(labels.to_vec(), &[], usual.as_ref())?);
        return Ok(None);
    }
    take_turn(request, labels, entries, at).map_err(|e| e.within("/request"))
}

fn learned(known: Known) -> Learned {
    let site = &known.threshold;
    let mut says: Vec<String> = Vec::new();
    for learned in std::iter::once(site).chain(&known.groups) {
        let Some(next) = &learned.next else { continue };
        let of = learned.group.as_ref().map_or(String::new(), |g| format!("Group {g}: "));
        says.push(format!("{of}{}", words::proposal(next)));
    }
    says.extend(words::remarks(site));
    Learned {
        entries: known.entries,
        looks: site.evidence.len(),
        threshold_g_m2: site.posterior.median_g_m2,
        low_g_m2: site.posterior.low_g_m2,
        high_g_m2: site.posterior.high_g_m2,
        next: site.next.clone(),
        says,
        lost: known.lost,
    }
}

impl From<&Turn> for TurnNow {
    fn from(turn: &Turn) -> Self {
        let product = match &turn.gives {
            Gives::Feed { label, .. } => Some(label.mix_name()),
            Gives::Water => None,
        };
        Self {
            gives: turn.gives.name().to_owned(),
            product,
            place: turn.place,
            of: turn.of,
            begun: turn.begun,
            next: turn.next.name().to_owned(),
        }
    }
}

impl From<Task> for TaskNow {
    fn from(task: Task) -> Self {
        let (what, entry) = task.own.unzip();
        let since = task.since.map(|d| d.to_string());
        Self { task: task.kind.word().to_owned(), plants: task.plants, since, what, entry }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use guardcell::Code;
    use serde_json::{Value, json};

    fn asked(change: impl FnOnce(&mut Value)) -> Result<Situation, Error> {
        let mut request: Value =
            serde_json::from_str(include_str!("../calls/with_journal.json")).unwrap();
        change(&mut request);
        situation(&serde_json::from_value(request).unwrap())
    }

    #[test]
    fn the_journal_of_the_site_is_put_into_the_request() {
        let told = asked(|_| {}).unwrap();
        // The example: a round on the 15th and a look that found white.
        assert_eq!(
            told.request.plants[0].last_fed.as_deref().map(|d| &d[..10]),
            Some("2026-06-15")
        );
        let learned = told.learned.unwrap();
        assert_eq!((learned.entries, learned.looks), (2, 1));
        // White at 300 mg/L: at most half of it next (the rule of practice).
        assert_eq!(learned.next.unwrap().proposed_mg_l, Some(150.0));
        assert!(told.tasks.iter().any(|t| t.task == "wipe"));
        assert!(told.request.feed.is_some(), "the one label is chosen");
    }

    #[test]
    fn entries_of_another_site_and_those_taken_back_do_not_count() {
        let told = asked(|r| {
            for e in r["entries"].as_array_mut().unwrap() {
                e["site"] = "Elsewhere".into();
            }
        });
        assert!(told.unwrap().learned.is_none());
        let told = asked(|r| {
            let entries = r["entries"].as_array_mut().unwrap();
            let mut back = entries[1].clone();
            back["id"] = "back".into();
            back["supersedes"] = entries[1]["id"].clone();
            back["event"] = json!({"kind": "retraction"});
            entries.push(back);
        })
        .unwrap();
        assert_eq!(told.learned.unwrap().looks, 0);
        assert!(told.tasks.iter().all(|t| t.task != "wipe"));
    }

    #[test]
    fn a_rota_chooses_among_the_labels() {
        let by_turns = |labels: Value| {
            asked(|r| {
                r["entries"] = json!([]);
                r["request"]["site"]["feeds"] = json!([{"name": "leaf", "product": "Mist"}]);
                r["request"]["site"]["grower"]["rota"] = json!(["leaf", "water"]);
                r["labels"] = labels;
            })
        };
        let label = |name: &str| json!({"name": name, "guaranteed": {"n_percent": 15}});
        let told = by_turns(json!([label("Bloom"), label("Fernhollow Mist")])).unwrap();
        let turn = told.turn.unwrap();
        assert_eq!((turn.gives.as_str(), turn.place, turn.of), ("leaf", 1, 2));
        assert_eq!(told.request.feed.unwrap().name, "Fernhollow Mist");
        let error = by_turns(json!([label("Bloom")])).unwrap_err();
        assert_eq!(error.code(), Code::Unknown);
        assert!(error.pointer().starts_with("/request/site/feeds/0"), "{}", error.pointer());
    }
}

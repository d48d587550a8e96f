//! Reasons in a few words, for screens that have one line for each. The words belong to the code of
//! a reason; a code without words of its own says its whole sentence.

use crate::print::text;
use guardcell::advice::round::Alone;
use guardcell::advice::{Reason, ReasonCode as C, Verdict};
use guardcell::clock::Code as Clock;
use guardcell::ledger::ProductGiven;
use guardcell::reference::Opens;
use guardcell_folder::{Gives, Task, TaskKind, Turn};

const WORDS: [(C, &str); 18] = [
    (C::Rootless, "no roots yet: soaks instead"),
    (C::NotGrowing, "at rest: no feed without growth"),
    (C::FedRecently, "sprayed not long ago: not due yet"),
    (C::ReadingsEnd, "the readings of the air end too early"),
    (C::AirAssumed, "the air is only assumed"),
    (C::TooCold, "too cold"),
    (C::TooSunny, "too much sun"),
    (C::DarkMonth, "rests in the dark months"),
    (C::OutsideWorkingHours, "its pores open only outside your hours"),
    (C::WetNight, "would stay wet through the night"),
    (C::WeeklyCeiling, "the pot has its feed for the week"),
    (C::JournalProposesLess, "white was seen: plain water for now"),
    (C::WaterTurn, "the rota gives plain water now"),
    (C::ScaleFromWater, "the water alone would leave scale"),
    (C::ResidueTooLikely, "too dry: even weak feed would leave white"),
    (C::SittingTooLong, "Longer than its window: begin at its start, with help if you can."),
    (C::FreshBucket, "Mix a fresh bucket: the one before is too old by then."),
    (C::NoLeafOpening, "its pores do not open in this time"),
];

/// Why no pore is open, as the clock has it.
const SHUT: [(Clock, &str); 4] = [
    (Clock::VpdShuts, "too dry: its pores are shut"),
    (Clock::ColdShuts, "too cold: its pores are shut"),
    (Clock::HeatShuts, "too hot: its pores are shut"),
    (Clock::NoLight, "no light, so its pores are shut"),
];

/// A reason in a few words.
pub(crate) fn words(reason: &Reason) -> &str {
    let own = WORDS.iter().find(|(code, _)| code.as_str() == reason.code).map(|(_, words)| words);
    let shut =
        || SHUT.iter().find(|(code, _)| code.as_str() == reason.code).map(|(_, words)| words);
    own.or_else(shut).map_or(reason.message.as_str(), |words| words)
}

/// Plants that get nothing for one reason.
pub(crate) struct Group<'a> {
    pub(crate) verdict: Verdict,
    pub(crate) reason: &'a Reason,
    pub(crate) ids: Vec<&'a str>,
}

impl Group<'_> {
    /// `12 wait: too cold`.
    pub(crate) fn says(&self) -> String {
        let verdict = match self.verdict {
            Verdict::Feed => "feed",
            Verdict::Wait => "wait",
            Verdict::WaterOnly => "plain water",
            Verdict::Leave => "left alone",
        };
        format!("{} {verdict}, {}", self.ids.len(), words(self.reason).trim_end_matches('.'))
    }
}

/// Who gets nothing: each verdict and short reason once, most plants first.
pub(crate) fn groups(alone: &[Alone]) -> Vec<Group<'_>> {
    let mut out: Vec<Group<'_>> = Vec::new();
    for a in alone {
        let ids = a.plants.iter().map(|p| p.id.as_str());
        let same =
            |g: &&mut Group<'_>| g.verdict == a.verdict && words(g.reason) == words(&a.reason);
        match out.iter_mut().find(same) {
            Some(group) => group.ids.extend(ids),
            None => out.push(Group { verdict: a.verdict, reason: &a.reason, ids: ids.collect() }),
        }
    }
    out.sort_by_key(|g| std::cmp::Reverse(g.ids.len()));
    out
}

/// The turn of the rota in one line: `leaf, Fernhollow Mist 15-5-15 (turn 2 of 3, after leaf on Sat
/// 20 June); next is plain water`.
pub(crate) fn turn(turn: &Turn) -> String {
    let last = match (&turn.last, turn.begun) {
        (_, true) => ", begun today".to_owned(),
        (Some((day, what)), false) => {
            // What has a name in the rota is called by it.
            let named = [&turn.gives, &turn.next].into_iter().find_map(|gives| match gives {
                Gives::Feed { name, label } if label.mix_name() == *what => Some(name.as_str()),
                _ => None,
            });
            format!(", after {} on {}", named.unwrap_or(what), day.strftime("%a %-d %B"))
        }
        (None, false) => String::new(),
    };
    let next = match (&turn.next, turn.of) {
        (_, 1) => String::new(),
        (Gives::Water, _) => "; next is plain water".to_owned(),
        (Gives::Feed { name, .. }, _) => format!("; next is {name}"),
    };
    let gives = match &turn.gives {
        Gives::Water => "plain water".to_owned(),
        Gives::Feed { name, label } if name.eq_ignore_ascii_case(&label.mix_name()) => name.clone(),
        Gives::Feed { name, label } => format!("{name}, {}", label.mix_name()),
    };
    format!("{gives} (turn {} of {}{last}){next}", turn.place, turn.of)
}

/// What was given, by its product where that was written down.
pub(crate) fn given(p: &ProductGiven) -> &str {
    match &p.product {
        Some(name) => name,
        None if p.plain_water => "plain water",
        None => "feed of no stated product",
    }
}

/// A task in one line.
pub(crate) fn task(task: &Task) -> String {
    let day = task.since.map(|d| d.strftime("%a %-d %B").to_string()).unwrap_or_default();
    let n = task.plants.len();
    let what = match task.kind {
        TaskKind::Soak => {
            format!("soak {} (guardcell rescue NAME)", text::count(n, "plant", "plants"))
        }
        TaskKind::Look => format!("look for white on the leaves sprayed on {day}"),
        TaskKind::Wipe => {
            format!("wipe the leaves that had white on {day} (guardcell log wipe ID)")
        }
        TaskKind::Flush => {
            format!("flush {} with plain water, since {day}", text::count(n, "pot", "pots"))
        }
        TaskKind::Rescue => "look for root tips on what was soaked for weeks".to_owned(),
        TaskKind::Count => "count new roots and leaves (guardcell log growth ID)".to_owned(),
        TaskKind::Own => {
            let (what, entry) = task.own.clone().unwrap_or_default();
            let entry: String = entry.chars().take(ENTRY_SHOWN).collect();
            format!("{what}, since {day} (guardcell log done {entry})")
        }
    };
    if n == 0 { what } else { format!("{what}: {}", task.plants.join(", ")) }
}

/// Letters of the id of an entry that are shown: enough to tell it from others.
const ENTRY_SHOWN: usize = 12;

/// When a plant opens its pores.
pub(crate) const fn opens(opens: Opens) -> &'static str {
    match opens {
        Opens::Day => "opens by day",
        Opens::Night => "opens at night",
        Opens::Either => "opens by day or at night",
        Opens::Unknown => "when it opens is not known",
    }
}

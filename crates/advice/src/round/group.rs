//! Plants of one strength and sitting that get the same for the same reasons.

use super::span::Span;
use crate::answer::{PlantAdvice, Verdict, Window};
use crate::name;
use crate::reason::Reason;
use crate::reason_code::ReasonCode;
use crate::request::{PlantEntry, Setting, Standing};
use std::rc::Rc;

/// What is planned for plants that are alike.
#[derive(Debug)]
pub(super) struct Planned {
    pub(super) window: Window,
    pub(super) span: Span,
    /// Why, of this hour and this dose.
    pub(super) reasons: Vec<Reason>,
    /// The reason that it is not what the advice puts first; `None` where it is.
    pub(super) otherwise: Option<ReasonCode>,
    /// What is forgone against the best, as a share of it.
    pub(super) worth_lost: f64,
}

/// A plant with its advice and what is planned for it.
#[derive(Debug, Clone)]
pub(super) struct Member<'a> {
    pub(super) entry: &'a PlantEntry,
    pub(super) advice: &'a PlantAdvice,
    pub(super) planned: Rc<Planned>,
}

/// Plants of one bench that get the same for the same reasons.
#[derive(Debug)]
pub(super) struct Group<'a> {
    pub(super) members: Vec<Member<'a>>,
    pub(super) span: Span,
}

impl Member<'_> {
    /// What members of a group share; in the order of the walk along an area.
    fn kind(&self) -> (&str, &str, Standing, Verdict, bool, Option<&str>) {
        (
            self.entry.bench.as_deref().unwrap_or(""),
            self.advice.pathway.word(),
            self.entry.standing,
            self.advice.verdict,
            self.planned.worth_lost > 0.0,
            self.planned.otherwise.map(ReasonCode::as_str),
        )
    }
}

/// The plants of an area as groups, bench after bench; within a group by id.
pub(super) fn groups(mut members: Vec<Member<'_>>) -> Vec<Group<'_>> {
    members.sort_by(|a, b| a.kind().cmp(&b.kind()).then_with(|| a.entry.id.cmp(&b.entry.id)));
    let mut out: Vec<Group<'_>> = Vec::new();
    for m in members {
        let span = m.planned.span;
        let alike = |g: &&mut Group<'_>| g.members.first().is_some_and(|f| f.kind() == m.kind());
        match out.last_mut().filter(alike) {
            Some(g) => {
                g.span = g.span.meet(span);
                g.members.push(m);
            }
            None => out.push(Group { span, members: vec![m] }),
        }
    }
    out
}

impl Group<'_> {
    /// What the members share, in words: `CAM, established, mounted or in baskets`.
    pub(super) fn words(&self) -> String {
        let Some(first) = self.members.first() else { return String::new() };
        let pathway = name::pathway(first.advice.pathway);
        let mut settings: Vec<Setting> = self.members.iter().map(|m| m.entry.setting).collect();
        settings.sort_unstable();
        settings.dedup();
        let settings: Vec<&str> = settings
            .into_iter()
            .map(|s| match s {
                Setting::Mounted => "mounted",
                Setting::Basket => "in baskets",
                Setting::Potted => "potted",
                Setting::Landscape => "planted out",
            })
            .collect();
        let list = match settings.as_slice() {
            [] => String::new(),
            [one] => (*one).to_owned(),
            [all @ .., last] => format!("{} or {last}", all.join(", ")),
        };
        format!("{pathway}, {}, {list}", first.entry.standing.word())
    }
}

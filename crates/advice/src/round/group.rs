//! Plants that get the same at the same time, and the sittings their windows allow.

use crate::answer::{PlantAdvice, Verdict, Window};
use crate::request::{PlantEntry, Setting, Standing};
use guardcell_reference::Pathway;
use guardcell_reference::parameters::practice as p;
use jiff::{SignedDuration, Timestamp};

/// A plant with its advice and the window it is given.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Member<'a> {
    pub(crate) entry: &'a PlantEntry,
    pub(crate) advice: &'a PlantAdvice,
    pub(crate) window: &'a Window,
    pub(crate) span: Span,
}

/// A stretch of time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Span {
    pub(crate) start: Timestamp,
    pub(crate) end: Timestamp,
}

impl Span {
    fn of(w: &Window) -> Option<Self> {
        Some(Self { start: w.start.parse().ok()?, end: w.end.parse().ok()? })
    }

    fn meet(self, other: Self) -> Self {
        Self { start: self.start.max(other.start), end: self.end.min(other.end) }
    }

    /// Long enough to work in.
    fn is_workable(self) -> bool {
        self.end.duration_since(self.start) >= SignedDuration::from_mins(15)
    }
}

/// Plants that share a stretch of time.
#[derive(Debug)]
pub(crate) struct Cluster<'a> {
    pub(crate) members: Vec<Member<'a>>,
    pub(crate) span: Span,
}

/// Plants of one area that get the same for the same reasons.
#[derive(Debug)]
pub(crate) struct Group<'a> {
    pub(crate) members: Vec<Member<'a>>,
    pub(crate) span: Span,
}

/// A strength with its passes, and the groups that get it.
#[derive(Debug)]
pub(crate) struct Strength<'a> {
    pub(crate) mg_l: f64,
    pub(crate) passes: u8,
    pub(crate) groups: Vec<Group<'a>>,
}

impl<'a> Member<'a> {
    /// A plant in its best window.
    pub(crate) fn new(entry: &'a PlantEntry, advice: &'a PlantAdvice) -> Option<Self> {
        Self::in_window(entry, advice, advice.windows.first()?)
    }

    fn in_window(
        entry: &'a PlantEntry,
        advice: &'a PlantAdvice,
        window: &'a Window,
    ) -> Option<Self> {
        Some(Self { entry, advice, window, span: Span::of(window)? })
    }

    /// The plant in a window that reaches into `span` and is worth nearly as much as its best.
    fn moved_to(&self, span: Span) -> Option<Self> {
        let best = self.advice.windows.first()?.worth;
        self.advice
            .windows
            .iter()
            .filter(|w| w.worth >= best * p::SITTING_WORTH_LEAST.value)
            .filter_map(|w| Self::in_window(self.entry, self.advice, w))
            .find(|m| m.span.meet(span).is_workable())
    }

    fn kind(&self) -> (&str, &str, Standing, Verdict) {
        (&self.entry.area, self.advice.pathway.word(), self.entry.standing, self.advice.verdict)
    }
}

/// The fewest sittings that serve every plant within a window worth nearly its best: the window
/// that closes first takes every other plant whose window is open then; sittings of a few plants
/// are dissolved into others where that costs little.
pub(crate) fn clusters(mut members: Vec<Member<'_>>) -> Vec<Cluster<'_>> {
    members.sort_by(|a, b| a.span.end.cmp(&b.span.end).then(a.span.start.cmp(&b.span.start)));
    let mut out: Vec<Cluster<'_>> = Vec::new();
    for m in members {
        match out.iter_mut().find(|c| c.span.meet(m.span).is_workable()) {
            Some(c) => {
                c.span = c.span.meet(m.span);
                c.members.push(m);
            }
            None => out.push(Cluster { span: m.span, members: vec![m] }),
        }
    }
    out.sort_by_key(|c| c.members.len());
    dissolve(&mut out);
    for c in &mut out {
        c.members.sort_by(|a, b| a.entry.id.cmp(&b.entry.id));
    }
    out.sort_by_key(|c| c.span.start);
    out
}

/// Moves the plants of the smallest sittings into larger ones, all of a sitting or none.
fn dissolve(clusters: &mut Vec<Cluster<'_>>) {
    let mut i = 0;
    while i < clusters.len() {
        let mut spans: Vec<Span> = clusters.iter().map(|c| c.span).collect();
        let mut moves = Vec::new();
        if let Some(c) = clusters.get(i) {
            for m in &c.members {
                let target = (0..spans.len()).rev().filter(|j| *j != i).find_map(|j| {
                    let span = *spans.get(j)?;
                    m.moved_to(span).map(|moved| (j, moved))
                });
                let Some((j, moved)) = target else { break };
                if let Some(span) = spans.get_mut(j) {
                    *span = span.meet(moved.span);
                }
                moves.push((j, moved));
            }
            if moves.len() == c.members.len() {
                for (j, moved) in moves {
                    if let Some(target) = clusters.get_mut(j) {
                        target.span = target.span.meet(moved.span);
                        target.members.push(moved);
                    }
                }
                clusters.remove(i);
                continue;
            }
        }
        i += 1;
    }
}

impl<'a> Cluster<'a> {
    /// The strengths of a sitting, strongest first, each with its groups.
    pub(crate) fn strengths(&self) -> Vec<Strength<'a>> {
        let mut out: Vec<Strength<'a>> = Vec::new();
        for m in &self.members {
            let (mg_l, passes) = (m.window.feed_strength_mg_l, m.window.passes);
            let home = match out.iter_mut().find(|s| s.mg_l == mg_l && s.passes == passes) {
                Some(s) => s,
                None => {
                    out.push(Strength { mg_l, passes, groups: Vec::new() });
                    let Some(s) = out.last_mut() else { continue };
                    s
                }
            };
            let group = home
                .groups
                .iter_mut()
                .find(|g| g.members.first().is_some_and(|f| f.kind() == m.kind()));
            match group {
                Some(g) => {
                    g.span = g.span.meet(m.span);
                    g.members.push(*m);
                }
                None => home.groups.push(Group { span: m.span, members: vec![*m] }),
            }
        }
        out.sort_by(|a, b| b.mg_l.total_cmp(&a.mg_l).then(b.passes.cmp(&a.passes)));
        out
    }
}

impl Group<'_> {
    pub(crate) fn area(&self) -> &str {
        self.members.first().map_or("", |m| m.entry.area.as_str())
    }

    /// What the members share, in words: `CAM, established, mounted or in baskets`.
    pub(crate) fn words(&self) -> String {
        let Some(first) = self.members.first() else { return String::new() };
        let pathway = match first.advice.pathway {
            Pathway::C3 => "C3",
            Pathway::Cam => "CAM",
            Pathway::Facultative => "C3 or CAM by season",
            Pathway::Variable => "C3 or CAM",
            Pathway::Unknown => "pathway unknown",
        };
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

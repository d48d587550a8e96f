//! Plants that get the same at the same time, and the sittings their windows allow.

use crate::answer::{PlantAdvice, Verdict, Window};
use crate::request::{PlantEntry, Setting, Standing};
use jiff::Timestamp;

/// A plant with its advice and the window it is given.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Member<'a> {
    pub(crate) entry: &'a PlantEntry,
    pub(crate) advice: &'a PlantAdvice,
    pub(crate) window: &'a Window,
}

/// Plants that get the same at the same time.
#[derive(Debug)]
pub(crate) struct Group<'a> {
    pub(crate) members: Vec<Member<'a>>,
    pub(crate) start: Timestamp,
    pub(crate) end: Timestamp,
}

/// Groups that share a stretch of time.
#[derive(Debug)]
pub(crate) struct Cluster<'a> {
    pub(crate) groups: Vec<Group<'a>>,
    pub(crate) start: Timestamp,
    pub(crate) end: Timestamp,
}

#[derive(PartialEq)]
struct Key<'a> {
    area: &'a str,
    verdict: Verdict,
    pathway: &'a str,
    phase: &'a str,
    strength: f64,
    passes: u8,
    standing: Standing,
}

impl<'a> Member<'a> {
    fn key(&self) -> Key<'a> {
        Key {
            area: &self.entry.area,
            verdict: self.advice.verdict,
            pathway: self.advice.pathway.word(),
            phase: &self.window.phase,
            strength: self.window.feed_strength_mg_l,
            passes: self.window.passes,
            standing: self.entry.standing,
        }
    }

    fn span(&self) -> Option<(Timestamp, Timestamp)> {
        Some((self.window.start.parse().ok()?, self.window.end.parse().ok()?))
    }
}

/// Puts plants with the same key and overlapping windows together.
pub(crate) fn groups<'a>(members: Vec<Member<'a>>) -> Vec<Group<'a>> {
    let mut groups: Vec<Group<'a>> = Vec::new();
    for m in members {
        let Some((start, end)) = m.span() else { continue };
        let home = groups.iter_mut().find(|g| {
            g.members.first().is_some_and(|first| first.key() == m.key())
                && start.max(g.start) < end.min(g.end)
        });
        match home {
            Some(g) => {
                g.start = g.start.max(start);
                g.end = g.end.min(end);
                g.members.push(m);
            }
            None => groups.push(Group { members: vec![m], start, end }),
        }
    }
    groups
}

/// The fewest sittings that serve every group within its window: the window that closes first
/// takes every other group that is open then.
pub(crate) fn clusters(mut groups: Vec<Group<'_>>) -> Vec<Cluster<'_>> {
    groups.sort_by(|a, b| a.end.cmp(&b.end).then(a.start.cmp(&b.start)));
    let mut out: Vec<Cluster<'_>> = Vec::new();
    for g in groups {
        // A stretch this short is no sitting for two groups.
        let least = jiff::SignedDuration::from_mins(15);
        let home =
            out.iter_mut().find(|c| c.end.min(g.end).duration_since(c.start.max(g.start)) >= least);
        match home {
            Some(c) => {
                c.start = c.start.max(g.start);
                c.end = c.end.min(g.end);
                c.groups.push(g);
            }
            None => out.push(Cluster { start: g.start, end: g.end, groups: vec![g] }),
        }
    }
    for c in &mut out {
        c.groups.sort_by(|a, b| b.strength().total_cmp(&a.strength()).then(a.area().cmp(b.area())));
    }
    out.sort_by_key(|c| c.start);
    out
}

impl Group<'_> {
    pub(crate) fn strength(&self) -> f64 {
        self.members.first().map_or(0.0, |m| m.window.feed_strength_mg_l)
    }

    pub(crate) fn passes(&self) -> u8 {
        self.members.first().map_or(1, |m| m.window.passes)
    }

    pub(crate) fn area(&self) -> &str {
        self.members.first().map_or("", |m| m.entry.area.as_str())
    }

    /// What the members share, in words: `CAM, established, mounted and basket`.
    pub(crate) fn words(&self) -> String {
        let Some(first) = self.members.first() else { return String::new() };
        let pathway = match first.advice.pathway {
            guardcell_reference::Pathway::C3 => "C3",
            guardcell_reference::Pathway::Cam => "CAM",
            guardcell_reference::Pathway::Facultative => "C3 or CAM by season",
            guardcell_reference::Pathway::Variable => "C3 or CAM",
            guardcell_reference::Pathway::Unknown => "pathway unknown",
        };
        let mut settings: Vec<Setting> = self.members.iter().map(|m| m.entry.setting).collect();
        settings.sort_unstable();
        settings.dedup();
        let settings: Vec<&str> = settings.into_iter().map(Setting::word).collect();
        format!("{pathway}, {}, {}", first.entry.standing.word(), settings.join(" and "))
    }
}

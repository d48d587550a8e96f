//! What the relatives and the leaf of a taxon let expect of its pathway.
//!
//! The share of CAM of a genus is drawn around that of its subtribe, that of the subtribe around its
//! tribe, and that of the tribe around the family: one beta distribution a step, whose weight
//! (`shrink_…`) is the number of species at which the group below counts as much as the group above.
//! A genus with one leaf type is more alike in itself than one whose leaves differ, so the last step
//! has two weights. The leaf type shifts the mean of a genus; the thickness of a leaf shifts the
//! species around the genus. A species counts by how likely it is CAM by its own evidence, given
//! every share the genus may have, so that a doubtful value weighs what it is worth. A few species do
//! not follow their genus (`odd_share`), so that one of the other kind neither opens a genus nor is
//! ruled out in it.
//!
//! Subfamilies are no step: tribes of one subfamily proved no more alike than tribes of two. A genus
//! without a place in a tribe or subtribe is a group of its own there. The shares live on a grid of
//! log odds (`share_grid.rs`), so that the whole tree is summed exactly, up and down.

use crate::pathway_rule::{Evidence, Kind, Prior, Rule, Statement};
use crate::share_grid::{Curve, POINTS, Step, at, down, ln_share, point, step, sum, times, up};
use std::collections::{BTreeMap, BTreeSet};

/// What is known of one species of a genus.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Member {
    /// How likely it is CAM by its own evidence alone, where it has some.
    pub cam: Option<f64>,
    /// How likely it is weak CAM, if not CAM, where acidity or gas exchange was looked at.
    pub weak: Option<f64>,
    /// Mean leaf thickness in mm, where measured.
    pub leaf_mm: Option<f64>,
    /// Whether it counts as a species; those that do not count together as one.
    pub counted: bool,
}

impl Member {
    /// What the evidence of a species says of it.
    #[must_use]
    pub fn of(rule: &Rule, evidence: &[Evidence], leaf_mm: Option<f64>, counted: bool) -> Self {
        let likelihood = rule.likelihood(evidence);
        let own = rule.own_cam(likelihood);
        let isotopes_or_words = evidence.iter().any(|e| !matches!(e, Evidence::AcidRise(_)));
        let acid = evidence
            .iter()
            .any(|e| matches!(e, Evidence::AcidRise(_) | Evidence::Says(Kind::Weak, _)));
        Self {
            cam: isotopes_or_words.then_some(own),
            // Of a CAM species acidity does not tell whether it would be weak CAM otherwise.
            weak: (acid && own < 0.5).then(|| rule.own_weak(likelihood)),
            leaf_mm,
            counted,
        }
    }
}

/// What is read of one genus.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Group {
    /// Subfamily, tribe, subtribe; blank where not placed.
    pub place: [String; 3],
    /// The word of its leaf type.
    pub leaf: String,
    /// Its species that have records.
    pub members: Vec<Member>,
    /// What a work says of the whole genus.
    pub statement: Option<Statement>,
}

impl Group {
    fn is_blade(&self) -> bool {
        !matches!(self.leaf.as_str(), "terete" | "leafless")
    }

    /// The mean logarithm of leaf thickness in mm, drawn towards that of 1 mm.
    fn thickness(&self, rule: &Rule) -> f64 {
        let (n, sum) = self
            .members
            .iter()
            .filter_map(|m| m.leaf_mm)
            .fold((0.0, 0.0), |(n, sum), mm| (n + 1.0, sum + mm.ln()));
        sum / (n + rule.thickness_shrink)
    }

    /// The shift of the log odds for a species of this leaf thickness, or of that of the genus.
    fn shift(&self, rule: &Rule, mm: Option<f64>) -> f64 {
        if !self.is_blade() {
            return 0.0;
        }
        rule.thickness_slope * mm.map_or_else(|| self.thickness(rule), f64::ln)
    }

    /// The probability of what is known, for each share the genus may have, as a logarithm; `None`
    /// if nothing is known.
    fn own(&self, rule: &Rule) -> Option<Curve> {
        let mut curve = [0.0; POINTS];
        let mut known = false;
        let mut add = |other: Curve| {
            known = true;
            curve = sum(&curve, &other, 1.0);
        };
        for m in self.members.iter().filter(|m| m.counted) {
            if let Some(p) = m.cam {
                add(seen(rule, p, self.shift(rule, m.leaf_mm)));
            }
        }
        let of_genus = self.shift(rule, None);
        let others: Vec<f64> =
            self.members.iter().filter(|m| !m.counted).filter_map(|m| m.cam).collect();
        if !others.is_empty() {
            add(seen(rule, others.iter().sum::<f64>() / others.len() as f64, of_genus));
        }
        if let Some(statement) = self.statement {
            add(std::array::from_fn(|i| {
                rule.stated_ln(statement, ln_share(at(i) + of_genus).exp())
            }));
        }
        known.then_some(curve)
    }

    fn weak(&self) -> (f64, f64) {
        let of = self.members.iter().filter(|m| m.counted).filter_map(|m| m.weak);
        of.fold((0.0, 0.0), |(n, sum), p| (n + 1.0, sum + p))
    }
}

/// The probability of a species with this own probability of CAM, for each share of its genus, as a
/// logarithm.
fn seen(rule: &Rule, p: f64, shift: f64) -> Curve {
    std::array::from_fn(|i| {
        let share = rule.of_share(ln_share(at(i) + shift).exp());
        (p * share + (1.0 - p) * (1.0 - share)).ln()
    })
}

/// What is left out of the relatives of a taxon.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Without {
    /// Nothing: the taxon is the genus, or counts as no species.
    Nothing,
    /// One species of the genus, by its place among [`Group::members`].
    Member(usize),
    /// The whole genus.
    Genus,
}

/// All genera, summed up by their placement.
#[derive(Debug, Clone)]
pub struct Relatives {
    rule: Rule,
    groups: Vec<Group>,
    /// What each genus has of its own, as a logarithm.
    own: Vec<Curve>,
    /// How the share of each genus lies by its relatives and its leaf alone.
    expected: Vec<Curve>,
    weak: (f64, f64),
}

impl Relatives {
    /// Sums the genera up.
    #[must_use]
    pub fn new(rule: Rule, groups: Vec<Group>) -> Self {
        let own: Vec<Option<Curve>> = groups.iter().map(|g| g.own(&rule)).collect();
        let expected = expected(&rule, &groups, &own);
        let own = own.into_iter().map(|c| c.unwrap_or([0.0; POINTS])).collect();
        let weak = groups.iter().map(Group::weak).fold((0.0, 0.0), |a, b| (a.0 + b.0, a.1 + b.1));
        Self { rule, groups, own, expected, weak }
    }

    /// The shares for a taxon of this genus with leaves of `mm` millimetres by its relatives, some
    /// of them left out. Those of the family where there is no such genus.
    #[must_use]
    pub fn prior(&self, genus: usize, without: Without, mm: Option<f64>) -> Prior {
        let (Some(group), Some(own), Some(expected)) =
            (self.groups.get(genus), self.own.get(genus), self.expected.get(genus))
        else {
            return Prior { cam: self.rule.cam_share, weak: self.rule.weak_share };
        };
        let left = match without {
            Without::Nothing => *own,
            Without::Genus => [0.0; POINTS],
            Without::Member(i) => match group.members.get(i).map(|m| (m.cam, m.counted, m.leaf_mm))
            {
                Some((Some(p), true, mm)) => {
                    sum(own, &seen(&self.rule, p, group.shift(&self.rule, mm)), -1.0)
                }
                _ => *own,
            },
        };
        let shares = times(expected, &left);
        let shift = group.shift(&self.rule, mm);
        let of = |i| self.rule.of_share(ln_share(at(i) + shift).exp());
        let cam = shares.iter().enumerate().map(|(i, p)| p * of(i)).sum();
        Prior { cam, weak: self.prior_weak(group, without) }
    }

    fn prior_weak(&self, group: &Group, without: Without) -> f64 {
        let own = group.weak();
        let left = match without {
            Without::Nothing => own,
            Without::Genus => (0.0, 0.0),
            Without::Member(i) => match group.members.get(i) {
                Some(Member { weak: Some(p), counted: true, .. }) => (own.0 - 1.0, own.1 - p),
                _ => own,
            },
        };
        let all = (self.weak.0 - own.0 + left.0, self.weak.1 - own.1 + left.1);
        let weight = self.rule.weak_shrink;
        let over_all = (all.1 + weight * self.rule.weak_share) / (all.0 + weight);
        ((left.1 + weight * over_all) / (left.0 + weight)).clamp(0.0, 1.0)
    }

    /// How many genera with evidence share the narrowest group that holds another one than this,
    /// and which group that is: 3 the subtribe, 2 the tribe, 1 the subfamily, 0 none.
    #[must_use]
    pub fn nearest(&self, genus: usize) -> (usize, usize) {
        let Some(group) = self.groups.get(genus) else { return (0, 0) };
        for depth in [3, 2, 1] {
            let place = &group.place[depth - 1];
            let others = self
                .groups
                .iter()
                .enumerate()
                .filter(|(i, g)| *i != genus && g.place[depth - 1] == *place)
                .filter(|(_, g)| g.members.iter().any(|m| m.cam.is_some()))
                .count();
            if !place.is_empty() && others > 0 {
                return (depth, others);
            }
        }
        (0, 0)
    }
}

/// A subtribe or tribe: the number of the group above, and what it holds.
#[derive(Clone)]
struct Node {
    above: usize,
    holds: Curve,
    /// The number of genera with evidence.
    genera: usize,
}

/// Numbers the groups of one level; a blank name is a group of its own.
fn numbered(
    nodes: &mut Vec<Node>,
    known: &mut BTreeMap<(usize, String), usize>,
    above: usize,
    name: &str,
) -> usize {
    let next = nodes.len();
    let number =
        if name.is_empty() { next } else { *known.entry((above, name.to_owned())).or_insert(next) };
    if number == next {
        nodes.push(Node { above, holds: [0.0; POINTS], genera: 0 });
    }
    number
}

/// For each genus, how its share lies by everything else in the tree.
fn expected(rule: &Rule, groups: &[Group], own: &[Option<Curve>]) -> Vec<Curve> {
    let (mut tribes, mut subtribes) = (Vec::new(), Vec::new());
    let (mut of_tribes, mut of_subtribes) = (BTreeMap::new(), BTreeMap::new());
    let with_tribes: BTreeSet<&str> = groups
        .iter()
        .filter(|g| g.place.iter().skip(1).any(|name| !name.is_empty()))
        .map(|g| g.place[0].as_str())
        .collect();
    let places: Vec<usize> = groups
        .iter()
        .map(|g| {
            let [subfamily, tribe, subtribe] = &g.place;
            // A subtribe without a tribe is taken as its tribe, and so is a subfamily without any.
            let tribe = match (tribe.is_empty(), subtribe.is_empty()) {
                (false, _) => tribe,
                (true, true) if !with_tribes.contains(subfamily.as_str()) => subfamily,
                (true, _) => subtribe,
            };
            let tribe = numbered(&mut tribes, &mut of_tribes, 0, tribe);
            numbered(&mut subtribes, &mut of_subtribes, tribe, subtribe)
        })
        .collect();
    let to_tribe = step(rule.shrink_tribe, 0.0);
    let to_subtribe = step(rule.shrink_subtribe, 0.0);
    let mut leaves: BTreeMap<&str, Step> = BTreeMap::new();
    for g in groups {
        let weight = if g.leaf == "variable" {
            rule.shrink_genus_variable
        } else {
            rule.shrink_genus_uniform
        };
        leaves.entry(&g.leaf).or_insert_with(|| step(weight, rule.leaf(&g.leaf)));
    }
    let none = Step::new();
    let leaf = |g: &Group| leaves.get(g.leaf.as_str()).unwrap_or(&none);
    // Up: what each group says of the one above it.
    let mut family = [0.0; POINTS];
    let said: Vec<Option<Curve>> =
        groups.iter().zip(own).map(|(g, own)| own.map(|c| up(leaf(g), &c))).collect();
    for (said, &place) in said.iter().zip(&places) {
        if let (Some(said), Some(node)) = (said, subtribes.get_mut(place)) {
            node.holds = sum(&node.holds, said, 1.0);
            node.genera += 1;
        }
    }
    let by_subtribes = said_by(&subtribes, &to_subtribe, &mut tribes);
    let mut top = vec![Node { above: 0, holds: family, genera: 0 }];
    let by_tribes = said_by(&tribes, &to_tribe, &mut top);
    if let Some(top) = top.first() {
        family = top.holds;
    }
    // Down: each group by what all others say.
    groups
        .iter()
        .zip(&places)
        .zip(&said)
        .filter_map(|((g, &place), said)| {
            let subtribe = subtribes.get(place)?;
            let tribe = tribes.get(subtribe.above)?;
            let rest = sum(&family, by_tribes.get(subtribe.above)?, -1.0);
            let mean = times(&point(rule.cam_share), &rest);
            let rest = sum(&tribe.holds, by_subtribes.get(place)?, -1.0);
            let mean = times(&down(&to_tribe, &mean), &rest);
            let rest = said.map_or(subtribe.holds, |s| sum(&subtribe.holds, &s, -1.0));
            let mean = times(&down(&to_subtribe, &mean), &rest);
            Some(down(leaf(g), &mean))
        })
        .collect()
}

/// What each group of a level says, added to the groups above.
fn said_by(nodes: &[Node], step: &Step, above: &mut [Node]) -> Vec<Curve> {
    let mut all = Vec::with_capacity(nodes.len());
    for node in nodes {
        let said = if node.genera > 0 { up(step, &node.holds) } else { [0.0; POINTS] };
        if let Some(above) = above.get_mut(node.above) {
            above.holds = sum(&above.holds, &said, 1.0);
            above.genera += node.genera;
        }
        all.push(said);
    }
    all
}

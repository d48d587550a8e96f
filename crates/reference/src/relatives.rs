//! The rule with the tables: to leave a genus or a species out and see what the others say of it.

use crate::genus::{Genus, genera};
use crate::pathway_relatives::{Group, Member, Relatives, Without};
use crate::pathway_rule::{Rule, Shares};
use crate::species::{Species, rule};

/// What the evidence of one species says by itself, and what its relatives say without it.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct LeftOut {
    /// The species.
    pub species: &'static Species,
    /// How likely it is CAM by its own evidence alone.
    pub own_cam: f64,
    /// How likely it is weak CAM, if not CAM, by its own evidence alone, where acidity or gas
    /// exchange was looked at.
    pub own_weak: Option<f64>,
    /// What its relatives and its leaf say without it.
    pub shares: Shares,
    /// What they say without its whole genus.
    pub without_genus: Shares,
}

/// All genera as the rule sees them.
#[derive(Debug, Clone)]
pub struct Tables {
    rule: Rule,
    /// The genera, and the place of each in the tables.
    groups: Vec<(usize, Group)>,
    relatives: Relatives,
}

impl Tables {
    /// The compiled tables under this rule; [`declared()`] is the declared one.
    #[must_use]
    pub fn new(rule: Rule) -> Self {
        Self::of(rule, |_| true)
    }

    /// Those genera alone for whose place in the tables `keep` is true.
    #[must_use]
    pub fn of(rule: Rule, keep: impl Fn(usize) -> bool) -> Self {
        let groups: Vec<(usize, Group)> = genera()
            .iter()
            .enumerate()
            .filter(|(i, _)| keep(*i))
            .map(|(i, g)| (i, group(&rule, g)))
            .collect();
        let relatives = Relatives::new(rule, groups.iter().map(|(_, g)| g.clone()).collect());
        Self { rule, groups, relatives }
    }

    /// Each determined species with evidence, called by its relatives without itself and without
    /// its whole genus, in the order of the tables; with the place of its genus.
    #[must_use]
    pub fn leave_out(&self) -> Vec<(usize, LeftOut)> {
        let mut all = Vec::new();
        for (at, (place, group)) in self.groups.iter().enumerate() {
            let species = genera().get(*place).map_or(&[][..], Genus::species);
            for (i, (species, member)) in species.iter().zip(&group.members).enumerate() {
                let (Some(own_cam), true) = (member.cam, member.counted) else { continue };
                let by = |without| {
                    let prior = self.relatives.prior(at, without, member.leaf_mm);
                    self.rule.shares(prior, [1.0; 3])
                };
                all.push((
                    *place,
                    LeftOut {
                        species,
                        own_cam,
                        own_weak: member.weak,
                        shares: by(Without::Member(i)),
                        without_genus: by(Without::Genus),
                    },
                ));
            }
        }
        all
    }
}

fn group(rule: &Rule, g: &Genus) -> Group {
    Group {
        place: [g.subfamily, g.tribe, g.subtribe].map(str::to_owned),
        leaf: g.traits.leaf.word().to_owned(),
        members: g
            .species()
            .iter()
            .map(|s| Member::of(rule, s.evidence, s.leaf_mm, s.counted))
            .collect(),
        statement: g.statement,
    }
}

/// The declared rule: the numbers of `data/pathway.csv`.
#[must_use]
pub fn declared() -> Rule {
    rule()
}

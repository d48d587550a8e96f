//! The rule with the tables: to leave a genus or a species out and see what the others say of it.

use crate::genus::{Genus, genera};
use crate::pathway_rule::{Group, Relatives, Rule, Shares, Without};
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
    /// What its relatives and its leaf say.
    pub shares: Shares,
}

/// All genera as the rule sees them.
#[derive(Debug, Clone)]
pub struct Tables {
    rule: Rule,
    relatives: Relatives,
}

impl Tables {
    /// The compiled tables under this rule; [`declared()`] is the declared one.
    #[must_use]
    pub fn new(rule: Rule) -> Self {
        Self { rule, relatives: Relatives::new(rule, genera().iter().map(group).collect()) }
    }

    /// Each determined species with evidence, called by its relatives without itself, or without
    /// its whole genus.
    #[must_use]
    pub fn leave_out(&self, genus: bool) -> Vec<LeftOut> {
        let mut all = Vec::new();
        for (i, g) in genera().iter().enumerate() {
            for species in g.species().iter().filter(|s| s.counted) {
                let own = &species.own;
                let Some(cam) = own.cam.map(f64::from) else { continue };
                let weak = own.weak.map(f64::from);
                let without =
                    if genus { Without::Genus } else { Without::Species(Some(cam), weak) };
                let prior = self.relatives.prior(i, without);
                let shares = self.rule.shares(prior, own.leaf_mm.map(f64::from), [1.0; 3]);
                all.push(LeftOut { species, own_cam: cam, own_weak: weak, shares });
            }
        }
        all
    }
}

fn group(g: &Genus) -> Group {
    let of = |counted: bool| g.species().iter().filter(move |s| s.counted == counted);
    let mut cam: Vec<f64> = of(true).filter_map(|s| s.own.cam).map(f64::from).collect();
    let others: Vec<f64> = of(false).filter_map(|s| s.own.cam).map(f64::from).collect();
    if !others.is_empty() {
        cam.push(others.iter().sum::<f64>() / others.len() as f64);
    }
    Group {
        place: [g.subfamily, g.tribe, g.subtribe].map(str::to_owned),
        leaf: g.traits.leaf.word().to_owned(),
        cam,
        weak: of(true).filter_map(|s| s.own.weak).map(f64::from).collect(),
        statement: g.statement_per_mille.map(|p| f64::from(p) / 1000.0),
    }
}

/// The declared rule: the numbers of `data/pathway.csv`.
#[must_use]
pub fn declared() -> Rule {
    rule()
}

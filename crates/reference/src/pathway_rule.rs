//! The one rule that says how a taxon fixes carbon: P(C3), P(weak or facultative CAM) and P(CAM)
//! from its own values, from its relatives and from its leaf.
//!
//! 1. Each kind of evidence has a probability under each pathway. Isotope ratios follow one normal
//!    curve a pathway, with a small share of strays; several isotope values of a species count as
//!    one (the mean of their logarithms), so that two works that disagree leave it open instead of
//!    being averaged. Acidity and statements count by how often such a work is right.
//! 2. Before its own evidence a species stands as its relatives do: the share of CAM of its genus,
//!    drawn towards that of the subtribe, tribe, subfamily and family, each the more the less was
//!    measured below; shifted by the leaf.
//! 3. Both multiply. A pathway is named from `call_least` on.
//!
//! The numbers are rows of `data/pathway.csv`. The build computes every answer; the same code,
//! through [`Relatives`], leaves genera and species out for `cargo xtask accuracy traits`.

use std::collections::BTreeMap;

/// A pathway for which a probability is computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// C3.
    C3,
    /// Weak or facultative CAM: mostly C3 by its carbon, acid gained by night.
    Weak,
    /// CAM.
    Cam,
}

/// What is known of a species itself.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Evidence {
    /// A leaf δ¹³C in ‰: the value, and the lowest and highest where it is a mean.
    D13c(f64, Option<(f64, f64)>),
    /// Whether the rise of acidity over a night was significant.
    AcidRise(bool),
    /// A work names the pathway, by this method. `C3` stands for C3 or weak CAM.
    Says(Kind, By),
}

/// How a work that gives no value knows the pathway it names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// Gas exchange.
    GasExchange,
    /// Acidity, or isotopes, whose values were not read.
    Acidity,
    /// Words.
    Words,
}

/// Probabilities of the three pathways; they add up to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shares {
    /// C3.
    pub c3: f64,
    /// Weak or facultative CAM.
    pub weak: f64,
    /// CAM.
    pub cam: f64,
}

macro_rules! rule {
    ($($field:ident)+) => {
        /// The numbers of the rule: the rows of `data/pathway.csv` by key.
        #[derive(Debug, Clone, Copy, PartialEq)]
        #[allow(missing_docs, reason = "each is described in its row of the table")]
        pub struct Rule { $(pub $field: f64,)+ }

        impl Rule {
            /// Takes each number by its key; the first key that is missing otherwise.
            ///
            /// # Errors
            /// The key for which `get` has no number.
            pub fn of(get: impl Fn(&str) -> Option<f64>) -> Result<Self, &'static str> {
                Ok(Self { $($field: get(stringify!($field)).ok_or(stringify!($field))?,)+ })
            }
        }
    };
}

rule! {
    d13c_c3 d13c_c3_spread d13c_weak d13c_weak_spread d13c_cam d13c_cam_spread d13c_stray
    acid_rise_c3 acid_rise_weak acid_rise_cam says_gas_exchange says_acidity says_words
    weak_share weak_shrink cam_share shrink_family shrink_subfamily shrink_tribe shrink_subtribe
    shrink_genus leaf_genus_weight leaf_species_weight leaf_thin leaf_intermediate leaf_thick
    leaf_terete thickness_not_cam thickness_cam thickness_spread genus_statement genus_some_cam
    genus_statement_sure call_least certain
}

/// The span over which a stray isotope value may fall, ‰: that of land plants.
const STRAY_SPAN: f64 = 32.0;
/// No probability from relatives comes nearer to 0 or 1.
const LEAST: f64 = 1e-4;

fn normal(x: f64, mean: f64, spread: f64) -> f64 {
    let z = (x - mean) / spread;
    (-0.5 * z * z).exp() / (spread * std::f64::consts::TAU.sqrt())
}

fn shifted(p: f64, log_ratio: f64) -> f64 {
    let p = p.clamp(LEAST, 1.0 - LEAST);
    1.0 / (1.0 + (-((p / (1.0 - p)).ln() + log_ratio)).exp())
}

impl Rule {
    /// The probability of this evidence under C3, weak CAM and CAM, up to a factor.
    #[must_use]
    pub fn likelihood(&self, evidence: &[Evidence]) -> [f64; 3] {
        let mut of = [1.0; 3];
        let (mut isotopes, mut n) = ([0.0; 3], 0.0);
        for e in evidence {
            match *e {
                Evidence::D13c(value, span) => {
                    n += 1.0;
                    for (sum, ln) in isotopes.iter_mut().zip(self.isotope_log(value, span)) {
                        *sum += ln;
                    }
                }
                Evidence::AcidRise(rose) => {
                    let p = [self.acid_rise_c3, self.acid_rise_weak, self.acid_rise_cam];
                    for (l, p) in of.iter_mut().zip(p) {
                        *l *= if rose { p } else { 1.0 - p };
                    }
                }
                Evidence::Says(kind, by) => {
                    for (l, p) in of.iter_mut().zip(self.said(kind, by)) {
                        *l *= p;
                    }
                }
            }
        }
        if n > 0.0 {
            for (l, sum) in of.iter_mut().zip(isotopes) {
                *l *= (sum / n).exp();
            }
        }
        of
    }

    /// The logarithm of the density of an isotope value; of a mean, that of its ends counts as well.
    fn isotope_log(&self, value: f64, span: Option<(f64, f64)>) -> [f64; 3] {
        let ln = |x: f64| {
            [
                (self.d13c_c3, self.d13c_c3_spread),
                (self.d13c_weak, self.d13c_weak_spread),
                (self.d13c_cam, self.d13c_cam_spread),
            ]
            .map(|(mean, spread)| {
                ((1.0 - self.d13c_stray) * normal(x, mean, spread) + self.d13c_stray / STRAY_SPAN)
                    .ln()
            })
        };
        let Some((low, high)) = span else { return ln(value) };
        let (a, b, c) = (ln(low), ln(value), ln(high));
        [0, 1, 2].map(|i| (a[i] + b[i] + c[i]) / 3.0)
    }

    fn said(&self, kind: Kind, by: By) -> [f64; 3] {
        let right = match by {
            By::GasExchange => self.says_gas_exchange,
            By::Acidity => self.says_acidity,
            By::Words => self.says_words,
        };
        let wrong = 1.0 - right;
        match kind {
            Kind::C3 => [right, right, wrong],
            Kind::Weak => [wrong / 2.0, right, wrong / 2.0],
            Kind::Cam => [wrong / 2.0, wrong, right],
        }
    }

    /// How likely a species is CAM by its own evidence alone, with an even chance before.
    #[must_use]
    pub fn own_cam(&self, likelihood: [f64; 3]) -> f64 {
        let [c3, weak, cam] = likelihood;
        let not = c3 * (1.0 - self.weak_share) + weak * self.weak_share;
        if cam + not > 0.0 { cam / (cam + not) } else { 0.5 }
    }

    /// How likely a species that is not CAM is weak CAM by its own evidence alone.
    #[must_use]
    pub fn own_weak(&self, likelihood: [f64; 3]) -> f64 {
        let (c3, weak) = (likelihood[0] * (1.0 - self.weak_share), likelihood[1] * self.weak_share);
        if c3 + weak > 0.0 { weak / (c3 + weak) } else { self.weak_share }
    }

    /// The log likelihood ratio of CAM for a leaf of this thickness in mm.
    fn thickness(&self, mm: f64) -> f64 {
        let x = mm.ln();
        let z = |mean: f64| (x - mean.ln()) / self.thickness_spread;
        let (not, cam) = (z(self.thickness_not_cam), z(self.thickness_cam));
        self.leaf_species_weight * 0.5 * (not * not - cam * cam)
    }

    fn leaf(&self, word: &str) -> f64 {
        self.leaf_genus_weight
            * match word {
                "thin" => self.leaf_thin,
                "intermediate" => self.leaf_intermediate,
                "thick" => self.leaf_thick,
                "terete" => self.leaf_terete,
                _ => 0.0,
            }
    }

    /// Prior shares and the likelihood of own evidence, multiplied.
    #[must_use]
    pub fn shares(&self, prior: Prior, mm: Option<f64>, likelihood: [f64; 3]) -> Shares {
        let cam = shifted(prior.cam, mm.map_or(0.0, |mm| self.thickness(mm)));
        let before = [(1.0 - cam) * (1.0 - prior.weak), (1.0 - cam) * prior.weak, cam];
        let [c3, weak, cam] = [0, 1, 2].map(|i| before[i] * likelihood[i]);
        let all = c3 + weak + cam;
        if all > 0.0 {
            Shares { c3: c3 / all, weak: weak / all, cam: cam / all }
        } else {
            Shares { c3: before[0], weak: before[1], cam: before[2] }
        }
    }

    /// The pathway to name: `None` where none is likely enough.
    #[must_use]
    pub fn call(&self, shares: Shares) -> Option<Kind> {
        if shares.cam >= self.call_least {
            Some(Kind::Cam)
        } else if 1.0 - shares.cam < self.call_least {
            None
        } else if shares.weak >= self.call_least * (1.0 - shares.cam) {
            Some(Kind::Weak)
        } else {
            Some(Kind::C3)
        }
    }

    /// The pathway to name of a genus. Where its measured species are of both kinds, one is named
    /// only where the other is rare enough to be left out of advice.
    #[must_use]
    pub fn call_genus(&self, shares: Shares, of_both_kinds: bool) -> Option<Kind> {
        if of_both_kinds && shares.cam.max(1.0 - shares.cam) < self.certain {
            return None;
        }
        self.call(shares)
    }
}

/// The shares of CAM, and of weak CAM among what is not CAM, before own evidence.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Prior {
    /// Share of CAM.
    pub cam: f64,
    /// Share of weak or facultative CAM among the rest.
    pub weak: f64,
}

/// What is read of one genus.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Group {
    /// Subfamily, tribe, subtribe; blank where not placed.
    pub place: [String; 3],
    /// The word of its leaf type.
    pub leaf: String,
    /// Of each species with evidence of CAM or not: how likely it is CAM by that alone.
    pub cam: Vec<f64>,
    /// Of each species with evidence of acidity or gas exchange: how likely it is weak CAM.
    pub weak: Vec<f64>,
    /// The share of CAM that a statement on the whole genus gives.
    pub statement: Option<f64>,
}

/// What is left out of the relatives of a taxon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Without {
    /// Nothing: the taxon is the genus.
    Nothing,
    /// One species of the genus, with what [`Group::cam`] and [`Group::weak`] have of it.
    Species(Option<f64>, Option<f64>),
    /// The whole genus.
    Genus,
}

/// A weight and a weighted sum.
type Sum = (f64, f64);

/// All genera, added up by their placement.
#[derive(Debug, Clone)]
pub struct Relatives {
    rule: Rule,
    groups: Vec<Group>,
    own: Vec<Sum>,
    nodes: BTreeMap<Vec<String>, Sum>,
    weak: Sum,
}

impl Relatives {
    /// Adds the genera up.
    #[must_use]
    pub fn new(rule: Rule, groups: Vec<Group>) -> Self {
        let own: Vec<Sum> = groups.iter().map(|g| of_group(&rule, g)).collect();
        let mut nodes: BTreeMap<Vec<String>, Sum> = BTreeMap::new();
        for (group, &sum) in groups.iter().zip(&own) {
            for node in path(group) {
                let entry = nodes.entry(node).or_default();
                *entry = add(*entry, counted(&rule, sum), 1.0);
            }
        }
        let weak =
            groups.iter().flat_map(|g| &g.weak).fold((0.0, 0.0), |(n, sum), p| (n + 1.0, sum + p));
        Self { rule, groups, own, nodes, weak }
    }

    /// The shares for a taxon of this genus by its relatives, some of them left out.
    #[must_use]
    pub fn prior(&self, genus: usize, without: Without) -> Prior {
        let (Some(group), Some(&own)) = (self.groups.get(genus), self.own.get(genus)) else {
            return Prior { cam: self.rule.cam_share, weak: self.rule.weak_share };
        };
        let left = match without {
            Without::Nothing => own,
            Without::Species(Some(p), _) => add(own, (1.0, p), -1.0),
            Without::Species(None, _) => own,
            Without::Genus => (0.0, 0.0),
        };
        let shrink = [
            self.rule.shrink_family,
            self.rule.shrink_subfamily,
            self.rule.shrink_tribe,
            self.rule.shrink_subtribe,
        ];
        let mut p = self.rule.cam_share;
        for (node, shrink) in path(group).into_iter().zip(shrink) {
            let all = self.nodes.get(&node).copied().unwrap_or_default();
            let rest = add(all, counted(&self.rule, own), -1.0);
            p = drawn(add(rest, counted(&self.rule, left), 1.0), p, shrink);
        }
        let cam = drawn(left, shifted(p, self.rule.leaf(&group.leaf)), self.rule.shrink_genus);
        Prior { cam, weak: self.prior_weak(group, without) }
    }

    fn prior_weak(&self, group: &Group, without: Without) -> f64 {
        let own = group.weak.iter().fold((0.0, 0.0), |(n, sum), p| (n + 1.0, sum + p));
        let left = match without {
            Without::Nothing => own,
            Without::Species(_, Some(p)) => add(own, (1.0, p), -1.0),
            Without::Species(_, None) => own,
            Without::Genus => (0.0, 0.0),
        };
        let all = add(add(self.weak, own, -1.0), left, 1.0);
        let over_all = drawn(all, self.rule.weak_share, self.rule.weak_shrink);
        drawn(left, over_all, self.rule.weak_shrink)
    }

    /// How many genera with evidence share the narrowest group that holds another one than this,
    /// and which group that is: 3 the subtribe, 2 the tribe, 1 the subfamily, 0 the family.
    #[must_use]
    pub fn nearest(&self, genus: usize) -> (usize, usize) {
        let Some(group) = self.groups.get(genus) else { return (0, 0) };
        for (depth, node) in path(group).into_iter().enumerate().rev() {
            if depth > 0 && group.place.get(depth - 1).is_none_or(String::is_empty) {
                continue;
            }
            let others = self
                .groups
                .iter()
                .enumerate()
                .filter(|(i, g)| *i != genus && !g.cam.is_empty() && path(g).contains(&node))
                .count();
            if others > 0 || depth == 0 {
                return (depth, others);
            }
        }
        (0, 0)
    }
}

/// Weight and sum of the species of one genus, with the statement on it.
fn of_group(rule: &Rule, group: &Group) -> Sum {
    let sum = group.cam.iter().fold((0.0, 0.0), |(n, sum), p| (n + 1.0, sum + p));
    group.statement.map_or(sum, |p| add(sum, (rule.genus_statement, rule.genus_statement * p), 1.0))
}

/// What a genus adds to the groups above: species of one genus are alike, so the tenth tells less
/// than the first.
fn counted(rule: &Rule, (n, sum): Sum) -> Sum {
    if n <= 0.0 {
        return (0.0, 0.0);
    }
    let factor = (1.0 + rule.shrink_genus) / (n + rule.shrink_genus);
    (n * factor, sum * factor)
}

fn add(a: Sum, b: Sum, sign: f64) -> Sum {
    (a.0 + sign * b.0, a.1 + sign * b.1)
}

fn drawn((n, sum): Sum, towards: f64, weight: f64) -> f64 {
    ((sum.max(0.0) + weight * towards) / (n.max(0.0) + weight)).clamp(LEAST, 1.0 - LEAST)
}

/// The family, the subfamily, the tribe and the subtribe of a genus, as keys.
fn path(group: &Group) -> [Vec<String>; 4] {
    [0, 1, 2, 3].map(|depth| group.place.iter().take(depth).cloned().collect())
}

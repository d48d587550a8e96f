//! The one rule that says how a taxon fixes carbon: P(C3), P(weak or facultative CAM) and P(CAM)
//! from its own values, from its relatives and from its leaf.
//!
//! 1. Each kind of evidence has a probability under each pathway. Isotope ratios follow one normal
//!    curve a pathway, with a small share of strays; several isotope values of a species count as
//!    one (the mean of their logarithms), so that two works that disagree leave it open instead of
//!    being averaged. Acidity and statements count by how often such a work is right.
//! 2. Before its own evidence a species stands as its relatives and its leaf let expect
//!    (`pathway_relatives.rs`).
//! 3. Both multiply. A pathway is named from `call_least` on.
//!
//! The numbers are rows of `data/pathway.csv`. The build computes every answer; the same code leaves
//! genera and species out for `cargo xtask accuracy traits`, and `cargo xtask calibrate pathway`
//! fits what the table calls calibrated.

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

/// What a work says of a whole genus.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Statement {
    /// C3.
    C3,
    /// CAM.
    Cam,
    /// It has species with CAM.
    SomeCam,
    /// It has species of both kinds.
    Variable,
}

impl Statement {
    /// Every value, in order.
    pub const ALL: [Self; 4] = [Self::C3, Self::Cam, Self::SomeCam, Self::Variable];
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

            /// The number of a key; `None` if there is no such key.
            #[must_use]
            pub fn number(&self, key: &str) -> Option<f64> {
                match key {
                    $(stringify!($field) => Some(self.$field),)+
                    _ => None,
                }
            }

            /// The rule with another number for this key; unchanged if there is no such key.
            #[must_use]
            pub fn with(mut self, key: &str, number: f64) -> Self {
                match key {
                    $(stringify!($field) => self.$field = number,)+
                    _ => {}
                }
                self
            }
        }
    };
}

rule! {
    d13c_c3 d13c_c3_spread d13c_weak d13c_weak_spread d13c_cam d13c_cam_spread d13c_stray
    acid_rise_c3 acid_rise_weak acid_rise_cam says_gas_exchange says_acidity says_words
    weak_share weak_shrink cam_share odd_share shrink_tribe shrink_subtribe shrink_genus_uniform
    shrink_genus_variable leaf_thin leaf_intermediate leaf_thick leaf_terete thickness_slope
    thickness_shrink genus_statement genus_statement_sure call_least certain
}

/// The span over which a stray isotope value may fall, ‰: that of land plants.
const STRAY_SPAN: f64 = 32.0;
fn normal(x: f64, mean: f64, spread: f64) -> f64 {
    let z = (x - mean) / spread;
    (-0.5 * z * z).exp() / (spread * std::f64::consts::TAU.sqrt())
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

    /// How likely a species is CAM whose genus has this share. A few (`odd_share`) do not follow
    /// their genus: CAM arose or was lost in them alone. Of those either is as likely.
    #[must_use]
    pub fn of_share(&self, share: f64) -> f64 {
        (1.0 - self.odd_share) * share + 0.5 * self.odd_share
    }

    /// The shift of the log odds of CAM for a genus with this word for its leaf.
    #[must_use]
    pub fn leaf(&self, word: &str) -> f64 {
        match word {
            "thin" => self.leaf_thin,
            "intermediate" => self.leaf_intermediate,
            "thick" => self.leaf_thick,
            "terete" => self.leaf_terete,
            _ => 0.0,
        }
    }

    /// The logarithm of the probability that a work says this of a genus in which species are CAM
    /// with probability `p`, as if it had looked at `genus_statement` species.
    #[must_use]
    pub fn stated_ln(&self, statement: Statement, p: f64) -> f64 {
        let (n, sure) = (self.genus_statement, self.genus_statement_sure);
        let of_share = |share: f64| n * (share * p.ln() + (1.0 - share) * (1.0 - p).ln());
        match statement {
            Statement::C3 => of_share(1.0 - sure),
            Statement::Cam => of_share(sure),
            Statement::Variable => of_share(0.5),
            // At least one of those species is CAM; how many is not said.
            Statement::SomeCam => {
                let none = (1.0 - p).powf(n);
                (sure * (1.0 - none) + (1.0 - sure) * none).ln()
            }
        }
    }

    /// Prior shares and the likelihood of own evidence, multiplied.
    #[must_use]
    pub fn shares(&self, prior: Prior, likelihood: [f64; 3]) -> Shares {
        let cam = prior.cam;
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

    /// The pathway to name of a species. Relatives never overrule what it was found to be: where its
    /// own evidence is sure of one side and all together name the other, none is named. Nor do they
    /// settle isotope values of which one is surely CAM and another surely not.
    #[must_use]
    pub fn call_species(&self, shares: Shares, evidence: &[Evidence]) -> Option<Kind> {
        let (sure, sure_not) = (self.call_least, 1.0 - self.call_least);
        let own = self.own_cam(self.likelihood(evidence));
        let isotopes: Vec<f64> = evidence
            .iter()
            .filter(|e| matches!(e, Evidence::D13c(..)))
            .map(|e| self.own_cam(self.likelihood(&[*e])))
            .collect();
        let disputed =
            isotopes.iter().any(|p| *p >= sure) && isotopes.iter().any(|p| *p <= sure_not);
        let (for_cam, for_rest) =
            if disputed { (own >= sure, own <= sure_not) } else { (own > sure_not, own < sure) };
        self.call(shares).filter(|kind| if *kind == Kind::Cam { for_cam } else { for_rest })
    }

    /// The pathway to name of a genus of which `cam` of `known` species are CAM. Where they are of
    /// both kinds, one is named only where the other is rare enough to be left out of advice; where
    /// they are of one kind, relatives never name the other.
    #[must_use]
    pub fn call_genus(&self, shares: Shares, cam: usize, known: usize) -> Option<Kind> {
        let of_both_kinds = (1..known).contains(&cam);
        if of_both_kinds && shares.cam.max(1.0 - shares.cam) < self.certain {
            return None;
        }
        let (all, none) = (known > 0 && cam == known, known > 0 && cam == 0);
        self.call(shares).filter(|kind| if *kind == Kind::Cam { !none } else { !all })
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

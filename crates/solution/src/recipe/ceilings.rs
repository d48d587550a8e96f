//! Hard ceilings: as rows of the programme, and which of them keeps a target from being met.

use super::answer::Blocking;
use super::case::Case;
use super::programme::{Linear, salts, solve, tangent};
use super::request::Ceilings;
use guardcell_error::{Code, Error};
use guardcell_reference::Solute;
use guardcell_units::atomic_weight::Element;
use guardcell_units::quantity::in_mmol_per_l;

/// One ceiling with its limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Ceiling {
    Ec25(f64),
    UreaShare(f64),
    AmmoniacalShare(f64),
    Sodium(f64),
    Chloride(f64),
}

impl Ceiling {
    pub(super) fn all(c: &Ceilings) -> Vec<Self> {
        [
            c.ec25_us_cm.map(Self::Ec25),
            c.urea_n_percent.map(Self::UreaShare),
            c.ammoniacal_n_percent.map(Self::AmmoniacalShare),
            c.na_mg_l.map(Self::Sodium),
            c.cl_mg_l.map(Self::Chloride),
        ]
        .into_iter()
        .flatten()
        .collect()
    }

    const fn limit(self) -> f64 {
        match self {
            Self::Ec25(l)
            | Self::UreaShare(l)
            | Self::AmmoniacalShare(l)
            | Self::Sodium(l)
            | Self::Chloride(l) => l,
        }
    }

    const fn field(self) -> &'static str {
        match self {
            Self::Ec25(_) => "ec25_us_cm",
            Self::UreaShare(_) => "urea_n_percent",
            Self::AmmoniacalShare(_) => "ammoniacal_n_percent",
            Self::Sodium(_) => "na_mg_l",
            Self::Chloride(_) => "cl_mg_l",
        }
    }

    const fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Ec25(_) => ("EC (25 °C)", "µS/cm"),
            Self::UreaShare(_) => ("urea share of the nitrogen", "%"),
            Self::AmmoniacalShare(_) => ("ammoniacal share of the nitrogen", "%"),
            Self::Sodium(_) => ("sodium", "mg/L"),
            Self::Chloride(_) => ("chloride", "mg/L"),
        }
    }

    /// The figure that the ceiling limits, at these amounts.
    fn figure(self, case: &Case<'_>, x: &[f64]) -> Result<f64, Error> {
        let share = |form: Linear| {
            let all = nitrogen(case, |n| n.iter().sum()).at(x);
            if all > 0.0 { 100.0 * form.at(x) / all } else { 0.0 }
        };
        Ok(match self {
            Self::Ec25(_) => case.ec25(&case.most, x)?,
            Self::UreaShare(_) => share(nitrogen(case, |n| n[2])),
            Self::AmmoniacalShare(_) => share(nitrogen(case, |n| n[1])),
            Self::Sodium(_) => salts(case, Solute::Na).at(x),
            Self::Chloride(_) => salts(case, Solute::Cl).at(x),
        })
    }
}

/// A part of the nitrogen (nitrate, ammoniacal, urea, other) of products and water, mg/L.
fn nitrogen(case: &Case<'_>, part: fn(&[f64; 4]) -> f64) -> Linear {
    let of = case
        .products
        .iter()
        .map(|p| {
            let a = p.analysis();
            part(&[a.nitrate_n, a.ammoniacal_n, a.urea_n, a.other_n])
        })
        .collect();
    let w = case.water.composition();
    let n = |s: Solute| in_mmol_per_l(w[s]) * Element::N.g_per_mol();
    Linear { of, constant: part(&[n(Solute::No3), n(Solute::Nh4), 0.0, 0.0]) }
}

/// A ceiling as `row(x) ≤ 0` near `x`.
pub(super) fn row(case: &Case<'_>, ceiling: &Ceiling, x: &[f64]) -> Result<Linear, Error> {
    let under = |mut l: Linear, limit: f64| {
        l.constant -= limit;
        l
    };
    let share = |form: Linear, limit: f64| {
        let all = nitrogen(case, |n| n.iter().sum());
        Linear {
            of: form.of.iter().zip(&all.of).map(|(f, a)| f - limit / 100.0 * a).collect(),
            constant: form.constant - limit / 100.0 * all.constant,
        }
    };
    Ok(match *ceiling {
        Ceiling::Ec25(l) => under(tangent(case, &case.most, x)?, l),
        Ceiling::UreaShare(l) => share(nitrogen(case, |n| n[2]), l),
        Ceiling::AmmoniacalShare(l) => share(nitrogen(case, |n| n[1]), l),
        Ceiling::Sodium(l) => under(salts(case, Solute::Na), l),
        Ceiling::Chloride(l) => under(salts(case, Solute::Cl), l),
    })
}

/// Refuses a water that is over a ceiling before any feed.
pub(super) fn water_fits(case: &Case<'_>, ceilings: &[Ceiling]) -> Result<(), Error> {
    let nothing = vec![0.0; case.products.len()];
    for c in ceilings {
        if matches!(c, Ceiling::UreaShare(_) | Ceiling::AmmoniacalShare(_)) {
            continue; // the feed can dilute a share
        }
        let has = c.figure(case, &nothing)?;
        if has > c.limit() {
            let (what, unit) = c.words();
            return Err(Error::new(
                Code::Unreachable,
                format!(
                    "the water alone has a {what} of {has:.1} {unit}, {:.1} over the ceiling of {}",
                    has - c.limit(),
                    c.limit()
                ),
                "blend the water with rain or reverse-osmosis water, or raise the ceiling",
            )
            .at(format!("/ceilings/{}", c.field())));
        }
    }
    Ok(())
}

/// The ceilings that keep the targets from being met: those over which the recipe without any
/// ceiling goes, and of these the ones that block on their own (all, where none does).
pub(super) fn blocking(
    case: &Case<'_>,
    ceilings: &[Ceiling],
    met: &dyn Fn(&[f64]) -> Result<bool, Error>,
) -> Result<Vec<Blocking>, Error> {
    let free = solve(case, &[])?;
    let mut over = Vec::new();
    for c in ceilings {
        let needed = c.figure(case, &free)?;
        if needed > c.limit() * (1.0 + 1e-6) + 1e-9 {
            over.push((*c, needed));
        }
    }
    let mut alone = Vec::new();
    for (c, needed) in &over {
        if !met(&solve(case, &[*c])?)? {
            alone.push((*c, *needed));
        }
    }
    let list = if alone.is_empty() { over } else { alone };
    Ok(list
        .into_iter()
        .map(|(c, needed)| {
            let (what, unit) = c.words();
            let limit = c.limit();
            Blocking {
                ceiling: c.field().to_owned(),
                limit,
                needed,
                over: needed - limit,
                message: format!(
                    "The targets need a {what} of {needed:.1} {unit}; the ceiling is {limit}, \
                     {:.1} {unit} less.",
                    needed - limit
                ),
            }
        })
        .collect())
}

//! Hard ceilings as figures of a mixture and as rows of the programme.

use super::case::Case;
use super::linear::Linear;
use super::request::{CeilingName, Ceilings};
use guardcell_error::{Code, Error};
use guardcell_reference::Solute;
use guardcell_units::round::significant;

/// One ceiling with its limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Ceiling {
    pub(super) name: CeilingName,
    pub(super) limit: f64,
}

impl Ceiling {
    pub(super) fn all(c: &Ceilings) -> Vec<Self> {
        [
            (CeilingName::Ec25UsCm, c.ec25_us_cm),
            (CeilingName::UreaNPercent, c.urea_n_percent),
            (CeilingName::AmmoniacalNPercent, c.ammoniacal_n_percent),
            (CeilingName::NaMgL, c.na_mg_l),
            (CeilingName::ClMgL, c.cl_mg_l),
        ]
        .into_iter()
        .filter_map(|(name, limit)| Some(Self { name, limit: limit? }))
        .collect()
    }

    /// What it limits, and the unit.
    pub(super) const fn words(self) -> (&'static str, &'static str) {
        match self.name {
            CeilingName::Ec25UsCm => ("EC (25 °C)", "µS/cm"),
            CeilingName::UreaNPercent => ("urea share of the nitrogen", "%"),
            CeilingName::AmmoniacalNPercent => ("ammoniacal share of the nitrogen", "%"),
            CeilingName::NaMgL => ("sodium", "mg/L"),
            CeilingName::ClMgL => ("chloride", "mg/L"),
        }
    }

    /// The part of the nitrogen that a ceiling on a share limits.
    const fn form(self) -> Option<fn(&[f64; 4]) -> f64> {
        match self.name {
            CeilingName::UreaNPercent => Some(|n| n[2]),
            CeilingName::AmmoniacalNPercent => Some(|n| n[1]),
            CeilingName::Ec25UsCm | CeilingName::NaMgL | CeilingName::ClMgL => None,
        }
    }

    /// The figure that the ceiling limits, at these amounts.
    pub(super) fn figure(self, case: &Case<'_>, x: &[f64]) -> Result<f64, Error> {
        if let Some(form) = self.form() {
            let all = Linear::nitrogen(case, |n| n.iter().sum()).at(x);
            let part = Linear::nitrogen(case, form).at(x);
            return Ok(if all > 0.0 { 100.0 * part / all } else { 0.0 });
        }
        match self.name {
            CeilingName::NaMgL => Ok(Linear::salt(case, Solute::Na).at(x)),
            CeilingName::ClMgL => Ok(Linear::salt(case, Solute::Cl).at(x)),
            _ => case.ec25(&case.most, x),
        }
    }

    /// The ceiling as `row(x) ≤ 0` near `x`.
    pub(super) fn row(self, case: &Case<'_>, x: &[f64]) -> Result<Linear, Error> {
        if let Some(form) = self.form() {
            let all = Linear::nitrogen(case, |n| n.iter().sum());
            let part = Linear::nitrogen(case, form);
            let share = self.limit / 100.0;
            return Ok(Linear {
                of: part.of.iter().zip(&all.of).map(|(f, a)| f - share * a).collect(),
                constant: part.constant - share * all.constant,
            });
        }
        let mut l = match self.name {
            CeilingName::NaMgL => Linear::salt(case, Solute::Na),
            CeilingName::ClMgL => Linear::salt(case, Solute::Cl),
            _ => Linear::tangent(case, &case.most, x)?,
        };
        l.constant -= self.limit;
        Ok(l)
    }

    /// The lowest figure that any amounts reach: the water alone or, for a share of its nitrogen,
    /// the product with the lowest share.
    fn lowest(self, case: &Case<'_>) -> Result<f64, Error> {
        let nothing = vec![0.0; case.products.len()];
        let Some(form) = self.form() else { return self.figure(case, &nothing) };
        let (all, part) =
            (Linear::nitrogen(case, |n| n.iter().sum()), Linear::nitrogen(case, form));
        if all.constant <= 0.0 {
            return Ok(0.0); // without feed there is no nitrogen to share
        }
        Ok(part
            .of
            .iter()
            .zip(&all.of)
            .chain([(&part.constant, &all.constant)])
            .filter(|(_, all)| **all > 0.0)
            .map(|(part, all)| 100.0 * part / all)
            .reduce(f64::min)
            .unwrap_or(0.0))
    }
}

/// Refuses ceilings that no amounts meet: those that the water alone is over, and shares of the
/// nitrogen below those of water and products.
pub(super) fn reachable(case: &Case<'_>, ceilings: &[Ceiling]) -> Result<(), Error> {
    for c in ceilings {
        let lowest = c.lowest(case)?;
        if lowest <= c.limit {
            continue;
        }
        let (what, unit) = c.words();
        let (whose, hint) = if c.form().is_some() {
            (
                "every product and the water have",
                "add a product with less of it, or raise the ceiling",
            )
        } else {
            (
                "the water alone has",
                "blend the water with rain or reverse-osmosis water, or raise the ceiling",
            )
        };
        let least = if c.form().is_some() { "at least " } else { "" };
        return Err(Error::new(
            Code::Unreachable,
            format!(
                "{whose} a {what} of {least}{lowest:.1} {unit}, {:.1} over the ceiling of {}",
                lowest - c.limit,
                significant(c.limit, 6)
            ),
            hint,
        )
        .at(format!("/ceilings/{}", c.name.field())));
    }
    Ok(())
}

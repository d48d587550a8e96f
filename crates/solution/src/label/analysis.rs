//! The guaranteed analysis as amounts of elements in one unit of product, checked.

use super::guaranteed::Guaranteed;
use super::product_label::{Form, Label, PercentOf};
use guardcell_call::{Bound, Bounded, Limited};
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::solution as parameter;
use guardcell_units::atomic_weight::Element;
use guardcell_units::basis::{
    Basis, Ca, CaO, K, K2O, Mg, MgO, Na, Na2O, Of, P, P2O5, S, SO3, Si, SiO2,
};

/// The elements of a profile, in the order they are printed.
pub(crate) const ELEMENTS: [Element; 16] = [
    Element::N,
    Element::P,
    Element::K,
    Element::Ca,
    Element::Mg,
    Element::S,
    Element::Na,
    Element::Cl,
    Element::B,
    Element::Co,
    Element::Cu,
    Element::Fe,
    Element::Mn,
    Element::Mo,
    Element::Zn,
    Element::Si,
];

/// The index of `element` in [`ELEMENTS`].
pub(crate) fn element_index(element: Element) -> Option<usize> {
    ELEMENTS.iter().position(|e| *e == element)
}

/// The key of an element on the wire, such as `ca`.
pub(crate) fn element_key(element: Element) -> String {
    // The variants are the chemical symbols.
    format!("{element:?}").to_lowercase()
}

/// What one unit of product holds (1 g for percentages of mass, 1 mL for percentages of volume).
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Analysis {
    /// mg of each of [`ELEMENTS`] in one unit.
    pub(crate) mg: [f64; 16],
    /// Whether the label states the element at all.
    pub(crate) stated: [bool; 16],
    /// mg of nitrate N in one unit.
    pub(crate) nitrate_n: f64,
    /// mg of ammoniacal N in one unit.
    pub(crate) ammoniacal_n: f64,
    /// mg of urea N in one unit.
    pub(crate) urea_n: f64,
    /// mg of N in other or unstated forms in one unit.
    pub(crate) other_n: f64,
    /// Whether the label splits its nitrogen into forms.
    pub(crate) forms_stated: bool,
}

impl Analysis {
    /// Adds what so many units of another product hold.
    pub(crate) fn add(&mut self, other: &Self, units: f64) {
        for (mg, more) in self.mg.iter_mut().zip(other.mg) {
            *mg += more * units;
        }
        for (stated, too) in self.stated.iter_mut().zip(other.stated) {
            *stated |= too;
        }
        self.nitrate_n += other.nitrate_n * units;
        self.ammoniacal_n += other.ammoniacal_n * units;
        self.urea_n += other.urea_n * units;
        self.other_n += other.other_n * units;
        self.forms_stated &= other.forms_stated;
    }

    /// mg of one element in one unit of product.
    pub(crate) fn of_element(&self, element: Element) -> f64 {
        element_index(element).and_then(|i| self.mg.get(i)).copied().unwrap_or(0.0)
    }

    /// Whether the label states the element.
    pub(crate) fn is_stated(&self, element: Element) -> bool {
        element_index(element).and_then(|i| self.stated.get(i)).copied().unwrap_or(false)
    }

    pub(crate) fn of(label: &Label) -> Result<Self, Error> {
        label.check_bounds()?;
        if label.name.trim().is_empty() {
            return Err(Error::new(
                Code::Missing,
                "the product has no name",
                "give the name printed on the label",
            )
            .at("/name"));
        }
        for (i, material) in label.derived_from.iter().enumerate() {
            material.check(&Bound::text(0, 200), &format!("/derived_from/{i}"))?;
        }
        form(label)?;
        let g = &label.guaranteed;
        g.check_bounds().map_err(|e| e.within("/guaranteed"))?;
        let forms =
            [g.nitrate_n_percent, g.ammoniacal_n_percent, g.urea_n_percent, g.other_n_percent];
        let (total_n, nitrogen) = nitrogen(g.n_percent, forms)?;
        let [nitrate_n, ammoniacal_n, urea_n, other_n] = nitrogen.map(|p| p * 10.0);
        let (mg, stated) = elements(g, total_n)?;
        let analysis = Self {
            mg,
            stated,
            nitrate_n,
            ammoniacal_n,
            urea_n,
            other_n,
            forms_stated: forms.iter().any(Option::is_some),
        };
        let limit = match label.percent_of {
            PercentOf::Mass => 100.0,
            // 100 g in 100 mL is not a limit for a heavy liquid: its density is.
            PercentOf::Volume => 100.0 * label.density_kg_l.unwrap_or(2.0),
        };
        analysis.fits(limit)?;
        Ok(analysis)
    }

    /// Refuses an analysis whose constituents weigh more than the product. The lightest forms
    /// are counted (N as urea, NH4 or NO3; P as PO4; S as SO4; the rest as elements), so that no
    /// label that can exist is refused.
    fn fits(&self, limit: f64) -> Result<(), Error> {
        if self.stated.iter().all(|s| !s) {
            return Err(Error::new(
                Code::Missing,
                "the guaranteed analysis names no nutrient",
                "give at least one figure, such as n_percent = 15",
            )
            .at("/guaranteed"));
        }
        let n = Element::N.g_per_mol();
        let (h, o, c) = (Element::H.g_per_mol(), Element::O.g_per_mol(), Element::C.g_per_mol());
        let nitrogen = self.nitrate_n * (n + 3.0 * o) / n
            + self.ammoniacal_n * (n + 4.0 * h) / n
            + self.urea_n * (c + o + 2.0 * n + 4.0 * h) / (2.0 * n)
            + self.other_n;
        let other: f64 = ELEMENTS
            .iter()
            .zip(self.mg)
            .map(|(e, mg)| match e {
                Element::N => 0.0,
                Element::P => mg * (Element::P.g_per_mol() + 4.0 * o) / Element::P.g_per_mol(),
                Element::S => {
                    // Sulfur is the element in some products: count it as such.
                    mg
                }
                _ => mg,
            })
            .sum();
        let total = (nitrogen + other) / 10.0;
        if total > limit * 1.001 {
            return Err(Error::new(
                Code::Conflict,
                format!(
                    "the nutrients with the oxygen and hydrogen they carry come to {total:.1} % of \
                     the product, more than {limit:.0} %"
                ),
                "check each figure and its basis (oxide or element) against the label",
            )
            .at("/guaranteed"));
        }
        Ok(())
    }
}

/// Figures that do not go with the form.
fn form(label: &Label) -> Result<(), Error> {
    if label.form == Form::Powder && label.percent_of == PercentOf::Volume {
        return Err(Error::new(
            Code::Conflict,
            "percentages of volume are stated for a powder",
            "set form = \"liquid\", or percent_of = \"mass\"",
        )
        .at("/percent_of"));
    }
    if label.form == Form::Powder && label.density_kg_l.is_some() {
        return Err(Error::new(
            Code::Conflict,
            "a liquid's density is stated for a powder",
            "give bulk_density_kg_l for a powder, or set form = \"liquid\"",
        )
        .at("/density_kg_l"));
    }
    Ok(())
}

/// mg of each element in one unit of product, and which of them the label states.
fn elements(g: &Guaranteed, total_n: Option<f64>) -> Result<([f64; 16], [bool; 16]), Error> {
    let percent = |element: Element| -> Result<Option<f64>, Error> {
        Ok(match element {
            Element::N => total_n,
            Element::P => {
                either::<P, P2O5>(("p_percent", g.p_percent), ("p2o5_percent", g.p2o5_percent))?
            }
            Element::K => {
                either::<K, K2O>(("k_percent", g.k_percent), ("k2o_percent", g.k2o_percent))?
            }
            Element::Ca => {
                either::<Ca, CaO>(("ca_percent", g.ca_percent), ("cao_percent", g.cao_percent))?
            }
            Element::Mg => {
                either::<Mg, MgO>(("mg_percent", g.mg_percent), ("mgo_percent", g.mgo_percent))?
            }
            Element::S => {
                either::<S, SO3>(("s_percent", g.s_percent), ("so3_percent", g.so3_percent))?
            }
            Element::Na => {
                either::<Na, Na2O>(("na_percent", g.na_percent), ("na2o_percent", g.na2o_percent))?
            }
            Element::Si => {
                either::<Si, SiO2>(("si_percent", g.si_percent), ("sio2_percent", g.sio2_percent))?
            }
            Element::Cl => g.cl_percent,
            Element::B => g.b_percent,
            Element::Co => g.co_percent,
            Element::Cu => g.cu_percent,
            Element::Fe => g.fe_percent,
            Element::Mn => g.mn_percent,
            Element::Mo => g.mo_percent,
            Element::Zn => g.zn_percent,
            _ => None,
        })
    };
    let mut mg = [0.0; 16];
    let mut stated = [false; 16];
    for ((element, mg), stated) in ELEMENTS.into_iter().zip(&mut mg).zip(&mut stated) {
        if let Some(p) = percent(element)? {
            *mg = p * 10.0; // 1 % of 1 g, or of 1 mL as g/100 mL, is 10 mg
            *stated = true;
        }
    }
    Ok((mg, stated))
}

/// The total and the four forms (nitrate, ammoniacal, urea, other) of nitrogen in percent.
fn nitrogen(total: Option<f64>, forms: [Option<f64>; 4]) -> Result<(Option<f64>, [f64; 4]), Error> {
    let sum: f64 = forms.iter().flatten().sum();
    let [nitrate, ammoniacal, urea, other] = forms.map(|f| f.unwrap_or(0.0));
    match total {
        Some(n) => {
            // Labels round each form to 0.1 %: four forms may add up to 0.2 % too much.
            if sum > n + parameter::NITROGEN_FORMS_EXCESS.percent() {
                return Err(Error::new(
                    Code::Conflict,
                    format!("the forms of nitrogen add up to {sum:.2} %, total nitrogen is {n} %"),
                    "check the parts against the label: they cannot exceed the total",
                )
                .at("/guaranteed/n_percent"));
            }
            let scale = if sum > n && sum > 0.0 { n / sum } else { 1.0 };
            let rest = (n - sum).max(0.0);
            Ok((Some(n), [nitrate * scale, ammoniacal * scale, urea * scale, other * scale + rest]))
        }
        None if forms.iter().any(Option::is_some) => {
            Ok((Some(sum), [nitrate, ammoniacal, urea, other]))
        }
        None => Ok((None, [0.0; 4])),
    }
}

/// The elemental percentage from either basis; both given must agree.
fn either<E: Basis, O: Basis<Analyte = E::Analyte>>(
    (element_name, element): (&str, Option<f64>),
    (oxide_name, oxide): (&str, Option<f64>),
) -> Result<Option<f64>, Error> {
    let step = parameter::LABEL_BASIS_STEP.percent();
    let tolerance = parameter::LABEL_BASIS_TOLERANCE.percent() / 100.0;
    let converted = oxide.map(|x| Of::<O>::from_mg_per_l(x).to::<E>().mg_per_l());
    match (element, converted) {
        (Some(e), Some(c)) if (e - c).abs() > step + tolerance * e.max(c) => Err(Error::new(
            Code::Conflict,
            format!(
                "{element_name} {e} % and {oxide_name} (which is {c:.2} % {}) differ",
                E::SYMBOL
            ),
            "give one of them, or two figures that agree",
        )
        .at(format!("/guaranteed/{element_name}"))),
        (Some(e), _) => Ok(Some(e)),
        (None, c) => Ok(c),
    }
}

//! The guaranteed analysis as amounts of elements in one unit of product, checked.

use super::{Form, Label, PercentOf};
use crate::error::{Place, SolutionError};
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

/// Where `element` stands in [`ELEMENTS`].
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
    /// mg of one element in one unit of product.
    pub(crate) fn of_element(&self, element: Element) -> f64 {
        element_index(element).and_then(|i| self.mg.get(i)).copied().unwrap_or(0.0)
    }

    /// Whether the label states the element.
    pub(crate) fn is_stated(&self, element: Element) -> bool {
        element_index(element).and_then(|i| self.stated.get(i)).copied().unwrap_or(false)
    }

    pub(crate) fn of(label: &Label) -> Result<Self, SolutionError> {
        let g = &label.guaranteed;
        if label.name.trim().is_empty() {
            return Err(SolutionError::missing(
                Place::pointer("/name"),
                "the product has no name",
                "Give the name printed on the label",
            ));
        }
        physical(label)?;
        let limit = if label.percent_of == PercentOf::Volume {
            // 100 g in 100 mL is no limit for a heavy liquid: its density is.
            100.0 * label.density_kg_l.unwrap_or(2.0)
        } else {
            100.0
        };
        let get = |name: &str, v: Option<f64>| percent(name, v, limit);
        let n = get("n_percent", g.n_percent)?;
        let forms = [
            get("nitrate_n_percent", g.nitrate_n_percent)?,
            get("ammoniacal_n_percent", g.ammoniacal_n_percent)?,
            get("urea_n_percent", g.urea_n_percent)?,
            get("other_n_percent", g.other_n_percent)?,
        ];
        let (total_n, nitrogen) = nitrogen(n, forms)?;
        let mut mg = [0.0; 16];
        let mut stated = [false; 16];
        let mut put = |element: Element, percent: Option<f64>| {
            if let (Some(i), Some(p)) = (element_index(element), percent) {
                mg[i] = p * 10.0; // 1 % of 1 g, or of 1 mL as g/100 mL, is 10 mg; i < 16
                stated[i] = true;
            }
        };
        put(Element::N, total_n);
        put(
            Element::P,
            either::<P, P2O5>(
                ("p_percent", get("p_percent", g.p_percent)?),
                ("p2o5_percent", get("p2o5_percent", g.p2o5_percent)?),
            )?,
        );
        put(
            Element::K,
            either::<K, K2O>(
                ("k_percent", get("k_percent", g.k_percent)?),
                ("k2o_percent", get("k2o_percent", g.k2o_percent)?),
            )?,
        );
        put(
            Element::Ca,
            either::<Ca, CaO>(
                ("ca_percent", get("ca_percent", g.ca_percent)?),
                ("cao_percent", get("cao_percent", g.cao_percent)?),
            )?,
        );
        put(
            Element::Mg,
            either::<Mg, MgO>(
                ("mg_percent", get("mg_percent", g.mg_percent)?),
                ("mgo_percent", get("mgo_percent", g.mgo_percent)?),
            )?,
        );
        put(
            Element::S,
            either::<S, SO3>(
                ("s_percent", get("s_percent", g.s_percent)?),
                ("so3_percent", get("so3_percent", g.so3_percent)?),
            )?,
        );
        put(
            Element::Na,
            either::<Na, Na2O>(
                ("na_percent", get("na_percent", g.na_percent)?),
                ("na2o_percent", get("na2o_percent", g.na2o_percent)?),
            )?,
        );
        put(
            Element::Si,
            either::<Si, SiO2>(
                ("si_percent", get("si_percent", g.si_percent)?),
                ("sio2_percent", get("sio2_percent", g.sio2_percent)?),
            )?,
        );
        put(Element::Cl, get("cl_percent", g.cl_percent)?);
        put(Element::B, get("b_percent", g.b_percent)?);
        put(Element::Co, get("co_percent", g.co_percent)?);
        put(Element::Cu, get("cu_percent", g.cu_percent)?);
        put(Element::Fe, get("fe_percent", g.fe_percent)?);
        put(Element::Mn, get("mn_percent", g.mn_percent)?);
        put(Element::Mo, get("mo_percent", g.mo_percent)?);
        put(Element::Zn, get("zn_percent", g.zn_percent)?);
        let [nitrate_n, ammoniacal_n, urea_n, other_n] = nitrogen.map(|p| p * 10.0);
        let analysis = Self {
            mg,
            stated,
            nitrate_n,
            ammoniacal_n,
            urea_n,
            other_n,
            forms_stated: forms.iter().any(Option::is_some),
        };
        analysis.fits(limit)?;
        Ok(analysis)
    }

    /// Refuses an analysis whose constituents weigh more than the product. The lightest forms
    /// are counted (N as urea, NH4 or NO3; P as PO4; S as SO4; the rest as elements), so that no
    /// label that can exist is refused.
    fn fits(&self, limit: f64) -> Result<(), SolutionError> {
        if self.stated.iter().all(|s| !s) {
            return Err(SolutionError::missing(
                Place::pointer("/guaranteed"),
                "the guaranteed analysis names no nutrient",
                "Give at least one figure, such as n_percent = 15",
            ));
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
                    // Sulfur may stand as the element in some products: count it as such.
                    mg
                }
                _ => mg,
            })
            .sum();
        let total = (nitrogen + other) / 10.0;
        if total > limit * 1.001 {
            return Err(SolutionError::value(
                Place::pointer("/guaranteed"),
                format!(
                    "the nutrients with the oxygen and hydrogen they carry come to {total:.1} % of \
                     the product, more than {limit:.0} %"
                ),
                "Check each figure and its basis (oxide or element) against the label",
            ));
        }
        Ok(())
    }
}

/// Density and other physical figures within what products have.
fn physical(label: &Label) -> Result<(), SolutionError> {
    let range = |name: &str, v: Option<f64>, low: f64, high: f64, unit: &str| match v {
        Some(x) if !(low..=high).contains(&x) => Err(SolutionError::value(
            Place::pointer(format!("/{name}")),
            format!("{name} is {x}"),
            format!("It should lie between {low} and {high} {unit}"),
        )),
        _ => Ok(()),
    };
    range("density_kg_l", label.density_kg_l, 0.8, 2.0, "kg/L")?;
    range("bulk_density_kg_l", label.bulk_density_kg_l, 0.2, 2.0, "kg/L")?;
    range("soluble_percent", label.soluble_percent, 0.1, 100.0, "%")?;
    if label.form == Form::Powder && label.percent_of == PercentOf::Volume {
        return Err(SolutionError::value(
            Place::pointer("/percent_of"),
            "percentages of volume are stated for a powder",
            "Set form = \"liquid\", or percent_of = \"mass\"",
        ));
    }
    if label.form == Form::Powder && label.density_kg_l.is_some() {
        return Err(SolutionError::value(
            Place::pointer("/density_kg_l"),
            "a liquid's density is stated for a powder",
            "For a powder give bulk_density_kg_l; for a liquid set form = \"liquid\"",
        ));
    }
    Ok(())
}

fn percent(name: &str, v: Option<f64>, limit: f64) -> Result<Option<f64>, SolutionError> {
    match v {
        Some(x) if !(x.is_finite() && (0.0..=limit).contains(&x)) => Err(SolutionError::value(
            Place::pointer(format!("/guaranteed/{name}")),
            format!("{name} is {x} %"),
            format!("A guaranteed figure lies between 0 and {limit:.0} %"),
        )),
        other => Ok(other),
    }
}

/// The total and the four forms (nitrate, ammoniacal, urea, other) of nitrogen in percent.
fn nitrogen(
    total: Option<f64>,
    forms: [Option<f64>; 4],
) -> Result<(Option<f64>, [f64; 4]), SolutionError> {
    let sum: f64 = forms.iter().flatten().sum();
    let [nitrate, ammoniacal, urea, other] = forms.map(|f| f.unwrap_or(0.0));
    match total {
        Some(n) => {
            // Labels round each form to 0.1 %: four forms may add up to 0.2 % too much.
            if sum > n + 0.21 {
                return Err(SolutionError::value(
                    Place::pointer("/guaranteed/n_percent"),
                    format!("the forms of nitrogen add up to {sum:.2} %, total nitrogen is {n} %"),
                    "The parts cannot exceed the total: check them against the label",
                ));
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
) -> Result<Option<f64>, SolutionError> {
    let converted = oxide.map(|x| Of::<O>::from_mg_per_l(x).to::<E>().mg_per_l());
    match (element, converted) {
        (Some(e), Some(c)) if (e - c).abs() > 0.05 + 0.03 * e.max(c) => Err(SolutionError::value(
            Place::pointer(format!("/guaranteed/{element_name}")),
            format!(
                "{element_name} {e} % and {oxide_name} (which is {c:.2} % {}) differ",
                E::SYMBOL
            ),
            "Give one of them, or two figures that agree",
        )),
        (Some(e), _) => Ok(Some(e)),
        (None, c) => Ok(c),
    }
}

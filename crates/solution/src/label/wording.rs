//! The wordings of labels: which figure a line of a guaranteed analysis states, and whether the
//! product is a powder or a liquid.

use super::product_label::Form;

/// What a line of the analysis states.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Line {
    /// A figure of [`Guaranteed`](super::guaranteed::Guaranteed), by its field.
    Figure(&'static str),
    /// Nitrogen in a further form: several lines add up.
    OtherNitrogen,
    /// A figure without its basis, with the wordings that state it.
    NoBasis(&'static str),
}

/// Words of a line in lower case and the figure they state; the first match counts.
const OXIDES_FIRST: &[(&[&str], &str)] = &[
    (&["(p2o5)", "phosphate", "pentoxide", "phosphoric acid"], "p2o5_percent"),
    (&["(k2o)", "potash", "potassium oxide"], "k2o_percent"),
];

/// The same after phosphorus and potassium, which need their basis.
const OXIDES: &[(&[&str], &str)] = &[
    (&["(cao)", "calcium oxide"], "cao_percent"),
    (&["(mgo)", "magnesium oxide"], "mgo_percent"),
    (&["(so3)", "trioxide"], "so3_percent"),
    (&["(na2o)", "sodium oxide"], "na2o_percent"),
    (&["(sio2)", "silica", "silicon dioxide"], "sio2_percent"),
];

/// Elements by name or symbol.
const ELEMENTS: &[(&[&str], &str)] = &[
    (&["(ca)", "calcium"], "ca_percent"),
    (&["(mg)", "magnesium"], "mg_percent"),
    (&["(s)", "sulfur", "sulphur"], "s_percent"),
    (&["(na)", "sodium"], "na_percent"),
    (&["(cl)", "chlori"], "cl_percent"),
    (&["(b)", "boron"], "b_percent"),
    (&["(co)", "cobalt"], "co_percent"),
    (&["(cu)", "copper"], "cu_percent"),
    (&["(fe)", "iron"], "fe_percent"),
    (&["(mn)", "manganese"], "mn_percent"),
    (&["(mo)", "molybdenum"], "mo_percent"),
    (&["(zn)", "zinc"], "zn_percent"),
    (&["(si)", "silicon"], "si_percent"),
];

/// Forms of nitrogen.
const NITROGEN: &[(&[&str], Line)] = &[
    (&["nitrate", "nitric"], Line::Figure("nitrate_n_percent")),
    (&["ammon"], Line::Figure("ammoniacal_n_percent")),
    (&["urea", "ureic"], Line::Figure("urea_n_percent")),
    (&["other", "organic", "soluble", "insoluble"], Line::OtherNitrogen),
];

/// Which figure a line in lower case states. Lines that repeat a part of an element in the form in
/// which it is present ("2.0% Water Soluble Magnesium", "0.05% Chelated Iron") state none.
pub(super) fn line(lower: &str) -> Option<Line> {
    let has = |words: &[&str]| words.iter().any(|w| lower.contains(w));
    let figure = |table: &[(&[&str], &'static str)]| {
        table.iter().find(|(words, _)| has(words)).map(|(_, field)| Line::Figure(field))
    };
    if has(&["nitrogen", "n as "]) {
        // A slow or controlled release is a claim about part of the nitrogen, not a form of it,
        // unless the line names a form.
        let form = NITROGEN.iter().find(|(words, _)| has(words)).map(|(_, line)| *line);
        return match form {
            Some(Line::OtherNitrogen) | None if has(&["slow", "controlled"]) => None,
            None => Some(Line::Figure("n_percent")),
            form => form,
        };
    }
    if let Some(found) = figure(OXIDES_FIRST) {
        return Some(found);
    }
    if has(&["phosphorus", "phosphorous"]) {
        return Some(if has(&["(p)"]) {
            Line::Figure("p_percent")
        } else {
            Line::NoBasis("Phosphorus (P) or Available Phosphate (P2O5)")
        });
    }
    if has(&["potassium"]) {
        return Some(if has(&["(k)"]) {
            Line::Figure("k_percent")
        } else {
            Line::NoBasis("Potassium (K) or Soluble Potash (K2O)")
        });
    }
    if has(&["water soluble m", "water-soluble m", "chelated"]) {
        return None;
    }
    figure(OXIDES).or_else(|| figure(ELEMENTS))
}

/// Whether a text in lower case says that the product is a powder or a liquid; `None` if it says
/// neither or both.
pub(super) fn form(lower: &str) -> Option<Form> {
    const POWDER: &[&str] = &[
        "powder",
        "crystal",
        "granul",
        "soluble fertilizer",
        "soluble fertiliser",
        "soluble salt",
    ];
    const LIQUID: &[&str] =
        &["liquid", "fluid ounce", "fl oz", "fl. oz", "shake well", "shake before"];
    let has = |words: &[&str]| words.iter().any(|w| lower.contains(w));
    match (has(POWDER), has(LIQUID)) {
        (true, false) => Some(Form::Powder),
        (false, true) => Some(Form::Liquid),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_says_its_form_or_not() {
        assert_eq!(form("water soluble fertilizer 20-20-20"), Some(Form::Powder));
        assert_eq!(form("liquid concentrate, shake well"), Some(Form::Liquid));
        assert_eq!(form("bloom 10-30-20"), None);
        assert_eq!(form("a powder that makes a liquid feed"), None);
    }

    #[test]
    fn release_claims_are_not_forms() {
        assert_eq!(line("6% slowly available nitrogen"), None);
        assert_eq!(line("2% slowly available urea nitrogen"), Some(Line::Figure("urea_n_percent")));
    }
}

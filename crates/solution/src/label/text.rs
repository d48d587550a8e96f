//! A label from the pasted text of its guaranteed analysis.
//!
//! Wordings: the uniform label of the United States (AAPFCO: total nitrogen with its parts,
//! available phosphate (P2O5), soluble potash (K2O), "derived from"), Regulation (EU) 2019/1009
//! (nitric, ammoniacal, ureic nitrogen; phosphorus pentoxide; potassium oxide; MgO, CaO, SO3), and
//! the elemental basis (phosphorus (P), potassium (K), % w/v).

use super::analysis::Analysis;
use super::check::empty;
use super::density::density;
use super::guaranteed::Guaranteed;
use super::number::parse_number;
use super::product_label::{Form, Label, PercentOf};
use super::wording::{self, Line};
use crate::document::place;
use guardcell_error::{Code, Error, excerpt};
use guardcell_reference::parameters::solution as parameter;

pub(super) fn parse(text: &str) -> Result<Label, Error> {
    let text = text.trim_start_matches('\u{feff}');
    if text.trim().is_empty() {
        return Err(empty());
    }
    let mut label = Label::new(name(text)?, Guaranteed::default());
    label.derived_from = derived_from(text);
    let bare_figures =
        text.lines().any(|l| l.contains('%') && !l.contains(|c: char| c.is_ascii_digit()));
    let mut in_materials = false;
    let mut outside_analysis = false;
    for (index, raw) in text.lines().enumerate() {
        let lower = raw.to_lowercase();
        in_materials |= lower.contains("derived from");
        in_materials &= !lower.trim().is_empty();
        outside_analysis |= lower.contains("non-plant food") || lower.contains("non plant food");
        product(&mut label, &lower);
        if in_materials || outside_analysis {
            continue;
        }
        if let Some(line) = wording::line(&lower)
            && let Some((column, value)) = figure(raw, bare_figures)
        {
            put(&mut label.guaranteed, line, value, raw).map_err(|e| {
                let column = if e.code() == Code::NoBasis { 1 } else { column };
                e.placed(place(index + 1, column))
            })?;
        }
    }
    // A density or percentages of volume have already said that it is a liquid.
    if label.form == Form::Powder {
        match wording::form(&text.to_lowercase()) {
            Some(form) => label.form = form,
            None => label.form_assumed = true,
        }
    }
    grade(&label, text)?;
    Analysis::of(&label)?;
    Ok(label)
}

/// What a line says of the product besides its analysis.
fn product(label: &mut Label, lower: &str) {
    if lower.contains("w/v") || lower.contains("g/100 ml") || lower.contains("m/v") {
        label.percent_of = PercentOf::Volume;
        label.form = Form::Liquid;
    }
    if let Some(d) = density(lower) {
        label.density_kg_l = Some(d);
        label.form = Form::Liquid;
    }
    if lower.contains("foliar") || lower.contains("leaves") {
        label.foliar = Some(!(lower.contains("not ") || lower.contains("do not")));
    }
}

/// Puts the figure of a line into the analysis.
fn put(g: &mut Guaranteed, line: Line, value: Option<f64>, raw: &str) -> Result<(), Error> {
    let shown = excerpt(raw.trim(), 60);
    let value = value.ok_or_else(|| {
        Error::new(
            Code::BadNumber,
            format!("the figure in {shown:?} cannot be read"),
            "write it as 15.5% or 15,5%",
        )
    })?;
    match line {
        Line::Figure(field) => match g.field_mut(field) {
            // The same figure again, in a summary or a second language.
            Some(Some(before)) if (*before - value).abs() < 1e-9 => {}
            Some(Some(before)) => {
                return Err(Error::new(
                    Code::Conflict,
                    format!("{shown:?} gives {value} %, an earlier line {before} %"),
                    "keep the line that the guaranteed analysis states",
                ));
            }
            Some(slot) => *slot = Some(value),
            None => {}
        },
        Line::OtherNitrogen => {
            g.other_n_percent = Some(g.other_n_percent.unwrap_or(0.0) + value);
        }
        Line::NoBasis(choices) => {
            return Err(Error::new(
                Code::NoBasis,
                format!("{shown:?} does not state its basis"),
                format!("write {choices}"),
            ));
        }
    }
    Ok(())
}

/// The first percentage of a line with its column; `None` in the pair where it cannot be read.
fn figure(line: &str, bare: bool) -> Option<(usize, Option<f64>)> {
    let chars: Vec<char> = line.chars().collect();
    let end = chars.iter().position(|c| *c == '%');
    let end = match end {
        Some(e) => e,
        None if bare => chars.len(),
        None => return None,
    };
    let head = chars.get(..end)?;
    let trimmed = head.iter().rposition(|c| !c.is_whitespace()).map_or(0, |i| i + 1);
    let start = head
        .get(..trimmed)?
        .iter()
        .rposition(|c| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '−')))
        .map_or(0, |i| i + 1);
    let token: String = head.get(start..trimmed)?.iter().collect();
    // Dotted leaders end in the figure: ".......15.5"
    let token = token.trim_start_matches('.');
    if !token.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    Some((start + 1, parse_number(&token.replace('−', "-"))))
}

/// The first line that is neither a heading nor a figure.
fn name(text: &str) -> Result<String, Error> {
    text.lines()
        .map(str::trim)
        .find(|l| {
            let lower = l.to_lowercase();
            !l.is_empty()
                && !l.contains('%')
                && !lower.contains("analysis")
                && !lower.contains("derived from")
                && wording::line(&lower).is_none()
        })
        .map(|l| l.trim_start_matches(['#', '*', ' ']).to_owned())
        .ok_or_else(|| {
            Error::new(
                Code::Missing,
                "the label has no name",
                "put the product's name on the first line, above the guaranteed analysis",
            )
            .placed(place(1, 1))
        })
}

/// The materials after "derived from", up to a blank line or a full stop at the end of a line.
fn derived_from(text: &str) -> Vec<String> {
    let lower = text.to_lowercase();
    let Some(start) = lower.find("derived from") else {
        return Vec::new();
    };
    // Lower-casing can change byte lengths; fall back to the lowered text where it did.
    let source = if lower.len() == text.len() { text } else { &lower };
    let Some(rest) = source.get(start + "derived from".len()..) else {
        return Vec::new();
    };
    let mut list = String::new();
    for line in rest.trim_start_matches([':', ' ']).lines() {
        if line.trim().is_empty() {
            break;
        }
        list.push(' ');
        list.push_str(line.trim());
        if line.trim_end().ends_with('.') {
            break;
        }
    }
    list.trim()
        .trim_end_matches('.')
        .replace(" and ", ", ")
        .replace(" & ", ", ")
        .split([',', ';'])
        .map(|s| s.trim().trim_start_matches("and ").to_owned())
        .filter(|s| !s.is_empty())
        .collect()
}

/// Compares a grade such as 15-5-15 in the text with the analysis.
fn grade(label: &Label, text: &str) -> Result<(), Error> {
    let Some((index, numbers)) = text
        .lines()
        .enumerate()
        .find_map(|(i, l)| l.split_whitespace().find_map(triple).map(|t| (i, t)))
    else {
        return Ok(());
    };
    let g = &label.guaranteed;
    let place = place(index + 1, 1);
    let [n, p, k] = numbers;
    if g.n_percent.is_none() && g.p2o5_percent.is_none() && g.p_percent.is_none() {
        return Err(Error::new(
            Code::NoBasis,
            format!("only the grade {n}-{p}-{k} is given"),
            "paste the guaranteed analysis too: a grade does not say whether its second and third \
             figures are oxides (P2O5, K2O) or elements (P, K)",
        )
        .placed(place));
    }
    let pairs = [
        (n, g.n_percent, "total nitrogen"),
        (p, g.p2o5_percent.or(g.p_percent), "phosphate or phosphorus"),
        (k, g.k2o_percent.or(g.k_percent), "potash or potassium"),
    ];
    for (in_grade, in_analysis, what) in pairs {
        if let Some(a) = in_analysis
            && (a - in_grade).abs() > parameter::LABEL_GRADE_TOLERANCE.percent()
        {
            return Err(Error::new(
                Code::Conflict,
                format!("the grade says {in_grade} and the analysis says {a} % {what}"),
                "check which of the two the label states",
            )
            .placed(place));
        }
    }
    Ok(())
}

/// `15-5-15` as numbers.
fn triple(token: &str) -> Option<[f64; 3]> {
    let t = token.trim_matches(|c: char| !c.is_ascii_digit());
    let mut parts = t.split(['-', '–']);
    let three =
        [parse_number(parts.next()?)?, parse_number(parts.next()?)?, parse_number(parts.next()?)?];
    parts.next().is_none().then_some(three)
}

#[cfg(test)]
mod tests {
    use super::*;

    const US: &str = "Example Bloom 10-30-20\n\nGUARANTEED ANALYSIS\nTotal Nitrogen (N).......10%\n\
        3.3% Ammoniacal Nitrogen\n5.9% Nitrate Nitrogen\n0.8% Urea Nitrogen\n\
        Available Phosphate (P2O5)....30%\nSoluble Potash (K2O)....20%\n\
        Magnesium (Mg).....0.50%\n0.50% Water Soluble Magnesium (Mg)\nIron (Fe)....0.1%\n0.1% Chelated Iron\n\
        Derived from: ammonium phosphate, potassium nitrate,\nurea and iron EDTA.\n";

    #[test]
    fn reads_the_statutory_wording() {
        let l = parse(US).unwrap();
        assert_eq!(l.name, "Example Bloom 10-30-20");
        assert_eq!(l.guaranteed.nitrate_n_percent, Some(5.9));
        assert_eq!(l.guaranteed.p2o5_percent, Some(30.0));
        assert_eq!(l.guaranteed.fe_percent, Some(0.1));
        assert_eq!(
            l.derived_from,
            ["ammonium phosphate", "potassium nitrate", "urea", "iron EDTA"]
        );
    }

    #[test]
    fn reads_the_european_wording_with_decimal_commas() {
        let l = parse(
            "Probe 12-12-17\nTotal nitrogen (N) 12,0 %\nnitric nitrogen 5,5 %\n\
             ammoniacal nitrogen 4,0 %\nureic nitrogen 2,5 %\n\
             Phosphorus pentoxide (P2O5) soluble in water 12 %\n\
             Potassium oxide (K2O) soluble in water 17 %\nMagnesium oxide (MgO) 2 %\n\
             Sulphur trioxide (SO3) 15 %\n",
        )
        .unwrap();
        assert_eq!(l.guaranteed.nitrate_n_percent, Some(5.5));
        assert_eq!(l.guaranteed.so3_percent, Some(15.0));
        assert_eq!(l.guaranteed.mgo_percent, Some(2.0));
    }

    #[test]
    fn refuses_phosphorus_without_a_basis_and_a_bare_grade() {
        let e = parse("X\nTotal nitrogen (N) 10%\nPhosphorus 5%\n").unwrap_err();
        assert_eq!(e.code(), Code::NoBasis, "{e}");
        assert!(e.to_string().starts_with("line 3"), "{e}");
        let e = parse("Some Feed 15-5-15\n").unwrap_err();
        assert!(e.to_string().contains("oxides"), "{e}");
    }

    #[test]
    fn the_form_is_read_or_marked_as_assumed() {
        let analysis = "Total nitrogen (N) 3%\n";
        let l = parse(&format!("Leaf Drop\nLiquid plant food\n{analysis}")).unwrap();
        assert_eq!((l.form, l.form_assumed), (Form::Liquid, false));
        let l = parse(&format!("Leaf Drop\n{analysis}")).unwrap();
        assert_eq!((l.form, l.form_assumed), (Form::Powder, true));
        let l = parse(&format!("Leaf Drop\nDensity 1.2\n{analysis}")).unwrap();
        assert_eq!((l.form, l.form_assumed), (Form::Liquid, false));
    }

    #[test]
    fn grade_and_analysis_must_agree() {
        assert!(parse("X 20-20-20\nTotal nitrogen (N) 12%\n").is_err());
    }
}

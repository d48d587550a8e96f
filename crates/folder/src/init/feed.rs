//! The label: figures typed from it. A file is taken as it is.

use crate::fault::answer;
use guardcell::Error;

/// A label (TOML) from `20-20-20` or `Leaf food 20-20-20`; the figures are % N, P2O5 and K2O, as
/// they are printed.
///
/// # Errors
///
/// What has no three figures, or figures that are no percentages.
///
/// ```
/// let text = guardcell_folder::init::feed("Leaf food 20-10-20")?;
/// let label = &guardcell_folder::labels("feed.toml", &text)?[0];
/// assert_eq!(label.guaranteed.k2o_percent, Some(20.0));
/// # Ok::<(), guardcell::Error>(())
/// ```
pub fn feed(text: &str) -> Result<String, Error> {
    let wrong = || {
        answer(
            "--feed",
            format!("{text:?} has no three figures of a label"),
            "write them like 20-20-20 (N-P-K as printed), or name the file of a label",
        )
    };
    let words: Vec<&str> = text.split_whitespace().collect();
    let (at, figures) = words
        .iter()
        .enumerate()
        .find_map(|(i, w)| three(w).map(|figures| (i, figures)))
        .ok_or_else(wrong)?;
    if figures.iter().any(|f| !(0.0..=100.0).contains(f)) || figures.iter().sum::<f64>() <= 0.0 {
        return Err(wrong());
    }
    let name: Vec<&str> =
        words.iter().enumerate().filter(|(i, _)| *i != at).map(|(_, w)| *w).collect();
    let grade = words.get(at).copied().unwrap_or_default();
    let name = if name.is_empty() {
        format!("Feed {grade}")
    } else {
        format!("{} {grade}", name.join(" "))
    };
    let [n, p, k] = figures;
    Ok(format!(
        "# The label of your feed. Write down all that it says: the more, the surer the meter reading\n\
         # and the residue. Nitrogen by its forms (nitrate_n_percent, ammoniacal_n_percent,\n\
         # urea_n_percent) and `derived_from` matter most.\n\
         name = {}\n\
         # derived_from = [\"potassium nitrate\", \"urea\", \"monoammonium phosphate\"]\n\
         # form = \"liquid\"       # and density_kg_l = 1.2, where it is a liquid\n\
         \n\
         [guaranteed]\n\
         n_percent = {n}\n\
         p2o5_percent = {p}\n\
         k2o_percent = {k}\n",
        quoted(&name)
    ))
}

fn three(word: &str) -> Option<[f64; 3]> {
    let parts: Vec<f64> = word
        .split(['-', '–', '/'])
        .map(|p| p.parse::<f64>().ok().filter(|v| v.is_finite()))
        .collect::<Option<_>>()?;
    parts.try_into().ok()
}

/// A string of TOML.
fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_as_printed() {
        let read = |text: &str| crate::labels("f.toml", &feed(text).unwrap()).unwrap().remove(0);
        assert_eq!(read("20-20-20").name, "Feed 20-20-20");
        let label = read("\"Best\" 13-3.5-15");
        assert_eq!(label.name, "\"Best\" 13-3.5-15");
        assert_eq!(label.guaranteed.p2o5_percent, Some(3.5));
        for wrong in ["", "20-20", "a-b-c", "120-1-1", "0-0-0", "1-2-3-4", "nan-1-1"] {
            assert!(feed(wrong).is_err(), "{wrong}");
        }
    }
}

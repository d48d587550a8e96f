//! Growth of one plant, as lines.

use crate::print::text;
use guardcell::ledger::{GrowthMonth, PlantLedger, Sign};

/// Months, what they tell, signs and photos.
pub(crate) fn lines(p: &PlantLedger) -> Vec<String> {
    let mut out: Vec<String> = p.growth.iter().map(month).collect();
    out.extend(p.growth_says.iter().map(|r| r.message.clone()));
    let signs: Vec<String> =
        p.signs.iter().map(|s| format!("{} {}", sign(s.sign), text::day_and_year(&s.at))).collect();
    if !signs.is_empty() {
        out.push(format!("Signs: {}.", signs.join("; ")));
    }
    let photos: Vec<String> =
        p.photos.iter().map(|f| format!("{} ({})", f.file, text::day_and_year(&f.at))).collect();
    if !photos.is_empty() {
        out.push(format!("Photos: {}.", photos.join(", ")));
    }
    out
}

/// A sign in words.
pub(crate) const fn sign(sign: Sign) -> &'static str {
    match sign {
        Sign::RootTip => "a root tip moves",
        Sign::NewGrowth => "new growth",
        Sign::Bud => "a spike or bud",
        Sign::Loss => "lost",
    }
}

/// `June 2026: 3 new roots, 1 new leaf; weight 125 g`.
fn month(m: &GrowthMonth) -> String {
    let name = format!("{}-01", m.month)
        .parse::<jiff::civil::Date>()
        .map_or_else(|_| m.month.clone(), |d| d.strftime("%B %Y").to_string());
    let mut parts = text::counts([
        (m.new_roots, "new root", "new roots"),
        (m.new_leaves, "new leaf", "new leaves"),
        (m.new_pseudobulbs, "new pseudobulb", "new pseudobulbs"),
        (m.flowers, "flower", "flowers"),
        (m.lost_leaves, "leaf lost", "leaves lost"),
    ]);
    if let Some(mm) = m.leaf_length_mm {
        parts.push(format!("longest leaf {} mm", text::significant(mm, 4)));
    }
    if let Some(g) = m.weight_g {
        parts.push(format!("weight {} g", text::significant(g, 4)));
    }
    let what = if parts.is_empty() { "nothing new".to_owned() } else { parts.join(", ") };
    format!("{name}: {what}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_month_in_words() {
        let mut m = GrowthMonth {
            month: "2026-06".into(),
            new_roots: 3,
            new_leaves: 1,
            new_pseudobulbs: 0,
            flowers: 0,
            lost_leaves: 0,
            leaf_length_mm: None,
            weight_g: Some(125.0),
        };
        assert_eq!(month(&m), "June 2026: 3 new roots, 1 new leaf, weight 125 g");
        (m.new_roots, m.new_leaves, m.weight_g) = (0, 0, None);
        assert_eq!(month(&m), "June 2026: nothing new");
    }
}

//! What to mix, once, and what a meter will read in bucket and mister.

use super::answer::{Bucket, BucketSupplement, Stock};
use guardcell_error::Error;
use guardcell_reference::parameters::practice as p;
use guardcell_solution::recipe::{RecipeSupplement, Target};
use guardcell_solution::{Label, RecipeRequest, RecipeResponse, WaterReport, recipe};

/// The feed and the water of a round.
#[derive(Debug, Clone, Copy)]
pub(crate) struct FeedInWater<'a> {
    pub(crate) feed: &'a Label,
    pub(crate) water: Option<&'a WaterReport>,
}

impl FeedInWater<'_> {
    /// The recipe for a feed strength; what the meter reads comes with it.
    pub(crate) fn recipe(
        &self,
        strength_mg_l: f64,
        volume_l: f64,
    ) -> Result<RecipeResponse, Error> {
        let target = Target::FeedStrength { mg_l: strength_mg_l };
        let mut request = RecipeRequest::single(self.feed.clone(), volume_l, target);
        request.water = self.water.cloned();
        recipe(&request).map_err(|e| e.within("/feed"))
    }

    /// The bucket for a strength and at least a volume, never stronger. Where a scale would make the
    /// strength unsure, a stock solution is measured out instead.
    pub(crate) fn bucket(
        &self,
        strength_mg_l: f64,
        least_l: f64,
        scale_g: Option<f64>,
    ) -> Result<Bucket, Error> {
        let litres = at_mark(least_l);
        let exact = self.recipe(strength_mg_l, litres)?;
        let product = exact.products.first();
        let measured = match product.and_then(|q| q.volume_ml) {
            Some(ml) => of_liquid(ml, litres),
            None => match (product.and_then(|q| q.mass_g), scale_g) {
                (Some(grams), Some(scale)) => of_powder(grams, litres, scale),
                (grams, _) => Measured { mass_g: grams, ..Measured::exact(litres) },
            },
        };
        // What comes in with the product keeps its proportion to it.
        let share = measured.share * measured.litres / litres;
        let supplements = product.map_or(&[][..], |q| &q.with);
        let beside: Vec<(&RecipeSupplement, Measured)> = supplements
            .iter()
            .filter_map(|s| Some((s, beside(s, share, measured.litres, scale_g)?)))
            .collect();
        let by_supplements: f64 = supplements.iter().map(|s| s.feed_strength_mg_l).sum();
        let own = (exact.feed_strength_mg_l - by_supplements) * measured.share;
        let by_supplement = |(s, m): &(&RecipeSupplement, Measured)| {
            s.feed_strength_mg_l * measured.share * m.share
        };
        let strength = own + beside.iter().map(by_supplement).sum::<f64>();
        let error = beside
            .iter()
            .map(|b| (by_supplement(b), b.1.error))
            .chain([(own, measured.error)])
            .filter_map(|(mg_l, error)| Some(mg_l / strength * error?))
            .reduce(|a, b| a + b);
        let r = self.recipe(strength, measured.litres)?;
        Ok(Bucket {
            product: self.feed.name.clone(),
            mix: (!self.feed.with.is_empty()).then(|| self.feed.mix_name()),
            with: beside
                .into_iter()
                .map(|(s, m)| BucketSupplement {
                    product: s.name.clone(),
                    mass_g: m.mass_g,
                    volume_ml: m.volume_ml,
                    stock: m.stock,
                })
                .collect(),
            feed_strength_mg_l: r.feed_strength_mg_l,
            n_mg_l: r.profile_mg_l.get("n").map_or(0.0, |e| e.from_products),
            urea_n_mg_l: r.n_forms_mg_l.urea,
            water_l: measured.litres,
            mass_g: measured.mass_g,
            volume_ml: measured.volume_ml,
            stock: measured.stock,
            weighing_error_percent: error.map(|e| (e * 1000.0).round() / 10.0),
            surplus: None,
            ec25_us_cm: r.ec25_us_cm,
            water_ec25_us_cm: r.water_ec25_us_cm,
            meter_ppm: r.meter_ppm,
            keeps_hours: p::BUCKET_KEEPS.hours(),
        })
    }
}

/// How a strength is measured out.
#[derive(Debug, Clone, PartialEq)]
struct Measured {
    litres: f64,
    mass_g: Option<f64>,
    volume_ml: Option<f64>,
    stock: Option<Stock>,
    /// The strength that comes out, as a share of the one wanted: 1 or a little less.
    share: f64,
    /// How far half a step moves it, as a share.
    error: Option<f64>,
}

impl Measured {
    const fn exact(litres: f64) -> Self {
        Self { litres, mass_g: None, volume_ml: None, stock: None, share: 1.0, error: None }
    }
}

/// The volume up to the next mark of the jug or bucket.
fn at_mark(least_l: f64) -> f64 {
    let mark = match least_l {
        l if l <= p::JUG_SMALL_MOST.litres() => p::MISTER_MARK.ml() / 1000.0,
        l if l <= p::JUG_MOST.litres() => p::JUG_MARK.ml() / 1000.0,
        _ => p::BUCKET_MARK.litres(),
    };
    let marks = (least_l / mark - 1e-9).ceil().max(1.0);
    (marks * mark * 1000.0).round() / 1000.0
}

/// A number as scales and syringes show it.
fn clean(v: f64) -> f64 {
    (v * 1e6).round() / 1e6
}

/// Weighed into the bucket where half a step of the scale is a small error, else by a stock
/// solution.
fn of_powder(grams: f64, litres: f64, scale: f64) -> Measured {
    let direct = weighed(grams, litres, scale);
    if direct.error.is_some_and(|e| e <= p::WEIGHING_ERROR_MOST.number()) {
        return direct;
    }
    let by_stock = by_stock(grams, litres, scale);
    if by_stock.error < direct.error { by_stock } else { direct }
}

/// Rounded down to the scale where that takes little of the strength; else up, with more water.
fn weighed(grams: f64, litres: f64, scale: f64) -> Measured {
    let down = clean((grams / scale + 1e-9).floor() * scale);
    if down > 0.0 && down / grams >= 1.0 - p::FILL_TOLERANCE.number() {
        return Measured {
            mass_g: Some(down),
            share: down / grams,
            error: Some(scale / 2.0 / down),
            ..Measured::exact(litres)
        };
    }
    let up = clean((grams / scale).ceil().max(1.0) * scale);
    let more = at_mark(litres * up / grams);
    Measured {
        mass_g: Some(up),
        share: (up / grams * litres / more).min(1.0),
        error: Some(scale / 2.0 / up),
        ..Measured::exact(more)
    }
}

/// A supplement for a share of its amount: by syringe, weighed to the nearest step where that is
/// near enough, else by a stock solution of its own. The water stays as it is.
fn beside(
    supplement: &RecipeSupplement,
    share: f64,
    litres: f64,
    scale_g: Option<f64>,
) -> Option<Measured> {
    if let Some(ml) = supplement.volume_ml {
        return Some(of_liquid(ml * share, litres));
    }
    let grams = supplement.mass_g? * share;
    let Some(scale) = scale_g else {
        return Some(Measured { mass_g: Some(grams), ..Measured::exact(litres) });
    };
    let down = clean((grams / scale + 1e-9).floor() * scale);
    let least = p::WEIGHING_ERROR_MOST.number();
    if down > 0.0 && scale / 2.0 / down <= least && down / grams >= 1.0 - least {
        return Some(Measured {
            mass_g: Some(down),
            share: down / grams,
            error: Some(scale / 2.0 / down),
            ..Measured::exact(litres)
        });
    }
    Some(by_stock(grams, litres, scale))
}

/// A stock solution of enough product that the scale hardly counts, weak enough that the syringe
/// hardly counts, as far as its volume allows.
fn by_stock(grams: f64, litres: f64, scale: f64) -> Measured {
    let most_ml = p::STOCK_MOST.litres() * 1000.0;
    let most_g_per_ml = p::STOCK_STRENGTH.g_per_l() / 1000.0;
    let sure_g = (scale / 2.0 / p::STOCK_ERROR_MOST.number()).max(grams);
    let sure_ml = p::SYRINGE_MARK.ml() / 2.0 / p::STOCK_ERROR_MOST.number();
    let steps = (sure_g.min(most_ml * most_g_per_ml) / scale - 1e-9).ceil().max(1.0);
    let mass = clean(steps * scale);
    let strength = (grams / sure_ml).min(most_g_per_ml);
    let marks = (mass / strength / p::STOCK_MARK.ml() - 1e-9).ceil();
    let made_up_to_ml = (marks * p::STOCK_MARK.ml()).min(most_ml);
    let (take_ml, share, by_syringe) = drawn(grams / mass * made_up_to_ml);
    Measured {
        stock: Some(Stock {
            mass_g: Some(mass),
            volume_ml: None,
            made_up_to_ml,
            take_ml,
            keeps_days: p::STOCK_KEEPS.days(),
        }),
        share,
        error: Some(scale / 2.0 / mass + by_syringe),
        ..Measured::exact(litres)
    }
}

/// A liquid by volume, diluted first where the syringe is too coarse for it.
fn of_liquid(ml: f64, litres: f64) -> Measured {
    let (take, share, error) = drawn(ml);
    if error <= p::WEIGHING_ERROR_MOST.number() {
        return Measured {
            volume_ml: Some(take),
            share,
            error: Some(error),
            ..Measured::exact(litres)
        };
    }
    let half = p::SYRINGE_MARK.ml() / 2.0;
    let product_ml = clean((half / p::STOCK_ERROR_MOST.number()).max(ml));
    let once = p::STOCK_DILUTION.number();
    // What is still too little for the syringe is diluted as much again.
    let too_little = half / (ml * once) > p::WEIGHING_ERROR_MOST.number();
    let dilution = if too_little { once * once } else { once };
    let (take_ml, share, by_syringe) = drawn(ml * dilution);
    Measured {
        stock: Some(Stock {
            mass_g: None,
            volume_ml: Some(product_ml),
            made_up_to_ml: clean(product_ml * dilution),
            take_ml,
            keeps_days: p::STOCK_KEEPS.days(),
        }),
        share,
        error: Some(half / product_ml + by_syringe),
        ..Measured::exact(litres)
    }
}

/// A volume by syringe: down to a mark, at least one, with its share of what was wanted and the
/// error of half a mark.
fn drawn(ml: f64) -> (f64, f64, f64) {
    let mark = p::SYRINGE_MARK.ml();
    let take = clean((ml / mark + 1e-9).floor().max(1.0) * mark);
    (take, (take / ml.max(f64::MIN_POSITIVE)).min(1.0), mark / 2.0 / take)
}

#[cfg(test)]
mod tests {
    use super::*;

    // By hand: 90 mg for 0.3 L of 300 mg/L. A 0.1 g scale would be off by 0.05 / 0.1 = 50 %. Half
    // its step is 2.5 % of 2 g; half a mark of the syringe (0.1 mL) is 2.5 % of 4 mL, so the stock
    // may hold 90 mg in 4 mL, but no more than 10 g/L: 2 g in 200 mL. 90 mg are then 9 mL:
    // 0.05 / 2 + 0.1 / 9 = 2.5 % + 1.1 %.
    #[test]
    fn a_stock_solution_by_hand() {
        let m = of_powder(0.09, 0.3, 0.1);
        let stock = m.stock.unwrap();
        assert_eq!((stock.mass_g, stock.made_up_to_ml, stock.take_ml), (Some(2.0), 200.0, 9.0));
        assert!((m.error.unwrap() - 0.036_11).abs() < 1e-4);
        assert_eq!((m.litres, m.share, m.mass_g), (0.3, 1.0, None));
    }

    // By hand: 9 mg for 30 mL. 9 mg in 4 mL is 2.25 g/L: 2 g in 889 mL, made up to 900 mL; 9 mg are
    // then 4.05 mL, drawn to the mark at 4.0 mL, which is 1.2 % weak: 2.5 % + 0.1 / 4 = 5 %.
    #[test]
    fn a_small_bucket_takes_a_weaker_stock() {
        let m = of_powder(0.009, 0.03, 0.1);
        let stock = m.stock.unwrap();
        assert_eq!((stock.mass_g, stock.made_up_to_ml, stock.take_ml), (Some(2.0), 900.0, 4.0));
        assert!((m.error.unwrap() - 0.05).abs() < 1e-9);
        assert!((m.share - 0.987_65).abs() < 1e-4);
    }

    // By hand: 1.05 g on a 0.1 g scale: 1.0 g is 4.8 % weak, within the 5 % of a fill, and off by
    // 0.05 / 1.0 = 5 %: no stock is needed.
    #[test]
    fn what_can_be_weighed_is_weighed() {
        let m = of_powder(1.05, 3.5, 0.1);
        assert_eq!((m.mass_g, m.litres, m.stock), (Some(1.0), 3.5, None));
        assert!((m.share - 0.952_38).abs() < 1e-4 && m.error == Some(0.05));
        // What is a whole number of steps is weighed as it is.
        let m = of_powder(1.0, 3.5, 0.1);
        assert_eq!((m.mass_g, m.litres, m.share), (Some(1.0), 3.5, 1.0));
        // 0.19 g rounded up are 0.2 g in 0.63 × 0.2 / 0.19 = 0.663 L, up to the mark at 0.67 L.
        let m = weighed(0.19, 0.63, 0.1);
        assert_eq!((m.mass_g, m.error), (Some(0.2), Some(0.25)));
        assert!((m.litres - 0.67).abs() < 1e-9);
        assert!((m.share - 0.2 / 0.19 * 0.63 / 0.67).abs() < 1e-9);
        // 1.56 g would lose 3.8 %; 0.19 g would lose half, but a stock draws it: 19 mL of 10 g/L.
        let m = of_powder(0.19, 0.63, 0.1);
        assert_eq!(m.stock.unwrap().take_ml, 19.0);
    }

    // By hand: 0.05 mL diluted ten times are 0.5 mL, off by 0.1 / 0.5 = 20 %; a hundred times, 4 mL
    // made up to 400 mL, they are 5 mL, off by 0.1 / 4 + 0.1 / 5 = 4.5 %.
    #[test]
    fn very_little_of_a_liquid_is_diluted_more() {
        let m = of_liquid(0.05, 0.5);
        let stock = m.stock.unwrap();
        assert_eq!((stock.volume_ml, stock.made_up_to_ml, stock.take_ml), (Some(4.0), 400.0, 5.0));
        assert!((m.error.unwrap() - 0.045).abs() < 1e-9);
    }

    // By hand: each gram of A brings 1000 mg and 0.5 mL of L at 200 mg/mL, together 1100 mg. 2 L of
    // 300 mg/L are 0.5455 g of A and 0.2727 mL of L. A: 2 g made up to 200 mL, of which 54.4 mL are
    // drawn for 54.55, 0.9973 of it, off by 0.05 / 2 + 0.1 / 54.4 = 2.68 %. L: 0.2727 × 0.9973 =
    // 0.272 mL is too little for the syringe; 4 mL made up to 40 mL, of which 2.6 mL for 2.72, 0.956
    // of it, off by 0.1 / 4 + 0.1 / 2.6 = 6.35 %. So 272.7 × 0.9973 + 27.27 × 0.9973 × 0.956 = 298.0
    // mg/L, off by 272 / 298 × 2.68 % + 26 / 298 × 6.35 % = 3.0 %.
    #[test]
    fn a_supplement_by_hand() {
        let label = |text: &str| Label::from_toml(text).unwrap().remove(0);
        let mut feed = label("name = \"A\"\n[guaranteed]\nn_percent = 20\n");
        let liquid = "name = \"L\"\nform = \"liquid\"\npercent_of = \"volume\"\n\
                      soluble_percent = 20\n[guaranteed]\nn_percent = 2\n";
        feed.with.push(guardcell_solution::label::Supplement { label: label(liquid), amount: 0.5 });
        let b = FeedInWater { feed: &feed, water: None }.bucket(300.0, 2.0, Some(0.1)).unwrap();
        assert_eq!((&*b.product, b.mix.as_deref()), ("A", Some("A with L")));
        let stock = b.stock.unwrap();
        assert_eq!((stock.mass_g, stock.made_up_to_ml, stock.take_ml), (Some(2.0), 200.0, 54.4));
        let [beside] = b.with.as_slice() else { panic!("{:?}", b.with) };
        let stock = beside.stock.as_ref().unwrap();
        assert_eq!((stock.volume_ml, stock.made_up_to_ml, stock.take_ml), (Some(4.0), 40.0, 2.6));
        assert!((b.feed_strength_mg_l - 298.0).abs() < 0.05, "{}", b.feed_strength_mg_l);
        assert_eq!(b.weighing_error_percent, Some(3.0));
        // Without a scale, as it is: 1.1 g in 3.3 L are 1 g of A and 0.5 mL of L.
        let b = FeedInWater { feed: &feed, water: None }.bucket(1000.0 / 3.0, 3.3, None).unwrap();
        assert!((b.mass_g.unwrap() - 1.0).abs() < 1e-9 && b.with[0].stock.is_some());
    }

    // By hand: 4.8 L of 300 mg/L are 0.96 g of A and half as much of B. 0.9 g would be 6 % weak, so
    // 1.0 g goes into 5.0 L, and with it 0.5 g of B: 2 g made up to 200 mL, of which 50 mL.
    #[test]
    fn a_supplement_follows_what_is_weighed() {
        let label = |name: &str| {
            let text = format!("name = {name:?}\n[guaranteed]\nn_percent = 20\n");
            Label::from_toml(&text).unwrap().remove(0)
        };
        let mut feed = label("A");
        feed.with.push(guardcell_solution::label::Supplement { label: label("B"), amount: 0.5 });
        let b = FeedInWater { feed: &feed, water: None }.bucket(300.0, 4.8, Some(0.1)).unwrap();
        assert_eq!((b.mass_g, b.water_l), (Some(1.0), 5.0));
        assert_eq!(b.with[0].stock.as_ref().unwrap().take_ml, 50.0);
        assert!((b.feed_strength_mg_l - 300.0).abs() < 1e-9);
    }

    // By hand: 30 g of a supplement are weighed to 0.1 g; 0.19 g would be off by a quarter, so 2 g
    // are made up to 200 mL, of which 19 mL. Half of it is asked for.
    #[test]
    fn a_powder_beside_keeps_the_water() {
        let m = beside(&powder(60.0), 0.5, 2.0, Some(0.1)).unwrap();
        assert_eq!((m.mass_g, m.litres, m.share), (Some(30.0), 2.0, 1.0));
        let m = beside(&powder(0.38), 0.5, 2.0, Some(0.1)).unwrap();
        assert_eq!((m.stock.unwrap().take_ml, m.litres), (19.0, 2.0));
    }

    /// So many grams of a powder, as a recipe has it.
    fn powder(grams: f64) -> RecipeSupplement {
        let json = format!(r#"{{"name": "B", "mass_g": {grams}, "feed_strength_mg_l": 10}}"#);
        serde_json::from_str(&json).unwrap()
    }

    // By hand: a scale of 1 kg cannot be mended: the error is said.
    #[test]
    fn a_hopeless_scale_keeps_its_error() {
        let m = of_powder(0.5, 1.0, 1000.0);
        assert!(m.error.unwrap() > p::WEIGHING_ERROR_MOST.number());
        assert!(m.share <= 1.0 && m.share > 0.0 && m.litres.is_finite());
    }

    // By hand: 6.1 mL of a liquid are drawn as 6.0 mL, off by 0.1 / 6 = 1.7 %. 0.5 mL would be off
    // by 25 %: 4 mL made up to 40 mL, of which 5 mL: 0.1 / 4 + 0.1 / 5 = 4.5 %.
    #[test]
    fn a_liquid_by_hand() {
        let m = of_liquid(6.1, 2.0);
        assert_eq!((m.volume_ml, m.stock.is_none()), (Some(6.0), true));
        assert!((m.error.unwrap() - 1.0 / 60.0).abs() < 1e-9);
        assert!((m.share - 6.0 / 6.1).abs() < 1e-9 && m.litres == 2.0);
        // 0.53 mL are 5.3 mL of the ten times weaker one, drawn as 5.2.
        assert!((of_liquid(0.53, 0.2).share - 5.2 / 5.3).abs() < 1e-9);
        let m = of_liquid(0.5, 0.2);
        let stock = m.stock.unwrap();
        assert_eq!((stock.volume_ml, stock.made_up_to_ml, stock.take_ml), (Some(4.0), 40.0, 5.0));
        assert!((m.error.unwrap() - 0.045).abs() < 1e-9);
    }

    // Marks of 5 mL to 250 mL, 10 mL to 1 L, 50 mL above (data/practice.csv).
    #[test]
    fn marks() {
        for (least, mark) in
            [(0.0, 0.005), (0.101, 0.105), (0.25, 0.25), (0.251, 0.26), (1.0, 1.0), (1.01, 1.05)]
        {
            assert!((at_mark(least) - mark).abs() < 1e-9, "{least}");
        }
    }
}

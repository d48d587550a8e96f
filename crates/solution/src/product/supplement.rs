//! A feed and the supplements that always go with it, as one product.

use super::{Amount, Beside, Product};
use crate::conduct::specific_conductance_of;
use crate::label::{Form, Label, PercentOf, Supplement};
use guardcell_call::Bounded;
use guardcell_error::{Code, Error};
use guardcell_reference::Composition;
use guardcell_units::quantity::in_us_per_cm;

impl Product {
    /// Adds a supplement: from here on one unit of the product is one unit of the feed with its
    /// share of the supplement.
    pub(super) fn add(&mut self, supplement: &Supplement) -> Result<(), Error> {
        supplement.check_bounds()?;
        if !supplement.label.with.is_empty() {
            return Err(Error::new(
                Code::Conflict,
                "a supplement has supplements of its own",
                "give them all under `with` of the feed",
            )
            .at("/label/with"));
        }
        let product = Self::alone(&supplement.label).map_err(|e| e.within("/label"))?;
        let units =
            supplement.amount * units_measured(&supplement.label) / units_measured(&self.label);
        self.analysis.add(&product.analysis, units);
        self.solids_mg += product.solids_mg * units;
        self.ions = pairs(&self.ions, &product.ions, units)?;
        for ((_, mg), (_, other)) in self.elements.iter_mut().zip(&product.elements) {
            *mg += other * units;
        }
        // What is known of one half of a mix says nothing of the whole.
        if self.materials.is_empty() || product.materials.is_empty() {
            self.materials.clear();
        } else {
            self.materials.extend(product.materials.iter().map(|(name, mg)| (*name, mg * units)));
        }
        self.assumptions.extend(product.assumptions.iter().cloned().map(|mut a| {
            a.message = format!("{}: {}", product.name, a.message);
            a
        }));
        self.beside.push(Beside { product, units });
        Ok(())
    }

    /// The amounts of the supplements that go with so many units of the feed: the product, how
    /// much of it, and the mg of feed that it brings.
    pub(crate) fn beside(&self, units: f64) -> impl Iterator<Item = (&Self, Amount, f64)> + '_ {
        self.beside.iter().map(move |b| {
            let units = units * b.units;
            (&b.product, b.product.amount_of_units(units), b.product.solids_mg * units)
        })
    }
}

/// Units (g or mL) in what is measured out: g of a powder, mL of a liquid, and g of a liquid whose
/// label gives percent of mass and no density.
fn units_measured(label: &Label) -> f64 {
    match (label.form, label.percent_of, label.density_kg_l) {
        (Form::Liquid, PercentOf::Mass, Some(density)) => density,
        _ => 1.0,
    }
}

/// The most ways to close a mix that are looked at one by one.
const WAYS_MOST: usize = 8;

/// Each way one may be closed with each way of the other, so that the bounds hold for the mix; of
/// many only the two that conduct least and most.
fn pairs(a: &[Composition], b: &[Composition], units: f64) -> Result<Vec<Composition>, Error> {
    let all: Vec<Composition> =
        a.iter().flat_map(|a| b.iter().map(move |b| *a + *b * units)).collect();
    if all.len() <= WAYS_MOST {
        return Ok(all);
    }
    let mut ranked = all
        .iter()
        // As strong as a feed; the order does not depend on it.
        .map(|c| specific_conductance_of(&(*c * 0.3)).map(|k| (in_us_per_cm(k), *c)))
        .collect::<Result<Vec<_>, _>>()?;
    ranked.sort_by(|a, b| a.0.total_cmp(&b.0));
    Ok([ranked.first(), ranked.last()].into_iter().flatten().map(|(_, c)| *c).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use guardcell_units::quantity::mg_per_l;

    fn label(text: &str) -> Label {
        Label::from_toml(text).unwrap().remove(0)
    }

    fn mix(feed: &str, supplement: &str, amount: f64) -> Product {
        let mut feed = label(feed);
        feed.with.push(Supplement { label: label(supplement), amount });
        Product::new(&feed).unwrap()
    }

    const FEED: &str = "name = \"A\"\n[guaranteed]\nn_percent = 20\nnitrate_n_percent = 20\n";
    const POWDER: &str = "name = \"B\"\n[guaranteed]\nn_percent = 10\nca_percent = 20\n";

    // By hand: 1 g of a feed with 20 % N and 0.5 g of one with 10 % N and 20 % Ca are 1.5 g with
    // 0.2 + 0.05 = 0.25 g N and 0.1 g Ca. At 300 mg/L that is 200 mg of the feed and 100 of the
    // supplement in a litre: 50 mg N.
    #[test]
    fn strength_counts_the_supplement() {
        let mix = mix(FEED, POWDER, 0.5);
        assert!((mix.nitrogen_at(mg_per_l(300.0)).mg_per_l() - 50.0).abs() < 1e-9);
        let units = mix.units_per_l(mg_per_l(300.0));
        assert!((units - 0.2).abs() < 1e-12);
        let (product, amount, mg) = mix.beside(units).next().unwrap();
        assert_eq!((product.name(), amount.volume), ("B", None));
        assert!((mg - 100.0).abs() < 1e-9);
        assert_eq!(mix.name(), "A with B");
        // Both labels leave their counter-ions open, and one its forms of nitrogen: two ways and
        // four, eight together. Of more only two are kept.
        assert_eq!(mix.ions().len(), 8);
        let mut feed = label(FEED);
        for _ in 0..4 {
            feed.with.push(Supplement { label: label(POWDER), amount: 0.5 });
        }
        assert_eq!(Product::new(&feed).unwrap().ions().len(), 2);
        feed.with.pop();
        assert_eq!(Product::new(&feed).unwrap().ions().len(), 8);
    }

    // By hand: 0.4 mL of a liquid of 1.25 kg/L are 0.5 g, of which 30 % are dissolved: 150 mg with
    // 1 g of powder, so 1150 mg of feed, and 6 % of 0.5 g = 30 mg N of 230.
    #[test]
    fn a_liquid_is_measured_by_volume() {
        let liquid = "name = \"L\"\nform = \"liquid\"\ndensity_kg_l = 1.25\nsoluble_percent = 30\n\
                      [guaranteed]\nn_percent = 6\n";
        let mix = mix(FEED, liquid, 0.4);
        let n = mix.nitrogen_at(mg_per_l(1150.0)).mg_per_l();
        assert!((n - 230.0).abs() < 1e-9, "{n}");
        let (_, amount, mg) = mix.beside(1.0).next().unwrap();
        let ml = amount.volume.unwrap().get::<guardcell_units::uom::si::volume::milliliter>();
        assert!((ml - 0.4).abs() < 1e-12 && (mg - 150.0).abs() < 1e-9);
    }

    // By hand: for each mL (1.25 g) of a liquid feed 1 g of powder, which is 0.8 g for each g.
    #[test]
    fn the_feed_may_be_the_liquid() {
        let liquid = "name = \"L\"\nform = \"liquid\"\ndensity_kg_l = 1.25\nsoluble_percent = 30\n\
                      [guaranteed]\nn_percent = 6\n";
        let mix = mix(liquid, POWDER, 1.0);
        let (_, amount, _) = mix.beside(1.0).next().unwrap();
        let g = amount.mass.unwrap().get::<guardcell_units::uom::si::mass::gram>();
        assert!((g - 0.8).abs() < 1e-12);
    }

    #[test]
    fn a_fault_names_its_supplement() {
        let mut feed = label(FEED);
        let mut nested = label(POWDER);
        nested.with.push(Supplement { label: label(POWDER), amount: 1.0 });
        feed.with.push(Supplement { label: label(POWDER), amount: 1.0 });
        feed.with.push(Supplement { label: nested, amount: 1.0 });
        let error = Product::new(&feed).unwrap_err();
        assert_eq!((error.code(), error.pointer()), (Code::Conflict, "/with/1/label/with"));
        feed.with.truncate(1);
        feed.with[0].amount = 0.0;
        assert_eq!(Product::new(&feed).unwrap_err().pointer(), "/with/0/amount");
    }
}

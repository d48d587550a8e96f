//! What to mix, once, and what a meter will read in bucket and mister.

use super::answer::Bucket;
use guardcell_error::Error;
use guardcell_reference::parameters::practice as p;
use guardcell_solution::recipe::{ScaleResolution, Target};
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
        scale_g: Option<f64>,
    ) -> Result<RecipeResponse, Error> {
        let target = Target::FeedStrength { mg_l: strength_mg_l };
        let mut request = RecipeRequest::single(self.feed.clone(), volume_l, target)
            .with_resolution(ScaleResolution { mass_g: scale_g, volume_ml: None });
        request.water = self.water.cloned();
        recipe(&request).map_err(|e| e.within("/feed"))
    }

    /// The bucket for a strength and at least a volume. Where the scale is coarse, the mass is
    /// rounded up to it and the water follows, so that the strength is kept.
    pub(crate) fn bucket(
        &self,
        strength_mg_l: f64,
        least_l: f64,
        scale_g: Option<f64>,
    ) -> Result<Bucket, Error> {
        let mark = p::BUCKET_MARK.value;
        let at_mark = |marks: f64| (marks * mark * 1000.0).round() / 1000.0;
        let mut litres = at_mark((least_l / mark).ceil().max(1.0));
        let exact = self.recipe(strength_mg_l, litres, None)?;
        let grams = exact.products.first().and_then(|q| q.mass_g);
        if let (Some(scale), Some(grams)) = (scale_g, grams) {
            let weighed = ((grams / scale).ceil() * scale).max(scale);
            litres = at_mark((litres * weighed / grams / mark).round());
        }
        let r = self.recipe(strength_mg_l, litres, scale_g)?;
        let product = r.products.first();
        let mass_g = product.and_then(|q| q.mass_g);
        Ok(Bucket {
            product: self.feed.name.clone(),
            feed_strength_mg_l: r.feed_strength_mg_l,
            n_mg_l: r.profile_mg_l.get("n").map_or(0.0, |e| e.from_products),
            urea_n_mg_l: r.n_forms_mg_l.urea,
            water_l: litres,
            mass_g,
            volume_ml: product.and_then(|q| q.volume_ml),
            weighing_error_percent: scale_g
                .zip(mass_g)
                .map(|(scale, grams)| (50.0 * scale / grams * 10.0).round() / 10.0),
            ec25_us_cm: r.ec25_us_cm,
            water_ec25_us_cm: r.water_ec25_us_cm,
            meter_ppm: r.meter_ppm,
            keeps_hours: p::BUCKET_KEEPS.value,
        })
    }
}

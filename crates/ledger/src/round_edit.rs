//! What follows from a change of a round that was planned or recorded.

use crate::entry::Round;

impl Round {
    /// Gives the round another feed strength, mg/L. Nitrogen and the modelled residue change in
    /// proportion, for the film model answers so as far as a round was made weaker or stronger; they
    /// are no longer known where the round was one of plain water.
    pub fn set_strength(&mut self, mg_l: f64) {
        let ratio = Some(mg_l / self.feed_strength_mg_l).filter(|ratio| ratio.is_finite());
        let scaled = |v: Option<f64>| v.zip(ratio).map(|(v, ratio)| v * ratio);
        self.n_mg_l = scaled(self.n_mg_l);
        if let Some(c) = &mut self.conditions {
            c.residue_g_m2 = scaled(c.residue_g_m2);
        }
        self.feed_strength_mg_l = mg_l;
    }

    /// Multiplies every volume, to a hundredth of a millilitre: what each plant got changes with the
    /// whole.
    pub fn scale_volumes(&mut self, by: f64) {
        let scaled = |v: Option<f64>| v.map(|v| (v * by * 100.0).round() / 100.0);
        for p in &mut self.plants {
            p.volume_ml = scaled(p.volume_ml);
        }
        self.volume_ml = scaled(self.volume_ml);
        self.sum_volumes();
    }

    /// Makes the whole the sum of the plants, where it is known of each.
    pub fn sum_volumes(&mut self) {
        let each: Option<Vec<f64>> = self.plants.iter().map(|p| p.volume_ml).collect();
        if let Some(each) = each.filter(|e| !e.is_empty()) {
            self.volume_ml = Some(each.iter().sum());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn round(strength: f64) -> Round {
        let json = format!(
            r#"{{"plants": [{{"plant": "A", "volume_ml": 10}}, {{"plant": "B", "volume_ml": 30}}],
                "feed_strength_mg_l": {strength}, "n_mg_l": 45, "passes": 1, "volume_ml": 40,
                "conditions": {{"temp_c": 20, "residue_g_m2": 0.012, "scale_g_m2": 0.004}}}}"#
        );
        serde_json::from_str(&json).unwrap()
    }

    // By hand: a third of 300 mg/L has a third of 45 mg/L N and leaves a third of 0.012 g/m²; the
    // scale is of the water.
    #[test]
    fn nitrogen_and_residue_follow_the_strength() {
        let mut r = round(300.0);
        r.set_strength(100.0);
        let c = r.conditions.unwrap();
        assert!((r.n_mg_l.unwrap() - 15.0).abs() < 1e-12);
        assert!((c.residue_g_m2.unwrap() - 0.004).abs() < 1e-15);
        assert_eq!(
            (r.feed_strength_mg_l, c.scale_g_m2, c.temp_c),
            (100.0, Some(0.004), Some(20.0))
        );
        let mut water = round(0.0);
        water.set_strength(100.0);
        assert_eq!((water.n_mg_l, water.conditions.unwrap().residue_g_m2), (None, None));
    }

    // By hand: one and a half times 10 and 30 mL are 15 and 45, together 60.
    #[test]
    fn volumes_keep_their_shares() {
        let mut r = round(300.0);
        r.scale_volumes(1.5);
        let each: Vec<Option<f64>> = r.plants.iter().map(|p| p.volume_ml).collect();
        assert_eq!((each, r.volume_ml), (vec![Some(15.0), Some(45.0)], Some(60.0)));
        r.plants.truncate(1);
        r.sum_volumes();
        assert_eq!(r.volume_ml, Some(15.0));
        // What is not known of each plant leaves the whole as it was.
        r.plants[0].volume_ml = None;
        r.sum_volumes();
        assert_eq!(r.volume_ml, Some(15.0));
    }
}

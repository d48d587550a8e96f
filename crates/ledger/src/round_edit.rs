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

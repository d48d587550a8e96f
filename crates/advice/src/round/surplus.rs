//! What is left in a bucket, and what it is good for.

use super::answer::{Bucket, Surplus, SurplusPot};
use crate::answer::AdviceResponse;
use crate::reason::Draft;
use crate::reason_code::ReasonCode;
use crate::request::{AdviceRequest, Growth, Setting, Standing};
use guardcell_reference::parameters::practice as p;

/// Pots named.
const MOST_POTS: usize = 5;

/// The use of so much of a bucket: pots of growing plants, at the root, as far as their weekly
/// ceiling has room after what they get there and through the leaf; else plants outside the
/// collection. None where hardly anything is left.
pub(super) fn of(
    bucket: &Bucket,
    left_ml: f64,
    request: &AdviceRequest,
    advice: &AdviceResponse,
) -> Option<Surplus> {
    let ml = left_ml.round();
    if ml < p::MISTER_MARK.ml() {
        return None;
    }
    let mut pots: Vec<SurplusPot> = request
        .plants
        .iter()
        .zip(&advice.plants)
        .filter(|(plant, _)| {
            plant.setting == Setting::Potted
                && plant.growth != Growth::Resting
                && plant.standing != Standing::Rootless
        })
        .filter_map(|(plant, advice)| {
            let weekly = advice.weekly.as_ref()?;
            let taken = weekly.leaf_mg + weekly.root_mg.unwrap_or(0.0);
            let room_mg = weekly.ceiling_mg? - taken;
            let most = (room_mg / bucket.feed_strength_mg_l * 1000.0).min(ml).floor();
            (most >= p::MISTER_FILL_LEAST.ml()).then(|| SurplusPot {
                id: plant.id.clone(),
                name: plant.name.clone(),
                ml: most,
            })
        })
        .collect();
    pots.sort_by(|a, b| b.ml.total_cmp(&a.ml).then_with(|| a.id.cmp(&b.id)));
    let mut still = ml;
    pots.retain(|pot| {
        let needed = still > 0.0;
        still -= pot.ml;
        needed
    });
    pots.truncate(MOST_POTS);
    let names: Vec<&str> = pots.iter().map(|p| p.id.as_str()).collect();
    let reason = Draft::new(ReasonCode::BucketSurplus)
        .with("surplus_ml", ml)
        .with("pots", names.join(", "))
        .with_parameter(p::POT_WEEKLY_SALTS)
        .variant(if pots.is_empty() { "" } else { "pots" });
    Some(Surplus { ml, pots, reason })
}

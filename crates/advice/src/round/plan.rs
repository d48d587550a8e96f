//! From advice to a plan: what is weighed, what is found, what goes onto the sheet.

use super::alone::{alone, unknowns};
use super::answer::{Bucket, RoundResponse};
use super::bucket::FeedInWater;
use super::layout::Ground;
use super::pace::Pace;
use super::sheet::Sheet;
use super::{search, unit};
use crate::advise::{Judged, judged};
use crate::answer::PlantAdvice;
use crate::reason::{Draft, Reason};
use crate::reason_code::ReasonCode;
use crate::request::{AdviceRequest, PlantEntry};
use guardcell_error::{Code, Error};
use guardcell_reference::parameters::practice as p;
use guardcell_solution::Label;

/// Plans the round of a collection: what [`advise`](crate::advise) says of each plant, put into
/// sittings, strengths, fills and a bucket so that worth lost, feed poured away, fills, minutes and
/// walk together cost least. No plant gets more than its own advice allows it in that window.
///
/// # Errors
/// As [`advise`](crate::advise); also where no feed is given, since a bucket needs a product, unless
/// the turn is one of plain water.
pub fn round(request: &AdviceRequest) -> Result<RoundResponse, Error> {
    let feed = request.feed.as_ref().filter(|_| !request.plain_water);
    if feed.is_none() && !request.plain_water {
        return Err(Error::new(
            Code::Missing,
            "a round needs a product to mix",
            "give the label of the feed",
        )
        .at("/feed"));
    }
    judged(request, |j| planned(j, feed))
}

/// Half a step either way is as likely at every place: its standard deviation.
fn spread(error: f64) -> f64 {
    error / 3.0_f64.sqrt()
}

fn planned(judged: &Judged<'_>, feed: Option<&Label>) -> Result<RoundResponse, Error> {
    let request = judged.request;
    let advice = judged.response();
    let brew = feed.map(|feed| FeedInWater { feed, water: request.water.as_ref() });
    let grower = &request.site.grower;
    // What is weighed out is off by so much at most, unless the scale is coarser than a stock
    // solution can mend: then everything is planned again with its error.
    let mut error = if grower.scale_g.is_some() { p::WEIGHING_ERROR_MOST.number() } else { 0.0 };
    let mut out;
    let mut again = true;
    loop {
        guardcell_call::checkpoint();
        let units = unit::of(judged, spread(error))?;
        let ground = Ground {
            units: &units,
            pace: Pace::of(grower),
            mister_ml: grower.mister_ml.unwrap_or(p::MISTER_DEFAULT.ml()),
        };
        let picks = search::best_picks(ground);
        let sheet = Sheet { judged, advice: &advice, brew, ground, picks: &picks };
        out = sheet.written()?;
        let coarse = |b: &Bucket| b.weighing_error_percent.unwrap_or(0.0) / 100.0;
        let worst = out.buckets().map(coarse).fold(0.0, f64::max);
        if !again || worst <= error {
            break;
        }
        error = worst;
        again = false;
    }
    let pairs: Vec<(&PlantEntry, &PlantAdvice)> =
        request.plants.iter().zip(&advice.plants).collect();
    let mut cautions = advice.cautions.clone();
    cautions.push(Draft::new(ReasonCode::TimingInferred).done());
    if let Some(b) = &out.bucket {
        cautions.extend(bucket_cautions(b));
    }
    Ok(RoundResponse {
        site: advice.site.clone(),
        from: advice.from.clone(),
        to: advice.to.clone(),
        bucket: out.bucket,
        minutes: out.sittings.iter().map(|s| s.minutes).sum::<f64>().round(),
        sittings: out.sittings,
        alone: alone(&pairs),
        cautions,
        unknowns: unknowns(&advice),
        sources: advice.sources,
    })
}

fn bucket_cautions(b: &Bucket) -> Vec<Reason> {
    let mut out = vec![
        Draft::new(ReasonCode::OneBucket)
            .with("keeps_hours", b.keeps_hours)
            .with_parameter(p::BUCKET_KEEPS)
            .done(),
        Draft::new(ReasonCode::WalkOrder).source("common practice, no source").done(),
    ];
    if b.urea_n_mg_l > 0.0 {
        out.push(
            Draft::new(ReasonCode::UreaUnseen)
                .with("urea_n_mg_l", b.urea_n_mg_l)
                .with("n_mg_l", b.n_mg_l)
                .done(),
        );
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By sums over what may be weighed out, each as likely as the next.
    #[test]
    fn the_spread_of_an_even_error() {
        for error in [0.02, 0.05, 0.3] {
            let places = (-5000..=5000).map(|i| error * f64::from(i) / 5000.0);
            let by_sums = (places.map(|x| x * x).sum::<f64>() / 10_001.0).sqrt();
            assert!((spread(error) / by_sums - 1.0).abs() < 1e-3, "{error}: {by_sums}");
        }
    }
}

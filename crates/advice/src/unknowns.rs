//! What was not known, and how far it moves the answer: the answer is worked out again at both
//! ends of what is plausible.

use crate::answer::PlantAdvice;
use crate::course::{Course, Vary};
use crate::plant::CheckedPlant;
use crate::reason::Unknown;
use crate::request::Growth;
use crate::situation::Situation;
use crate::windows::{Searched, three_digits};
use guardcell_error::Error;

/// Adds to an answer what was not known, widest first.
pub(crate) fn add(
    advice: &mut PlantAdvice,
    plant: &CheckedPlant<'_>,
    course: &Course<'_>,
    situation: &Situation<'_>,
    searched: &Searched,
) -> Result<(), Error> {
    if plant.growth() == Growth::Unknown {
        advice.unknowns.push(Unknown {
            what: "whether it grows".into(),
            assumed: "in active growth".into(),
            spread: 1.0,
            measure: "look for a green root tip or a new growth; without one leave it alone".into(),
        });
    }
    let best = searched.fed.first().or_else(|| searched.water.first());
    if let Some(best) = best {
        let step = course.at(best.start);
        let spread = |vary: [Vary; 2]| -> Result<f64, Error> {
            let mut ends = [0.0; 2];
            for (end, v) in ends.iter_mut().zip(vary) {
                *end = course.varied(step, best.dose.mg_l, best.dose.passes, v)?;
            }
            let [a, b] = ends;
            Ok(three_digits((a - b).abs()))
        };
        if situation.request.site.grower.residue_threshold_g_m2.is_none() {
            advice.unknowns.push(Unknown {
                what: "at which residue this grower sees white".into(),
                assumed: "the shipped threshold, calibrated on common practice".into(),
                spread: spread([Vary::ThresholdLow, Vary::ThresholdHigh])?,
                measure: "note after each round whether you see white, and at which strength"
                    .into(),
            });
        }
        if course.air_speed_assumed(step) {
            advice.unknowns.push(Unknown {
                what: format!("the air speed in {}", course.area().description.name),
                assumed: "light air".into(),
                spread: spread([Vary::AirStill, Vary::AirFan])?,
                measure: "state air_m_s of the area, or hold up a strip of tissue and note still, light, fan, breezy or windy".into(),
            });
        }
        if situation.request.water.is_none() {
            advice.unknowns.push(Unknown {
                what: "what the water holds".into(),
                assumed: "pure water".into(),
                spread: spread([Vary::None, Vary::HardWater])?,
                measure: "give the water report: EC, hardness and alkalinity are enough".into(),
            });
        }
        if situation.product.is_none() {
            advice.unknowns.push(Unknown {
                what: "the feed".into(),
                assumed: "salts that turn solid early (potassium sulfate)".into(),
                spread: best.worst.residue_probability,
                measure: "give the label of the product".into(),
            });
        }
    }
    advice.unknowns.sort_by(|a, b| b.spread.total_cmp(&a.spread));
    Ok(())
}

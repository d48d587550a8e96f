//! Illuminance and photon flux density; from one to the other only with a light source.

use super::context::Context;
use super::notes::Notes;
use super::refuse::other_kind;
use crate::dimension::Dimension as D;
use crate::fault;
use crate::quantity::in_umol_per_m2_s;
use crate::text::{Measure, Quantity, Subject, Target};
use guardcell_error::Error;
use uom::si::illuminance::lux;

const SOURCE: &str = "Thimijan & Heins 1983, Photometric, radiometric, and quantum light units of measure, \
     HortScience 18: 818-822";

pub(super) fn to(
    q: &Quantity,
    t: &Target,
    context: &Context,
    notes: &mut Notes,
) -> Result<Quantity, Error> {
    if t.subject != Subject::Plain {
        return Err(other_kind(q, t));
    }
    let measure = q.measure();
    let source =
        || context.light_source.ok_or_else(|| fault::needs_light_source(&q.rounded(), &t.words()));
    let si = match (measure, t.dimension()) {
        (Measure::Illuminance(_), D::Illuminance)
        | (Measure::PhotonFluxDensity(_), D::PhotonFluxDensity) => q.unit().to_si(q.number()),
        (Measure::Illuminance(light), D::PhotonFluxDensity) => {
            in_umol_per_m2_s(source()?.photon_flux_density(light)) * 1e-6
        }
        (Measure::PhotonFluxDensity(light), D::Illuminance) => {
            source()?.illuminance(light).get::<lux>()
        }
        _ => return Err(other_kind(q, t)),
    };
    if let (Some(source), true) = (context.light_source, q.dimension() != t.dimension()) {
        notes.note_with(|| {
            format!(
                "with {} lux per µmol/m²/s for {}; the spectrum of the light decides, and two \
                 sources of one kind differ by some per cent",
                source.lux_per_ppfd(),
                source.as_str().replace('_', " ")
            )
        });
        notes.source(SOURCE);
    }
    let per_day = |unit: &crate::text::Unit| unit.definitions().any(|d| d.code == "d");
    if per_day(&q.unit()) != per_day(&t.unit) {
        notes.note("per day counts 24 hours of this light; for fewer hours take their share");
    }
    Ok(q.with(t.unit.of_si(si), t.unit, Subject::Plain))
}

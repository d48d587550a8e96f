//! Blending with softer water.

use super::completed::Water;
use super::report::{BlendRequest, BlendTarget};
use super::response::BlendResponse;
use crate::conduct::specific_conductance_of;
use crate::notice::{Notice, NoticeCode};
use guardcell_call::Bounded;
use guardcell_error::{Code, Error};
use guardcell_reference::Solute;
use guardcell_units::basis::{CaCO3, Cl, Na, Of};
use guardcell_units::quantity::{in_mmol_per_l, in_us_per_cm, mmol_per_l};
use guardcell_units::round::significant;

/// Figures of a blend of `share` of `hard` with soft water.
struct Blend {
    ec25: f64,
    alkalinity: f64,
    hardness: f64,
    na: f64,
    cl: f64,
    residue: super::residue::WaterResidue,
}

fn blend(hard: &Water, soft: &Water, share: f64) -> Result<Blend, Error> {
    let mix = |a: f64, b: f64| a * share + b * (1.0 - share);
    let c = hard.composition * share + soft.composition * (1.0 - share);
    let alkalinity_meq = mix(hard.alkalinity_meq_l, soft.alkalinity_meq_l);
    let ec = in_us_per_cm(specific_conductance_of(&c)?);
    let caco3 = |mmol: f64| Of::<CaCO3>::from_molar(mmol_per_l(mmol)).mg_per_l();
    Ok(Blend {
        ec25: ec + mix(hard.ec_offset_us_cm, soft.ec_offset_us_cm),
        alkalinity: caco3(alkalinity_meq / 2.0),
        hardness: caco3(in_mmol_per_l(c[Solute::Ca]) + in_mmol_per_l(c[Solute::Mg])),
        na: Of::<Na>::from_molar(c[Solute::Na]).mg_per_l(),
        cl: Of::<Cl>::from_molar(c[Solute::Cl]).mg_per_l(),
        residue: super::residue::of(&c, alkalinity_meq),
    })
}

pub(super) fn answer(hard: &Water, request: &BlendRequest) -> Result<BlendResponse, Error> {
    let mut warnings = Vec::new();
    let soft = if let Some(report) = &request.with {
        Water::from_report(report).map_err(|e| e.within("/blend/with"))?
    } else {
        warnings.push(Notice::new(
            NoticeCode::SofterWaterTakenAsPure,
            "The softer water has no report and is taken as holding nothing. Rain off a roof and \
             reverse-osmosis water hold a little: measure its EC.",
        ));
        Water::pure()
    };
    let (wanted, name) = request.target.wanted();
    let figure = |b: &Blend| match request.target {
        BlendTarget::Ec25UsCm(_) => b.ec25,
        BlendTarget::AlkalinityMgLCaco3(_) => b.alkalinity,
        BlendTarget::HardnessMgLCaco3(_) => b.hardness,
        BlendTarget::NaMgL(_) => b.na,
        BlendTarget::ClMgL(_) => b.cl,
        BlendTarget::ScaleMgLCaco3(_) => b.residue.scale_caco3_mg_l,
    };
    request.target.check_bounds().map_err(|e| e.within("/blend/target"))?;
    let (top, bottom) = (figure(&blend(hard, &soft, 1.0)?), figure(&blend(hard, &soft, 0.0)?));
    if wanted < top.min(bottom) - 1e-9 {
        return Err(Error::new(
            Code::Unreachable,
            format!(
                "this water alone has {top:.1} and the softer water {bottom:.1}, both more than \
                 the target {}",
                significant(wanted, 4)
            ),
            "use a softer water or a higher target",
        )
        .at(format!("/blend/target/{name}")));
    }
    let share = if wanted >= top.max(bottom) {
        warnings.push(Notice::new(
            NoticeCode::NoBlendNeeded,
            format!("This water alone has {top:.1}, no more than the target: use it as it is."),
        ));
        1.0
    } else {
        // Every figure changes in one direction with the share of this water.
        let rises = top >= bottom;
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..50 {
            let middle = f64::midpoint(low, high);
            if (figure(&blend(hard, &soft, middle)?) <= wanted) == rises {
                low = middle;
            } else {
                high = middle;
            }
        }
        f64::midpoint(low, high)
    };
    let b = blend(hard, &soft, share)?;
    Ok(BlendResponse {
        this_water_percent: 100.0 * share,
        softer_water_percent: 100.0 * (1.0 - share),
        ec25_us_cm: b.ec25,
        alkalinity_mg_l_caco3: b.alkalinity,
        hardness_mg_l_caco3: b.hardness,
        residue: b.residue,
        warnings,
    })
}

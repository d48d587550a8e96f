//! `water`: what a water holds, what is missing from its report, what it leaves when it dries.

use crate::args;
use crate::backend::Backend;
use crate::error::{Located, argument};
use crate::home::Home;
use crate::input::water as input;
use crate::print::{Out, text};
use crate::quantity;
use guardcell::Error;
use guardcell::calls::Water;
use guardcell::solution::water::{BlendRequest, BlendTarget, HeadroomRequest};
use guardcell::solution::{WaterRequest, WaterResponse};
use guardcell::units::basis::{Basis, CaCO3, Cl, Na};
use guardcell::units::quantity::{in_mg_per_l, in_us_per_cm};
use guardcell::units::text::{Measure, Quantity};

pub(crate) fn run(
    args: &args::Water,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<(), Error> {
    let headroom = match &args.ceiling {
        Some(c) => {
            let ceiling_ec25_us_cm = quantity::conductance("--ceiling", c)?;
            Some(HeadroomRequest { ceiling_ec25_us_cm, label: None })
        }
        None => None,
    };
    let blend = match &args.blend_to {
        Some(t) => Some(BlendRequest {
            with: args.blend_with.as_deref().map(input::read).transpose()?,
            target: blend_target(t)?,
        }),
        None if args.blend_with.is_some() => {
            return Err(argument(
                "--blend-with",
                "there is no target for the blend",
                "say with --blend-to what it should be, such as \"60 mg/L CaCO3 alkalinity\"",
            ));
        }
        None => None,
    };
    let Some((file, report)) = home.water(args.file.as_deref(), None)? else {
        return Err(argument(
            "the water",
            "no report is named, and the folder has none",
            "name the file of a report, or put one into waters/ of your folder",
        ));
    };
    let mut request = WaterRequest::new(report);
    (request.headroom, request.blend) = (headroom, blend);
    let answer = backend.ask::<Water>(&request).map_err(|e| e.in_path(&file))?;
    if out.json() {
        return out.value(&answer);
    }
    print(&answer, out);
    Ok(())
}

fn blend_target(text: &str) -> Result<BlendTarget, Error> {
    let q = Quantity::parse(text).map_err(|e| e.of_argument("--blend-to"))?;
    match q.measure() {
        Measure::SpecificConductance(k) | Measure::Meter(k, _) => {
            Ok(BlendTarget::Ec25UsCm(in_us_per_cm(k.value())))
        }
        Measure::Alkalinity(a) => Ok(BlendTarget::AlkalinityMgLCaco3(a.mg_per_l_caco3())),
        Measure::Hardness(h) => Ok(BlendTarget::HardnessMgLCaco3(h.mg_per_l_caco3())),
        Measure::AsBasis(m, b) if b.symbol == Na::SYMBOL => Ok(BlendTarget::NaMgL(in_mg_per_l(m))),
        Measure::AsBasis(m, b) if b.symbol == Cl::SYMBOL => Ok(BlendTarget::ClMgL(in_mg_per_l(m))),
        Measure::AsBasis(m, b) if b.symbol == CaCO3::SYMBOL => Err(argument(
            "--blend-to",
            format!("{} mg/L CaCO3 can be hardness or alkalinity", in_mg_per_l(m)),
            "write which, such as \"60 mg/L CaCO3 alkalinity\"",
        )),
        _ => Err(argument(
            "--blend-to",
            format!("{text:?} is not a target of a blend"),
            "give an EC, an alkalinity, a hardness, sodium or chloride",
        )),
    }
}

/// The symbol of an ion or element by its name on the wire.
fn ion(name: &str) -> &str {
    match name {
        "ca" => "Ca",
        "mg" => "Mg",
        "k" => "K",
        "na" => "Na",
        "nh4" => "NH4",
        "no3" => "NO3",
        "p" => "P",
        "so4" => "SO4",
        "cl" => "Cl",
        "dic" => "HCO3",
        "n" => "N",
        "s" => "S",
        other => other,
    }
}

/// A UCUM code as people write the unit, with a space before it.
fn unit(code: &str) -> &str {
    match code {
        "Cel" => " °C",
        "[pH]" => "",
        "mg/L" => " mg/L",
        "mg/L{CaCO3}" => " mg/L CaCO3",
        other => other,
    }
}

fn print(a: &WaterResponse, out: &mut Out) {
    let n = |v: f64| text::significant(v, 3);
    out.line(&a.name);
    out.line(format!(
        "  EC {} at 25 °C ({} from its ions), hardness {} and alkalinity {} mg/L CaCO3{}",
        text::ms_cm(a.ec25_us_cm),
        text::ms_cm(a.ec25_from_ions_us_cm),
        n(a.hardness_mg_l_caco3),
        n(a.alkalinity_mg_l_caco3),
        a.ph.map_or(String::new(), |p| format!(", pH {p}"))
    ));
    let ions: Vec<String> = a
        .ions_mg_l
        .iter()
        .filter(|(_, v)| **v > 0.0)
        .map(|(k, v)| format!("{} {}", ion(k), n(*v)))
        .collect();
    out.item("  ions, mg/L: ", &ions.join(", "));
    let supplies: Vec<String> = a
        .supplies_mg_l
        .iter()
        .filter(|(_, v)| **v > 0.0)
        .map(|(k, v)| format!("{} {}", ion(k), n(*v)))
        .collect();
    out.item("  supplies, mg/L: ", &supplies.join(", "));
    out.line(format!(
        "  dries to {} mg/L carbonate scale (as CaCO3) and {} mg/L other salts, without any feed",
        n(a.residue.scale_caco3_mg_l),
        n(a.residue.other_salts_mg_l)
    ));
    out.line(format!("  charge imbalance {} %", n(a.charge_imbalance_percent)));
    for x in &a.assumed {
        out.item(
            "  assumed: ",
            &format!("{} = {}{} ({})", ion(&x.what), n(x.value), unit(&x.unit), x.how),
        );
    }
    for c in &a.contradictions {
        out.item(
            "  contradiction: ",
            &format!("{} Most likely off: {}.", c.message, c.likely_off.join(", ")),
        );
    }
    if let Some(h) = &a.headroom {
        out.line(format!(
            "  under a ceiling of {} there is room for {} of feed",
            text::ms_cm(h.ceiling_ec25_us_cm),
            text::ms_cm(h.ec25_us_cm)
        ));
    }
    if let Some(b) = &a.blend {
        out.line(format!(
            "  blend {:.0} % of this water with {:.0} % of the softer one: EC {}, hardness {} mg/L \
             CaCO3, scale {} mg/L",
            b.this_water_percent,
            b.softer_water_percent,
            text::ms_cm(b.ec25_us_cm),
            n(b.hardness_mg_l_caco3),
            n(b.residue.scale_caco3_mg_l)
        ));
        for w in &b.warnings {
            out.item("  note: ", &w.message);
        }
    }
    for w in &a.warnings {
        out.item("  note: ", &w.message);
    }
}

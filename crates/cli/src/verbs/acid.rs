//! `acid`: how much brings a water to a pH or an alkalinity.

use crate::args;
use crate::backend::Backend;
use crate::error::argument;
use crate::home::Home;
use crate::print::{Out, text};
use crate::quantity;
use guardcell::Error;
use guardcell::calls::Acid;
use guardcell::solution::acid::{AcidName, AcidTarget};
use guardcell::solution::{AcidRequest, WaterReport};

const NAMES: [(&str, AcidName); 4] = [
    ("phosphoric", AcidName::Phosphoric),
    ("sulfuric", AcidName::Sulfuric),
    ("nitric", AcidName::Nitric),
    ("citric", AcidName::Citric),
];

pub(crate) fn run(
    args: &args::Acid,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<(), Error> {
    let wanted = args.acid.trim().to_lowercase();
    let name = NAMES.into_iter().find(|(n, _)| *n == wanted).map(|(_, a)| a).ok_or_else(|| {
        argument(
            "--acid",
            format!("{:?} is not an acid known here", args.acid),
            "write phosphoric, sulfuric, nitric or citric",
        )
    })?;
    let volume_l = quantity::litres("--volume", &args.volume)?;
    let (water, target) = (water(home, args)?, target(&args.to)?);
    let mut request = AcidRequest::new(water, name, args.strength_percent, target, volume_l);
    request.density_kg_l = args.density_kg_l;
    let answer = backend.ask::<Acid>(&request)?;
    if out.json() {
        return out.value(&answer);
    }
    let n = |v: f64| text::significant(v, 3);
    let volume = answer.volume_ml.map_or(String::new(), |v| format!("{} mL = ", n(v)));
    out.line(format!("  add            {volume}{} g of the acid", n(answer.mass_g)));
    out.line(format!(
        "  alkalinity     {} to {} mg/L CaCO3",
        n(answer.alkalinity_before_mg_l_caco3),
        n(answer.alkalinity_after_mg_l_caco3)
    ));
    out.line(format!(
        "  pH             {:.1}, before the CO2 set free has escaped",
        answer.ph_after
    ));
    for (what, amount) in [("N", answer.n_mg_l), ("P", answer.p_mg_l), ("S", answer.s_mg_l)] {
        if amount > 0.0 {
            out.line(format!("  adds           {} mg/L {what}", n(amount)));
        }
    }
    for c in &answer.cautions {
        out.item("  caution: ", &c.message);
    }
    for w in &answer.warnings {
        out.item("  note: ", &w.message);
    }
    Ok(())
}

fn water(home: &Home, args: &args::Acid) -> Result<WaterReport, Error> {
    match home.water(args.water.as_deref(), None)? {
        Some((_, water)) => Ok(water),
        None => Err(argument(
            "--water",
            "there is no water report",
            "name one with --water, or put it into waters/ of your folder",
        )),
    }
}

fn target(words: &str) -> Result<AcidTarget, Error> {
    let trimmed = words.trim();
    let ph = trimmed.strip_prefix("pH").or_else(|| trimmed.strip_prefix("ph"));
    if let Some(number) = ph {
        return number.trim().parse().map(AcidTarget::Ph).map_err(|_| {
            argument(
                "--to",
                format!("{number:?} is not a number"),
                "write the pH with a point, such as \"pH 6.0\"",
            )
        });
    }
    Ok(AcidTarget::AlkalinityMgLCaco3(quantity::alkalinity("--to", trimmed)?))
}

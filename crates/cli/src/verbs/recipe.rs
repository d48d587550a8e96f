//! `recipe`: what to weigh for a target, in this water.

use crate::args;
use crate::backend::Backend;
use crate::error::argument;
use crate::home::Home;
use crate::print::{Out, bucket, text};
use crate::quantity;
use guardcell::Error;
use guardcell::calls::Recipe;
use guardcell::reference::parameters::solution::SPOON_ERROR_HIGH;
use guardcell::solution::recipe::{ScaleResolution, Target, TargetMeaning};
use guardcell::solution::{Bounds, Label, RecipeRequest, RecipeResponse};

pub(crate) fn run(
    args: &args::Recipe,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<(), Error> {
    let Some((_, labels)) = home.labels(args.feed.label.as_deref())? else {
        return Err(argument(
            "--label",
            "there is no product",
            "give the label of the product, or a folder of labels",
        ));
    };
    let products = match (args.feed.product.as_slice(), &args.feed.label) {
        // In a folder the feed of the site is meant, where nothing else is named.
        ([], None) => {
            let wanted = home.of_site(None, guardcell_folder::usual_feed);
            chosen(home, labels, &wanted.into_iter().collect::<Vec<String>>())?
        }
        (wanted, _) => chosen(home, labels, wanted)?,
    };
    let targets = args.target.iter().map(|t| target(t)).collect::<Result<Vec<Target>, Error>>()?;
    if products.len() > 1 && targets.len() == 1 {
        let names: Vec<&str> = products.iter().map(|p| p.name.as_str()).collect();
        return Err(argument(
            "--label",
            format!("there are {} products ({}) and one target", products.len(), names.join(", ")),
            "name one product with --product, or give more targets",
        ));
    }
    let scale = args.scale.as_deref().map(|s| quantity::grams("--scale", s)).transpose()?;
    let volume_l = quantity::litres("--volume", &args.volume)?;
    let meaning = if args.total { TargetMeaning::Total } else { TargetMeaning::AddedFeed };
    let mut request = RecipeRequest::new(products, volume_l, targets)
        .with_target_meaning(meaning)
        .with_resolution(ScaleResolution { mass_g: scale, volume_ml: None });
    request.water = home.water(args.water.as_deref(), None)?.map(|(_, water)| water);
    let answer = backend.ask::<Recipe>(&request)?;
    if out.json() {
        return out.value(&answer);
    }
    print(&answer, out);
    Ok(())
}

fn chosen(home: &Home, labels: Vec<Label>, wanted: &[String]) -> Result<Vec<Label>, Error> {
    let (labels, names) = home.products(labels, wanted, None)?;
    guardcell_folder::choose(labels, &names)
}

/// A target as people write it.
fn target(text: &str) -> Result<Target, Error> {
    text.parse().map_err(|e: Error| e.without_pointer().of_argument("--target"))
}

fn range(b: &Bounds, divisor: f64) -> String {
    let n = |v: f64| text::significant(v / divisor, 3);
    match b.value {
        Some(v) => format!("{} ({} to {})", n(v), n(b.low), n(b.high)),
        None => format!("{} to {}", n(b.low), n(b.high)),
    }
}

fn print(r: &RecipeResponse, out: &mut Out) {
    let meaning = match r.target_meaning {
        TargetMeaning::AddedFeed => "targets count what the feed adds",
        TargetMeaning::Total => "targets count feed and water together",
    };
    out.line(format!("For {} L ({meaning})", text::significant(r.volume_l, 4)));
    for p in &r.products {
        let mass = p.mass_g.map(|g| format!("{} g", text::significant(g, 4)));
        let volume = p.volume_ml.map(|v| format!("{} mL", text::significant(v, 4)));
        let amount: Vec<String> = mass.into_iter().chain(volume).collect();
        out.line(format!("  {}  {}", amount.join(" = "), p.name));
        if let Some(s) = &p.spoons {
            out.line(if s.rounding_error_percent.abs() > SPOON_ERROR_HIGH.percent() {
                "      too little for a spoon: weigh it".to_owned()
            } else {
                format!(
                    "      or {} level metric teaspoons (off by {:.0} %)",
                    text::significant(s.metric_tsp_rounded, 3),
                    s.rounding_error_percent
                )
            });
        }
        if let Some(round) = &p.rounding {
            out.line(format!(
                "      rounded from {} to the scale: {:+.1} %",
                text::significant(round.exact, 4),
                round.error_percent
            ));
        }
        for s in &p.with {
            let amount =
                bucket::amount(s.mass_g.filter(|_| s.volume_ml.is_none()), s.volume_ml, &s.name);
            out.line(format!("      with {amount}"));
        }
    }
    out.line("");
    out.line(format!(
        "  feed strength {} mg/L, {} ppm N",
        text::significant(r.feed_strength_mg_l, 4),
        text::significant(r.n_mg_l, 3)
    ));
    out.line(format!(
        "  meter reads {} mS/cm at 25 °C; the water alone {}",
        range(&r.ec25_us_cm, 1000.0),
        text::ms_cm(r.water_ec25_us_cm)
    ));
    out.line(format!(
        "  as ppm: {} on the 500 scale, {} on the 640, {} on the 700",
        range(&r.meter_ppm.scale_500, 1.0),
        range(&r.meter_ppm.scale_640, 1.0),
        range(&r.meter_ppm.scale_700, 1.0)
    ));
    let forms = &r.n_forms_mg_l;
    out.line(format!(
        "  N forms, mg/L: nitrate {}, ammoniacal {}, urea {}, other {}",
        text::significant(forms.nitrate, 3),
        text::significant(forms.ammoniacal, 3),
        text::significant(forms.urea, 3),
        text::significant(forms.other, 3)
    ));
    out.line("");
    out.line("  mg/L      total  from products  from water");
    for (element, a) in &r.profile_mg_l {
        if a.total <= 0.0 {
            continue;
        }
        let mut symbol = element.clone();
        if let Some(first) = symbol.get_mut(0..1) {
            first.make_ascii_uppercase();
        }
        out.line(format!(
            "  {symbol:<4}  {:>9}  {:>13}  {:>10}",
            text::significant(a.total, 3),
            text::significant(a.from_products, 3),
            text::significant(a.from_water, 3)
        ));
    }
    for t in r.targets.iter().filter(|t| !t.met) {
        out.item(
            "  not met: ",
            &format!("{} reaches {}", t.target, text::significant(t.reached, 3)),
        );
    }
    for b in &r.blocking {
        out.item("  blocked: ", &b.message);
    }
    for n in &r.assumptions {
        out.item("  assumed: ", &n.message);
    }
    for n in &r.warnings {
        out.item("  note: ", &n.message);
    }
}

//! The site file that a person can edit.

use crate::init::areas::Area;
use crate::init::place::Where;
use crate::init::tools::Tools;

/// The text of `site.toml`.
pub(super) fn site_file(name: &str, place: &Where, areas: &[Area], tools: &Tools) -> String {
    let mut out =
        String::from("# Your place. Change what is wrong; `guardcell check` reads it again.\n");
    out.push_str(&format!("name = {}\n", quoted(name)));
    if place.rough {
        out.push_str(
            "# Only the principal place of the time zone: write your own, for the sun keeps to it.\n",
        );
    }
    out.push_str(&format!("latitude_deg = {:?}\n", place.latitude_deg));
    out.push_str(&format!("longitude_deg = {:?}\n", place.longitude_deg));
    out.push_str(&format!("time_zone = {}\n", quoted(&place.time_zone)));
    out.push_str("# elevation_m = 100.0\n");
    for area in areas {
        out.push('\n');
        for note in &area.notes {
            out.push_str(&format!("# {note}\n"));
        }
        out.push_str("[[areas]]\n");
        out.push_str(&format!("id = {}\n", quoted(&area.id)));
        out.push_str(&format!("name = {}\n", quoted(&area.name)));
        let (shelter, light) = (area.shelter.word(), area.light.word());
        out.push_str(&format!("shelter = \"{shelter}\"  # room, glass or outdoors\n"));
        out.push_str(&format!("light = \"{light}\"  # sun, lamps or sun_and_lamps\n"));
        if !area.lamps.is_empty() {
            let runs: Vec<String> = area
                .lamps
                .iter()
                .map(|(on, off)| format!("{{ on = \"{on}\", off = \"{off}\" }}"))
                .collect();
            out.push_str(&format!("lamps = [{}]\n", runs.join(", ")));
        }
    }
    out.push_str("\n[grower]\n");
    let hours: Vec<String> = tools
        .hours
        .iter()
        .map(|(from, to)| format!("{{ from = \"{from}\", to = \"{to}\" }}"))
        .collect();
    if hours.is_empty() {
        out.push_str("# When you can be there; without it any hour will do.\n");
        out.push_str("# working_hours = [{ from = \"06:00\", to = \"09:00\" }]\n");
    } else {
        out.push_str(&format!("working_hours = [{}]\n", hours.join(", ")));
    }
    for (key, value, usual) in
        [("mister_ml", tools.mister_ml, "1000.0"), ("scale_g", tools.scale_g, "0.1")]
    {
        match value {
            Some(v) => out.push_str(&format!("{key} = {v:?}\n")),
            None => out.push_str(&format!("# {key} = {usual}\n")),
        }
    }
    out.push_str("# feed = \"\"            # which label, where labels/ has several\n");
    out.push_str("# water = \"\"           # which report, where waters/ has several\n");
    out.push_str(
        "# Several feeds in turn, with plain water between; what came last is in the journal.\n\
         # rota = [\"leaf\", \"leaf\", \"bloom\", \"water\"]\n\
         # [[feeds]]\n\
         # name = \"leaf\"\n\
         # product = \"\"         # a label of labels/: its name or a part of it\n\
         # [[feeds]]\n\
         # name = \"bloom\"\n\
         # product = \"\"\n\
         # months = [9, 10, 11]  # its turns in other months are passed over\n",
    );
    out
}

/// A string of TOML.
fn quoted(text: &str) -> String {
    toml::Value::String(text.to_owned()).to_string()
}

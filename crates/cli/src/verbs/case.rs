//! `case`: everything that is known of one plant.

mod parts;

use crate::args;
use crate::backend::Backend;
use crate::error::argument;
use crate::home::Home;
use crate::moment;
use crate::print::sheet::Sheet;
use crate::print::{Out, file, text};
use crate::verbs::inputs::{self, Grower};
use crate::verbs::journal::learned::{self, Kept};
use crate::verbs::journal::open;
use crate::verbs::situation::{self, Situation};
use guardcell::Error;
use guardcell::advice::{AdviceRequest, AdviceResponse, PlantEntry, SiteDescription};
use guardcell::calls::Advise;
use guardcell::ledger::{Entry, LedgerRequest, PlantLedger, ledger, standing_entries};
use guardcell_folder::{Task, tasks};
use jiff::{Timestamp, ToSpan as _};
use serde::Serialize;

/// What is known of one plant.
struct Known {
    site: SiteDescription,
    plant: PlantEntry,
    /// The moment it is for, RFC 3339.
    at: String,
    /// Its entries that stand, in the order of time.
    entries: Vec<Entry>,
    account: Option<PlantLedger>,
    due: Vec<Task>,
}

/// A case for programs.
#[derive(Serialize)]
struct ForPrograms<'a> {
    at: &'a str,
    plant: &'a PlantEntry,
    #[serde(skip_serializing_if = "Option::is_none")]
    account: Option<&'a PlantLedger>,
    entries: &'a [Entry],
    #[serde(skip_serializing_if = "Option::is_none")]
    advice: Option<&'a AdviceResponse>,
    sheet: &'a Sheet,
}

pub(crate) fn run(
    args: &args::Case,
    home: &Home,
    backend: &Backend,
    out: &mut Out,
) -> Result<(), Error> {
    // Place and journal are read once, so that both halves of the sheet speak of the same.
    let grower = inputs::grower(&args.inputs, home)?;
    let kept = learned::kept(&args.learned, home, &grower.site.name)?;
    let known = known(args, &grower, kept.as_ref())?;
    // Where the air or a label is missing, all else is still told.
    let only = args::Only { plant: vec![known.plant.id.clone()], ..args::Only::default() };
    let read = situation::of(&args.inputs, &args.learned, &only, (grower, Ok(kept)), home);
    let now = read.and_then(|situation: Situation| {
        let read = &situation.read;
        let advice = backend.ask::<Advise>(&read.request).map_err(|e| read.locate(e))?;
        Ok((situation, advice))
    });
    let sheet = sheet(&known, now.as_ref());
    if let Some(path) = &args.output {
        let ending = path.extension().and_then(|e| e.to_str()).unwrap_or_default().to_lowercase();
        let html = matches!(ending.as_str(), "html" | "htm");
        file::write(path, &if html { sheet.html() } else { sheet.markdown() })?;
        if path.as_os_str() != "-" {
            out.line(format!("Written: {}", path.display()));
        }
        return Ok(());
    }
    if out.json() {
        return out.value(&ForPrograms {
            at: &known.at,
            plant: &known.plant,
            account: known.account.as_ref(),
            entries: &known.entries,
            advice: now.as_ref().ok().map(|(_, advice)| advice),
            sheet: &sheet,
        });
    }
    sheet.print(out);
    Ok(())
}

fn known(args: &args::Case, grower: &Grower, kept: Option<&Kept>) -> Result<Known, Error> {
    let site = grower.site.clone();
    let plants = &grower.collection.plants;
    let Some(plant) = plants.iter().find(|p| p.id.eq_ignore_ascii_case(&args.id)).cloned() else {
        return Err(argument(
            "the plant",
            format!("the collection has no {:?}", args.id),
            "name an id of the collection",
        ));
    };
    let start = moment::start(args.inputs.at.as_deref(), &site.time_zone, Timestamp::now())?;
    let start = AdviceRequest::new(site.clone(), Vec::new(), Vec::new(), start)
        .start()
        .map_err(|e| e.without_pointer().of_argument("--at"))?;
    let at = moment::rfc3339(&start);
    let entries = kept.map_or_else(Vec::new, |kept| kept.entries.clone());
    let back = i64::from(args.weeks) * 7 - 1;
    let first = start.date().saturating_sub(back.days());
    let request = LedgerRequest::new(entries.clone(), at.clone())
        .with_plants(vec![plant.clone()])
        .with_from(Some(first.to_string()));
    let account = ledger(&request).map_err(open::fault)?.plants.into_iter().next();
    let due = tasks(std::slice::from_ref(&plant), &entries, &at).map_err(open::fault)?;
    let named = |e: &&Entry| e.event.plants().contains(&plant.id.as_str());
    let own: Vec<Entry> = standing_entries(&entries, &at)
        .map_err(open::fault)?
        .into_iter()
        .filter(named)
        .cloned()
        .collect();
    let due = due.into_iter().filter(|t| t.plants.contains(&plant.id)).collect();
    Ok(Known { site, plant, at, entries: own, account, due })
}

fn sheet(known: &Known, now: Result<&(Situation, AdviceResponse), &Error>) -> Sheet {
    let plant = &known.plant;
    let mut sheet = Sheet {
        title: format!("{} {}, {}", plant.id, plant.name, text::day_and_year(&known.at)),
        parts: Vec::new(),
    };
    sheet.add("PLANT", parts::plant(plant, now.ok().map(|(_, advice)| advice)), 3);
    sheet.add("PLACE", parts::place(&known.site, plant), 2);
    if let Ok((situation, _)) = now {
        sheet.add("AIR", parts::air(situation, &plant.area, &known.at), 3);
        sheet.add("WATER", parts::water(situation), 2);
        sheet.add("FEED", parts::feed(situation), 2);
    }
    if let Some(account) = &known.account {
        sheet.add("GOT", parts::got(account), 4);
        sheet.add("GROWS", crate::print::growth::lines(account), 4);
    }
    sheet.add("SEEN", parts::looks(&known.entries), 3);
    sheet.add("NOTES", parts::notes(plant, &known.entries), 3);
    sheet.add("DUE", known.due.iter().map(crate::print::short::task).collect(), 4);
    sheet.add("NOW", parts::now(now), 3);
    sheet
}

//! Asks line by line what to record: plain questions and answers, so that a screen reader reads
//! them and a test can pipe them. Questions go to standard error, nothing is recorded before a
//! yes.

use super::place::Context;
use super::{amount, draft, plants, say};
use crate::args::Plants;
use crate::error::{argument, bad_file, io, output};
use crate::quantity;
use guardcell::Error;
use guardcell::ledger::{
    Draft, Event, Flush, Growth, Nature, Note, Place, Residue, Response, RootFeed, Round, Soak,
    Wipe,
};
use guardcell::reference::parameters::practice;
use std::io::{BufRead, Read as _, Write};
use std::path::Path;

/// Longest answer that is read.
const ANSWER_LONGEST: u64 = 64 * 1024;

/// The questions and where their answers come from.
struct Talk<'a> {
    input: &'a mut dyn BufRead,
    asks: &'a mut dyn Write,
}

/// Asks for one entry; none where the grower says no in the end.
pub(crate) fn ask(
    context: &Context,
    at: Option<&str>,
    input: &mut dyn BufRead,
    asks: &mut dyn Write,
) -> Result<Option<Draft>, Error> {
    let mut talk = Talk { input, asks };
    let mut context = context.clone();
    talk.say("Nothing is recorded before you say yes at the end. Ctrl-D leaves.")?;
    let kind = talk.until(
        "What is to be recorded? round, residue, flush, soak, root-feed, response, growth, wipe or note",
        kind,
    )?;
    if context.name.is_none() {
        context.name = Some(talk.until("What is the site called?", not_blank)?);
    }
    if context.zone.is_none() && at.is_none() {
        context.zone =
            Some(talk.until("In which time zone is it? Such as Europe/London", |t| {
                let zone = not_blank(t)?;
                Context { zone: Some(zone.clone()), ..context.clone() }
                    .moment(Some("12:00"))
                    .map(|_| zone)
            })?);
    }
    let (when, zone) = match at {
        Some(at) => context.moment(Some(at))?,
        None => talk.until(
            "When was it? Such as 05:30, yesterday 18:00 or 2026-06-21 05:30; blank for now",
            |t| context.moment(Some(t).filter(|t| !t.is_empty())),
        )?,
    };
    let event = match kind {
        "round" => round(&mut talk, &context, &when)?,
        "residue" => residue(&mut talk, &context)?,
        "flush" => {
            let plants = talk.plants(&context)?;
            let volume_ml =
                talk.volume("How much water went through, over all? Blank if unknown", &context)?;
            let drain_ml =
                talk.volume("How much ran out below? Blank if not measured", &context)?;
            let drain_mg_l = match drain_ml {
                None => None,
                Some(_) => talk.maybe(
                    "What was dissolved in that, such as 400 mg/L? Blank if not measured",
                    |t| quantity::strength_mg_l("the answer", t),
                )?,
            };
            Event::Flush(Flush { plants, volume_ml, drain_ml, drain_mg_l })
        }
        "soak" => {
            let plants = talk.plants(&context)?;
            let usual = practice::STRENGTH_ROOTLESS.mg_per_l();
            let strength = talk
                .maybe(&format!("Feed strength? Blank for {usual:.0} mg/L"), |t| {
                    quantity::strength_mg_l("the answer", t)
                })?;
            let lasts = practice::SOAK_DURATION.minutes();
            let minutes = talk.maybe(&format!("How long? Blank for {lasts:.0} min"), |t| {
                quantity::minutes("the answer", t)
            })?;
            Event::Soak(Soak {
                plants,
                feed_strength_mg_l: strength.unwrap_or(usual),
                duration_min: minutes.unwrap_or(lasts),
            })
        }
        "root-feed" => {
            let plants = talk.plants(&context)?;
            let strength = talk.until("Feed strength, such as 300 mg/L?", |t| {
                quantity::strength_mg_l("the answer", t)
            })?;
            let volume_ml = talk.volume("Volume over all plants? Blank if unknown", &context)?;
            Event::RootFeed(RootFeed {
                plants: draft::shares(plants),
                product: draft::product(None, strength, &context, &when),
                feed_strength_mg_l: strength,
                n_mg_l: None,
                volume_ml,
                drain_ml: None,
                drain_mg_l: None,
            })
        }
        "response" => {
            let plants = talk.plants(&context)?;
            let sign =
                talk.until("What did they do? root-tip, new-growth, bud or loss", draft::sign)?;
            Event::Response(Response { plants, sign })
        }
        "growth" => {
            let plants = talk.plants(&context)?;
            let measure = talk.until(
                "What was counted or measured? new-root, new-leaf, new-pseudobulb, flower, \
                 lost-leaf, leaf-length or weight",
                draft::measure,
            )?;
            let value = talk
                .until("How many are new, or how much is it? 0 says that nothing is new", |t| {
                    draft::measured(measure, t)
                })?;
            Event::Growth(Growth {
                plants,
                measure: Some(measure),
                value: Some(value),
                photo: None,
            })
        }
        "wipe" => Event::Wipe(Wipe { plants: talk.plants(&context)? }),
        _ => Event::Note(Note { plants: talk.plants_or_none(&context)? }),
    };
    let note = if matches!(event, Event::Note(_)) {
        talk.until("The note?", not_blank)?
    } else {
        talk.line("A remark? Blank for none")?
    };
    let draft = Draft {
        id: None,
        recorded: None,
        at: when,
        zone,
        site: context.site_name()?,
        supersedes: None,
        event,
        note,
    };
    // Checked before it is shown: what is shown can be recorded.
    let shown = draft
        .clone()
        .checked("new", "2026-01-01T00:00:00Z")
        .map_err(crate::verbs::journal::open::fault)?;
    talk.say(&format!("This will be recorded for {}:", shown.site))?;
    talk.say(&format!("  {}", say::entry(&shown)))?;
    if talk.until("Record it? yes or no", yes)? {
        return Ok(Some(draft));
    }
    talk.say("Nothing was recorded.")?;
    Ok(None)
}

fn round(talk: &mut Talk<'_>, context: &Context, at: &str) -> Result<Event, Error> {
    let plants = talk.plants(context)?;
    let strength = talk.until("Feed strength, such as 300 mg/L? 0 mg/L for plain water", |t| {
        quantity::strength_mg_l("the answer", t)
    })?;
    let passes = talk.maybe("How many passes? Blank for one", |t| {
        t.parse::<u8>().ok().filter(|n| (1..=10).contains(n)).ok_or_else(|| {
            argument("the answer", format!("{t:?} is not a number of passes"), "say 1 to 10")
        })
    })?;
    let volume_ml = talk
        .volume("Volume over all plants and passes, such as 700 mL? Blank if unknown", context)?;
    Ok(Event::Round(Round {
        plants: draft::shares(plants),
        product: draft::product(None, strength, context, at),
        water: None,
        wetting_agent: None,
        sprayer: None,
        feed_strength_mg_l: strength,
        n_mg_l: None,
        passes: passes.unwrap_or(1),
        volume_ml,
        window: None,
        conditions: None,
    }))
}

fn residue(talk: &mut Talk<'_>, context: &Context) -> Result<Event, Error> {
    let plants = talk.plants_or_none(context)?;
    let asked = if plants.is_empty() {
        talk.until("Then which group was looked at?", |t| not_blank(t).map(Some))?
    } else {
        talk.maybe("A name for plants that look alike? Blank for none", |t| Ok(t.to_owned()))?
    };
    let level = talk.until(
        "How much was seen? none, faint (in slanting light), clear (at once) or heavy (a crust)",
        draft::level,
    )?;
    let place = talk
        .maybe("Where? leaf, root-tip or pot-surface; blank for leaf", draft::place)?
        .unwrap_or(Place::Leaf);
    let nature = if level == guardcell::ledger::Level::None {
        Nature::Unknown
    } else {
        talk.maybe(
            "What is it? feed (wipes off with water), scale (stays) or unknown; blank for unknown",
            draft::nature,
        )?
        .unwrap_or_default()
    };
    Ok(Event::Residue(Residue {
        plants,
        group: asked,
        level,
        place,
        nature,
        wiped: None,
        round: None,
        conditions: None,
    }))
}

impl Talk<'_> {
    fn say(&mut self, text: &str) -> Result<(), Error> {
        writeln!(self.asks, "{text}").and_then(|()| self.asks.flush()).map_err(output)
    }

    /// One answer, without blanks round it; the end of the input is the end of the asking.
    fn line(&mut self, question: &str) -> Result<String, Error> {
        self.say(question)?;
        let mut bytes = Vec::new();
        let read = (&mut *self.input)
            .take(ANSWER_LONGEST)
            .read_until(b'\n', &mut bytes)
            .map_err(|what| io(Path::new("standard input"), what))?;
        if read == 0 {
            return Err(bad_file(
                "standard input",
                "the answers ended before a yes; nothing was recorded",
                "answer every question",
            ));
        }
        match String::from_utf8(bytes) {
            Ok(text) => Ok(text.trim().to_owned()),
            Err(_) => Err(bad_file(
                "standard input",
                "an answer is not UTF-8; nothing was recorded",
                "set the terminal to UTF-8",
            )),
        }
    }

    /// Asks until the answer can be taken.
    fn until<T>(
        &mut self,
        question: &str,
        take: impl Fn(&str) -> Result<T, Error>,
    ) -> Result<T, Error> {
        loop {
            let answer = self.line(question)?;
            match take(&answer) {
                Ok(value) => return Ok(value),
                Err(e) => self.say(&format!("  {e}"))?,
            }
        }
    }

    /// As `until`; a blank is not an answer.
    fn maybe<T>(
        &mut self,
        question: &str,
        take: impl Fn(&str) -> Result<T, Error>,
    ) -> Result<Option<T>, Error> {
        self.until(question, |t| if t.is_empty() { Ok(None) } else { take(t).map(Some) })
    }

    fn volume(&mut self, question: &str, context: &Context) -> Result<Option<f64>, Error> {
        self.maybe(question, |t| amount::volume("the answer", t, context))
    }

    fn plants(&mut self, context: &Context) -> Result<Vec<String>, Error> {
        self.until("Which plants? Ids with blanks between; * fits any letters", |t| {
            plants::some(&who(t), context)
        })
    }

    fn plants_or_none(&mut self, context: &Context) -> Result<Vec<String>, Error> {
        self.until("Which plants? Ids with blanks between; blank for none", |t| {
            plants::chosen(&who(t), context)
        })
    }
}

fn who(answer: &str) -> Plants {
    let plants = answer.split([' ', ',']).filter(|t| !t.is_empty()).map(str::to_owned).collect();
    Plants { plants, area: None, setting: None, standing: None }
}

fn kind(text: &str) -> Result<&'static str, Error> {
    const KINDS: [&str; 9] =
        ["round", "residue", "flush", "soak", "root-feed", "response", "growth", "wipe", "note"];
    let wanted = text.to_lowercase().replace([' ', '_'], "-");
    KINDS
        .into_iter()
        .find(|k| *k == wanted)
        .ok_or_else(|| argument("the answer", format!("{text:?} is not known"), KINDS.join(", ")))
}

fn not_blank(text: &str) -> Result<String, Error> {
    if text.is_empty() {
        return Err(argument("the answer", "it is blank", "it is needed"));
    }
    Ok(text.to_owned())
}

fn yes(text: &str) -> Result<bool, Error> {
    match text.to_lowercase().as_str() {
        "yes" | "y" => Ok(true),
        "no" | "n" => Ok(false),
        _ => Err(argument("the answer", format!("{text:?} is neither"), "say yes or no")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn context() -> Context {
        Context {
            name: Some("Fernhollow".into()),
            zone: Some("Europe/London".into()),
            site: None,
            collection: None,
            offset: None,
            in_journal: Default::default(),
            turns: Default::default(),
            now: "2026-06-21T17:30:00Z".parse().unwrap(),
        }
    }

    fn talk(answers: &str) -> (Result<Option<Draft>, Error>, String) {
        let (mut input, mut asks) = (answers.as_bytes(), Vec::new());
        let done = ask(&context(), None, &mut input, &mut asks);
        (done, String::from_utf8(asks).unwrap())
    }

    #[test]
    fn a_round_is_asked_for_and_shown() {
        let (done, asked) = talk("round\n05:30\nF1 F2\n300 mg/L\n2\n700 mL\n\nyes\n");
        let draft = done.unwrap().unwrap();
        assert_eq!(draft.at, "2026-06-21T05:30:00+01:00");
        assert!(matches!(&draft.event, Event::Round(r) if r.passes == 2 && r.plants.len() == 2));
        assert!(asked.contains("300 mg/L feed in 2 passes, 700 mL over F1 and F2"), "{asked}");
    }

    #[test]
    fn growth_is_asked_for() {
        let (done, asked) = talk("growth\n05:30\nF1\nnew-root\ntwo\n2\n\nyes\n");
        let draft = done.unwrap().unwrap();
        assert!(matches!(&draft.event, Event::Growth(g) if g.value == Some(2.0)));
        assert!(asked.contains("2 new roots, F1"), "{asked}");
    }

    #[test]
    fn wrong_answers_are_asked_again() {
        let (done, asked) = talk("dance\nnote\nsoon\n05:30\n\n\nDoor left open.\nmaybe\nyes\n");
        assert_eq!(done.unwrap().unwrap().note, "Door left open.");
        assert!(asked.contains("\"dance\" is not known") && asked.contains("neither"), "{asked}");
    }

    #[test]
    fn no_and_the_end_record_nothing() {
        assert!(talk("note\n\n\nx\nno\n").0.unwrap().is_none());
        let (done, _) = talk("round\n05:30\nF1\n");
        assert!(done.unwrap_err().to_string().contains("nothing was recorded"));
    }
}

//! The questions, each with why it is asked, and the answers as files. A flag answers its question.

use crate::args::Init;
use crate::error::{argument, output};
use crate::input::text;
use crate::quantity;
use guardcell::Error;
use guardcell::advice::Reading;
use guardcell_folder::init::{self, NewFile, NewFolder};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use std::io::{BufRead, Read as _, Write};
use std::path::Path;

/// Longest answer that is read.
const ANSWER_LONGEST: u64 = 64 * 1024;

/// Questions in all, the last of which is whether to write.
const QUESTIONS: usize = 8;

/// The questions and where their answers come from.
pub(super) struct Talk<'a> {
    input: &'a mut dyn BufRead,
    asks: &'a mut dyn Write,
    asking: bool,
}

impl<'a> Talk<'a> {
    pub(super) fn new(input: &'a mut dyn BufRead, asks: &'a mut dyn Write, asking: bool) -> Self {
        Self { input, asks, asking }
    }

    fn say(&mut self, line: &str) -> Result<(), Error> {
        writeln!(self.asks, "{}", guardcell::escape_control(line)).map_err(output)
    }

    /// One line; `None` at the end of input.
    fn line(&mut self) -> Result<Option<String>, Error> {
        write!(self.asks, "> ").and_then(|()| self.asks.flush()).map_err(output)?;
        let mut line = String::new();
        let read = (&mut *self.input)
            .take(ANSWER_LONGEST)
            .read_line(&mut line)
            .map_err(|e| crate::error::io(Path::new("standard input"), e))?;
        Ok(if read == 0 { None } else { Some(line.trim().to_owned()) })
    }

    /// The answer to a question: that of the flag, else asked until it can be used. A blank answer
    /// is `None` where one may be left out.
    fn answer<T>(
        &mut self,
        question: &Question,
        flag: Option<&str>,
        mut read: impl FnMut(&str) -> Result<T, Error>,
    ) -> Result<Option<T>, Error> {
        if let Some(text) = flag {
            return read(text).map(Some);
        }
        if !self.asking {
            return if question.needed { Err(question.missing()) } else { Ok(None) };
        }
        self.say("")?;
        self.say(&format!("{} of {QUESTIONS}  {}", question.number, question.asks))?;
        for line in question.why {
            self.say(&format!("        {line}"))?;
        }
        loop {
            let Some(text) = self.line()? else { return Err(question.missing()) };
            if text.is_empty() && !question.needed {
                return Ok(None);
            }
            match read(&text) {
                Ok(value) => return Ok(Some(value)),
                Err(e) => self.say(&format!("{}: {}", e.detail(), e.hint()))?,
            }
        }
    }
}

/// A question with why it is asked.
struct Question {
    number: usize,
    flag: &'static str,
    asks: &'static str,
    why: &'static [&'static str],
    needed: bool,
}

impl Question {
    fn missing(&self) -> Error {
        argument(
            self.flag,
            "there is no answer",
            format!("give it with {}, or run `guardcell init` on a terminal", self.flag),
        )
    }
}

const PLACE: Question = Question {
    number: 1,
    flag: "--place",
    asks: "Where are the plants? Coordinates such as 51.5 -0.1, or Europe/London",
    why: &["The sun and the clock say when leaves open their pores."],
    needed: true,
};
const AREAS: Question = Question {
    number: 2,
    flag: "--areas",
    asks: "Which areas, with commas? Such as: windowsill, rack: shelf lamps 7-21",
    why: &[
        "Or cabinet, glass, lean-to, shade house, covered patio, outdoors, room.",
        "Shelter and light decide how the air and the leaves behave.",
    ],
    needed: true,
};
const PLANTS: Question = Question {
    number: 3,
    flag: "--plants",
    asks: "Which plants, with commas? Or a file with one a line. Blank: later",
    why: &[
        "In brackets what is special: Vanda (mounted, established) @rack.",
        "Kinds open their pores by day or at night; the weak get less.",
    ],
    needed: false,
};
const FEED: Question = Question {
    number: 4,
    flag: "--feed",
    asks: "Which feed? N-P-K such as 20-20-20, or the file of a label. Blank: later",
    why: &["What to weigh, and what the meter will show, follow from the label."],
    needed: false,
};
const WATER: Question = Question {
    number: 5,
    flag: "--water",
    asks: "Which water? rain, or EC 0.5, hardness 12 dH, or a file. Blank: pure",
    why: &["Hard water leaves scale on leaves without any feed."],
    needed: false,
};
const AIR: Question = Question {
    number: 6,
    flag: "--air",
    asks: "The air now? °C, humidity, still/light/fan, as 22 60 fan. Blank: later",
    why: &["Dry air leaves the feed as white salt. Or a logger's table (CSV)."],
    needed: false,
};
const TOOLS: Question = Question {
    number: 7,
    flag: "--tools",
    asks: "Mister, scale, your hours? Such as: mister 1 L, scale 0.1 g, 7-9, 18-22",
    why: &["Fills, weighing and sittings follow them. Blank: any hour will do."],
    needed: false,
};

/// The files of the new folder; none where the grower says no in the end.
pub(super) fn files(
    args: &Init,
    folder: &Path,
    talk: &mut Talk<'_>,
) -> Result<Option<Vec<NewFile>>, Error> {
    let machine = TimeZone::system();
    let usual = machine.iana_name().filter(|zone| zone.contains('/'));
    let place = talk
        .answer(&PLACE, args.place.as_deref(), |t| init::place(t, usual))?
        .ok_or_else(|| PLACE.missing())?;
    let areas =
        talk.answer(&AREAS, args.areas.as_deref(), init::areas)?.ok_or_else(|| AREAS.missing())?;
    let ids: Vec<String> = areas.iter().map(|a| a.id.clone()).collect();
    let ids: Vec<&str> = ids.iter().map(String::as_str).collect();
    let notes: Vec<&str> = areas.iter().flat_map(|a| &a.notes).copied().collect();
    let mut new = NewFolder::new(name(args, folder), place, areas);
    if talk.asking {
        for note in notes {
            talk.say(&format!("        {note}"))?;
        }
    }
    if let Some(collection) =
        talk.answer(&PLANTS, args.plants.as_deref(), |t| collection(t, &ids))?
    {
        new.collection = collection;
    }
    new.label = talk.answer(&FEED, args.feed.as_deref(), label)?;
    new.water = talk.answer(&WATER, args.water.as_deref(), water)?;
    let zone = new.place.time_zone.clone();
    new.air = talk.answer(&AIR, args.air.as_deref(), |t| air(t, &zone))?;
    if let Some(tools) = talk.answer(&TOOLS, args.tools.as_deref(), init::tools)? {
        new.tools = tools;
    }
    let files = new.files()?;
    if talk.asking && !confirmed(folder, &files, talk)? {
        return Ok(None);
    }
    Ok(Some(files))
}

fn confirmed(folder: &Path, files: &[NewFile], talk: &mut Talk<'_>) -> Result<bool, Error> {
    let place = crate::home::show(folder);
    talk.say("")?;
    talk.say(&format!("{QUESTIONS} of {QUESTIONS}  Write these into {place}? yes or no"))?;
    for file in files {
        talk.say(&format!("        {}", file.name))?;
    }
    loop {
        match talk.line()?.as_deref().map(str::to_lowercase).as_deref() {
            // The last question needs no line end.
            Some("yes" | "y" | "") => return Ok(true),
            Some("no" | "n") | None => {
                talk.say("Nothing was written.")?;
                return Ok(false);
            }
            Some(_) => talk.say("say yes or no")?,
        }
    }
}

/// The name of the site: asked for by flag only, so that there is one question less.
fn name(args: &Init, folder: &Path) -> String {
    if let Some(name) = args.name.as_ref().filter(|n| !n.trim().is_empty()) {
        return name.trim().to_owned();
    }
    let here = std::env::current_dir().unwrap_or_default().join(folder);
    let last = here.components().next_back();
    let name = match last {
        Some(std::path::Component::Normal(name)) => name.to_string_lossy().into_owned(),
        _ => String::new(),
    };
    let mut letters = name.chars();
    letters.next().map_or_else(
        || "My plants".to_owned(),
        |first| first.to_uppercase().chain(letters).collect(),
    )
}

/// The name of a file that is taken over.
fn file_name(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

fn ends_with(path: &Path, ending: &str) -> bool {
    path.extension().is_some_and(|e| e.eq_ignore_ascii_case(ending))
}

fn collection(answer: &str, areas: &[&str]) -> Result<String, Error> {
    let path = Path::new(answer);
    if !path.is_file() {
        return init::plants(answer, areas);
    }
    let names = text::read(path)?;
    if ends_with(path, "csv") {
        guardcell_folder::collection(answer, &names)?;
        return Ok(names);
    }
    init::plants(&names, areas)
}

fn label(answer: &str) -> Result<(String, String), Error> {
    let path = Path::new(answer);
    if !path.is_file() {
        return Ok(("feed.toml".to_owned(), init::feed(answer)?));
    }
    let words = text::read(path)?;
    guardcell_folder::labels(answer, &words)?;
    Ok((file_name(path), words))
}

fn water(answer: &str) -> Result<(String, String), Error> {
    let path = Path::new(answer);
    if !path.is_file() {
        return init::water(answer);
    }
    let words = text::read(path)?;
    guardcell_folder::water(answer, &words)?;
    Ok((file_name(path), words))
}

fn air(answer: &str, zone: &str) -> Result<(String, String), Error> {
    let path = Path::new(answer);
    if path.is_file() && ends_with(path, "toml") {
        return Err(argument(
            "--air",
            "a map names the files of a logger by where it is itself",
            "leave this blank, and put the map and its files into conditions/ afterwards",
        ));
    }
    if path.is_file() {
        let words = text::read(path)?;
        guardcell_folder::readings(answer, &words)?;
        return Ok((file_name(path), words));
    }
    let words: Vec<&str> =
        answer.split([' ', ',', ';']).filter(|w| !w.is_empty() && *w != "%").collect();
    let (temp, humidity, air) = match words.as_slice() {
        [t, h] => (t, h, None),
        [t, h, a] => (t, h, Some(*a)),
        _ => {
            return Err(argument(
                "--air",
                format!("{answer:?} does not describe the air"),
                "write temperature, humidity and movement, such as 22 60 fan",
            ));
        }
    };
    let time = crate::moment::start(None, zone, Timestamp::now())?;
    let air_m_s = air.map(|t| quantity::air("--air", t)).transpose()?;
    let reading = Reading::new(
        time,
        quantity::celsius("--air", temp)?,
        quantity::humidity("--air", humidity)?,
    )
    .with_air_m_s(air_m_s);
    Ok(("typed.csv".to_owned(), init::table_of(&reading)))
}

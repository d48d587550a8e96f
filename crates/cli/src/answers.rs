//! Who answers: the library in this program, or a server asked over HTTP. Either way a verb reads
//! its files here, builds one request and prints one answer.

use crate::args::{Cli, Verb};
use crate::error::CliError;
use guardcell::calls::{
    Acid, Advise, Air, Call, Convert, Day, DayRibbon, Film, Genus, Meter, Recipe, Rescue, Round,
    Solution, StrengthChart, Tank, Water,
};
use guardcell::reference::darwin_core;
use guardcell::{Code, Error};
use guardcell_client::Client;
use std::fmt::Display;

/// The variable that names a server where no flag does.
pub(crate) const VARIABLE: &str = "GUARDCELL_SERVER";

/// Who answers.
#[derive(Debug)]
pub(crate) enum Answers {
    Local,
    Remote(Client),
}

/// Why there is no answer.
#[derive(Debug)]
pub(crate) enum NoAnswer {
    /// The request is refused; the words are the library's own, here or there.
    Refused(String),
    /// The server cannot be asked.
    Unasked(CliError),
}

impl NoAnswer {
    /// The error, with the words of a refusal put into place.
    pub(crate) fn told(self, place: impl FnOnce(&str) -> String) -> CliError {
        match self {
            Self::Refused(words) => CliError::Refused(place(&words)),
            Self::Unasked(e) => e,
        }
    }

    /// The error, with the words of a refusal behind the file or flag that is at fault.
    pub(crate) fn of(self, place: impl Display) -> CliError {
        self.told(|words| format!("{place}: {words}"))
    }
}

impl From<NoAnswer> for CliError {
    fn from(none: NoAnswer) -> Self {
        none.told(str::to_owned)
    }
}

macro_rules! answers {
    ($($name:ident: $call:ty;)*) => {
        impl Answers {
            $(pub(crate) fn $name(
                &self,
                request: &<$call as Call>::Request,
            ) -> Result<<$call as Call>::Response, NoAnswer> {
                match self {
                    Self::Local => {
                        <$call>::run(request).map_err(|e| NoAnswer::Refused(e.to_string()))
                    }
                    Self::Remote(client) => client.call::<$call>(request).map_err(refusal),
                }
            })*
        }
    };
}

answers! {
    convert: Convert;
    recipe: Recipe;
    water: Water;
    analyse: Solution;
    meter: Meter;
    acid: Acid;
    tank: Tank;
    air: Air;
    film: Film;
    day: Day;
    genus: Genus;
    advise: Advise;
    round: Round;
    rescue: Rescue;
    strength_chart: StrengthChart;
    day_ribbon: DayRibbon;
}

impl Answers {
    /// Who answers this command line: the server that `--server` names, else the one that the
    /// environment names where the verb can be answered by one, else this program.
    pub(crate) fn of(cli: &Cli) -> Result<Self, CliError> {
        let url = match (&cli.server, can_be_remote(&cli.verb)) {
            (Some(url), true) => url.clone(),
            (Some(_), false) => {
                return Err(CliError::input(
                    "--server",
                    "this verb works on this machine alone",
                    "leave the flag out; a server answers calculations and look-ups",
                ));
            }
            (None, true) => match std::env::var(VARIABLE) {
                Ok(url) if !url.trim().is_empty() => url,
                _ => return Ok(Self::Local),
            },
            (None, false) => return Ok(Self::Local),
        };
        Client::new(&url).map(Self::Remote).map_err(|e| match e.code() {
            Code::InvalidText => {
                let flag = if cli.server.is_some() { "--server" } else { VARIABLE };
                CliError::Refused(format!("{flag}: {e}"))
            }
            _ => CliError::Server(e.to_string()),
        })
    }

    /// The trait table as Darwin Core measurements, CSV.
    pub(crate) fn measurements(&self) -> Result<String, NoAnswer> {
        match self {
            Self::Remote(client) => client.measurements().map_err(refusal),
            Self::Local => {
                let mut text = darwin_core::header();
                text.push('\n');
                for m in darwin_core::measurements() {
                    text.push_str(&m.csv_line());
                    text.push('\n');
                }
                Ok(text)
            }
        }
    }
}

/// Whether a verb is answered by functions that a server has as well.
const fn can_be_remote(verb: &Verb) -> bool {
    matches!(
        verb,
        Verb::Convert(_)
            | Verb::Recipe(_)
            | Verb::Water(_)
            | Verb::Genus(_)
            | Verb::Advise(_)
            | Verb::Round(_)
            | Verb::Rescue(_)
            | Verb::Air(_)
            | Verb::Film(_)
            | Verb::Day(_)
            | Verb::Solution(_)
            | Verb::Meter(_)
            | Verb::Acid(_)
            | Verb::Tank(_)
            | Verb::Chart(_)
    )
}

fn refusal(e: Error) -> NoAnswer {
    match e.code() {
        Code::TooLarge => NoAnswer::Unasked(CliError::input(
            "--server",
            e.detail(),
            "give fewer plants or readings, or start the server with a larger --body-mib",
        )),
        Code::Network
        | Code::Remote
        | Code::Busy
        | Code::Timeout
        | Code::SlowBody
        | Code::OtherHost
        | Code::NotFound
        | Code::MethodNotAllowed
        | Code::Internal => NoAnswer::Unasked(CliError::Server(e.to_string())),
        _ => NoAnswer::Refused(e.to_string()),
    }
}

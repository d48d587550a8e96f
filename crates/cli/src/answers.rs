//! Who answers: the library in this program, or a server asked over HTTP. Either way a verb reads
//! its files here, builds one request and prints one answer.

use crate::args::{Cli, Verb};
use crate::error::CliError;
use guardcell::advice::chart::{
    self, DayRibbonRequest, DayRibbonResponse, StrengthChartRequest, StrengthChartResponse,
};
use guardcell::advice::round::RoundResponse;
use guardcell::advice::{self, AdviceRequest, AdviceResponse, RescueRequest, RescueResponse};
use guardcell::clock::{self, DayReport, DayRequest};
use guardcell::film::{self, AirReport, AirRequest, FilmReport, FilmRequest};
use guardcell::reference::darwin_core;
use guardcell::reference::{self, GenusRequest, GenusResponse};
use guardcell::solution::{
    self, AcidRequest, AcidResponse, MeterRequest, MeterResponse, RecipeRequest, RecipeResponse,
    SolutionRequest, SolutionResponse, TankRequest, TankResponse, WaterRequest, WaterResponse,
};
use guardcell::units::{self, ConvertRequest, ConvertResponse};
use guardcell_client::{Client, ClientError};
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
    ($($name:ident: $request:ty => $answer:ty, $local:path;)*) => {
        impl Answers {
            $(pub(crate) fn $name(&self, request: &$request) -> Result<$answer, NoAnswer> {
                self.ask(request, $local, Client::$name)
            })*
        }
    };
}

answers! {
    convert: ConvertRequest => ConvertResponse, units::convert::convert;
    recipe: RecipeRequest => RecipeResponse, solution::recipe;
    water: WaterRequest => WaterResponse, solution::water;
    analyse: SolutionRequest => SolutionResponse, solution::analyse;
    meter: MeterRequest => MeterResponse, solution::meter;
    acid: AcidRequest => AcidResponse, solution::acid;
    tank: TankRequest => TankResponse, solution::tank;
    air: AirRequest => AirReport, film::air;
    film: FilmRequest => FilmReport, film::film;
    day: DayRequest => DayReport, clock::report;
    genus: GenusRequest => GenusResponse, reference::report;
    advise: AdviceRequest => AdviceResponse, advice::advise;
    round: AdviceRequest => RoundResponse, advice::round;
    rescue: RescueRequest => RescueResponse, advice::rescue;
    strength_chart: StrengthChartRequest => StrengthChartResponse, chart::strength_chart;
    day_ribbon: DayRibbonRequest => DayRibbonResponse, chart::ribbon;
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
        Client::new(&url).map(Self::Remote).map_err(|e| match e {
            ClientError::Url { .. } => {
                let flag = if cli.server.is_some() { "--server" } else { VARIABLE };
                CliError::Refused(format!("{flag}: {e}"))
            }
            other => unasked(&other),
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

    fn ask<Q, A, E: Display>(
        &self,
        request: &Q,
        local: fn(&Q) -> Result<A, E>,
        remote: fn(&Client, &Q) -> Result<A, ClientError>,
    ) -> Result<A, NoAnswer> {
        let here = || local(request).map_err(|e| NoAnswer::Refused(e.to_string()));
        match self {
            Self::Local => here(),
            Self::Remote(client) => match remote(client, request) {
                // What JSON cannot carry never leaves this machine; the library says what is wrong
                // with it.
                Err(ClientError::Unsendable(_)) => here(),
                answer => answer.map_err(refusal),
            },
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

fn refusal(e: ClientError) -> NoAnswer {
    match e.problem() {
        Some(problem) if problem.message.is_some() => NoAnswer::Refused(e.to_string()),
        Some(problem) if problem.code() == "too-large" => NoAnswer::Unasked(CliError::input(
            "--server",
            &problem.wrong,
            "give fewer plants or readings, or start the server with a larger --body-mib",
        )),
        _ => NoAnswer::Unasked(unasked(&e)),
    }
}

fn unasked(e: &ClientError) -> CliError {
    CliError::Server(match e.problem() {
        Some(problem) => format!("the server refuses: {}", problem.detail),
        None => e.to_string(),
    })
}

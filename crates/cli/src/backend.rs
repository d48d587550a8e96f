//! Who answers: the library in this program, or a server asked over HTTP. Either way a verb reads
//! its files here, builds one request and prints one answer.

use crate::args::{Cli, Verb};
use crate::error::argument;
use guardcell::calls::Call;
use guardcell::reference::darwin_core;
use guardcell::{Code, Error};
use guardcell_client::Client;

/// The variable that names a server where no flag does.
pub(crate) const VARIABLE: &str = "GUARDCELL_SERVER";

/// Who answers.
#[derive(Debug)]
pub(crate) enum Backend {
    Local,
    Remote(Client),
}

impl Backend {
    /// The server that `--server` names, else the one that the environment names if the verb can
    /// be answered by a server, else this program.
    pub(crate) fn choose(cli: &Cli) -> Result<Self, Error> {
        let url = match (&cli.server, can_be_remote(cli.verb.as_ref())) {
            (Some(url), true) => url.clone(),
            (Some(_), false) => {
                return Err(argument(
                    "--server",
                    "this verb works on this machine only",
                    "omit the flag; a server answers calculations and look-ups",
                ));
            }
            (None, true) => match std::env::var(VARIABLE) {
                Ok(url) if !url.trim().is_empty() => url,
                _ => return Ok(Self::Local),
            },
            (None, false) => return Ok(Self::Local),
        };
        let name = if cli.server.is_some() { "--server" } else { VARIABLE };
        Client::new(&url).map(Self::Remote).map_err(|e| e.of_argument(name))
    }

    /// The answer to one request.
    pub(crate) fn ask<C: Call>(&self, request: &C::Request) -> Result<C::Response, Error>
    where
        C::Request: PartialEq,
    {
        match self {
            Self::Local => C::run(request),
            Self::Remote(client) => client.call::<C>(request).map_err(|e| match e.code() {
                Code::TooLarge => e.of_argument("--server").with_hint(
                    "give fewer plants or readings, or start the server with a larger --body-mib",
                ),
                _ => e,
            }),
        }
    }

    /// The trait table as Darwin Core measurements, CSV.
    pub(crate) fn measurements(&self) -> Result<String, Error> {
        match self {
            Self::Remote(client) => client.measurements(),
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
const fn can_be_remote(verb: Option<&Verb>) -> bool {
    let Some(verb) = verb else { return true };
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

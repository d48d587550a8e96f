//! `serve`: the HTTP API and the page.

use crate::args;
use crate::error::argument;
use crate::print::terminal;
use crate::verbs::page;
use guardcell::{Code, Error};
use guardcell_server::{Config, LogForm, serve};
use std::time::Duration;

pub(crate) fn run(args: &args::Serve) -> Result<(), Error> {
    let usual = Config::default();
    let engine = args.engine.as_deref().map(page::engine).transpose()?.or(usual.engine);
    // A page without an engine has its files read here, by the same readers.
    let readers = [guardcell_folder::calls::ALL, guardcell_conditions::calls::ALL].concat();
    let config = Config {
        bind: args.bind,
        public: args.public,
        hosts: args.host.clone(),
        body_bytes: args.body_mib.map_or(usual.body_bytes, |mib| usize::from(mib) << 20),
        in_flight: args.in_flight.map_or(usual.in_flight, usize::from),
        connections: args.connections.map_or(usual.connections, usize::from),
        grace_time: args.grace_s.map_or(usual.grace_time, |s| Duration::from_secs(s.into())),
        calls: [usual.calls, readers].concat(),
        engine,
        ..usual
    };
    let log = match args.log {
        args::Log::None => LogForm::None,
        args::Log::Text => LogForm::Text,
        args::Log::Json => LogForm::Json,
    };
    let started = |exposes: &str| {
        terminal::note(&format!("guardcell: {exposes}"));
    };
    serve(config, log, started).map_err(|e| match e.code() {
        Code::Usage => argument(
            "--bind",
            e.detail(),
            "bind 127.0.0.1 or [::1], or add --public if that is meant",
        ),
        _ => e,
    })
}

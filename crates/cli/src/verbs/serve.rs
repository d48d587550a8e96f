//! `serve`: the HTTP API and the page, and the folder for paired devices.

use crate::args;
use crate::error::argument;
use crate::home::Home;
use crate::input::collection;
use crate::print::terminal;
use crate::verbs::journal::open;
use crate::verbs::page;
use guardcell::{Code, Error};
use guardcell_folder::{Contents, layout};
use guardcell_server::{Config, LogForm, Offer, Tls, serve};
use guardcell_share::SharedFolder;
use std::sync::Arc;
use std::time::Duration;

pub(crate) fn run(args: &args::Serve, home: &Home) -> Result<(), Error> {
    let usual = Config::default();
    let tls = match (&args.tls_cert, &args.tls_key) {
        (Some(certificate), Some(key)) => Some(Tls::from_files(certificate, key)?),
        _ => None,
    };
    let engine = args.engine.as_deref().map(page::engine).transpose()?.or(usual.engine);
    // A page without an engine has its files read here, by the same readers.
    let readers = [guardcell_folder::calls::ALL, guardcell_conditions::calls::ALL].concat();
    let config = Config {
        bind: args.bind,
        public: args.public,
        hosts: args.host.clone(),
        tls,
        offer: offer(home)?,
        origins: args.origin.clone(),
        calculation_origins: args.allow_origin.clone(),
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

/// The folder for paired devices, where there is one. A site that cannot be read is said at once.
fn offer(home: &Home) -> Result<Option<Arc<dyn Offer>>, Error> {
    let Some(root) = home.root().filter(|root| root.join(layout::SITE).is_file()) else {
        return Ok(None);
    };
    let site = home.site(None)?;
    let journal = open::place(None, home)?;
    let of_requests = home.clone();
    let contents = move || {
        let contents = contents(&of_requests)?;
        serde_json::to_vec(&contents)
            .map_err(|e| Error::internal("the folder cannot be written as JSON").caused_by(e))
    };
    let devices = root.join(layout::DEVICES);
    Ok(Some(Arc::new(SharedFolder::new(site.name, journal, devices, contents))))
}

/// The folder as it is now.
fn contents(home: &Home) -> Result<Contents, Error> {
    let site = home.site(None)?;
    let plants = match home.collection_if_any(None) {
        Some(file) => collection::read(&file)?.plants,
        None => Vec::new(),
    };
    let labels = home.labels(None)?.map_or_else(Vec::new, |(_, labels)| labels);
    let water = home.water(None, Some(&site))?.map(|(_, water)| water);
    Ok(Contents { plants, labels, water, ..Contents::new(site) })
}

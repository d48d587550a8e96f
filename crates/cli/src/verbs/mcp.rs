//! `mcp`: every call as a tool for assistants.

use crate::args;
use crate::home::Home;
use guardcell::Error;
use guardcell_mcp::{Config, serve};
use std::path::Path;

pub(crate) fn run(args: &args::Mcp, home: &Home) -> Result<(), Error> {
    let journal = args.journal.clone();
    serve(Config { folder: home.root().map(Path::to_path_buf), journal })
        .map_err(|e| if args.journal.is_some() { e.of_argument("--journal") } else { e })
}

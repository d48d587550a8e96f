//! Starting a server from a program that is not asynchronous, and stopping it by signal.

use crate::config::Config;
use crate::listen::Server;
use guardcell::{Code, Error};
use tracing_subscriber::EnvFilter;

/// The form of log lines, which go to standard error.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum LogForm {
    /// No log.
    #[default]
    None,
    /// For people.
    Text,
    /// One JSON object a line.
    Json,
}

/// Serves until the program gets a stop signal, then finishes what was accepted. `started` is called
/// with a description of what the server exposes once it is bound.
///
/// # Errors
/// As [`Server::bind`]; [`Code::Io`] if the runtime cannot be started.
pub fn serve(config: Config, log: LogForm, started: impl FnOnce(&str)) -> Result<(), Error> {
    let filter =
        || EnvFilter::try_from_env("GUARDCELL_LOG").unwrap_or_else(|_| EnvFilter::new("info"));
    let lines = tracing_subscriber::fmt().with_env_filter(filter()).with_writer(std::io::stderr);
    // A log that the program has set up already is kept.
    let _ = match log {
        LogForm::None => Ok(()),
        LogForm::Text => lines.with_ansi(false).try_init(),
        LogForm::Json => lines.json().flatten_event(true).try_init(),
    };
    let runtime =
        tokio::runtime::Builder::new_multi_thread().enable_all().build().map_err(|e| {
            let detail = format!("the runtime cannot be started: {e}");
            Error::new(Code::Io, detail, "check the limits on threads and memory").caused_by(e)
        })?;
    runtime.block_on(async {
        let server = Server::bind(config).await?;
        started(&server.exposes());
        server.run(stop_signal()).await;
        Ok(())
    })
}

/// Resolves when the program gets an interrupt or termination signal.
pub async fn stop_signal() {
    let interrupt = async {
        // Without the handler the signal ends the program by itself.
        if tokio::signal::ctrl_c().await.is_err() {
            std::future::pending::<()>().await;
        }
    };
    #[cfg(unix)]
    let terminate = async {
        match tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) {
            Ok(mut signal) => {
                signal.recv().await;
            }
            Err(_) => std::future::pending::<()>().await,
        }
    };
    #[cfg(not(unix))]
    let terminate = std::future::pending::<()>();
    tokio::select! {
        () = interrupt => {}
        () = terminate => {}
    }
}

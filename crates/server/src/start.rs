//! Starting a server from a program that is not asynchronous, and stopping it by signal.

use crate::config::Config;
use crate::error::ServerError;
use crate::listen::Server;
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

/// Serves until the program is told to stop, then finishes what was accepted. `started` is called
/// with what the server exposes once it is bound.
///
/// # Errors
/// As [`Server::bind`]; also where the runtime cannot be started.
pub fn serve(config: Config, log: LogForm, started: impl FnOnce(&str)) -> Result<(), ServerError> {
    let filter =
        || EnvFilter::try_from_env("GUARDCELL_LOG").unwrap_or_else(|_| EnvFilter::new("info"));
    let lines = tracing_subscriber::fmt().with_env_filter(filter()).with_writer(std::io::stderr);
    // Where the program has set up a log of its own, that one is kept.
    let _ = match log {
        LogForm::None => Ok(()),
        LogForm::Text => lines.with_ansi(false).try_init(),
        LogForm::Json => lines.json().flatten_event(true).try_init(),
    };
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .map_err(ServerError::Runtime)?;
    runtime.block_on(async {
        let server = Server::bind(config).await?;
        started(&server.exposes());
        server.run(told_to_stop()).await;
        Ok(())
    })
}

/// Resolves when the program gets an interrupt or termination signal.
pub async fn told_to_stop() {
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

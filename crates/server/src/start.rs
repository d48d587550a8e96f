//! Starting a server from a program that is not asynchronous, and stopping it by signal.

use crate::config::Config;
use crate::listen::Server;
use crate::log::{self, LogForm};
use guardcell::{Code, Error};

/// Serves until the program gets a stop signal, then finishes what was accepted. `started` is called
/// with a description of what the server exposes once it is bound.
///
/// # Errors
/// As [`Server::bind`]; [`Code::Io`] if the runtime cannot be started.
pub fn serve(config: Config, log: LogForm, started: impl FnOnce(&str)) -> Result<(), Error> {
    let lines = log::start(log);
    let runtime =
        tokio::runtime::Builder::new_multi_thread().enable_all().build().map_err(|e| {
            let detail = format!("the runtime cannot be started: {e}");
            Error::new(Code::Io, detail, "check the limits on threads and memory").caused_by(e)
        })?;
    let served = runtime.block_on(async {
        let server = Server::bind(config).await?;
        started(&server.exposes());
        server.run(stop_signal()).await;
        Ok(())
    });
    if let Some(lines) = lines {
        lines.flush();
    }
    // A calculation that was not stopped in time is not waited for.
    runtime.shutdown_background();
    served
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

//! Connections: how many, how slow, and how they end.

use crate::config::Config;
use crate::lane::Client;
use crate::routes::router;
use crate::state::Shared;
use axum::Router;
use axum::body::Body;
use guardcell::{Code, Error};
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::GracefulShutdown;
use std::net::SocketAddr;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::time::Duration;
use tokio::io::{AsyncRead, AsyncWrite, AsyncWriteExt};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::Semaphore;
use tokio::time::{sleep, timeout};
use tokio_io_timeout::TimeoutStream;
use tower::ServiceExt;

/// Response when the connection limit is reached.
const FULL: &[u8] = b"HTTP/1.1 503 Service Unavailable\r\nRetry-After: 2\r\nContent-Length: 0\r\n\
                      Connection: close\r\n\r\n";
/// The largest head of a request and the read buffer of a connection, in bytes.
const HEAD_BYTES: usize = 32 << 10;

/// What a phone cannot do at an address that is neither encrypted nor its own.
pub const PLAIN_HTTP: &str = "Over plain http a phone cannot install the page nor open it without a \
                              connection, and the token of a paired device can be read on the \
                              network: give `guardcell serve` --tls-cert and --tls-key.";

/// A server that is bound to its address and answers once it [runs](Server::run).
pub struct Server {
    listener: TcpListener,
    address: SocketAddr,
    shared: Arc<Shared>,
}

impl Server {
    /// Binds the address.
    ///
    /// # Errors
    /// [`Code::Usage`] for an address that other machines can reach, unless [`Config::public`] is
    /// set; [`Code::Io`] if the address cannot be bound.
    pub async fn bind(config: Config) -> Result<Self, Error> {
        let address = config.bind;
        if !config.public && !address.ip().is_loopback() {
            return Err(Error::new(
                Code::Usage,
                format!("{address} can be reached from other machines"),
                "bind 127.0.0.1 or [::1], or allow a public address",
            ));
        }
        let bind = |e: std::io::Error| {
            Error::new(
                Code::Io,
                format!("{address} cannot be bound: {e}"),
                "choose another address or port",
            )
            .caused_by(e)
        };
        let listener = TcpListener::bind(address).await.map_err(bind)?;
        let address = listener.local_addr().map_err(bind)?;
        // Best effort: with fewer descriptors fewer connections are held, and accept waits.
        let _ = rlimit::increase_nofile_limit(config.connections as u64 + 128);
        Ok(Self { listener, address, shared: Arc::new(Shared::new(config)) })
    }

    /// The address, with the actual port.
    #[must_use]
    pub const fn address(&self) -> SocketAddr {
        self.address
    }

    /// What this server exposes and to whom, for the person who starts it.
    #[must_use]
    pub fn exposes(&self) -> String {
        let address = self.address;
        let Config { tls, offer, .. } = &self.shared.config;
        let scheme = if tls.is_some() { "https" } else { "http" };
        let mut says = if address.ip().is_loopback() {
            format!("{scheme}://{address}/ (this machine only)")
        } else {
            let encryption = if tls.is_some() { "" } else { " and no encryption" };
            format!(
                "{scheme}://{address}/ is open to every machine that reaches this one.\nExposed: the \
                 page, every calculation under /v1/, the reference data, /openapi.json, /healthz, \
                 /readyz and /metrics.\nThere is no password{encryption}: anyone may use its \
                 calculations."
            )
        };
        if offer.is_some() {
            says.push_str("\nPaired devices read this folder, and read and write its journal.");
        } else if !address.ip().is_loopback() {
            says.push_str(
                " Nothing is stored, and no request makes it read a file or fetch an address.",
            );
        }
        if !address.ip().is_loopback() && tls.is_none() {
            says.push('\n');
            says.push_str(PLAIN_HTTP);
        }
        says
    }

    /// Answers until `stop` resolves, then finishes what was accepted.
    pub async fn run(self, stop: impl Future<Output = ()>) {
        let Self { listener, shared, .. } = self;
        let router = router(Arc::clone(&shared));
        let places = Arc::new(Semaphore::new(shared.config.connections));
        // A few get a response that the server is full; the rest are closed at once.
        let rejections = Arc::new(Semaphore::new(64));
        let graceful = GracefulShutdown::new();
        tokio::pin!(stop);
        loop {
            let accepted = tokio::select! {
                accepted = listener.accept() => accepted,
                () = &mut stop => break,
            };
            let Ok((stream, peer)) = accepted else {
                // Out of descriptors, or the peer left: wait for descriptors to be released.
                sleep(Duration::from_millis(20)).await;
                continue;
            };
            let Ok(place) = Arc::clone(&places).try_acquire_owned() else {
                shared.metrics.turned_away.inc();
                if let Ok(rejection) = Arc::clone(&rejections).try_acquire_owned() {
                    tokio::spawn(async move {
                        reject(stream).await;
                        drop(rejection);
                    });
                }
                continue;
            };
            let (client, router) = (Client::of(peer.ip()), router.clone());
            let (watcher, shared) = (graceful.watcher(), Arc::clone(&shared));
            let _ = stream.set_nodelay(true);
            tokio::spawn(async move {
                shared.metrics.connections.inc();
                // Disconnects are expected and not logged.
                match &shared.config.tls {
                    None => {
                        let served = connection(&shared, stream, client, router);
                        let _ = watcher.watch(served).await;
                    }
                    Some(tls) => {
                        // A handshake is as slow as the head of a request may be.
                        let shaken = tls.acceptor().accept(stream);
                        if let Ok(Ok(stream)) = timeout(shared.config.head_time, shaken).await {
                            let served = connection(&shared, stream, client, router);
                            let _ = watcher.watch(served).await;
                        }
                    }
                }
                shared.metrics.connections.dec();
                drop(place);
            });
        }
        drop(listener);
        shared.ready.store(false, Ordering::Relaxed);
        tracing::info!("stopping: finishing what was accepted");
        if timeout(shared.config.grace_time, graceful.shutdown()).await.is_err() {
            tracing::warn!("stopped with requests unfinished");
        }
    }
}

async fn reject(mut stream: TcpStream) {
    let sent = async {
        stream.write_all(FULL).await?;
        stream.shutdown().await
    };
    let _ = timeout(Duration::from_secs(1), sent).await;
}

type Io<S> = TokioIo<std::pin::Pin<Box<TimeoutStream<S>>>>;

fn connection<S: AsyncRead + AsyncWrite>(
    shared: &Arc<Shared>,
    stream: S,
    client: Client,
    router: Router,
) -> http1::Connection<
    Io<S>,
    impl hyper::service::Service<
        hyper::Request<Incoming>,
        Response = axum::response::Response,
        Error = std::convert::Infallible,
        Future: Send,
    > + Send
    + use<S>,
> {
    let mut stream = TimeoutStream::new(stream);
    stream.set_write_timeout(Some(shared.config.write_time));
    let head_time = shared.config.head_time;
    let service = service_fn(move |request: hyper::Request<Incoming>| {
        let mut request = request.map(Body::new);
        request.extensions_mut().insert(client);
        router.clone().oneshot(request)
    });
    http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(head_time)
        .max_buf_size(HEAD_BYTES)
        .serve_connection(TokioIo::new(Box::pin(stream)), service)
}

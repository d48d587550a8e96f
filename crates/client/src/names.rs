//! Names to addresses, with an error of its own: a name without an address is reported as such and
//! not as a server that does not listen.

use reqwest::dns::{Addrs, Name, Resolve, Resolving};
use std::net::{SocketAddr, ToSocketAddrs};

/// A name that has no address.
#[derive(Debug)]
pub(crate) struct NoAddress {
    pub(crate) host: String,
    pub(crate) why: String,
}

impl std::fmt::Display for NoAddress {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.why)
    }
}

impl std::error::Error for NoAddress {}

/// Asks the system, on a thread of its own: a look-up may take long.
pub(crate) struct SystemNames;

impl Resolve for SystemNames {
    fn resolve(&self, name: Name) -> Resolving {
        let host = name.as_str().to_owned();
        Box::pin(async move {
            let asked = host.clone();
            let found = tokio::task::spawn_blocking(move || look_up(&asked)).await;
            match found {
                Ok(Ok(addresses)) => {
                    let addresses: Addrs = Box::new(addresses.into_iter());
                    Ok(addresses)
                }
                Ok(Err(why)) => Err(NoAddress { host, why }.into()),
                Err(e) => Err(NoAddress { host, why: e.to_string() }.into()),
            }
        })
    }
}

fn look_up(host: &str) -> Result<Vec<SocketAddr>, String> {
    let found: Vec<SocketAddr> = (host, 0).to_socket_addrs().map_err(|e| e.to_string())?.collect();
    if found.is_empty() { Err("it has no address".into()) } else { Ok(found) }
}

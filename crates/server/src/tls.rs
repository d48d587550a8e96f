//! TLS from a certificate and a key in files.

use guardcell::{Code, Error};
use rustls::ServerConfig;
use rustls::pki_types::pem::PemObject as _;
use rustls::pki_types::{CertificateDer, PrivateKeyDer};
use std::path::Path;
use std::sync::Arc;
use tokio_rustls::TlsAcceptor;

/// The certificate and key of a server.
#[derive(Debug, Clone)]
pub struct Tls(Arc<ServerConfig>);

impl Tls {
    /// Reads a chain of certificates, that of the server first, and its private key, both PEM.
    ///
    /// # Errors
    /// [`Code::Io`] for a file that cannot be read, [`Code::MalformedFile`] for one that holds no
    /// certificate or key, or where the two do not belong together.
    pub fn from_files(certificates: &Path, key: &Path) -> Result<Self, Error> {
        let chain = CertificateDer::pem_file_iter(certificates)
            .and_then(Iterator::collect::<Result<Vec<_>, _>>)
            .map_err(|e| fault(certificates, &e, "certificate"))?;
        if chain.is_empty() {
            return Err(nothing(certificates, "certificate"));
        }
        let secret =
            PrivateKeyDer::from_pem_file(key).map_err(|e| fault(key, &e, "private key"))?;
        let provider = Arc::new(rustls::crypto::ring::default_provider());
        let mut config = ServerConfig::builder_with_provider(provider)
            .with_safe_default_protocol_versions()
            .and_then(|b| b.with_no_client_auth().with_single_cert(chain, secret))
            .map_err(|e| {
                malformed(
                    key,
                    format!("the key cannot be used with the certificate: {e}"),
                    "give the key that the certificate was made for",
                )
            })?;
        config.alpn_protocols = vec![b"http/1.1".to_vec()];
        Ok(Self(Arc::new(config)))
    }

    pub(crate) fn acceptor(&self) -> TlsAcceptor {
        TlsAcceptor::from(Arc::clone(&self.0))
    }
}

fn fault(path: &Path, e: &rustls::pki_types::pem::Error, what: &str) -> Error {
    match e {
        rustls::pki_types::pem::Error::Io(e) => {
            Error::new(Code::Io, e.to_string(), "name a file that can be read")
                .in_file(path.display().to_string())
        }
        rustls::pki_types::pem::Error::NoItemsFound => nothing(path, what),
        e => malformed(path, format!("it is not PEM: {e}"), "give a file in PEM"),
    }
}

fn nothing(path: &Path, what: &str) -> Error {
    malformed(path, format!("it holds no {what}"), "give a file in PEM that holds it")
}

fn malformed(path: &Path, detail: String, hint: &str) -> Error {
    Error::new(Code::MalformedFile, detail, hint).in_file(path.display().to_string())
}

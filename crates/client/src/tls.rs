//! TLS by rustls with ring, against the trust store of this machine.

use crate::failure::no_trust;
use guardcell::Error;
use rustls::crypto::{CryptoProvider, ring};
use rustls::{ClientConfig, RootCertStore};
use rustls_platform_verifier::Verifier;
use std::sync::Arc;

/// The TLS configuration. Without `https` nothing is trusted and no trust store is read.
pub(crate) fn config(https: bool) -> Result<ClientConfig, Error> {
    let trust = |e: rustls::Error| no_trust(&e.to_string());
    // The provider is named here, so that the one of the process stays as it is.
    let provider: Arc<CryptoProvider> = Arc::new(ring::default_provider());
    let builder = ClientConfig::builder_with_provider(Arc::clone(&provider))
        .with_safe_default_protocol_versions()
        .map_err(trust)?;
    let config = if https {
        let verifier = Verifier::new(provider).map_err(trust)?;
        builder.dangerous().with_custom_certificate_verifier(Arc::new(verifier))
    } else {
        builder.with_root_certificates(RootCertStore::empty())
    };
    Ok(config.with_no_client_auth())
}

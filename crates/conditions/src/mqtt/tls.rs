//! TLS to a broker: rustls with ring, against the trust store of this machine or a file.

use crate::error::{in_data, in_map, io};
use guardcell::Error;
use rustls::crypto::ring;
use rustls::pki_types::CertificateDer;
use rustls::pki_types::pem::PemObject as _;
use rustls::{ClientConfig, RootCertStore};
use rustls_platform_verifier::Verifier;
use std::path::Path;
use std::sync::Arc;

pub(super) fn config(ca_file: Option<&Path>) -> Result<Arc<ClientConfig>, Error> {
    let fault = |e: rustls::Error| {
        in_map(
            "ca_file",
            format!("no certificates are trusted ({e})"),
            "state a file of them (PEM)",
        )
    };
    let provider = Arc::new(ring::default_provider());
    let builder = ClientConfig::builder_with_provider(Arc::clone(&provider))
        .with_safe_default_protocol_versions()
        .map_err(fault)?;
    let config = match ca_file {
        Some(path) => builder.with_root_certificates(roots(path)?).with_no_client_auth(),
        None => {
            let verifier = Verifier::new(provider).map_err(fault)?;
            builder
                .dangerous()
                .with_custom_certificate_verifier(Arc::new(verifier))
                .with_no_client_auth()
        }
    };
    Ok(Arc::new(config))
}

fn roots(path: &Path) -> Result<RootCertStore, Error> {
    let place = path.display().to_string();
    let wrong = |why: String| in_data(&*place, why, "give the certificate of the authority (PEM)");
    let text = std::fs::read(path).map_err(|e| io(path, e))?;
    let mut store = RootCertStore::empty();
    for certificate in CertificateDer::pem_slice_iter(&text) {
        let certificate =
            certificate.map_err(|e| wrong(format!("this is not a certificate ({e})")))?;
        store.add(certificate).map_err(|e| wrong(format!("this is not a certificate ({e})")))?;
    }
    if store.is_empty() {
        return Err(wrong("the file has no certificate".into()));
    }
    Ok(store)
}

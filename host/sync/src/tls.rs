//! Whom a server's certificate must lead to.

use std::path::Path;
use std::sync::Arc;

use rustls::pki_types::CertificateDer;
use rustls::pki_types::pem::PemObject;
use rustls::{ClientConfig, RootCertStore};
use tokio_postgres_rustls::MakeRustlsConnect;

use crate::SyncError;

/// Checks name and certificate, by those in this file, or by those that this computer trusts: a firm's own are among them.
pub(crate) fn by(root: Option<&Path>) -> Result<MakeRustlsConnect, SyncError> {
    let roots = match root {
        Some(path) => in_file(path)?,
        None => of_this_computer()?,
    };
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let versions =
        ClientConfig::builder_with_provider(provider).with_safe_default_protocol_versions();
    let versions =
        versions.unwrap_or_else(|error| unreachable!("it has the default ones: {error}"));
    Ok(MakeRustlsConnect::new(versions.with_root_certificates(roots).with_no_client_auth()))
}

fn in_file(path: &Path) -> Result<RootCertStore, SyncError> {
    let wrong = |why: String| SyncError::NoRoots { path: path.into(), why };
    let mut roots = RootCertStore::empty();
    let all = CertificateDer::pem_file_iter(path).map_err(|error| wrong(plain(&error)))?;
    for one in all {
        let one = one.map_err(|error| wrong(plain(&error)))?;
        roots.add(one).map_err(|error| wrong(error.to_string()))?;
    }
    if roots.is_empty() { Err(wrong("there is none in it".into())) } else { Ok(roots) }
}

fn plain(error: &rustls::pki_types::pem::Error) -> String {
    match error {
        rustls::pki_types::pem::Error::Io(error) => error.to_string(),
        other => other.to_string(),
    }
}

fn of_this_computer() -> Result<RootCertStore, SyncError> {
    let found = rustls_native_certs::load_native_certs();
    let mut roots = RootCertStore::empty();
    // Some that are old are no longer understood, and are not missed.
    roots.add_parsable_certificates(found.certs);
    if roots.is_empty() {
        let why = found.errors.first().map_or("none was found".into(), ToString::to_string);
        return Err(SyncError::NoSystemRoots { why });
    }
    Ok(roots)
}

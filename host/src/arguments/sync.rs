//! What `sync` takes.

use std::convert::Infallible;
use std::fmt;
use std::path::PathBuf;
use std::str::FromStr;

use clap::Args;

#[derive(Debug, Args)]
pub(crate) struct Sync {
    /// The database, postgres://USER@HOST/DATABASE. It is spoken to by TLS, and its certificate is checked, unless
    /// ?sslmode=disable is behind that: then whoever is between can read password and records, and change them. The
    /// password is better in PGPASSWORD, or the whole address in RUNPROOF_DATABASE, than where other users of this
    /// computer see it
    #[arg(value_name = "ADDRESS", env = "RUNPROOF_DATABASE", hide_env_values = true)]
    pub(crate) address: Option<Address>,

    /// Trust the certificates in this file (PEM) alone, in the place of those that this computer trusts
    #[arg(long, value_name = "FILE")]
    pub(crate) root_certificate: Option<PathBuf>,

    /// Print what was copied as JSON instead of words
    #[arg(long)]
    pub(crate) json: bool,
}

/// A password may stand in it: it is never shown.
#[derive(Clone)]
#[cfg_attr(not(feature = "postgres"), expect(dead_code, reason = "this build has no sync"))]
pub(crate) struct Address(pub(crate) String);

impl FromStr for Address {
    type Err = Infallible;

    fn from_str(text: &str) -> Result<Self, Infallible> {
        Ok(Self(text.into()))
    }
}

impl fmt::Debug for Address {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Address(…)")
    }
}

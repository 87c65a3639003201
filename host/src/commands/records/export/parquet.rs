//! Records as Parquet: into a file, where this build has it.

use std::io::{self, Write};

use runproof_records::{Filter, Store};

use crate::arguments::Export;
use crate::error::{Error, ShareError};

/// Asked before a file is made.
#[cfg(feature = "parquet")]
pub(super) fn can_be(arguments: &Export) -> Result<(), Error> {
    if arguments.to.is_none() { Err(ShareError::NoFile.into()) } else { Ok(()) }
}

/// It knows the option, and says which build can do it.
#[cfg(not(feature = "parquet"))]
pub(super) fn can_be(_: &Export) -> Result<(), Error> {
    Err(ShareError::NotBuilt { what: "Parquet" }.into())
}

#[cfg(feature = "parquet")]
pub(super) fn write(
    store: &Store,
    filter: &Filter,
    into: impl Write + Send,
) -> Result<io::Result<u64>, Error> {
    Ok(store.write_parquet(filter, into)?)
}

#[cfg(not(feature = "parquet"))]
pub(super) fn write(_: &Store, _: &Filter, _: impl Write) -> Result<io::Result<u64>, Error> {
    Err(ShareError::NotBuilt { what: "Parquet" }.into())
}

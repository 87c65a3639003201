//! `sync`: copies records both ways between this computer and a database.

#[cfg(feature = "postgres")]
mod copy;

#[cfg(feature = "postgres")]
pub(super) use self::copy::run;

/// Knows the command, and says which build can do it.
#[cfg(not(feature = "postgres"))]
pub(super) fn run(_: &crate::arguments::Sync) -> Result<crate::exit::Exit, crate::error::Error> {
    Err(crate::error::ShareError::NotBuilt { what: "sync with a database" }.into())
}

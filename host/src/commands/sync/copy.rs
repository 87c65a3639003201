//! A sync, from its address to what was copied.

use std::env;

use runproof_records::Record;
use runproof_sync::{Address, Server, Synced, sync};

use crate::arguments::Sync;
use crate::commands::{again, print};
use crate::error::{Error, ShareError};
use crate::exit::Exit;
use crate::recording;
use crate::show::sync as words;

pub(crate) fn run(arguments: &Sync) -> Result<Exit, Error> {
    let address = arguments.address.as_ref().ok_or(ShareError::NoAddress)?;
    let password = env::var("PGPASSWORD").ok();
    let root = arguments.root_certificate.as_deref();
    let address =
        Address::read(&address.0, password.as_deref(), root).map_err(ShareError::address)?;
    let mut store = recording::store()?;
    let mut server = Server::connect(&address).map_err(ShareError::from)?;
    let mut synced = Synced::default();
    let done = sync(&mut store, &mut server, &follows, &mut synced);
    if let Err(error) = done {
        eprint!("{}", words::until_then(&synced));
        return Err(ShareError::from(error).into());
    }
    print(&if arguments.json {
        words::json(&synced, &address)
    } else {
        words::text(&synced, &address)
    })?;
    Ok(if synced.refused.is_empty() { Exit::Pass } else { Exit::BadFile })
}

/// What cannot be judged again, though this very version wrote it, does not follow.
fn follows(record: &Record) -> bool {
    again::says_what_follows(record).unwrap_or(false)
}

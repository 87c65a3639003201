//! `records`: lists what was measured, shows one, adds to it, takes it out and in.

mod export;
mod import;
mod show;

use runproof_records::{Detail, Key, Store, StoreError};

use crate::arguments::{Add, Records, RecordsCommand, Void};
use crate::error::Error;
use crate::exit::Exit;
use crate::recording;
use crate::show::records as words;

pub(super) fn run(arguments: Records) -> Result<Exit, Error> {
    match arguments.what {
        None => list(&arguments),
        Some(RecordsCommand::Show(arguments)) => show::run(&arguments),
        Some(RecordsCommand::Add(arguments)) => add(&arguments),
        Some(RecordsCommand::Void(arguments)) => void(&arguments),
        Some(RecordsCommand::Export(arguments)) => export::run(&arguments),
        Some(RecordsCommand::Import(arguments)) => import::run(&arguments),
    }
}

fn list(arguments: &Records) -> Result<Exit, Error> {
    let Some(store) = recording::store_to_read()? else {
        super::print(words::NONE_YET)?;
        return Ok(Exit::Pass);
    };
    let filter = arguments.which.filter(Some(arguments.limit));
    let (listed, all) = store.list(&filter)?;
    super::print(&words::list(&listed, all, store.path()))?;
    Ok(Exit::Pass)
}

fn add(arguments: &Add) -> Result<Exit, Error> {
    let details = arguments.about.details();
    if details.is_empty() {
        return Err(Error::NothingSaid);
    }
    said(&arguments.record, &details)
}

fn void(arguments: &Void) -> Result<Exit, Error> {
    let reason = arguments.reason.trim();
    if reason.is_empty() {
        return Err(Error::NothingSaid);
    }
    said(&arguments.record, &[Detail::new(Key::Void, reason)])
}

fn said(which: &str, details: &[Detail]) -> Result<Exit, Error> {
    let mut store = recording::store()?;
    let number = store.find(which)?;
    store.add(number, details)?;
    super::print(&words::said(number, details))?;
    Ok(Exit::Pass)
}

/// Of a store that may not be there yet.
fn found(which: &str) -> Result<(Store, i64), Error> {
    let none = || StoreError::NoRecord { which: which.to_owned() };
    let store = recording::store_to_read()?.ok_or_else(none)?;
    let number = store.find(which)?;
    Ok((store, number))
}

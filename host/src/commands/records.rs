//! `records`: lists what was measured, shows one, adds to it, takes it out and in.

mod export;
mod import;
mod show;

use runproof_records::{Detail, Key, Kind, Store, StoreError, latest};

use crate::arguments::{Add, Records, RecordsCommand, Void};
use crate::error::{Error, LotError, RecordError};
use crate::exit::Exit;
use crate::recording;
use crate::shop::lots::Lot;
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
        return Err(RecordError::NothingSaid.into());
    }
    let (store, number) = found(&arguments.record)?;
    stays_in_its_lot(&store, number)?;
    if let Some((name, unit)) = arguments.about.unit_of_lot() {
        Lot::named(&store, name)?.takes(unit, store.record(number)?.kind)?;
    }
    drop(store);
    said(&arguments.record, &details)
}

/// What a closed lot was decided by is not taken from it.
fn stays_in_its_lot(store: &Store, number: i64) -> Result<(), Error> {
    let record = store.record(number)?;
    let Some(name) = latest(&record.details, Key::Lot) else { return Ok(()) };
    let is_closed = |number| Ok::<_, Error>(Lot::of(store, number)?.closed.is_some());
    let closed = match record.kind {
        Kind::Lot => is_closed(number)?,
        _ => store.lot(name).ok().flatten().map(is_closed).transpose()?.unwrap_or(false),
    };
    if closed { Err(LotError::Stays { number, name: name.into() }.into()) } else { Ok(()) }
}

fn void(arguments: &Void) -> Result<Exit, Error> {
    let reason = arguments.reason.trim();
    if reason.is_empty() {
        return Err(RecordError::NothingSaid.into());
    }
    let (store, number) = found(&arguments.record)?;
    if store.record(number)?.kind == Kind::Lot {
        stays_in_its_lot(&store, number)?;
    }
    drop(store);
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

//! `lot`: accepts or rejects a lot of units.

mod close;
mod identity;
mod open;

use runproof_interpret::LimitSheet;
use runproof_records::{Kind, Sheet, Store};

use crate::arguments::{Lot as Arguments, LotCommand, ShowLot};
use crate::error::{Error, LotError};
use crate::exit::Exit;
use crate::recording;
use crate::shop::lots::Lot;
use crate::shop::proofs::Jigs;
use crate::show::lot as words;

/// The lot that a test is told to be of, and its unit.
type UnitOfLot<'a> = Option<(&'a str, u32)>;

pub(super) fn run(arguments: Arguments) -> Result<Exit, Error> {
    match arguments.what {
        None => list(),
        Some(LotCommand::Open(arguments)) => open::run(*arguments),
        Some(LotCommand::Identity(arguments)) => identity::run(&arguments),
        Some(LotCommand::Show(arguments)) => show(arguments),
        Some(LotCommand::Close(arguments)) => close::run(&arguments),
    }
}

fn list() -> Result<Exit, Error> {
    let lots = match recording::store_to_read()? {
        None => vec![],
        Some(store) => store
            .lots()?
            .into_iter()
            .map(|lot| Lot::of(&store, lot))
            .collect::<Result<Vec<_>, _>>()?,
    };
    super::print(&words::list(&lots))?;
    Ok(Exit::Pass)
}

fn show(arguments: ShowLot) -> Result<Exit, Error> {
    let lot = Lot::named(&store_with(&arguments.lot)?, &arguments.lot)?;
    if let Some(path) = arguments.to {
        super::paper::write(path, &words::document(&lot))?;
        return Ok(words::exit(&lot));
    }
    shown(&lot, arguments.json)
}

fn shown(lot: &Lot, json: bool) -> Result<Exit, Error> {
    super::print(&if json { words::json(lot) } else { words::text(lot) })?;
    Ok(words::exit(lot))
}

/// A store there is, if there is a lot.
fn store_with(lot: &str) -> Result<Store, Error> {
    let none = || LotError::NoLot { name: lot.into() };
    Ok(recording::store_to_read()?.ok_or_else(none)?)
}

/// Whether a test may be one of a unit of the lot that is told, if any is.
pub(super) fn takes(unit: UnitOfLot<'_>, test: Kind) -> Result<(), Error> {
    let Some((name, unit)) = unit else { return Ok(()) };
    Ok(Lot::named(&store_with(name)?, name)?.takes(unit, test)?)
}

/// That what this jig is about to measure will not count, where it is of a lot.
pub(super) fn before(unit: UnitOfLot<'_>, jig: &str) -> Result<(), Error> {
    let Some((name, _)) = unit else { return Ok(()) };
    let now_s = i64::try_from(super::now_unix_s()).unwrap_or(i64::MAX);
    if !Jigs::new(&store_with(name)?).was_right(jig, now_s)? {
        eprint!("{}", words::will_not_count(jig));
    }
    Ok(())
}

/// What is left of a lot, once a unit of it was tested.
pub(super) fn after(unit: UnitOfLot<'_>) -> Result<(), Error> {
    let Some((name, unit)) = unit else { return Ok(()) };
    eprint!("{}", words::after(&Lot::named(&store_with(name)?, name)?, unit));
    Ok(())
}

/// What a unit is judged by: by what was told, else by what its lot was declared with, or by `usual` where it is of none.
pub(super) fn sheet_of(
    unit: UnitOfLot<'_>,
    told: Option<&str>,
    usual: &str,
    test: Kind,
) -> Result<(LimitSheet, Sheet), Error> {
    let Some((name, unit)) = unit else {
        return super::limits::sheet_used(told.unwrap_or(usual));
    };
    let lot = Lot::named(&store_with(name)?, name)?;
    lot.takes(unit, test)?;
    let told = told.map(super::limits::sheet_used).transpose()?;
    let (limits, sheet) = match (lot.sheet(), &told) {
        (Some(of_lot), _) => of_lot,
        (None, Some(told)) => told.clone(),
        (None, None) => super::limits::sheet_used(usual)?,
    };
    if told.is_some_and(|(_, told)| told != sheet) {
        return Err(LotError::OtherSheet { name: name.into(), sheet: sheet.name }.into());
    }
    Ok((limits, sheet))
}

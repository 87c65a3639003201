//! `lot identity`: keeps that units were looked at.

use runproof_quality::lot::Look;
use runproof_records::{Detail, Key};

use super::{shown, store_with};
use crate::arguments::LookedAt;
use crate::error::{Error, LotError};
use crate::exit::Exit;
use crate::recording;
use crate::shop::lots::Lot;

pub(super) fn run(arguments: &LookedAt) -> Result<Exit, Error> {
    let lot = Lot::named(&store_with(&arguments.lot)?, &arguments.lot)?;
    let units = lot.opened.declared.units;
    if let Some(closed) = lot.closed {
        return Err(LotError::Closed { name: lot.name, said: closed.disposition }.into());
    }
    if let Some(unit) = arguments.units.last().filter(|unit| *unit > units) {
        return Err(LotError::NoUnit { name: lot.name, units, unit }.into());
    }
    let missed = arguments.missed.iter().map(|mark| (*mark).into()).collect();
    let look = Look { units: arguments.units.clone(), missed };
    let mut store = recording::store()?;
    store.add(lot.number, &[Detail::new(Key::Identity, recording::text(&look))])?;
    shown(&Lot::of(&store, lot.number)?, false)?;
    Ok(Exit::Pass)
}

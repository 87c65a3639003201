//! `lot close`: decides a lot for good.

use runproof_quality::lot::Decision;
use runproof_records::{Detail, Key};

use super::{shown, store_with};
use crate::arguments::Close;
use crate::error::{Error, LotError};
use crate::exit::Exit;
use crate::recording;
use crate::shop::lots::{Closed, Lot};
use crate::show::lot as words;

pub(super) fn run(arguments: &Close) -> Result<Exit, Error> {
    let lot = Lot::named(&store_with(&arguments.lot)?, &arguments.lot)?;
    if let Some(closed) = lot.closed {
        return Err(LotError::Closed { name: lot.name, said: closed.disposition }.into());
    }
    if lot.stand.decision == Decision::NotYet {
        let why = words::left(&lot);
        return Err(LotError::NotYet { name: lot.name, why }.into());
    }
    let closed = Closed {
        decision: lot.stand.decision,
        nonconforming: lot.stand.sample.nonconforming.clone(),
        disposition: arguments.disposition.clone(),
    };
    let mut store = recording::store()?;
    store.add(lot.number, &[Detail::new(Key::Closed, recording::text(&closed))])?;
    shown(&Lot::of(&store, lot.number)?, false)
}

//! Leads that are tested one after the other: which number is next, what was counted, and which is taken back.

mod numbers;
mod tally;

pub(crate) use numbers::Numbers;
use runproof_records::{Detail, Filter, Key, Kind, Store, latest};
pub(crate) use tally::{Tally, fault};

use super::lots::Lot;
use crate::error::{Error, LeadError};

/// What a lead that is of no lot is called.
const NAMED: &str = "lead ";

/// The numbers of a lot's units that were tested.
pub(crate) fn tested(store: &Store, lot: &Lot) -> Result<Vec<u32>, Error> {
    let tests = store.unit_tests(lot.number)?;
    let counted = tests.iter().filter(|test| test.counts());
    Ok(counted.filter_map(|test| test.unit.trim().parse().ok()).collect())
}

/// What a lead's record says: its lot's unit, or its name.
pub(crate) fn details(lot: Option<&str>, number: u32) -> Vec<Detail> {
    match lot {
        Some(lot) => {
            vec![Detail::new(Key::Lot, lot), Detail::new(Key::Unit, number.to_string())]
        }
        None => vec![Detail::new(Key::RunName, format!("{NAMED}{number}"))],
    }
}

/// The record of the lead that was tested last, and the lead's number: of a lot, or of none.
pub(crate) fn last(store: &Store, lot: Option<&Lot>) -> Result<(i64, u32), Error> {
    let found = match lot {
        Some(lot) => {
            let tests = store.unit_tests(lot.number)?;
            let last = tests.iter().rfind(|test| test.counts());
            last.and_then(|test| Some((test.number, test.unit.trim().parse().ok()?)))
        }
        None => {
            let filter = Filter {
                words: vec![NAMED.into()],
                kind: Some(Kind::Check),
                not_void: true,
                ..Filter::default()
            };
            let (listed, _) = store.list(&filter)?;
            listed.iter().find_map(|one| {
                let name = latest(&one.details, Key::RunName)?;
                Some((one.number, name.strip_prefix(NAMED)?.parse().ok()?))
            })
        }
    };
    Ok(found.ok_or(LeadError::NothingToUndo)?)
}

/// Its record counts no more.
pub(crate) fn void(store: &mut Store, record: i64) -> Result<(), Error> {
    Ok(store.add(record, &[Detail::new(Key::Void, "taken back at the station")])?)
}

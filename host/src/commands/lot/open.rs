//! `lot open`: declares a lot, and draws the units to test.

use runproof_quality::Chance;
use runproof_quality::lot::{self, Acceptance, Declared};
use runproof_quality::sampling::Severity;
use runproof_quality::sampling::variables::Risks;

use super::shown;
use crate::arguments::Open;
use crate::error::{Error, LotError};
use crate::exit::Exit;
use crate::recording;
use crate::shop::lots::{Lot, Opened, record_of};

pub(super) fn run(arguments: Open) -> Result<Exit, Error> {
    let (_, sheet) = super::super::limits::sheet_used(&arguments.sheet)?;
    let mut store = recording::store()?;
    let name = arguments.lot.clone();
    if store.lot(&name)?.is_some() {
        return Err(LotError::Exists { name }.into());
    }
    let due = lot::due(&Lot::closed_of(&store, &arguments.series)?, arguments.may_reduce).severity;
    let seed_told = arguments.seed.is_some();
    let declared = Declared {
        acceptance: acceptance(due, &arguments)?,
        series: arguments.series,
        units: arguments.units,
        seed: arguments.seed.unwrap_or_else(new_seed),
        again: arguments.again,
    };
    declared.drawn().map_err(LotError::NotDeclared)?;
    let opened = Opened {
        declared,
        test: arguments.test.into(),
        may_reduce: arguments.may_reduce,
        due,
        seed_told,
    };
    let kept = store.save(&record_of(&name, &opened, sheet, vec![]))?;
    shown(&Lot::of(&store, kept.number)?, arguments.json)?;
    Ok(Exit::Pass)
}

fn acceptance(due: Option<Severity>, arguments: &Open) -> Result<Acceptance, Error> {
    if let (true, Some(good), Some(bad)) = (arguments.by_resistance, arguments.good, arguments.bad)
    {
        let producers = arguments.producers_risk.unwrap_or(Chance::ONE_IN_TWENTY);
        let consumers = arguments.risk.unwrap_or(Chance::ONE_IN_TEN);
        return Ok(Acceptance::Variables(Risks { good, producers, bad, consumers }));
    }
    let Some(aql) = arguments.aql else {
        let risk = arguments.risk.unwrap_or(Chance::ONE_IN_TEN);
        let by_limit = arguments.limit.map(|limit| Acceptance::ZeroAcceptance { limit, risk });
        return Ok(by_limit.unwrap_or(Acceptance::EveryUnit));
    };
    let severity = match arguments.severity {
        Some(told) => told.into(),
        None => due.ok_or_else(|| LotError::SeriesEnded { series: arguments.series.clone() })?,
    };
    if due.is_none() && severity != Severity::Tightened {
        return Err(LotError::OnlyTightened { series: arguments.series.clone() }.into());
    }
    Ok(Acceptance::Attributes { level: arguments.level.unwrap_or_default(), aql, severity })
}

/// From what an id has at random; small enough to be read aloud and typed again.
fn new_seed() -> u64 {
    runproof_records::uuid::Uuid::now_v7().as_u64_pair().1 % 1_000_000_000
}

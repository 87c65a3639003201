//! One record: judged again from what was measured, beside what was said then.

use runproof_records::{Kind, Record};

use super::{found, words};
use crate::arguments::{Show, Units};
use crate::commands::{again, print};
use crate::error::Error;
use crate::exit::Exit;
use crate::files;
use crate::shop::lots::Lot;
use crate::show::{lot, proof, terminal};

pub(super) fn run(arguments: &Show) -> Result<Exit, Error> {
    let (store, number) = found(&arguments.record)?;
    let record = store.record(number)?;
    if let Some(path) = &arguments.save {
        files::save(path.clone(), &record.capture)?;
    }
    if let (Some(path), Some(sheet)) = (&arguments.save_sheet, &record.sheet) {
        files::save(path.clone(), &sheet.text)?;
    }
    if arguments.output.json {
        print(&format!("{}\n", record.write()))?;
    } else {
        print(&words::void(&record))?;
        if record.kind == Kind::Lot {
            print(&lot::text(&Lot::of(&store, number)?))?;
        } else if let (Kind::Proof, Some(verdict)) = (record.kind, record.verdict) {
            print(&proof::of_record(verdict, &record.said))?;
        } else {
            print(&judged_again(&record, arguments.output.in_units.units)?)?;
        }
        print(&words::about(number, &record))?;
    }
    Ok(record.verdict.map_or(Exit::Pass, Exit::from))
}

/// As this version of the program judges it, by the limits and what was told then.
fn judged_again(record: &Record, units: Units) -> Result<String, Error> {
    let Some(again) = again::of(record)? else { return Ok(words::of_zero(record)) };
    let now = again.described(units);
    let as_then = (Some(now.verdict), &now.reason) == (record.verdict, &record.said);
    let then = if as_then { String::new() } else { words::otherwise_then(record) };
    Ok(then + &terminal::text(&now))
}

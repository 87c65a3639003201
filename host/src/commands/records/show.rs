//! One record: judged again from what was measured, beside what was said then.

use std::io::Write;
use std::path::PathBuf;

use runproof_interpret::{Capture, LimitSheet, judge, judge_live};
use runproof_records::{Kind, Record};

use super::{found, words};
use crate::arguments::Show;
use crate::commands::print;
use crate::error::Error;
use crate::exit::Exit;
use crate::files;
use crate::show;
use crate::show::terminal;

pub(super) fn run(arguments: &Show) -> Result<Exit, Error> {
    let (store, number) = found(&arguments.record)?;
    let record = store.record(number)?;
    if let Some(path) = &arguments.save {
        saved(path.clone(), &record.capture)?;
    }
    if let (Some(path), Some(sheet)) = (&arguments.save_sheet, &record.sheet) {
        saved(path.clone(), &sheet.text)?;
    }
    if arguments.output.json {
        print(&format!("{}\n", record.write()))?;
    } else {
        print(&words::void(&record))?;
        print(&again(&record, arguments)?)?;
        print(&words::about(number, &record))?;
    }
    Ok(record.verdict.map_or(Exit::Pass, Exit::from))
}

fn saved(path: PathBuf, text: &str) -> Result<(), Error> {
    let (path, mut file) = files::new(path)?;
    file.write_all(text.as_bytes()).map_err(|source| Error::NotSaved { path, source })
}

/// As this version of the program judges it, by the limits and what was told then.
fn again(record: &Record, arguments: &Show) -> Result<String, Error> {
    let units = arguments.output.in_units.units;
    let Some(sheet) = &record.sheet else { return Ok(words::of_zero(record)) };
    let unusable = |why: String| Error::NotJudgedAgain { why };
    let capture = Capture::read(&record.capture).map_err(|error| unusable(error.to_string()))?;
    let sheet = LimitSheet::read(&sheet.text).map_err(|error| unusable(error.to_string()))?;
    let told = |error: serde_json::Error| unusable(error.to_string());
    let now = if record.kind == Kind::Live {
        let known = serde_json::from_str(&record.told).map_err(told)?;
        let judgement = judge_live(&capture, &sheet, &known);
        show::live::described(&capture, &judgement, None, units, None)
    } else {
        let known = serde_json::from_str(&record.told).map_err(told)?;
        let judgement = judge(&capture, &sheet, &known);
        show::check::described(&capture, &judgement, &known, units, None)
    };
    let as_then = (Some(now.verdict), &now.reason) == (record.verdict, &record.said);
    let then = if as_then { String::new() } else { words::otherwise_then(record) };
    Ok(then + &terminal::text(&now))
}

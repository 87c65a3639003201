//! Captures and exported records, taken into the store: a line for each, one transaction each.

use std::iter;
use std::path::Path;

use runproof_interpret::{
    Capture, LimitSheet, LiveKnowledge, RunKnowledge, judge, judge_live, judge_reel, zero,
};
use runproof_protocol::Phase;
use runproof_records::{Kept, Record, Sheet, Store, sha256};

use super::words;
use crate::arguments::{About, Import};
use crate::commands::{again, flex, limits, print};
use crate::error::{Error, RecordError};
use crate::exit::Exit;
use crate::files;
use crate::recording::{self, of_check, of_flex, of_live, of_reel, of_zero};

/// A whole record is a capture, of a few megabytes at most, and what followed from it.
const LINE_BYTES_MAX: usize = 64 << 20;

/// What captures are judged by, and what is said about them.
struct By<'a> {
    limits: LimitSheet,
    sheet: Sheet,
    /// The same of reels.
    reels: (LimitSheet, Sheet),
    about: &'a About,
}

pub(super) fn run(arguments: &Import) -> Result<Exit, Error> {
    let (limits, sheet) = limits::sheet_used(&arguments.sheet)?;
    let reels = limits::reel_sheet_used(&arguments.sheet)?;
    let by = By { limits, sheet, reels, about: &arguments.about };
    let mut paths = vec![];
    for path in &arguments.files {
        if path.is_dir() { paths.extend(files::in_folder(path)?) } else { paths.push(path.clone()) }
    }
    let mut store = recording::store()?;
    let (mut new, mut old, mut unusable) = (0_u64, 0_u64, 0_u64);
    for path in &paths {
        let name = path.display().to_string();
        let taken = import(&mut store, path, &by, &mut |kept| {
            *(if kept.was_here { &mut old } else { &mut new }) += 1;
            print(&words::imported(&name, kept))
        });
        match taken {
            Ok(()) => {}
            // What this store cannot take now it cannot take of the next file either.
            Err(error @ (Error::Store(_) | Error::NotPrinted(_))) => return Err(error),
            Err(error) => {
                unusable += 1;
                print(&words::not_imported(&name, &error))?;
            }
        }
    }
    print(&words::all_imported(new, old, unusable))?;
    Ok(if unusable > 0 { Exit::BadFile } else { Exit::Pass })
}

/// A file with one capture, or with whole records, a line each.
fn import(
    store: &mut Store,
    path: &Path,
    by: &By<'_>,
    done: &mut dyn FnMut(&Kept) -> Result<(), Error>,
) -> Result<(), Error> {
    let mut lines = files::lines(path, LINE_BYTES_MAX)?;
    let first = lines.next().transpose()?.unwrap_or_default();
    if is_record(&first) {
        for (number, line) in (1..).zip(iter::once(Ok(first)).chain(lines)) {
            let line = line?;
            if line.trim().is_empty() {
                continue;
            }
            let none = |source| {
                Error::Record(RecordError::NotARecord { path: path.into(), line: number, source })
            };
            let record = Record::read(&line).map_err(none)?;
            if !again::says_what_follows(&record)? {
                return Err(RecordError::SaysOtherwise { path: path.into(), line: number }.into());
            }
            done(&store.save(&record)?)?;
        }
        return Ok(());
    }
    let capture = files::read_capture(path)?;
    if let [number, ..] = store.of_capture(&sha256(&capture.write()))?.as_slice() {
        let id = store.id(*number)?;
        return done(&Kept { number: *number, id, was_here: true });
    }
    done(&store.save(&of(&capture, by))?)
}

/// Or the beginning of one that was cut off.
fn is_record(line: &str) -> bool {
    if line.trim_start().starts_with(r#"{"runproof_record""#) {
        return true;
    }
    let first = serde_json::from_str::<serde_json::Value>(line).unwrap_or_default();
    first.get("runproof_record").is_some()
}

fn of(capture: &Capture, by: &By<'_>) -> Record {
    let By { limits, sheet, reels, about } = by;
    let details = &about.details();
    if capture.is_live() {
        let known = LiveKnowledge::default();
        return of_live(capture, &judge_live(capture, limits, &known), &known, sheet, details);
    }
    if capture.is_flex() {
        return of_flex(capture, &flex::seen(capture, limits), sheet, details);
    }
    if capture.reel().is_some() {
        let (limits, sheet) = reels;
        return of_reel(capture, &judge_reel(capture, limits), sheet, details);
    }
    let opened = capture.readings(Phase::Open).next().is_some();
    match zero(capture) {
        Ok(zero) if !opened => of_zero(capture, &zero, details),
        _ => {
            let known = RunKnowledge::default();
            of_check(capture, &judge(capture, limits, &known), &known, sheet, details)
        }
    }
}

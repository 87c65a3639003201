//! How a reel's length went, from its records.

use runproof_interpret::judgement::Interval;
use runproof_interpret::reel::Reeled;
use runproof_records::{Filter, Kind, Listed, Store};
use serde_json::Value;

use crate::arguments::Output;
use crate::error::{Error, RecordError, ReelError};
use crate::exit::Exit;
use crate::recording;
use crate::show::reel::history::{Tested, json, text};

pub(super) fn shown(reel: &str, output: Output) -> Result<Exit, Error> {
    let store = recording::store_to_read()?.ok_or(RecordError::NothingRecorded)?;
    let mut tests = vec![];
    let mut before: Option<Interval> = None;
    for listed in of_reel(&store, reel)?.into_iter().rev() {
        let result = result(&store, listed.number)?;
        let length_m = interval(&result, "length_m");
        let longer = before.zip(length_m).is_some_and(|(before, now)| now.least > before.most);
        before = length_m.or(before);
        tests.push(Tested {
            record: listed.number,
            taken: listed.taken,
            verdict: listed.verdict,
            length_m,
            marked_m: interval(&result, "marked_m"),
            longer,
        });
    }
    if tests.is_empty() {
        return Err(ReelError::NoSuchReel { reel: reel.to_owned() }.into());
    }
    super::super::print(&match output.json {
        true => json(reel, &tests),
        false => text(reel, &tests, output.in_units.units),
    })?;
    Ok(Exit::Pass)
}

/// Its length when it was told last; none where it never was. A store that cannot be read keeps nobody from measuring.
pub(super) fn last(reel: &str) -> Result<Option<Reeled>, Error> {
    let Ok(Some(store)) = recording::store_to_read() else { return Ok(None) };
    for listed in of_reel(&store, reel)? {
        if let Some(metres) = interval(&result(&store, listed.number)?, "length_m") {
            let taken = listed.taken.and_then(|taken| u64::try_from(taken.as_second()).ok());
            return Ok(Some(Reeled::new(taken, metres)));
        }
    }
    Ok(None)
}

/// The newest first; none that is void.
fn of_reel(store: &Store, reel: &str) -> Result<Vec<Listed>, Error> {
    let filter = Filter {
        kind: Some(Kind::Reel),
        reel: Some(reel.to_owned()),
        not_void: true,
        ..Filter::default()
    };
    Ok(store.list(&filter)?.0)
}

fn result(store: &Store, number: i64) -> Result<Value, Error> {
    let record = store.record(number)?;
    serde_json::from_str(&record.result)
        .map_err(|error| Error::Record(RecordError::NotJudgedAgain { why: error.to_string() }))
}

fn interval(result: &Value, key: &str) -> Option<Interval> {
    let of = |part: &str| result[key][part].as_f64();
    Some(Interval { value: of("value")?, least: of("least")?, most: of("most")? })
}

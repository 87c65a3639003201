//! `audit`: all that is on record of one jig, in one document.

use super::prove;
use crate::arguments::Audit as Arguments;
use crate::error::{Error, RecordError};
use crate::exit::Exit;
use crate::recording;
use crate::shop::audit::Audit;
use crate::show::audit as words;
use crate::show::document::text;
use crate::zeros;

pub(super) fn run(arguments: Arguments) -> Result<Exit, Error> {
    let set = prove::set(arguments.pieces.as_deref())?;
    let store = recording::store_to_read()?.ok_or(RecordError::NothingRecorded)?;
    let audit = Audit::of(&store, &arguments.jig, [arguments.since, arguments.until], &set)?;
    let kept = zeros::kept_of(&arguments.jig);
    let now_s = super::now_unix_s();
    if arguments.json {
        super::print(&words::json(&audit, &set, &kept))?;
        return Ok(Exit::Pass);
    }
    let document = words::document(&audit, &set, &kept, now_s);
    match arguments.to {
        Some(path) => super::paper::write(path, &document)?,
        None => super::print(&text(&document))?,
    }
    Ok(Exit::Pass)
}

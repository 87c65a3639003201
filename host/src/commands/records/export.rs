//! Records for other programs: as CSV, as JSON Lines, or whole.

mod parquet;

use std::io::{self, BufWriter, Write};

use runproof_records::Listed;

use super::words;
use crate::arguments::{Export, Format};
use crate::error::{Error, FileError, RecordError};
use crate::exit::Exit;
use crate::files;
use crate::recording;

pub(super) fn run(arguments: &Export) -> Result<Exit, Error> {
    if arguments.format == Format::Parquet {
        parquet::can_be(arguments)?;
    }
    let store = recording::store_to_read()?.ok_or(RecordError::NothingRecorded)?;
    let filter = arguments.which.filter(None);
    let to = arguments.to.clone().map(files::new).transpose()?;
    let path = to.as_ref().map(|(path, _)| path.clone());
    let into: Box<dyn Write + Send> = match to {
        Some((_, file)) => Box::new(file),
        None => Box::new(io::stdout()),
    };
    let mut into = BufWriter::new(into);
    let mut count = 0_u64;
    let written = match arguments.format {
        Format::Csv => store.write_csv(&filter, &mut into)?.map(|rows| count = rows),
        Format::Json => {
            let mut written = Ok(());
            store.each(&filter, &mut |one: Listed| {
                if written.is_ok() {
                    written = writeln!(into, "{}", one.write());
                    count += 1;
                }
            })?;
            written
        }
        Format::Parquet => parquet::write(&store, &filter, &mut into)?.map(|rows| count = rows),
        Format::Whole => {
            let mut numbers = vec![];
            store.each(&filter, &mut |one| numbers.push(one.number))?;
            let mut written = Ok(());
            // The oldest first, so that another store numbers them alike.
            for number in numbers.into_iter().rev() {
                let record = store.record(number)?;
                written = writeln!(into, "{}", record.write());
                count += 1;
                if written.is_err() {
                    break;
                }
            }
            written
        }
    };
    let written = written.and_then(|()| into.flush());
    match (written, path) {
        (Err(error), None) if error.kind() == io::ErrorKind::BrokenPipe => {}
        (Err(source), None) => return Err(Error::NotPrinted(source)),
        (Err(source), Some(path)) => return Err(FileError::NotSaved { path, source }.into()),
        (Ok(()), None) => {}
        (Ok(()), Some(path)) => crate::commands::print(&words::exported(count, &path))?,
    }
    Ok(Exit::Pass)
}

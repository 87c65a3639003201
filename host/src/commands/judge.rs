//! `judge`: judges a capture that was saved earlier.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use runproof_interpret::{Capture, capture};

use crate::arguments::Judge;
use crate::error::Error;
use crate::exit::Exit;

pub(super) fn run(arguments: Judge) -> Result<Exit, Error> {
    let path = arguments.capture;
    let text = read(&path)?;
    let capture = Capture::read(&text).map_err(|source| Error::NotACapture { path, source })?;
    super::judged(&capture, arguments.output)
}

/// Never more than a capture may have, whatever the file is.
fn read(path: &Path) -> Result<String, Error> {
    let unreadable = |source: io::Error| Error::Unreadable { path: path.into(), source };
    let mut text = String::new();
    let file = File::open(path).map_err(unreadable)?;
    file.take(capture::BYTES_MAX as u64 + 1).read_to_string(&mut text).map_err(unreadable)?;
    if text.len() > capture::BYTES_MAX {
        return Err(Error::TooLarge { path: path.into(), limit_mib: capture::BYTES_MAX >> 20 });
    }
    Ok(text)
}

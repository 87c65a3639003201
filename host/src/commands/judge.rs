//! `judge`: judges a capture that was saved earlier.

use runproof_interpret::{Capture, capture};

use crate::arguments::Judge;
use crate::error::Error;
use crate::exit::Exit;

pub(super) fn run(arguments: Judge) -> Result<Exit, Error> {
    let sheet = super::limits::sheet(&arguments.against.sheet)?;
    let path = arguments.capture;
    let text = super::read(&path, capture::BYTES_MAX)?;
    let capture = Capture::read(&text).map_err(|source| Error::NotACapture { path, source })?;
    super::judged(&capture, &sheet, &arguments.against.known(), arguments.output)
}

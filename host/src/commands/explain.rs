//! `explain`: where the uncertainty of each number comes from, and how it was held against its limit.

use runproof_interpret::{Capture, capture};

use crate::arguments::Explain;
use crate::error::Error;
use crate::exit::Exit;
use crate::show::explain;

pub(super) fn run(arguments: Explain) -> Result<Exit, Error> {
    let sheet = super::limits::sheet(&arguments.against.sheet)?;
    let path = arguments.capture;
    let text = super::read(&path, capture::BYTES_MAX)?;
    let capture = Capture::read(&text).map_err(|source| Error::NotACapture { path, source })?;
    let known = arguments.against.known();
    let judgement = runproof_interpret::judge(&capture, &sheet, &known);
    super::print(&explain::budgets(&capture, &judgement, &sheet))?;
    Ok(judgement.verdict.into())
}

//! `explain`: where the uncertainty of each number comes from, and how it was held against its limit.

use crate::arguments::Explain;
use crate::captures;
use crate::error::{Error, FileError, FlexError};
use crate::exit::Exit;
use crate::show::explain;

pub(super) fn run(arguments: Explain) -> Result<Exit, Error> {
    let sheet = super::limits::sheet(arguments.against.sheet())?;
    let capture = captures::read(&arguments.capture)?;
    if capture.is_live() {
        return Err(FileError::NoBudget { path: arguments.capture, of: "a live run" }.into());
    }
    if capture.is_flex() {
        return Err(FlexError::IsFlexed { path: arguments.capture }.into());
    }
    if capture.reel().is_some() {
        return Err(FileError::NoBudget { path: arguments.capture, of: "a reel" }.into());
    }
    let known = super::known(&arguments.against, &sheet)?;
    super::to_earth::check_told(&capture, &known)?;
    let judgement = runproof_interpret::judge(&capture, &sheet, &known);
    super::print(&explain::budgets(&capture, &judgement, &sheet))?;
    Ok(judgement.verdict.into())
}

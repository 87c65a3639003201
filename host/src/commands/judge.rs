//! `judge`: judges a capture that was saved earlier, or a folder of them.

mod folder;

use runproof_interpret::{judge_live, judge_reel};

use crate::arguments::Judge;
use crate::captures;
use crate::error::{Error, FileError};
use crate::exit::Exit;

pub(super) fn run(arguments: Judge) -> Result<Exit, Error> {
    let sheet = super::limits::sheet(arguments.against.sheet())?;
    let path = arguments.capture;
    let mut of_one_run = arguments.against.of_one_run();
    of_one_run.extend(arguments.control.run.as_ref().map(|_| "--run"));
    if path.is_dir() && !of_one_run.is_empty() {
        return Err(FileError::OfOneRun { options: of_one_run.join(" and "), folder: path }.into());
    }
    let known = super::known(&arguments.against, &sheet)?;
    let known_live = super::live::control::known(&arguments.control, &sheet)?;
    if path.is_dir() {
        return folder::run(&path, &sheet, (&known, &known_live), arguments.output);
    }
    let capture = captures::read(&path)?;
    if capture.is_live() {
        let judgement = judge_live(&capture, &sheet, &known_live);
        super::live::shown(&capture, &judgement, None, arguments.output, None)?;
        return Ok(judgement.verdict.into());
    }
    if capture.is_flex() {
        super::flex::takes(&known)?;
        let seen = super::flex::seen(&capture, &sheet);
        super::flex::shown(&capture, &seen, arguments.output, None)?;
        return Ok(seen.judgement.verdict.into());
    }
    if capture.reel().is_some() {
        super::reel::takes(&known)?;
        let judgement = judge_reel(
            &capture,
            &super::limits::sheet(arguments.against.sheet.as_deref().unwrap_or("reel"))?,
        );
        super::reel::shown(&capture, &judgement, arguments.output, None)?;
        return Ok(judgement.verdict.into());
    }
    let judgement = super::judged(&capture, &sheet, &known)?;
    super::show(&capture, &judgement, &known, arguments.output, None)
}

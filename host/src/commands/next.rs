//! `next`: the support desk's next step, from what is known so far.

mod again;
mod captures;

use std::path::Path;

use runproof_interpret::LimitSheet;
use runproof_interpret::next::{BYTES_MAX, FactError, Known, Steps};

use crate::arguments::Next;
use crate::error::Error;
use crate::exit::Exit;
use crate::files;
use crate::show::next;

pub(super) fn run(arguments: &Next) -> Result<Exit, Error> {
    if let Some(path) = &arguments.check_steps {
        super::print(&next::checked(&from_file(path)?))?;
        return Ok(Exit::Pass);
    }
    let steps = arguments.steps.as_deref().map_or_else(|| Ok(Steps::built_in()), from_file)?;
    if arguments.questions {
        super::print(&next::questions(&steps))?;
        return Ok(Exit::Pass);
    }
    let sheet = super::limits::sheet(&arguments.against.sheet)?;
    fits(&steps, &sheet)?;
    let mut known = Known::nothing(&steps);
    let captures = captures::judged(arguments, &sheet)?;
    for one in &captures {
        known.measured(&one.file, one.source, &one.readings);
    }
    for (key, value) in &arguments.told {
        known.told(key, value).map_err(wrong("--told"))?;
    }
    for (key, value) in &arguments.answer {
        known.answered(key, value).map_err(wrong("--answer"))?;
    }
    let advice = known.advice();
    let commands = again::commands(&advice, &steps, arguments);
    let told = next::Told { steps: &steps, known: &known, advice: &advice, captures: &captures };
    super::print(&if arguments.json { told.json(&commands) } else { told.words(&commands) })?;
    Ok(Exit::Pass)
}

fn wrong(option: &'static str) -> impl Fn(FactError) -> Error {
    move |source| Error::NoFact { option, source }
}

fn from_file(path: &Path) -> Result<Steps, Error> {
    let text = files::read(path, BYTES_MAX)?;
    Steps::read(&text).map_err(|source| Error::NotSteps { path: path.into(), source })
}

/// The figures in a file of steps are for some runs, and not for others.
fn fits(steps: &Steps, sheet: &LimitSheet) -> Result<(), Error> {
    if steps.sheets.contains(&sheet.name) {
        return Ok(());
    }
    let (name, sheets) = (steps.name.clone(), steps.sheets.join(", "));
    Err(Error::OtherRun { steps: name, sheet: sheet.name.clone(), sheets })
}

//! `next`: the support desk's next step, from what is known so far.

mod again;
mod captures;

use std::path::Path;

use runproof_interpret::LimitSheet;
use runproof_interpret::next::{BYTES_MAX, FactError, Known, Steps};

use crate::arguments::{Given, Next};
use crate::error::{CaseError, Error};
use crate::exit::Exit;
use crate::files;
use crate::show::next;

pub(super) fn run(arguments: &Next) -> Result<Exit, Error> {
    let sheet = super::limits::sheet(arguments.against.sheet())?;
    if let Some(path) = &arguments.check_steps {
        super::print(&next::checked(&from_file(path, &sheet)?))?;
        return Ok(Exit::Pass);
    }
    let own = arguments.steps.as_deref().map(|path| from_file(path, &sheet)).transpose()?;
    let steps = own.unwrap_or_else(Steps::built_in);
    if arguments.questions {
        super::print(&next::questions(&steps))?;
        return Ok(Exit::Pass);
    }
    fits(&steps, &sheet)?;
    let mut known = Known::nothing(&steps);
    let given = &arguments.given.0;
    let judged = given.iter().map(|one| captures::judged(one, arguments, &sheet));
    let mut judged = judged.collect::<Result<Vec<_>, _>>()?;
    captures::lay_beside(&mut judged);
    for (given, judged) in given.iter().zip(&judged) {
        match given {
            Given::Told(key, value) => known.told(key, value).map_err(wrong("--told"))?,
            Given::Answer(key, value) => known.answered(key, value).map_err(wrong("--answer"))?,
            Given::Check(_) | Given::Live(_) => {
                if let Some(one) = judged {
                    known.measured(&one.file, one.source, &one.readings);
                }
            }
        }
    }
    let captures: Vec<_> = judged.into_iter().flatten().collect();
    let advice = known.advice();
    let commands = again::commands(&advice, &steps, arguments);
    let told = next::Told { steps: &steps, known: &known, advice: &advice, captures: &captures };
    super::print(&if arguments.json { told.json(&commands) } else { told.words(&commands) })?;
    Ok(Exit::Pass)
}

fn wrong(option: &'static str) -> impl Fn(FactError) -> Error {
    move |source| Error::Case(CaseError::NoFact { option, source })
}

fn from_file(path: &Path, sheet: &LimitSheet) -> Result<Steps, Error> {
    let text = files::read(path, BYTES_MAX)?;
    Steps::read_for(&text, &[&sheet.name])
        .map_err(|source| Error::Case(CaseError::NotSteps { path: path.into(), source }))
}

/// The figures in a file of steps are for some runs, and not for others.
fn fits(steps: &Steps, sheet: &LimitSheet) -> Result<(), Error> {
    if steps.sheets.contains(&sheet.name) {
        return Ok(());
    }
    let (name, sheets) = (steps.name.clone(), steps.sheets.join(", "));
    Err(CaseError::OtherRun { steps: name, sheet: sheet.name.clone(), sheets }.into())
}

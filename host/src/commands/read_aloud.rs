//! `code`: a capture's result as a code to be said; `decode`: the result again, from a code that was heard.

use runproof_interpret::judgement::SheetName;
use runproof_interpret::read_aloud;

use super::again;
use crate::arguments::{Code, Decode};
use crate::error::{Error, FlexError, ReelError};
use crate::exit::Exit;
use crate::show::judged::Judged;
use crate::show::{read_aloud as show, told};

pub(super) fn code(arguments: Code) -> Result<Exit, Error> {
    let judged = again::named(&arguments.capture, &arguments.against, &arguments.control)?.judged;
    if matches!(judged, Judged::Flex(..)) {
        return Err(FlexError::NoCode.into());
    }
    let code = show::of_either(&judged).ok_or(ReelError::NoReelCode)?;
    super::print(&match arguments.output.json {
        true => show::json(code),
        false => show::screen(&code, &judged),
    })?;
    Ok(judged.verdict().into())
}

pub(super) fn decode(arguments: Decode) -> Result<Exit, Error> {
    let given = arguments.sheet.as_deref().map(super::limits::sheet).transpose()?;
    let given = given.map(|sheet| SheetName { name: sheet.name, version: sheet.version });
    let spoken = read_aloud::from_code(&arguments.code.join(" "))
        .map_err(|source| Error::NotACode { source })?;
    super::print(&match arguments.output.json {
        true => told::json(&spoken, given.as_ref()),
        false => told::screen(&spoken, given.as_ref(), arguments.output.in_units.units),
    })?;
    Ok(spoken.verdict().into())
}

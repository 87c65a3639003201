//! `limits`: lists the limit sheets, shows one, or checks a user's own.

use std::path::Path;

use runproof_interpret::LimitSheet;
use runproof_interpret::limits::{BUILT_IN, BYTES_MAX};
use runproof_records::Sheet;

use crate::arguments::Limits;
use crate::error::Error;
use crate::exit::Exit;
use crate::files;
use crate::show::limits;

pub(super) fn run(arguments: Limits) -> Result<Exit, Error> {
    let text = match (arguments.check, arguments.sheet) {
        (Some(name), _) => limits::checked(&sheet(&name)?),
        (None, Some(name)) => limits::one(&sheet(&name)?, arguments.in_units.units),
        (None, None) => {
            let sheets = BUILT_IN.iter().filter_map(|(name, _)| LimitSheet::built_in(name));
            limits::list(&sheets.collect::<Vec<_>>())
        }
    };
    super::print(&text)?;
    Ok(Exit::Pass)
}

/// A built-in sheet, or one in a file.
pub(super) fn sheet(name: &str) -> Result<LimitSheet, Error> {
    sheet_used(name).map(|(limits, _)| limits)
}

/// What a reel is held to, and its text: it has a sheet of its own unless another was named.
pub(super) fn reel_sheet_used(name: &str) -> Result<(LimitSheet, Sheet), Error> {
    sheet_used(if name == BUILT_IN[0].0 { "reel" } else { name })
}

/// The same, and its text, as it goes into a record.
pub(super) fn sheet_used(name: &str) -> Result<(LimitSheet, Sheet), Error> {
    if let Some((_, text)) = BUILT_IN.iter().find(|(known, _)| *known == name)
        && let Some(limits) = LimitSheet::built_in(name)
    {
        return Ok(with_text(limits, (*text).to_owned()));
    }
    let path = Path::new(name);
    if !path.exists() {
        return Err(Error::NoSheet { name: name.to_owned() });
    }
    let text = files::read(path, BYTES_MAX)?;
    let limits = LimitSheet::read(&text);
    let limits = limits.map_err(|source| Error::NotASheet { path: path.into(), source })?;
    Ok(with_text(limits, text))
}

fn with_text(limits: LimitSheet, text: String) -> (LimitSheet, Sheet) {
    let sheet = Sheet { name: limits.name.clone(), version: limits.version.clone(), text };
    (limits, sheet)
}

//! `limits`: lists the limit sheets, shows one, or checks a user's own.

use std::path::Path;

use runproof_interpret::limits::{BUILT_IN, BYTES_MAX};
use runproof_interpret::{LimitSheet, SheetError};
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
    let not_a_sheet = |source| Error::NotASheet { path: path.into(), source };
    let limits = limits.map_err(not_a_sheet)?;
    name_is_free(&limits, &text).map_err(not_a_sheet)?;
    Ok(with_text(limits, text))
}

/// Results are told with a sheet's name and version: other limits may not go by those of a built-in one.
fn name_is_free(limits: &LimitSheet, text: &str) -> Result<(), SheetError> {
    let built_in = LimitSheet::built_in(&limits.name);
    if !built_in.is_some_and(|one| one.version == limits.version && one != *limits) {
        return Ok(());
    }
    let line = text.lines().position(|line| line.trim_start().starts_with("name"));
    Err(SheetError {
        line: line.map(|line| line + 1),
        key: Some("name".into()),
        reason: format!(
            "{} version {} is built in, with other limits: give yours a name of its own, or another version",
            limits.name, limits.version
        ),
    })
}

fn with_text(limits: LimitSheet, text: String) -> (LimitSheet, Sheet) {
    let sheet = Sheet { name: limits.name.clone(), version: limits.version.clone(), text };
    (limits, sheet)
}

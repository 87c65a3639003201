//! `limits`: lists the limit sheets, shows one, or checks a user's own.

use std::path::Path;

use runproof_interpret::LimitSheet;
use runproof_interpret::limits::{BUILT_IN, BYTES_MAX};

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
    if let Some(sheet) = LimitSheet::built_in(name) {
        return Ok(sheet);
    }
    let path = Path::new(name);
    if !path.exists() {
        return Err(Error::NoSheet { name: name.to_owned() });
    }
    from_file(path)
}

fn from_file(path: &Path) -> Result<LimitSheet, Error> {
    let text = files::read(path, BYTES_MAX)?;
    LimitSheet::read(&text).map_err(|source| Error::NotASheet { path: path.into(), source })
}

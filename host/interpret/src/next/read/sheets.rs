//! The limit sheets whose runs a file of steps is for: each must exist.

use toml::Spanned;

use super::At;
use crate::limits::BUILT_IN;
use crate::next::{StepsError, near, text};

/// Built in, or one of the user's own that is used with these steps.
pub(super) fn read(
    at: At<'_>,
    sheets: &Spanned<Vec<text::Words>>,
    own: &[&str],
) -> Result<Vec<String>, StepsError> {
    let known: Vec<&str> =
        BUILT_IN.iter().map(|(name, _)| *name).chain(own.iter().copied()).collect();
    if sheets.get_ref().is_empty() {
        let reason = "names none: name each limit sheet whose runs these steps are for";
        return Err(at.wrong("sheets", sheets, reason));
    }
    for one in sheets.get_ref() {
        let name = one.get_ref().as_str();
        if !known.contains(&name) {
            let near = near::told(&near::near(name, known.iter().copied()));
            let all = known.join(", ");
            let reason = format!(
                "there is no limit sheet `{name}`{near}; there are {all}. Give one of your own with --sheet FILE"
            );
            return Err(at.wrong("sheets", one, reason));
        }
    }
    Ok(sheets.get_ref().iter().map(|one| one.get_ref().clone()).collect())
}

//! Names that are used elsewhere in the file: each stands once, and what is used must exist.

use toml::Spanned;

use super::At;
use crate::next::{StepsError, near};

/// All names of one kind, in the order of the file.
pub(super) struct Names<'a> {
    at: At<'a>,
    what: &'static str,
    names: Vec<&'a str>,
    pub(super) spans: Vec<&'a Spanned<String>>,
}

impl<'a> Names<'a> {
    pub(super) fn of(
        at: At<'a>,
        key: &str,
        what: &'static str,
        each: impl Iterator<Item = (&'a Spanned<String>, &'a str)>,
    ) -> Result<Self, StepsError> {
        let mut all = Self { at, what, names: vec![], spans: vec![] };
        for (span, name) in each {
            let is_plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
            if name.is_empty() || !name.chars().all(is_plain) {
                return Err(at.wrong(key, span, "must be small letters, digits and hyphens"));
            }
            if all.names.contains(&name) {
                return Err(at.wrong(key, span, format!("another {what} has this name")));
            }
            all.names.push(name);
            all.spans.push(span);
        }
        Ok(all)
    }

    /// The place of this name, which stands at `span` under `key`.
    pub(super) fn place(
        &self,
        key: &str,
        span: &Spanned<String>,
        name: &str,
    ) -> Result<usize, StepsError> {
        self.names.iter().position(|one| *one == name).ok_or_else(|| {
            let near = near::told(&near::near(name, self.names.iter().copied()));
            self.at.wrong(key, span, format!("there is no {} `{name}`{near}", self.what))
        })
    }

    /// The places of several.
    pub(super) fn places(
        &self,
        key: &str,
        all: &[Spanned<String>],
    ) -> Result<Vec<usize>, StepsError> {
        let mut places = vec![];
        for one in all {
            let place = self.place(key, one, one.get_ref())?;
            if places.contains(&place) {
                return Err(self.at.wrong(
                    key,
                    one,
                    format!("`{}` stands here twice", one.get_ref()),
                ));
            }
            places.push(place);
        }
        Ok(places)
    }
}

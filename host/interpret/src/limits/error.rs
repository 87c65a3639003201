//! Why a text is not a limit sheet: the line, the key, the reason.

use std::fmt;

/// The text is not a limit sheet.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub struct SheetError {
    /// The line, counted from 1, where one is to blame.
    pub line: Option<usize>,
    /// The key, where one is to blame.
    pub key: Option<String>,
    /// What is wrong.
    pub reason: String,
}

impl fmt::Display for SheetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(line) = self.line {
            write!(f, "line {line}: ")?;
        }
        if let Some(key) = &self.key {
            write!(f, "`{key}`: ")?;
        }
        f.write_str(&self.reason)
    }
}

impl SheetError {
    /// An error at a byte of the text; the key is the one that this line sets, if it sets one.
    pub(super) fn at(text: &str, byte: usize, reason: impl Into<String>) -> Self {
        let before = text.get(..byte).unwrap_or(text);
        let line = before.matches('\n').count() + 1;
        let key = text.lines().nth(line - 1).and_then(|line| line.split_once('='));
        let key = key.map(|(key, _)| key.trim().to_owned());
        Self { line: Some(line), key, reason: reason.into() }
    }

    /// An error of the sheet as a whole.
    pub(super) fn whole(reason: impl Into<String>) -> Self {
        Self { line: None, key: None, reason: reason.into() }
    }
}

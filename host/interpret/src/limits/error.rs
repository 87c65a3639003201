//! Why a text is not a limit sheet, or not a file of steps: the line, the key, the reason.

use std::fmt;

/// The text is not a limit sheet, or not a file of steps.
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
    /// An error at a byte of the text; the key is the one that this line sets, if it sets one, or
    /// the table that it opens.
    pub(crate) fn at(text: &str, byte: usize, reason: impl Into<String>) -> Self {
        let before = text.get(..byte).unwrap_or(text);
        let line = before.matches('\n').count() + 1;
        let key = text.lines().nth(line - 1).and_then(|line| match line.split_once('=') {
            Some((key, _)) => Some(key.trim()),
            None => line.trim().strip_prefix('[')?.split_once(']').map(|(key, _)| key),
        });
        let key = key.map(|key| key.trim_matches('[').to_owned());
        Self { line: Some(line), key, reason: reason.into() }
    }

    /// A key that is not there, of the table that begins at a byte of the text.
    pub(crate) fn missing(text: &str, byte: usize, key: &str) -> Self {
        Self { key: Some(key.to_owned()), ..Self::at(text, byte, "is missing here") }
    }

    /// The text is not TOML, or does not have the keys or the kinds of value that it must.
    pub(crate) fn parsing(text: &str, error: &toml::de::Error) -> Self {
        let message = error.message();
        let byte = error.span().map(|span| span.start);
        let missing = message.strip_prefix("missing field `").and_then(|m| m.strip_suffix('`'));
        match (byte, missing) {
            // The whole text has no line of its own.
            (None | Some(0), Some(key)) => {
                Self { line: None, key: Some(key.to_owned()), reason: "is missing".into() }
            }
            (Some(byte), Some(key)) => Self::missing(text, byte, key),
            (Some(byte), None) => Self::at(text, byte, message),
            (None, None) => Self::whole(message),
        }
    }

    /// An error of the text as a whole.
    pub(crate) fn whole(reason: impl Into<String>) -> Self {
        Self { line: None, key: None, reason: reason.into() }
    }
}

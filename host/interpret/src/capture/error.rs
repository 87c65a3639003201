//! Why a text is not a capture: the line, the key, the reason.

use std::fmt;

/// The text is not a capture that this version can read.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub struct CaptureError {
    /// The line, counted from 1.
    pub line: usize,
    /// The key, where one is to blame; inner ones as `jig.serial`.
    pub key: Option<String>,
    /// What is wrong with it.
    pub reason: Reason,
}

impl fmt::Display for CaptureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.key {
            Some(key) => write!(f, "line {}: `{key}` {}", self.line, self.reason),
            None => write!(f, "line {}: {}", self.line, self.reason),
        }
    }
}

/// What is wrong with a line, or with a key of it.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Reason {
    /// There is no line at all.
    #[error("the text is empty")]
    Empty,
    /// More than [`BYTES_MAX`](super::BYTES_MAX), [`LINES_MAX`](super::LINES_MAX) or
    /// [`LINE_BYTES_MAX`](super::LINE_BYTES_MAX).
    #[error("more than {limit} {unit}")]
    TooLarge {
        /// The most that is read.
        limit: usize,
        /// Of what.
        unit: &'static str,
    },
    /// The line is not a JSON object.
    #[error("not a JSON object")]
    NotAnObject,
    /// The line ends within the object.
    #[error("cut off before its end")]
    CutOff,
    /// The first line is not a head, or a later line is one.
    #[error("the head must stand first, and only there")]
    HeadMisplaced,
    /// A newer version of the format.
    #[error("is {0}; this program reads version 1")]
    NewerVersion(u64),
    /// The key is not there.
    #[error("is missing")]
    Missing,
    /// The value is not of the right kind.
    #[error("must be {expected}")]
    WrongKind {
        /// What it must be.
        expected: &'static str,
    },
    /// No jig, or no plug, has such a part.
    #[error(transparent)]
    Implausible(Implausible),
}

/// A part's value that no jig, and no plug, can have.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error("is {value}; it can be {least} to {most}")]
pub struct Implausible {
    /// The part, by its key in a capture: `jig.pull_ohm`.
    pub key: &'static str,
    /// The value: in ohms, or a tolerance as a fraction.
    pub value: f64,
    /// The least that it can be.
    pub least: f64,
    /// The most that it can be.
    pub most: f64,
}

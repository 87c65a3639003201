//! A result, described once: every face draws the same, and none finds words of its own.

use runproof_interpret::judgement::Verdict;

/// A result in words, whatever it is drawn on.
pub(crate) struct Described {
    pub(crate) verdict: Verdict,
    /// The verdict's reason, in a sentence.
    pub(crate) reason: String,
    /// What whoever stands there must know first.
    pub(crate) alarms: Vec<Row>,
    /// What was measured.
    pub(crate) table: Table,
    /// All else, in the order in which it is read.
    pub(crate) rows: Vec<Row>,
}

/// Something that is told under a label.
#[derive(Clone)]
pub(crate) struct Row {
    pub(crate) label: &'static str,
    pub(crate) text: String,
}

/// A row for each thing that was measured.
pub(crate) struct Table {
    pub(crate) columns: &'static [Column],
    pub(crate) rows: Vec<Vec<String>>,
    /// What belongs to all of it.
    pub(crate) below: Option<Row>,
}

/// What a column tells, and how many letters it has where letters are all alike; 0: what is left.
pub(crate) struct Column {
    pub(crate) heading: &'static str,
    pub(crate) width: usize,
}

impl Row {
    pub(crate) fn new(label: &'static str, text: impl Into<String>) -> Self {
        Self { label, text: text.into() }
    }
}

impl Column {
    pub(super) const fn new(heading: &'static str, width: usize) -> Self {
        Self { heading, width }
    }
}

//! A report: of one result, of several, or of one before and one after.

mod changes;
mod part;

use runproof_interpret::LimitSheet;

use super::described::{Described, Row};
use super::document::{Block, Cell, Document, Grid, Heading, Section, Weight};
use super::judged::Judged;
use super::words;
use crate::arguments::Units;

/// A result, and all that belongs to it on paper.
pub(crate) struct Part<'a> {
    pub(crate) judged: &'a Judged,
    pub(crate) told: Described,
    pub(crate) limits: &'a LimitSheet,
    pub(crate) units: Units,
    /// What it is called: a record by its number, else its file.
    pub(crate) name: String,
    /// Job, run, place, when: what was said about it.
    pub(crate) about: Vec<Row>,
    /// Why it no longer counts.
    pub(crate) void: Option<String>,
}

/// Of one result, or of several, each by itself behind a list of all.
pub(crate) fn document(parts: &[Part<'_>]) -> Document {
    let title = match parts {
        [one] => format!("{}: {}", words::verdict(one.told.verdict), one.told.reason),
        several => format!("{} results", several.len()),
    };
    let list = (parts.len() > 1).then(|| list(&title, parts));
    let each = (1..).zip(parts).map(|(n, one)| part::section(one, n));
    Document { sections: list.into_iter().chain(each).collect(), title }
}

/// Of two results of one run.
pub(crate) fn before_and_after(before: &Part<'_>, after: &Part<'_>) -> Document {
    let title = format!(
        "Before {}, after {}",
        words::verdict(before.told.verdict),
        words::verdict(after.told.verdict)
    );
    let sections = vec![
        changes::section(&title, before, after),
        part::section(after, 1),
        part::section(before, 2),
    ];
    Document { title, sections }
}

/// Each result in a line, the gravest word first to be seen.
fn list(title: &str, parts: &[Part<'_>]) -> Section {
    let row = |(n, one): (usize, &Part<'_>)| {
        vec![
            Cell { to: Some(part::id(n)), text: one.name.clone(), ..Cell::default() },
            Cell { text: String::new(), ..part::badge(one) },
            one.told.reason.as_str().into(),
            part::whose(one).into(),
        ]
    };
    Section {
        id: "list".into(),
        heading: Heading { text: title.into(), ..Heading::default() },
        blocks: vec![Block::Grid(Grid {
            weight: Weight::Plain,
            caption: None,
            headings: vec!["result", "verdict", "why", "run"],
            rows: (1..).zip(parts).map(row).collect(),
        })],
    }
}

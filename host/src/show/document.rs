//! A document, described once: the page in HTML, the sheets of a PDF and a terminal's text are made of the same.

mod code;
pub(crate) mod html;
mod text;

use runproof_interpret::judgement::Verdict;

pub(super) use self::code::{QUIET, modules};
pub(crate) use self::html::page;
pub(crate) use self::text::text;
use super::described::Row;

/// What is printed, sent or kept.
pub(crate) struct Document {
    pub(crate) title: String,
    /// Each begins on a sheet of its own.
    pub(crate) sections: Vec<Section>,
}

/// What stands under one heading.
pub(crate) struct Section {
    /// Where links to it lead.
    pub(crate) id: String,
    pub(crate) heading: Heading,
    pub(crate) blocks: Vec<Block>,
}

/// What is read first.
#[derive(Default)]
pub(crate) struct Heading {
    /// What it comes to, and in which word; of a list of results nothing.
    pub(crate) verdict: Option<(Verdict, String)>,
    pub(crate) text: String,
    /// Which of them it is, in smaller letters.
    pub(crate) below: Option<String>,
}

pub(crate) enum Block {
    /// What must be known before all else.
    Alarm(Row),
    /// The run, drawn: an SVG.
    Picture {
        svg: String,
        caption: String,
    },
    /// An SVG that brings its own colours.
    Chart {
        svg: String,
        caption: String,
    },
    Grid(Grid),
    Rows(Vec<Row>),
    /// A code, with what is said of the test beside it.
    Code {
        code: Option<String>,
        about: Vec<Row>,
    },
    Below(&'static str),
    List(Vec<String>),
}

/// Cells below headings.
pub(crate) struct Grid {
    pub(crate) weight: Weight,
    pub(crate) caption: Option<String>,
    pub(crate) headings: Vec<&'static str>,
    pub(crate) rows: Vec<Vec<Cell>>,
}

/// How loudly a grid speaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Weight {
    /// What was measured.
    Read,
    /// Things beside each other.
    Plain,
    /// What is looked up.
    Fine,
}

#[derive(Default)]
pub(crate) struct Cell {
    /// A verdict before the text, and whether it is void.
    pub(crate) verdict: Option<(Verdict, bool)>,
    pub(crate) text: String,
    /// The section that it leads to.
    pub(crate) to: Option<String>,
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        text.to_owned().into()
    }
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self { text, ..Self::default() }
    }
}

/// A shape for each verdict, so that it takes no colour to tell them apart.
pub(super) fn sign(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Pass => "✓",
        Verdict::Fail => "✕",
        Verdict::CannotTell => "?",
    }
}

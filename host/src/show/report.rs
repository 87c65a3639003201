//! A report: one page that stands by itself, of one result, of several, or of one before and one after.

mod changes;
mod code;
mod part;

pub(super) use self::part::class;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use runproof_interpret::LimitSheet;

use super::described::{Described, Row};
use super::judged::Judged;
use super::words;
use crate::arguments::Units;

const STYLE: &str = include_str!("report/style.css");

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
pub(crate) fn page(parts: &[Part<'_>]) -> String {
    let title = match parts {
        [one] => format!("{}: {}", words::verdict(one.told.verdict), one.told.reason),
        several => format!("{} results", several.len()),
    };
    let is_list = parts.len() > 1;
    whole(
        &title,
        html! {
            @if is_list { (list(&title, parts)) }
            @for (n, one) in (1..).zip(parts) { (part::drawn(one, n, is_list)) }
        },
    )
}

/// Of two results of one run.
pub(crate) fn before_and_after(before: &Part<'_>, after: &Part<'_>) -> String {
    let title = format!(
        "Before {}, after {}",
        words::verdict(before.told.verdict),
        words::verdict(after.told.verdict)
    );
    whole(
        &title,
        html! {
            (changes::drawn(&title, before, after))
            (part::drawn(after, 1, true))
            (part::drawn(before, 2, true))
        },
    )
}

/// Each result in a line, the gravest word first to be seen.
fn list(title: &str, parts: &[Part<'_>]) -> Markup {
    html! {
        section.list aria-labelledby="list" {
            h1 #list { (title) }
            table {
                thead { tr { th scope="col" { "result" } th scope="col" { "verdict" } th scope="col" { "why" } th scope="col" { "run" } } }
                tbody {
                    @for (n, one) in (1..).zip(parts) {
                        tr {
                            th scope="row" { a href=(format!("#result-{n}")) { (one.name) } }
                            td { (part::badge(one)) }
                            td { (one.told.reason) }
                            td { (part::whose(one)) }
                        }
                    }
                }
            }
        }
    }
}

/// A page that stands by itself.
pub(super) fn whole(title: &str, body: Markup) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                main { (body) }
            }
        }
    };
    words::printable(&page.into_string())
}

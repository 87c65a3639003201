//! One result on paper: verdict first, the run drawn, what was measured, what to do, and by what limits.

use maud::{Markup, html};
use runproof_interpret::judgement::Verdict;

use super::Part;
use super::code::code;
use crate::show::described::{Row, Table};
use crate::show::judged::Judged;
use crate::show::picture::picture;
use crate::show::{limits, words};

/// Rows that the page tells elsewhere.
const ELSEWHERE: [&str; 2] = ["read aloud", "record"];

pub(super) fn drawn(one: &Part<'_>, n: usize, is_one_of_several: bool) -> Markup {
    let heading = format!("result-{n}");
    let told = &one.told;
    let rows = told.rows.iter().filter(|row| !ELSEWHERE.contains(&row.label));
    html! {
        section.result aria-labelledby=(heading) {
            header class=(class(told.verdict)) {
                @if is_one_of_several { h2 id=(heading) { (headline(one)) } } @else { h1 id=(heading) { (headline(one)) } }
                p.whose { (one.name) @if !one.about.is_empty() { " — " (whose(one)) } }
            }
            @if let Some(reason) = &one.void { p.alarm { strong { "VOID" } " " (words::records::VOID) " " (reason) } }
            @if one.judged.capture().is_simulated() { p.alarm { strong { "SIMULATED" } " " (words::report::SIMULATED) } }
            @for alarm in &told.alarms { p.alarm { strong { (alarm.label) } " " (alarm.text) } }
            figure {
                div.wide tabindex="0" role="group" aria-label="picture of the run" { (picture(one.judged, told, &heading)) }
                figcaption { (words::report::caption(one.judged)) " " (words::report::SIGNS) }
            }
            (table(&told.table))
            dl { @for row in rows { (row_of(row)) } }
            div.beside {
                (code(one))
                @if !one.about.is_empty() { dl.about { @for row in &one.about { (row_of(row)) } } }
            }
            (limits_of(one))
        }
    }
}

fn headline(one: &Part<'_>) -> Markup {
    html! { span.verdict { (words::verdict(one.told.verdict)) } " " (one.told.reason) }
}

/// A verdict in a word, with its shape.
pub(super) fn badge(one: &Part<'_>) -> Markup {
    let void = one.void.is_some();
    html! {
        span class=(class(one.told.verdict)) { (sign(one.told.verdict)) " " (words::verdict(one.told.verdict)) }
        @if void { " VOID" }
    }
}

/// What tells it from others, in a line.
pub(super) fn whose(one: &Part<'_>) -> String {
    const TOLD: [&str; 5] = ["taken", "job", "run", "place", "model"];
    let each = TOLD.iter().filter_map(|label| {
        // Of what was said twice the last counts.
        let row = one.about.iter().rev().find(|row| row.label == *label)?;
        let text = shortened(&row.text);
        Some(if *label == "taken" { text } else { format!("{label} {text}") })
    });
    each.collect::<Vec<_>>().join(", ")
}

/// The page has it whole further down.
fn shortened(text: &str) -> String {
    const LETTERS_MAX: usize = 48;
    let mut letters = text.chars();
    let begins: String = letters.by_ref().take(LETTERS_MAX).collect();
    if letters.next().is_some() { begins + "…" } else { begins }
}

pub(in crate::show) fn class(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Pass => "is-pass",
        Verdict::Fail => "is-fail",
        Verdict::CannotTell => "is-cannot-tell",
    }
}

fn sign(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Pass => "✓",
        Verdict::Fail => "✕",
        Verdict::CannotTell => "?",
    }
}

fn row_of(row: &Row) -> Markup {
    html! { div { dt { (row.label) } dd { (row.text) } } }
}

fn table(table: &Table) -> Markup {
    html! {
        table.read {
            caption { (words::report::TABLE) }
            thead { tr { @for column in table.columns { th scope="col" { (column.heading) } } } }
            tbody {
                @for cells in &table.rows {
                    tr {
                        @for (n, cell) in cells.iter().enumerate() {
                            @if n == 0 { th scope="row" { (cell) } } @else { td { (cell) } }
                        }
                    }
                }
            }
        }
        @if let Some(below) = &table.below { dl { (row_of(below)) } }
    }
}

fn limits_of(one: &Part<'_>) -> Markup {
    let sheet = one.limits;
    let is_live = matches!(one.judged, Judged::Live(..));
    html! {
        table.limits {
            caption { "Limits: " (sheet.name) " " (sheet.version) ". " (words::decision_rule(sheet.decision_rule)) }
            thead { tr { th scope="col" { "limit" } th scope="col" { "value" } th scope="col" { "beyond it" } th scope="col" { "source" } } }
            tbody {
                @for told in limits::all(sheet, one.units).iter().filter(|told| told.powered == is_live) {
                    tr { th scope="row" { (told.what) } td { (told.value) } td { (told.beyond) } td { (told.source) } }
                }
            }
        }
    }
}

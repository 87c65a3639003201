//! A document as a page that stands by itself.

use maud::{DOCTYPE, Markup, PreEscaped, html};
use runproof_interpret::judgement::Verdict;

use super::{Block, Cell, Document, Grid, Heading, QUIET, Section, Weight, modules, sign};
use crate::show::described::Row;
use crate::show::words;

const STYLE: &str = concat!(include_str!("style.css"), include_str!("picture.css"));

pub(crate) fn page(document: &Document) -> String {
    let is_several = document.sections.len() > 1;
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (document.title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                main {
                    @for one in &document.sections { (section(one, is_several)) }
                }
            }
        }
    };
    words::printable(&page.into_string())
}

fn section(one: &Section, is_several: bool) -> Markup {
    let Section { id, heading, blocks } = one;
    let is_of_one = heading.verdict.is_some();
    html! {
        section class=(if is_of_one { "result" } else { "list" }) aria-labelledby=(id) {
            @if is_of_one {
                (header(id, heading, is_several))
            } @else {
                h1 id=(id) { (heading.text) }
            }
            @for block in blocks { (drawn(block)) }
        }
    }
}

fn header(id: &str, heading: &Heading, is_one_of_several: bool) -> Markup {
    let verdict = heading.verdict.as_ref();
    let said = html! {
        @if let Some((_, word)) = verdict { span.verdict { (word) } " " }
        (heading.text)
    };
    html! {
        header class=(verdict.map_or("", |(verdict, _)| class(*verdict))) {
            @if is_one_of_several { h2 id=(id) { (said) } } @else { h1 id=(id) { (said) } }
            @if let Some(below) = &heading.below { p.whose { (below) } }
        }
    }
}

fn drawn(block: &Block) -> Markup {
    html! {
        @match block {
            Block::Alarm(row) => p.alarm { strong { (row.label) } " " (row.text) },
            Block::Picture { svg, caption } => figure {
                div.wide tabindex="0" role="group" aria-label="picture of the run" { (PreEscaped(svg)) }
                figcaption { (caption) }
            },
            Block::Chart { svg, caption } => figure.chart {
                (PreEscaped(svg))
                figcaption { (caption) }
            },
            Block::Grid(one) => (grid(one)),
            Block::Rows(rows) => dl { @for row in rows { (row_of(row)) } },
            Block::Code { code, about } => div.beside {
                @if let Some(code) = code { (code_of(code)) }
                @if !about.is_empty() { dl.about { @for row in about { (row_of(row)) } } }
            },
            Block::Below(text) => h2 { (text) },
            Block::List(all) => ul { @for one in all { li { (one) } } },
        }
    }
}

fn row_of(row: &Row) -> Markup {
    html! { div { dt { (row.label) } dd { (row.text) } } }
}

fn grid(one: &Grid) -> Markup {
    let class = match one.weight {
        Weight::Read => Some("read"),
        Weight::Plain => None,
        Weight::Fine => Some("limits"),
    };
    html! {
        table class=[class] {
            @if let Some(caption) = &one.caption { caption { (caption) } }
            thead {
                tr {
                    @for heading in &one.headings {
                        @if heading.is_empty() { td {} } @else { th scope="col" { (heading) } }
                    }
                }
            }
            tbody {
                @for cells in &one.rows {
                    tr {
                        @for (n, one) in cells.iter().enumerate() {
                            @if n == 0 { th scope="row" { (cell(one)) } } @else { td { (cell(one)) } }
                        }
                    }
                }
            }
        }
    }
}

fn cell(one: &Cell) -> Markup {
    html! {
        @if let Some((verdict, is_void)) = one.verdict {
            span class=(class(verdict)) { (sign(verdict)) " " (words::verdict(verdict)) }
            @if is_void { " VOID" }
            @if !one.text.is_empty() { " " }
        }
        @if let Some(to) = &one.to { a href=(format!("#{to}")) { (one.text) } } @else { (one.text) }
    }
}

fn class(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Pass => "is-pass",
        Verdict::Fail => "is-fail",
        Verdict::CannotTell => "is-cannot-tell",
    }
}

fn code_of(code: &str) -> Markup {
    html! {
        div.code {
            @if let Some((side, squares)) = modules(code) {
                svg.qr viewBox=(format!("0 0 {0} {0}", side + 2 * QUIET)) role="img" aria-label="the same code as a QR code"
                    xmlns="http://www.w3.org/2000/svg" shape-rendering="crispEdges" {
                    rect width=(side + 2 * QUIET) height=(side + 2 * QUIET) fill="#fff" {}
                    path fill="#000" d=(squares) {}
                }
            }
            p { span.aloud { (code) } br; (words::report::READ_ALOUD) }
        }
    }
}

//! A document on a terminal, pictures and charts left out.

use super::{Block, Cell, Document, Grid, Heading, Section};
use crate::show::terminal::{broken, paragraph};
use crate::show::words;

/// Columns of a grid are this far apart.
const GAP: usize = 2;
const WIDTH: usize = 80;
/// Less is too narrow for what is told at length.
const LAST_MIN: usize = 24;
/// What a row begins with takes no more beside it.
const FIRST_MAX: usize = 12;

pub(crate) fn text(document: &Document) -> String {
    let mut lines = vec![];
    for Section { heading, blocks, .. } in &document.sections {
        headed(&mut lines, heading);
        lines.push(String::new());
        for block in blocks {
            told(&mut lines, block);
        }
    }
    lines.push(String::new());
    words::printable(&lines.join("\n"))
}

fn headed(lines: &mut Vec<String>, heading: &Heading) {
    match &heading.verdict {
        Some((_, word)) => broken(lines, format!("{word}:"), 2, &heading.text),
        None => broken(lines, String::new(), 0, &heading.text),
    }
    if let Some(below) = &heading.below {
        broken(lines, "  ".into(), 2, below);
    }
}

fn told(lines: &mut Vec<String>, block: &Block) {
    match block {
        Block::Alarm(row) => paragraph(lines, row.label, &row.text),
        Block::Rows(rows) => {
            rows.iter().for_each(|row| paragraph(lines, row.label, &row.text));
            lines.push(String::new());
        }
        Block::Grid(one) => grid(lines, one),
        Block::Below(text) => broken(lines, String::new(), 0, text),
        Block::List(all) => {
            all.iter().for_each(|one| broken(lines, "  ".into(), 2, one));
            lines.push(String::new());
        }
        Block::Code { code, about } => {
            code.iter().for_each(|code| paragraph(lines, "read aloud", code));
            about.iter().for_each(|row| paragraph(lines, row.label, &row.text));
        }
        Block::Picture { .. } | Block::Chart { .. } => {}
    }
}

/// Its columns beside each other, the last with what is left; where that is too little, each row as a paragraph.
fn grid(lines: &mut Vec<String>, one: &Grid) {
    if let Some(caption) = &one.caption {
        broken(lines, String::new(), 0, caption);
    }
    let headings: Vec<String> = one.headings.iter().map(|one| (*one).to_owned()).collect();
    let rows: Vec<Vec<String>> =
        one.rows.iter().map(|row| row.iter().map(cell).collect()).collect();
    let all = || [&headings].into_iter().chain(&rows);
    let widest = |n: usize| all().filter_map(|row| row.get(n)).map(|cell| letters(cell)).max();
    let last = headings.len().saturating_sub(1);
    let widths: Vec<usize> = (0..last).map(|n| widest(n).unwrap_or(0) + GAP).collect();
    let indent = 2 + widths.iter().sum::<usize>();
    let ends = all().filter_map(|row| row.get(last));
    let longest = ends.flat_map(|end| end.split_whitespace()).map(letters).max().unwrap_or(0);
    if indent + longest.max(LAST_MIN) <= WIDTH {
        for row in all() {
            let cells = row.iter().zip(&widths).map(|(cell, width)| format!("{cell:<width$}"));
            let first = format!("  {}", cells.collect::<String>());
            broken(lines, first, indent, row.get(last).map_or("", String::as_str));
        }
    } else {
        rows.iter().for_each(|row| told_row(lines, &headings, row, widths.first()));
    }
    lines.push(String::new());
}

fn told_row(lines: &mut Vec<String>, headings: &[String], row: &[String], width: Option<&usize>) {
    let Some((first, others)) = row.split_first() else { return };
    let width = width.map_or(0, |width| (*width).min(FIRST_MAX));
    // Of a sentence it must be seen where it begins.
    let each = headings.iter().skip(1).zip(others).map(|(heading, cell)| {
        let colon = if cell.contains(' ') { ":" } else { "" };
        format!("{heading}{colon} {cell}")
    });
    let told = each.collect::<Vec<_>>().join("; ");
    let indent = 2 + width;
    let first = format!("  {first:<width$}");
    if letters(&first) > indent {
        broken(lines, "  ".into(), indent, first.trim());
        broken(lines, " ".repeat(indent), indent, &told);
    } else {
        broken(lines, first, indent, &told);
    }
}

fn letters(text: &str) -> usize {
    text.chars().count()
}

fn cell(one: &Cell) -> String {
    let verdict = one.verdict.map(|(verdict, is_void)| {
        let void = if is_void { " VOID" } else { "" };
        format!("{}{void}", words::verdict(verdict))
    });
    let all = verdict.into_iter().chain([one.text.clone()]).filter(|text| !text.is_empty());
    all.collect::<Vec<_>>().join(": ")
}

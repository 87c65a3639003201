//! One result on paper: verdict first, the run drawn, what was measured, what to do, and by what limits.

use super::Part;
use crate::show::described::{Row, Table};
use crate::show::document::{Block, Cell, Grid, Heading, Section, Weight};
use crate::show::judged::Judged;
use crate::show::picture::picture;
use crate::show::{limits, read_aloud, words};

/// Rows that are told elsewhere on it.
const ELSEWHERE: [&str; 2] = ["read aloud", "record"];

/// Where links to the result of this number lead.
pub(super) fn id(n: usize) -> String {
    format!("result-{n}")
}

pub(super) fn section(one: &Part<'_>, n: usize) -> Section {
    let told = &one.told;
    let mut blocks = alarms(one);
    blocks.extend(picture(one.judged, told, &id(n)).map(|drawn| Block::Picture {
        svg: drawn.into_string(),
        caption: format!("{} {}", words::report::caption(one.judged), words::report::SIGNS),
    }));
    blocks.extend(table(&told.table));
    let rows = told.rows.iter().filter(|row| !ELSEWHERE.contains(&row.label));
    blocks.push(Block::Rows(rows.cloned().collect()));
    blocks.push(Block::Code { code: read_aloud::of_either(one.judged), about: one.about.clone() });
    if !matches!(one.judged, Judged::Flex(..)) {
        blocks.push(limits_of(one));
    }
    let whose = if one.about.is_empty() { String::new() } else { format!(" — {}", whose(one)) };
    Section {
        id: id(n),
        heading: Heading {
            verdict: Some((told.verdict, words::verdict(told.verdict).to_owned())),
            text: told.reason.clone(),
            below: Some(format!("{}{whose}", one.name)),
        },
        blocks,
    }
}

fn alarms(one: &Part<'_>) -> Vec<Block> {
    let void =
        one.void.iter().map(|why| Row::new("VOID", format!("{} {why}", words::records::VOID)));
    let simulated = one.judged.capture().is_simulated();
    let simulated = simulated.then(|| Row::new("SIMULATED", words::report::SIMULATED));
    void.chain(simulated).chain(one.told.alarms.iter().cloned()).map(Block::Alarm).collect()
}

/// A verdict in a word, with its shape, before its reason.
pub(super) fn badge(one: &Part<'_>) -> Cell {
    let verdict = Some((one.told.verdict, one.void.is_some()));
    Cell { verdict, text: one.told.reason.clone(), to: None }
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

/// It stands whole further down.
fn shortened(text: &str) -> String {
    const LETTERS_MAX: usize = 48;
    let mut letters = text.chars();
    let begins: String = letters.by_ref().take(LETTERS_MAX).collect();
    if letters.next().is_some() { begins + "…" } else { begins }
}

fn table(table: &Table) -> Vec<Block> {
    let rows = table.rows.iter().map(|cells| cells.iter().map(|cell| cell.as_str().into()));
    let grid = Block::Grid(Grid {
        weight: Weight::Read,
        caption: Some(words::report::TABLE.into()),
        headings: table.columns.iter().map(|column| column.heading).collect(),
        rows: rows.map(Iterator::collect).collect(),
    });
    let below = table.below.clone().map(|below| Block::Rows(vec![below]));
    [grid].into_iter().chain(below).collect()
}

fn limits_of(one: &Part<'_>) -> Block {
    let sheet = one.limits;
    let is_live = matches!(one.judged, Judged::Live(..));
    let all = limits::all(sheet, one.units);
    let told = all.iter().filter(|told| told.powered == is_live);
    let row = told.map(|told| {
        vec![
            Cell::from(told.what.as_str()),
            told.value.as_str().into(),
            told.beyond.into(),
            told.source.as_str().into(),
        ]
    });
    Block::Grid(Grid {
        weight: Weight::Fine,
        caption: Some(format!(
            "Limits: {} {}. {}",
            sheet.name,
            sheet.version,
            words::decision_rule(sheet.decision_rule)
        )),
        headings: vec!["limit", "value", "beyond it", "source"],
        rows: row.collect(),
    })
}

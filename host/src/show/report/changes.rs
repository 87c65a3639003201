//! Two results of one run: what changed between them.

use super::{Part, part};
use crate::show::described::{Described, Row};
use crate::show::document::{Block, Cell, Grid, Heading, Section, Weight};
use crate::show::words;

pub(super) fn section(title: &str, before: &Part<'_>, after: &Part<'_>) -> Section {
    let rows = vec![
        vec![Cell::from("result"), before.name.as_str().into(), after.name.as_str().into()],
        vec![Cell::from("run"), part::whose(before).into(), part::whose(after).into()],
        vec![Cell::from("verdict"), part::badge(before), part::badge(after)],
    ];
    Section {
        id: "changes".into(),
        heading: Heading { text: title.into(), ..Heading::default() },
        blocks: vec![
            Block::Grid(Grid {
                weight: Weight::Plain,
                caption: None,
                headings: vec!["", "before", "after"],
                rows,
            }),
            Block::Below("What changed"),
            Block::List(told(&before.told, &after.told)),
        ],
    }
}

/// In words; that nothing did, if that is so.
fn told(before: &Described, after: &Described) -> Vec<String> {
    let headings = |one: &Described| -> Vec<&str> {
        one.table.columns.iter().map(|column| column.heading).collect()
    };
    let mut changes = vec![];
    if headings(before) != headings(after) {
        return vec![words::report::OTHER_TEST.to_owned()];
    }
    changes.extend(rows(before, after));
    let found = |one: &Described| -> Vec<String> {
        let found = one.rows.iter().filter(|row: &&Row| row.label == "found");
        found.map(|row| row.text.clone()).collect()
    };
    let (was, is) = (found(before), found(after));
    let gone =
        was.iter().filter(|one| !is.contains(one)).map(|one| format!("No longer found: {one}"));
    let new = is.iter().filter(|one| !was.contains(one)).map(|one| format!("Found now: {one}"));
    changes.extend(gone.chain(new));
    if changes.is_empty() {
        changes.push(words::report::NOTHING_CHANGED.to_owned());
    }
    changes
}

/// Cell by cell, of the rows that both have.
fn rows(before: &Described, after: &Described) -> Vec<String> {
    let mut changes = vec![];
    for is in &after.table.rows {
        let name = is.first().map_or("", String::as_str);
        let Some(was) = before.table.rows.iter().find(|row| row.first() == is.first()) else {
            changes.push(format!("{name}: only after"));
            continue;
        };
        let each = after.table.columns.iter().zip(was.iter().zip(is)).skip(1);
        let each = each.filter(|(_, (was, is))| was != is);
        let each: Vec<String> = each
            .map(|(column, (was, is))| format!("{} {was} before, {is} after", column.heading))
            .collect();
        if !each.is_empty() {
            changes.push(format!("{name}: {}", each.join("; ")));
        }
    }
    changes
}

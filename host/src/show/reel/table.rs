//! The table of a reel: a row for each core.

use runproof_interpret::judgement::{ReelConductor, ReelJudgement};

use crate::arguments::Units;
use crate::show::described::{Column, Table};
use crate::show::words;

const COLUMNS: [Column; 5] = [
    Column::new("conductor", 11),
    Column::new("post", 5),
    Column::new("as read", 15),
    Column::new("at 20 °C", 19),
    Column::new("verdict", 0),
];

pub(super) fn table(judgement: &ReelJudgement, units: Units) -> Table {
    let rows = judgement.conductors.iter().map(|one| Vec::from(cells(one, units)));
    Table { columns: &COLUMNS, rows: rows.collect(), below: None }
}

fn cells(one: &ReelConductor, units: Units) -> [String; 5] {
    let per_length = one.ohm_per_km.zip(one.expanded_uncertainty_ohm_per_km);
    let at_20_c = match per_length {
        Some(told) => words::reel::per_length(told, units),
        None => match one.ohm_at_20_c {
            Some(_) => words::resistance(one.ohm_at_20_c, one.expanded_uncertainty_ohm_at_20_c),
            None => "unknown".into(),
        },
    };
    [
        words::conductor(one.name).into(),
        one.post.to_string(),
        words::resistance(one.ohm, one.expanded_uncertainty_ohm),
        at_20_c,
        format!("{}: {}", words::verdict(one.verdict), words::reel::reason(one.reason)),
    ]
}

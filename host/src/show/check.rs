//! The result of a check, described: the conductors, what was found, what to do.

use runproof_interpret::judgement::{Conductor, Loop};
use runproof_interpret::{Capture, Judgement, RunKnowledge};
use runproof_records::Kept;

use super::described::{Column, Described, Row, Table};
use super::{records, to_earth, words};
use crate::arguments::Units;

const COLUMNS: [Column; 6] = [
    Column::new("conductor", 11),
    Column::new("post", 5),
    Column::new("arrives at", 11),
    Column::new("resistance", 16),
    Column::new("limit", 10),
    Column::new("verdict", 0),
];

pub(crate) fn described(
    capture: &Capture,
    judgement: &Judgement,
    known: &RunKnowledge,
    units: Units,
    kept: Option<&Kept>,
) -> Described {
    let dangers = judgement.findings.iter().filter_map(words::danger);
    let cautions = judgement.findings.iter().filter_map(words::caution);
    let dangers = dangers.map(|danger| Row::new("DANGER", danger));
    let cautions = cautions.map(|caution| Row::new("CAUTION", caution));
    Described {
        verdict: judgement.verdict,
        reason: words::headline(judgement),
        alarms: dangers.chain(cautions).collect(),
        table: match &judgement.to_earth {
            Some(told) => to_earth::table(told, judgement),
            None => table(judgement),
        },
        rows: rows(capture, judgement, known, units, kept),
    }
}

fn rows(
    capture: &Capture,
    judgement: &Judgement,
    known: &RunKnowledge,
    units: Units,
    kept: Option<&Kept>,
) -> Vec<Row> {
    let mut rows = vec![];
    let mut tell =
        |label, text: Option<String>| rows.extend(text.map(|text| Row::new(label, text)));
    for finding in &judgement.findings {
        tell("found", Some(words::finding(finding, judgement, units)));
    }
    tell("broken off", super::broken_off(capture).map(|reason| format!("{reason}.")));
    tell("next", Some(words::next_step(judgement).into()));
    tell("isolation", words::isolation(&judgement.isolation, judgement));
    if let Some(copper) = &judgement.copper {
        tell("copper", Some(words::copper(copper, judgement, units)));
        tell("data pair", words::unbalance(copper, judgement));
    }
    tell("other end", words::other_end(judgement, known).map(Into::into));
    tell("landed", words::landing(judgement, &known.landed).map(Into::into));
    tell("could miss", words::misses(judgement));
    tell("not tested", Some(words::not_tested(&judgement.not_tested)));
    tell("read aloud", Some(super::read_aloud::code(capture, judgement)));
    tell("measured", Some(words::made(&judgement.sheet, &capture.head.jig)));
    tell("zero", words::zero(judgement, units));
    tell("told", words::told(known, judgement.calculated.as_ref(), units));
    tell("told", known.lifted.then(|| words::LIFTED.into()));
    for (label, wires) in words::landing_again(judgement, &known.landed) {
        tell(label, Some(wires));
    }
    tell("record", kept.map(records::kept));
    tell("caution", Some(words::CAUTION.into()));
    rows
}

fn table(judgement: &Judgement) -> Table {
    let conductors = judgement.conductors.iter().map(|one| cells(one, judgement));
    let loops = judgement.loops.iter().map(|one| loop_cells(one, judgement));
    let rows = conductors.chain(loops).map(Vec::from).collect();
    Table { columns: &COLUMNS, rows, below: None }
}

fn cells(conductor: &Conductor, judgement: &Judgement) -> [String; 6] {
    [
        words::conductor(conductor.name).into(),
        conductor.post.to_string(),
        words::arrival(conductor, judgement).into(),
        words::resistance(conductor.resistance_ohm, conductor.expanded_uncertainty_ohm),
        conductor.limit_ohm.map_or("unknown".into(), words::at_most_ohm),
        format!("{}: {}", words::verdict(conductor.verdict), words::reason(conductor.reason)),
    ]
}

fn loop_cells(one: &Loop, judgement: &Judgement) -> [String; 6] {
    [
        words::loop_name(one, judgement).into(),
        format!("{}+{}", one.posts[0], one.posts[1]),
        String::new(),
        words::resistance(one.resistance_ohm, one.expanded_uncertainty_ohm),
        words::at_most_ohm(one.limit_ohm),
        format!("{}: {}", words::verdict(one.verdict), words::reason(one.reason)),
    ]
}

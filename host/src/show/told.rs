//! A result that was told by its code: on a terminal as near as may be to one that was measured, and for programs.

use runproof_interpret::Judgement;
use runproof_interpret::judgement::{Finding, LiveJudgement, SheetName, Verdict};
use runproof_interpret::read_aloud::{
    PATHS, Spoken, SpokenCheck, SpokenLive, SpokenRow, SpokenSheet, SpokenToEarth, Wires, to_code,
};
use runproof_interpret::to_earth::SHIELD;
use serde::Serialize;

use super::terminal::{broken, paragraph};
use super::words;
use crate::arguments::Units;

/// Raised only when an older reader would misunderstand it.
const VERSION: u32 = 1;

/// Widths of the columns; the last takes what is left.
const CHECK: [usize; 5] = [11, 5, 11, 19, 0];
const OTHERS: [usize; 3] = [17, 22, 0];

/// The verdict's reason, what must be known first, and all the rest.
type Parts = (String, Vec<String>, Vec<String>);

/// `given` is the limit sheet that the listener has.
pub(crate) fn screen(spoken: &Spoken, given: Option<&SheetName>, units: Units) -> String {
    let sheet = name(spoken.sheet(), given);
    let (headline, dangers, rest) = match spoken {
        Spoken::Check(told) => check(told, &told.judgement(sheet), units),
        Spoken::ToEarth(told) => to_earth(told, &told.judgement(sheet), units),
        Spoken::Live(told) => live(spoken, told, &told.judgement(sheet)),
    };
    let mut lines = vec![];
    broken(&mut lines, format!("{}:", words::verdict(spoken.verdict())), 2, &headline);
    lines.extend(dangers);
    paragraph(&mut lines, "told", words::read_aloud::told_not_measured(spoken));
    lines.push(String::new());
    lines.extend(rest);
    if more(spoken) {
        paragraph(&mut lines, "more", words::read_aloud::MORE);
    }
    paragraph(&mut lines, "rounded", &words::read_aloud::rounding(spoken));
    paragraph(&mut lines, "limits", &words::read_aloud::sheet(spoken.sheet(), given));
    paragraph(&mut lines, "code", &to_code(spoken));
    paragraph(&mut lines, "say back", &words::read_aloud::say_back(spoken, &headline));
    paragraph(&mut lines, "details", words::read_aloud::DETAILS);
    let caution = match spoken {
        Spoken::Live(_) => words::live::CAUTION,
        Spoken::Check(_) | Spoken::ToEarth(_) => words::CAUTION,
    };
    paragraph(&mut lines, "caution", caution);
    lines.push(String::new());
    words::printable(&lines.join("\n"))
}

/// As the words of findings need it.
fn name(told: &SpokenSheet, given: Option<&SheetName>) -> SheetName {
    match (told, given.filter(|given| told.may_be(given))) {
        (SpokenSheet::BuiltIn(its), _) => its.clone(),
        (_, Some(given)) => given.clone(),
        (_, None) => SheetName { name: "that was used".into(), version: String::new() },
    }
}

fn more(spoken: &Spoken) -> bool {
    match spoken {
        Spoken::Check(told) => told.finding.more,
        Spoken::ToEarth(told) => told.finding.more,
        Spoken::Live(told) => told.finding.more,
    }
}

fn check(told: &SpokenCheck, judgement: &Judgement, units: Units) -> Parts {
    let headline = words::read_aloud::headline(&told.finding, judgement);
    let mut lines = vec![];
    let headings = ["conductor", "post", "arrives at", "resistance", "verdict"];
    lines.push(row(&headings.map(str::to_owned), &CHECK));
    match told.wires {
        Wires::Four(_) => {
            let each = judgement.conductors.iter().zip(&told.rows);
            lines.extend(each.map(|(conductor, its)| {
                let cells = [
                    words::conductor(conductor.name).to_owned(),
                    conductor.post.to_string(),
                    words::arrival(conductor, judgement).to_owned(),
                    words::read_aloud::ohm(its.ohm.map(|ohm| ohm.rounded())),
                    outcome(its),
                ];
                row(&cells, &CHECK)
            }));
        }
        Wires::Nameless => {
            let its = &told.rows[0];
            let ohm = words::read_aloud::ohm(its.ohm.map(|ohm| ohm.rounded()));
            let cells = ["loop".into(), "1+2".into(), String::new(), ohm, outcome(its)];
            lines.push(row(&cells, &CHECK));
        }
    }
    lines.push(String::new());
    found(&mut lines, judgement, units);
    (headline, dangers(judgement, told.beside()), lines)
}

fn to_earth(told: &SpokenToEarth, judgement: &Judgement, units: Units) -> Parts {
    let headline = words::read_aloud::headline(&told.finding, judgement);
    let mut lines = vec![];
    lines.push(row(&["between", "resistance", "verdict"].map(str::to_owned), &OTHERS));
    let verdicts = [Some(told.to_metal), told.to_shield];
    for ((verdict, [_, post]), path) in verdicts.into_iter().zip(PATHS).zip(&told.paths) {
        let (Some(verdict), Some(its)) = (verdict, judgement.to_earth.as_ref()) else { continue };
        let ohm = words::read_aloud::ohm(path.map(|path| path.ohm.rounded()));
        let ohm = match path {
            Some(path) if path.at_least => ohm.replace("about", "over"),
            _ => ohm,
        };
        let why = words::why(post, verdict, path.is_some(), its);
        let verdict = format!("{}: {why}", words::verdict(verdict));
        lines.push(row(&[words::row_name(post).to_owned(), ohm, verdict], &OTHERS));
    }
    lines.push(String::new());
    let shield = told.contact_shown.all().contains(&SHIELD) || told.drain.is_some();
    let bonded = judgement.to_earth.as_ref().filter(|_| shield).and_then(words::bonded);
    if let Some(bonded) = bonded {
        paragraph(&mut lines, "shield", bonded);
    }
    found(&mut lines, judgement, units);
    (headline, dangers(judgement, None), lines)
}

fn live(spoken: &Spoken, told: &SpokenLive, judgement: &LiveJudgement) -> Parts {
    let headline = words::read_aloud::live_headline(spoken, judgement);
    let (mut first, mut lines) = (vec![], vec![]);
    let mut dangerous = judgement.clone();
    dangerous.findings.extend(told.beside());
    for danger in words::live::dangers(&dangerous) {
        paragraph(&mut first, "DANGER", danger);
    }
    lines.push(row(&["what", "reading", "verdict"].map(str::to_owned), &OTHERS));
    let verdict = |one: runproof_interpret::read_aloud::LiveOutcome| {
        let why = one.reason.value().map_or("another reason", words::live::reason);
        format!("{}: {why}", words::verdict(one.verdict))
    };
    if let Some(supply) = &judgement.supply {
        let is_direct = supply.direct_v.is_some();
        let volts = told.supply_v.map(|volts| volts.rounded());
        let volts = words::read_aloud::volts(volts, is_direct);
        let reading = format!("{volts} {}", words::live::kind_short(supply.kind));
        let cells = ["supply".into(), reading.trim_end().to_owned(), verdict(told.supply_outcome)];
        lines.push(row(&cells, &OTHERS));
    }
    if judgement.pair.is_some() {
        let volts = words::read_aloud::volts(told.bias_v.map(|volts| volts.rounded()), true);
        let pair = words::live::pair_name(judgement).to_owned();
        lines.push(row(&[pair, volts, verdict(told.pair_outcome)], &OTHERS));
    }
    lines.push(String::new());
    if let Some(told) = words::read_aloud::live_findings(judgement) {
        paragraph(&mut lines, "found", &told);
    }
    for (label, told) in words::live::notes(judgement) {
        paragraph(&mut lines, label, &told);
    }
    if let Some(at) = told.at {
        paragraph(&mut lines, "where", &format!("{}.", words::live::place(at)));
    }
    (headline, first, lines)
}

/// Also of a finding that is not the first, and of which nothing else was said.
fn dangers(judgement: &Judgement, beside: Option<Finding>) -> Vec<String> {
    let mut lines = vec![];
    for danger in judgement.findings.iter().chain(&beside).filter_map(words::danger) {
        paragraph(&mut lines, "DANGER", danger);
    }
    for caution in judgement.findings.iter().filter_map(words::caution) {
        paragraph(&mut lines, "CAUTION", caution);
    }
    lines
}

fn found(lines: &mut Vec<String>, judgement: &Judgement, units: Units) {
    if let Some(told) = words::read_aloud::findings(judgement, units) {
        paragraph(lines, "found", &told);
    }
}

fn outcome(row: &SpokenRow) -> String {
    let why = row.outcome.reason.map_or("another reason", words::reason);
    format!("{}: {why}", words::verdict(row.outcome.verdict))
}

fn row(cells: &[String], widths: &[usize]) -> String {
    let padded = cells.iter().zip(widths).map(|(cell, width)| format!("{cell:<width$}"));
    format!("  {}", padded.collect::<String>().trim_end())
}

#[derive(Serialize)]
struct Printed<'a> {
    runproof_told: u32,
    made_by: &'static str,
    code: String,
    verdict: Verdict,
    sheet_given: Option<bool>,
    told: &'a Spoken,
}

/// For programs; `told-format.md` beside this file describes it.
pub(crate) fn json(spoken: &Spoken, given: Option<&SheetName>) -> String {
    super::written(&Printed {
        runproof_told: VERSION,
        made_by: concat!("runproof ", env!("CARGO_PKG_VERSION")),
        code: to_code(spoken),
        verdict: spoken.verdict(),
        sheet_given: given.map(|given| spoken.sheet().may_be(given)),
        told: spoken,
    })
}

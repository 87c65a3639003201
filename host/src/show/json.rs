//! A result for programs; `result-format.md` beside this file describes it.

use runproof_interpret::capture::End;
use runproof_interpret::copper::Length;
use runproof_interpret::landing::Colours;
use runproof_interpret::{Capture, Judgement, RunKnowledge};
use runproof_records::Kept;
use serde::Serialize;

use super::flex::json as flex;
use super::in_all_results::{Jig, Numbered, jig};
use super::judged::Judged;
use super::live::json as live;
use super::reel::json as reel;
use crate::error::Error;

/// Raised only when an older reader would misunderstand the result.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct Printed<'a> {
    runproof_result: u32,
    made_by: &'static str,
    jig: Jig<'a>,
    broken_off: Option<&'a str>,
    code: String,
    told: Told<'a>,
    record: Option<Numbered>,
    #[serde(flatten)]
    judgement: &'a Judgement,
}

#[derive(Serialize)]
#[serde(untagged)]
enum Either<'a> {
    Check(Box<Printed<'a>>),
    Live(Box<live::Printed<'a>>),
    Reel(Box<reel::Printed<'a>>),
    Flex(Box<flex::Printed<'a>>),
}

#[derive(Serialize)]
struct Line<'a> {
    file: &'a str,
    result: Option<Either<'a>>,
    error: Option<String>,
}

#[derive(Serialize)]
struct Told<'a> {
    gauge: Option<String>,
    length_m: Option<f64>,
    copper_c: [f64; 2],
    lifted: bool,
    cannot_lift: Option<&'static str>,
    near_colours: Option<[&'a str; 4]>,
    far_colours: Option<[&'a str; 4]>,
}

/// On many lines.
pub(crate) fn result(
    capture: &Capture,
    judgement: &Judgement,
    known: &RunKnowledge,
    kept: Option<&Kept>,
) -> String {
    let record = kept.map(Numbered::from);
    let printed = Printed { record, ..printed(capture, judgement, known) };
    format!("{}\n", written(serde_json::to_string_pretty(&printed)))
}

/// On one line.
pub(crate) fn plain(capture: &Capture, judgement: &Judgement, known: &RunKnowledge) -> String {
    written(serde_json::to_string(&printed(capture, judgement, known)))
}

/// One file of a folder, on one line.
pub(crate) fn line(file: &str, judged: &Result<Judged, Error>, known: &RunKnowledge) -> String {
    let (result, error) = match judged {
        Ok(Judged::Check(capture, judgement)) => {
            (Some(Either::Check(Box::new(printed(capture, judgement, known)))), None)
        }
        Ok(Judged::Live(capture, judgement)) => {
            (Some(Either::Live(Box::new(live::printed(capture, judgement, None)))), None)
        }
        Ok(Judged::Reel(capture, judgement)) => {
            (Some(Either::Reel(Box::new(reel::printed(capture, judgement)))), None)
        }
        Ok(Judged::Flex(capture, seen)) => {
            (Some(Either::Flex(Box::new(flex::printed(capture, seen)))), None)
        }
        Err(error) => (None, Some(error.to_string())),
    };
    format!("{}\n", written(serde_json::to_string(&Line { file, result, error })))
}

fn written(text: serde_json::Result<String>) -> String {
    text.unwrap_or_else(|error| unreachable!("a judgement has text keys only: {error}"))
}

fn printed<'a>(
    capture: &'a Capture,
    judgement: &'a Judgement,
    known: &'a RunKnowledge,
) -> Printed<'a> {
    Printed {
        runproof_result: VERSION,
        made_by: concat!("runproof ", env!("CARGO_PKG_VERSION")),
        jig: jig(capture),
        broken_off: super::broken_off(capture),
        code: super::read_aloud::code(capture, judgement),
        told: Told {
            gauge: known.gauge.map(|gauge| gauge.to_string()),
            length_m: known.length.map(Length::metres),
            copper_c: [known.temperature.least_c(), known.temperature.most_c()],
            lifted: known.lifted,
            cannot_lift: known.cannot_lift.map(|end| match end {
                End::Near => "near",
                End::Far => "far",
            }),
            near_colours: known.landed.near.as_ref().map(Colours::all),
            far_colours: known.landed.far.as_ref().map(Colours::all),
        },
        record: None,
        judgement,
    }
}

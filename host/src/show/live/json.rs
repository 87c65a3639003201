//! A live run for programs; `live-format.md` beside `show` describes it.

use runproof_interpret::judgement::{LiveJudgement, LostBetween, NotCompared};
use runproof_interpret::{Capture, compare_live};
use runproof_records::Kept;
use serde::Serialize;

use crate::show::in_all_results::{Jig, Numbered, jig};

/// Raised only when an older reader would misunderstand it.
const VERSION: u32 = 1;

#[derive(Serialize)]
pub(in crate::show) struct Printed<'a> {
    runproof_live: u32,
    made_by: &'static str,
    jig: Jig<'a>,
    broken_off: Option<&'a str>,
    code: String,
    other_end: Option<LostBetween>,
    not_compared: Option<NotCompared>,
    record: Option<Numbered>,
    #[serde(flatten)]
    judgement: &'a LiveJudgement,
}

pub(in crate::show) fn printed<'a>(
    capture: &'a Capture,
    judgement: &'a LiveJudgement,
    against: Option<&LiveJudgement>,
) -> Printed<'a> {
    let compared = against.map(|there| compare_live(judgement, there));
    Printed {
        runproof_live: VERSION,
        made_by: concat!("runproof ", env!("CARGO_PKG_VERSION")),
        jig: jig(capture),
        broken_off: crate::show::broken_off(capture),
        code: crate::show::read_aloud::live_code(capture, judgement),
        other_end: compared.and_then(Result::ok),
        not_compared: compared.and_then(Result::err),
        record: None,
        judgement,
    }
}

/// On many lines.
pub(crate) fn result(
    capture: &Capture,
    judgement: &LiveJudgement,
    against: Option<&LiveJudgement>,
    kept: Option<&Kept>,
) -> String {
    let record = kept.map(Numbered::from);
    let printed = Printed { record, ..printed(capture, judgement, against) };
    format!("{}\n", written(serde_json::to_string_pretty(&printed)))
}

/// On one line: of many that follow each other.
pub(crate) fn line(capture: &Capture, judgement: &LiveJudgement) -> String {
    format!("{}\n", written(serde_json::to_string(&printed(capture, judgement, None))))
}

fn written(text: serde_json::Result<String>) -> String {
    text.unwrap_or_else(|error| unreachable!("a judgement has text keys only: {error}"))
}

//! A reel for programs; `reel-format.md` beside `show` describes it.

use runproof_interpret::Capture;
use runproof_interpret::judgement::ReelJudgement;
use runproof_records::Kept;
use serde::Serialize;

use crate::show::in_all_results::{Jig, Numbered, jig};

/// Raised only when an older reader would misunderstand it.
const VERSION: u32 = 1;

#[derive(Serialize)]
pub(in crate::show) struct Printed<'a> {
    runproof_reel: u32,
    made_by: &'static str,
    jig: Jig<'a>,
    broken_off: Option<&'a str>,
    record: Option<Numbered>,
    #[serde(flatten)]
    judgement: &'a ReelJudgement,
}

pub(in crate::show) fn printed<'a>(
    capture: &'a Capture,
    judgement: &'a ReelJudgement,
) -> Printed<'a> {
    Printed {
        runproof_reel: VERSION,
        made_by: concat!("runproof ", env!("CARGO_PKG_VERSION")),
        jig: jig(capture),
        broken_off: crate::show::broken_off(capture),
        record: None,
        judgement,
    }
}

/// On many lines.
pub(crate) fn result(capture: &Capture, judgement: &ReelJudgement, kept: Option<&Kept>) -> String {
    let record = kept.map(Numbered::from);
    crate::show::written(&Printed { record, ..printed(capture, judgement) })
}

/// On one line.
pub(crate) fn plain(capture: &Capture, judgement: &ReelJudgement) -> String {
    let text = serde_json::to_string(&printed(capture, judgement));
    text.unwrap_or_else(|error| unreachable!("a judgement has text keys only: {error}"))
}

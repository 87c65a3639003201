//! The code of a result, to be said over the phone: alone in a result, spelled by `runproof code`.

use runproof_interpret::judgement::LiveJudgement;
use runproof_interpret::read_aloud::{of, of_live, spelled, to_code};
use runproof_interpret::{Capture, Judgement};
use serde::Serialize;

use super::judged::Judged;
use super::terminal::paragraph;
use super::words;

/// Raised only when an older reader would misunderstand it.
const VERSION: u32 = 1;

pub(super) fn code(capture: &Capture, judgement: &Judgement) -> String {
    to_code(&of(judgement, capture.is_simulated()))
}

pub(super) fn live_code(capture: &Capture, judgement: &LiveJudgement) -> String {
    to_code(&of_live(judgement, capture.is_simulated()))
}

/// Absent for a reel and a run that was flexed, of which there is no code.
pub(crate) fn of_either(judged: &Judged) -> Option<String> {
    match judged {
        Judged::Check(capture, judgement) => Some(code(capture, judgement)),
        Judged::Live(capture, judgement) => Some(live_code(capture, judgement)),
        Judged::Reel(..) | Judged::Flex(..) => None,
    }
}

/// The code, and below it each group in words.
pub(crate) fn screen(code: &str, judged: &Judged) -> String {
    let mut lines = vec![code.to_owned(), String::new()];
    for (group, words) in code.split('-').zip(spelled(code)) {
        paragraph(&mut lines, group, &words);
    }
    lines.push(String::new());
    let headline = match judged {
        Judged::Check(_, judgement) => words::headline(judgement),
        Judged::Live(_, judgement) => words::live::headline(judgement),
        Judged::Reel(_, judgement) => words::reel::headline(judgement),
        Judged::Flex(_, seen) => super::flex::reason(seen),
    };
    paragraph(&mut lines, "result", &format!("{}: {headline}", words::verdict(judged.verdict())));
    if judged.capture().is_simulated() {
        paragraph(&mut lines, "SIMULATED", words::report::SIMULATED);
    }
    for (label, told) in words::read_aloud::HOW_TO_SAY_IT {
        paragraph(&mut lines, label, told);
    }
    lines.push(String::new());
    words::printable(&lines.join("\n"))
}

#[derive(Serialize)]
struct Printed {
    runproof_code: u32,
    made_by: &'static str,
    code: String,
    spelled: Vec<String>,
}

/// The same for programs; `told-format.md` beside this file describes it.
pub(crate) fn json(code: String) -> String {
    let made_by = concat!("runproof ", env!("CARGO_PKG_VERSION"));
    let printed = Printed { runproof_code: VERSION, made_by, spelled: spelled(&code), code };
    super::written(&printed)
}

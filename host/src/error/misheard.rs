//! What to ask whoever said a code that does not fit.

use runproof_interpret::read_aloud::{CodeError, GROUP, word};

pub(super) fn ask(error: &CodeError) -> String {
    match error {
        CodeError::NotInAlphabet { found: 'U', at } => format!(
            "ask for {} again: a code has digits and letters, but no I, L, O or U; V or W may have been said",
            place(*at)
        ),
        CodeError::NotInAlphabet { at, .. } => {
            format!("ask for {} again: a code has digits and letters alone", place(*at))
        }
        CodeError::NotAWord { .. } => {
            "type the letters and digits themselves, or each as its word, such as `alfa` or `seven`"
                .into()
        }
        CodeError::WrongLength { found, needed } if needed.iter().all(|needed| found < needed) => {
            "have it said again group by group, four symbols each: something is missing".into()
        }
        CodeError::WrongLength { .. } => {
            "have it said again group by group, four symbols each: something is too much or missing"
                .into()
        }
        CodeError::OneWrong { at, read, perhaps } => format!(
            "ask, and take the answer: \u{201C}{}, is it {} or {}?\u{201D} If it is neither, have the whole code said again",
            place(*at),
            said(*read),
            said(*perhaps)
        ),
        CodeError::SeveralWrong => {
            "have the whole code said again, group by group, and say each group back".into()
        }
        CodeError::LaterVersion { .. } => {
            "restore it with the version of the program that the caller has, or ask for the capture"
                .into()
        }
        _ => "ask which version of the program made it, and for the capture".into(),
    }
}

/// "symbol 3 of group 2".
fn place(at: usize) -> String {
    let before = at.saturating_sub(1);
    format!("symbol {} of group {}", before % GROUP + 1, before / GROUP + 1)
}

/// "`7`, Seven".
fn said(symbol: char) -> String {
    format!("`{symbol}`, {}", word(symbol).unwrap_or("which has no word"))
}

//! What a report says beside the result.

use runproof_interpret::Judgement;

use crate::show::judged::Judged;

pub(in crate::show) const SIGNS: &str = "✓ pass, ✕ fail, ? cannot tell. Not to scale.";

pub(in crate::show) const SIMULATED: &str = "a simulated run: this says nothing of any real cable.";

/// Below the picture.
pub(in crate::show) fn caption(judged: &Judged) -> &'static str {
    match judged {
        Judged::Check(_, Judgement { to_earth: Some(_), .. }) => {
            "The cores, held together, and what may not touch them."
        }
        Judged::Check(..) => "From the clips (left) to the far end (right), as it was found.",
        Judged::Reel(..) => "From the outer end (left) to the inner end (right), as it was found.",
        Judged::Flex(..) => "",
        Judged::Live(..) => "What stood on each conductor where the jig was clipped on.",
    }
}
pub(in crate::show) const TABLE: &str = "What was measured; ± is 95 %.";
pub(in crate::show) const READ_ALOUD: &str =
    "Read it over the phone, or into a camera: `runproof decode` restores the result, rounded.";
pub(in crate::show) const OTHER_TEST: &str =
    "These are two kinds of test: their numbers cannot be laid beside each other.";
pub(in crate::show) const NOTHING_CHANGED: &str = "Nothing that was measured changed.";

/// At the foot of each, where a result goes over several sheets.
#[cfg(feature = "pdf")]
pub(in crate::show) fn sheet_of(n: usize, count: usize, of: &str) -> String {
    format!("Sheet {n} of {count}: {of}")
}

/// Where letters stand as numbers.
#[cfg(feature = "pdf")]
pub(in crate::show) fn spelled_letters(count: usize) -> String {
    let letters = if count == 1 { "1 letter is" } else { &format!("{count} letters are") };
    let stand = if count == 1 { "stands as its number" } else { "stand as their numbers" };
    format!(
        "{letters} not in the typeface of this sheet, and {stand} in Unicode: the page for a browser shows what is meant."
    )
}

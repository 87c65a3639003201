//! Lists of a file of steps: its questions, and that it can be used.

use runproof_interpret::next::Steps;

use crate::show::terminal::indented;
use crate::show::words;

/// All keys that can be told, with what they can be and what is asked.
pub(crate) fn questions(steps: &Steps) -> String {
    let mut lines = vec![];
    for fact in &steps.facts {
        let Some(question) = &fact.question else { continue };
        let text = format!("{question} ({} or unknown)", fact.kind.expected());
        indented(&mut lines, 24, &fact.key, &text);
    }
    lines.push(String::new());
    words::printable(&lines.join("\n"))
}

/// What a walk through it found.
pub(crate) fn checked(steps: &Steps) -> String {
    let walked = &steps.walked;
    let text = format!(
        "{} {} can be used: {} steps, {} facts; {} ways through it by what is answered, and every one \
         ends, after {} steps at most.",
        steps.name,
        steps.version,
        steps.steps.len(),
        steps.facts.len(),
        walked.ways,
        walked.longest
    );
    let mut lines = vec![];
    indented(&mut lines, 0, "", &text);
    lines.push(String::new());
    words::printable(&lines.join("\n"))
}

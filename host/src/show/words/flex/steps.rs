//! What the person does before and while a run is watched.

use runproof_interpret::LimitSheet;
use runproof_protocol::Phase;

use super::super::{PROVE_DEAD, conductor};

/// Each step with its label.
pub(crate) fn steps(
    phase: Phase,
    sheet: &LimitSheet,
    is_simulated: bool,
    enter: bool,
) -> Vec<(String, String)> {
    let step = |label: &str, text: String| (label.to_owned(), text);
    let clips: Vec<String> = sheet
        .conductors
        .iter()
        .map(|one| format!("{} on {}", one.post, conductor(one.name)))
        .collect();
    let clips = clips.join(", ");
    let plug = match phase {
        Phase::Flex => "put the end plug's clips on alike, key in",
        _ => "leave the end plug off, or its key out",
    };
    let watched = match phase {
        Phase::FlexShorts => {
            "pairs of posts 1–4 and 2–3 are watched all the time, the others in turns, half of it (`--shorts across` or \
             `along` keeps to four pairs)."
        }
        Phase::FlexAcross => {
            "posts 1 and 2 are watched against 3 and 4; not 1 against 2, nor 3 against 4."
        }
        Phase::FlexAlong => {
            "posts 1 and 3 are watched against 2 and 4; not 1 against 3, nor 2 against 4."
        }
        _ => {
            "flex, tug and tap: each termination, each splice, each bend, the cabinet door. The jig ticks while all is \
             well, sounds high when a conductor breaks."
        }
    };
    let mut steps = vec![step("first", PROVE_DEAD.into())];
    if is_simulated {
        steps.push(step("simulated", "nobody has to do anything.".into()));
    } else {
        steps.push(step(
            "here",
            format!("clips by terminal: {clips}. Then lift the wires at both ends."),
        ));
        steps.push(step("far end", format!("{plug}.")));
        if enter {
            steps.push(step("Enter", "begins at once, for whoever stands here.".into()));
        }
    }
    let label = if phase == Phase::Flex { "then" } else { "watched" };
    steps.push(step(label, watched.into()));
    steps
}

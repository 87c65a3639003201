//! What a step touches: its hands, bench and cautions may not say less than what it does needs.

use std::sync::LazyLock;

use toml::Spanned;

use super::At;
use crate::next::{Act, BUILT_IN, Bench, Ends, Hands, Power, Source, Step, StepsError, text};

/// What is done with wires, where a text says so. [judgement]
const ON_WIRES: [&str; 10] = [
    "lift ",
    "lifted",
    "exchange",
    "screw",
    "splice",
    "tug",
    "land every",
    "lay a",
    "strip ",
    "conductor",
];
/// What is mains, or next to it. [judgement]
const MAINS: [&str; 5] = ["breaker", "disconnect", "primary", "transformer", "mains"];

/// The built-in steps, as they stand in their text.
static STEPS: LazyLock<text::Steps> =
    LazyLock::new(|| toml::from_str(BUILT_IN).expect("a test reads it"));

/// Each rule by itself; the first that is broken is told.
pub(super) fn check(
    at: At<'_>,
    text: &text::Step,
    step: &Step,
    live: &[&str],
) -> Result<(), StepsError> {
    by_measure(at, text, step)?;
    let wrong = |reason: String| Err(wrong(at, text, reason));
    let settled = settled(text);
    if let Some(fact) = settled.iter().find(|one| live.contains(&one.as_str()))
        && step.hands != Hands::Live
    {
        return wrong(format!(
            "`{fact}` is read at terminals that are live: say \"live\", which gives its caution"
        ));
    }
    by_hands(at, text, step)?;
    for known in STEPS.step.iter().map(Spanned::get_ref) {
        if known.name.get_ref() == text.name.get_ref() {
            as_built_in(at, text, step, known)?;
        }
    }
    let known = STEPS.step.iter().map(Spanned::get_ref);
    let alike: Vec<Hands> = known
        .filter(|known| self::settled(known).iter().any(|fact| settled.contains(fact)))
        .map(hands)
        .collect();
    if !alike.is_empty() && !alike.iter().any(|known| covers(step.hands, *known)) {
        let fact = settled.join(", ");
        return wrong(format!(
            "what settles `{fact}` has hands on more: say {}, which gives its caution",
            said(alike[0])
        ));
    }
    Ok(())
}

/// Where it is measured, hands and bench follow.
fn by_measure(at: At<'_>, text: &text::Step, step: &Step) -> Result<(), StepsError> {
    let Some(source) = step.measure else { return Ok(()) };
    let dead = matches!(source, Source::Check | Source::ToEarth);
    let needs = if dead { Hands::Wires } else { Hands::Live };
    if !covers(step.hands, needs) {
        let reason = format!(
            "\"{}\" has hands on more: say {}, which gives its caution",
            source.name(),
            said(needs)
        );
        return Err(wrong(at, text, reason));
    }
    let Bench { power, ends } = step.bench;
    let fits = match (power, ends) {
        (Some(Power::Off), Some(Ends::Lifted)) => dead,
        (Some(Power::On), Some(Ends::Landed | Ends::PlateOpen)) => !dead,
        _ => false,
    };
    if fits {
        return Ok(());
    }
    let needs = if dead {
        "power = \"off\", ends = \"lifted\""
    } else {
        "power = \"on\", ends = \"landed\" or \"plate-open\""
    };
    Err(of_bench(at, text, format!("\"{}\" is measured with {needs}: say so", source.name())))
}

/// Wires are moved with power off; a live terminal has power on; and what the text speaks of is covered.
fn by_hands(at: At<'_>, text: &text::Step, step: &Step) -> Result<(), StepsError> {
    let needs = match step.hands {
        Hands::Wires | Hands::Pair => Some(("off", Power::Off)),
        Hands::Live => Some(("on", Power::On)),
        Hands::None | Hands::KeepOff => None,
    };
    if let Some((word, needs)) = needs
        && step.bench.power != Some(needs)
    {
        let reason = format!("with {} hands say power = \"{word}\"", said(step.hands));
        return Err(of_bench(at, text, reason));
    }
    if step.act != Act::Do || step.hands == Hands::KeepOff {
        return Ok(());
    }
    let said_of = |words: &[&'static str]| {
        let text = step.text.to_lowercase();
        words.iter().find(|word| text.contains(**word)).map(|word| word.trim())
    };
    if let Some(word) = said_of(&ON_WIRES).filter(|_| step.hands == Hands::None) {
        let reason = format!(
            "the text speaks of \"{word}\", and no hands are on anything: say \"wires\" or \"live\", \
             which gives its caution"
        );
        return Err(wrong(at, text, reason));
    }
    if let Some(word) = said_of(&MAINS).filter(|_| step.caution.is_none()) {
        let reason = format!(
            "is missing here: the text speaks of \"{word}\"; say that it is mains, and whose work that is"
        );
        return Err(at.wrong("caution", &text.name, reason));
    }
    Ok(())
}

/// A step that the built-in file has as well says no less.
fn as_built_in(
    at: At<'_>,
    text: &text::Step,
    step: &Step,
    known: &text::Step,
) -> Result<(), StepsError> {
    if !covers(step.hands, hands(known)) {
        let reason = format!(
            "the built-in step of this name has {}: say that, which gives its caution",
            said(hands(known))
        );
        return Err(wrong(at, text, reason));
    }
    let Some(caution) = known.caution.as_ref().map(Spanned::get_ref) else { return Ok(()) };
    if step.caution.as_ref().is_some_and(|said| said.contains(caution.as_str())) {
        return Ok(());
    }
    let place = text.caution.as_ref().unwrap_or(&text.name);
    let reason = format!(
        "the built-in step of this name has the caution \"{caution}\": keep it; more may be added"
    );
    Err(at.wrong("caution", place, reason))
}

fn covers(hands: Hands, needs: Hands) -> bool {
    hands == needs
        || hands == Hands::KeepOff
        || needs == Hands::None
        || (hands, needs) == (Hands::Pair, Hands::Wires)
}

fn settled(step: &text::Step) -> Vec<String> {
    step.settles.iter().chain(&step.ask).map(|fact| fact.get_ref().clone()).collect()
}

fn hands(step: &text::Step) -> Hands {
    step.hands.as_ref().map(|hands| *hands.get_ref()).unwrap_or_default()
}

fn said(hands: Hands) -> &'static str {
    match hands {
        Hands::None => "\"none\"",
        Hands::Live => "\"live\"",
        Hands::Wires => "\"wires\"",
        Hands::Pair => "\"pair\"",
        Hands::KeepOff => "\"keep-off\"",
    }
}

/// At what it says of its hands, or else at its name.
fn wrong(at: At<'_>, text: &text::Step, reason: String) -> StepsError {
    match &text.hands {
        Some(hands) => at.wrong("hands", hands, reason),
        None => at.wrong("hands", &text.name, format!("is missing here: {reason}")),
    }
}

fn of_bench(at: At<'_>, text: &text::Step, reason: String) -> StepsError {
    match &text.bench {
        Some(bench) => at.wrong("bench", bench, reason),
        None => at.wrong("bench", &text.name, format!("is missing here: {reason}")),
    }
}

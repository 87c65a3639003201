//! Whoever measures must be stopped by a hazard, before anything else is said.

use super::At;
use crate::next::condition::Test;
use crate::next::{Hands, Source, Step, Steps, StepsError, Value, text};
use toml::Spanned;

/// Every source that is measured and can tell a hazard has a step that keeps off, and none but such stand before it.
pub(super) fn check(
    at: At<'_>,
    steps: &Steps,
    texts: &[Spanned<text::Step>],
) -> Result<(), StepsError> {
    for (step, text) in steps.steps.iter().zip(texts) {
        let Some(source) = step.measure.filter(|source| *source != Source::ToEarth) else {
            continue;
        };
        if !is_stopped(steps, source) {
            let name = source.name();
            let reason = format!(
                "nothing stops who measures \"{name}\": a fact that is measured by \"{name}.hazard\", and a \
                 step with hands \"keep-off\" for it, before every other kind of step"
            );
            let measure = text.get_ref().measure.as_ref();
            return Err(match measure {
                Some(measure) => at.wrong("measure", measure, reason),
                None => at.wrong("name", &text.get_ref().name, reason),
            });
        }
    }
    Ok(())
}

fn is_stopped(steps: &Steps, source: Source) -> bool {
    let first = steps.steps.iter().take_while(|step| step.hands == Hands::KeepOff);
    first.into_iter().any(|step| stops_at(steps, step, source))
}

/// It holds by the hazard alone.
fn stops_at(steps: &Steps, step: &Step, source: Source) -> bool {
    let is_hazard = |fact: usize, test: Test| {
        let fact = &steps.facts[fact];
        let yes = fact.kind.value("yes");
        let is_yes = matches!((test, yes), (Test::Is(word), Some(Value::Word(yes))) if word == yes);
        fact.measured == Some((source, "hazard")) && is_yes
    };
    let (all, any) = (&step.when.all, &step.when.any);
    match (all.as_slice(), any.is_empty()) {
        ([], false) => any.iter().any(|one| is_hazard(one.fact, one.test)),
        ([one], true) => is_hazard(one.fact, one.test),
        _ => false,
    }
}

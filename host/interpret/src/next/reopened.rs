//! What counts no more once something else is given: it is open again.

use super::{Steps, Value};

/// The facts that are open again by what was given just now; what the same capture gives is not.
pub(super) fn reopened(
    steps: &Steps,
    state: &[Option<Option<Value>>],
    given: usize,
    beside: &[usize],
) -> Vec<usize> {
    let by_it = |fact: usize| fact == given || steps.facts[fact].earlier == Some(given);
    let each = steps.facts.iter().enumerate().filter(|(place, fact)| {
        let counts = state[*place].is_some() && *place != given && !beside.contains(place);
        counts && fact.until.iter().any(|one| by_it(one.fact) && one.holds(state))
    });
    each.map(|(place, _)| place).collect()
}

/// The facts that tell what this one was the time before.
pub(super) fn earlier(steps: &Steps, of: usize) -> impl Iterator<Item = usize> {
    let each = steps.facts.iter().enumerate().filter(move |(_, fact)| fact.earlier == Some(of));
    each.map(|(place, _)| place)
}

/// The facts that count as not known, because they cannot be what they are beside others.
pub(super) fn dropped(steps: &Steps, state: &[Option<Option<Value>>]) -> Vec<usize> {
    let holding = steps.nevers.iter().filter(|never| never.when.holds(state));
    holding.map(|never| never.drops).collect()
}

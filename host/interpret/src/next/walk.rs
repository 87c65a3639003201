//! Walks a file of steps through, whatever is answered: every way must end, every step must be on one.
//!
//! Answers that no later step tells apart are walked once.

use std::collections::HashMap;

use super::{Source, Steps, Value, advice};

/// What a walk found.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Walked {
    /// Ways from the first step to an end.
    pub ways: u128,
    /// The most steps on one of them, its end included.
    pub longest: usize,
    /// Places where ways part or end that a later step tells apart.
    pub places: usize,
}

/// What is wrong, and with which step.
pub(super) struct Wrong {
    pub(super) step: Option<usize>,
    pub(super) reason: String,
}

/// More of them are not walked: the built-in file has some thousands. (judgement)
const PLACES_MAX: usize = 300_000;

type State = Vec<Option<Option<Value>>>;

/// What is settled, and for each step whether it can still come, and on how much of its conditions.
type Place = (Vec<bool>, Vec<u8>);

struct Walk<'a> {
    steps: &'a Steps,
    known: HashMap<Place, (u128, usize)>,
    reached: Vec<bool>,
}

pub(super) fn walk(steps: &Steps) -> Result<Walked, Wrong> {
    let mut walk = Walk { steps, known: HashMap::new(), reached: vec![false; steps.steps.len()] };
    let (mut ways, mut longest) = (0_u128, 0);
    for state in walk.beginnings() {
        let (more, long) = walk.from(&state)?;
        ways = ways.saturating_add(more);
        longest = longest.max(long);
    }
    if let Some(never) = walk.reached.iter().position(|reached| !reached) {
        let reason = "no answers lead to this step: another one always comes first, or its conditions \
                      never hold together";
        return Err(Wrong { step: Some(never), reason: reason.into() });
    }
    Ok(Walked { ways, longest, places: walk.known.len() })
}

impl Walk<'_> {
    /// What no step settles may be known from the beginning, or not.
    fn beginnings(&self) -> Vec<State> {
        let count = self.steps.facts.len();
        let measured: Vec<Source> =
            self.steps.steps.iter().filter_map(|step| step.measure).collect();
        let free = (0..count).filter(|fact| {
            let by = self.steps.facts[*fact].measured;
            !self.steps.steps.iter().any(|step| step.settles.contains(fact))
                && !by.is_some_and(|(by, _)| measured.contains(&by))
        });
        let free: Vec<(usize, bool)> = free.map(|fact| (fact, true)).collect();
        self.parted(&vec![None; count], &free)
    }

    /// How many ways lead from here to an end, and how long the longest is.
    fn from(&mut self, state: &State) -> Result<(u128, usize), Wrong> {
        let Some(next) = advice::next(self.steps, state) else {
            return Err(Wrong { step: None, reason: "nothing is left to say".into() });
        };
        self.reached[next] = true;
        let step = &self.steps.steps[next];
        if step.is_end() {
            return Ok((1, 1));
        }
        let place = self.place(state);
        if let Some(known) = self.known.get(&place) {
            return Ok(*known);
        }
        if self.known.len() >= PLACES_MAX {
            let reason =
                format!("there are more than {PLACES_MAX} places to come to: too many to walk");
            return Err(Wrong { step: Some(next), reason });
        }
        let told = step.settles.iter().map(|fact| (*fact, false));
        let beside = (0..self.steps.facts.len()).filter(|fact| {
            let by = self.steps.facts[*fact].measured;
            !step.settles.contains(fact) && by.is_some_and(|(by, _)| Some(by) == step.measure)
        });
        let facts: Vec<(usize, bool)> = told.chain(beside.map(|fact| (fact, true))).collect();
        let (mut ways, mut longest) = (0_u128, 0);
        for state in self.parted(state, &facts) {
            let (more, long) = self.from(&state)?;
            ways = ways.saturating_add(more);
            longest = longest.max(long + 1);
        }
        self.known.insert(place, (ways, longest));
        Ok((ways, longest))
    }

    /// Every answer to these facts, each with whether it may be left out.
    fn parted(&self, state: &State, facts: &[(usize, bool)]) -> Vec<State> {
        let mut all = vec![state.clone()];
        for (fact, may_lack) in facts.iter().filter(|(fact, _)| state[*fact].is_none()) {
            let mut answers: Vec<_> =
                self.steps.facts[*fact].answers().into_iter().map(Some).collect();
            answers.extend(may_lack.then_some(None));
            let parted = all.iter().flat_map(|before| {
                answers.iter().map(|answer| {
                    let mut state = before.clone();
                    state[*fact] = *answer;
                    state
                })
            });
            all = parted.collect();
        }
        all
    }

    /// Two states that are alike here go the same ways.
    fn place(&self, state: &State) -> Place {
        let each = self.steps.steps.iter().map(|step| {
            let all = &step.when.all;
            let any = &step.when.any;
            let open = |fact: usize| state[fact].is_none();
            let is_dead = all.iter().any(|one| !open(one.fact) && !one.holds(state))
                || !any.is_empty() && any.iter().all(|one| !open(one.fact) && !one.holds(state))
                || !step.is_end() && step.settles.iter().all(|fact| !open(*fact));
            let has_any = any.is_empty() || any.iter().any(|one| one.holds(state));
            if is_dead { 0 } else { 1 + u8::from(has_any) }
        });
        (state.iter().map(Option::is_some).collect(), each.collect())
    }
}

//! Walks a file of steps through, whatever is answered: every way must end, every step must be on one.
//!
//! Answers that no later step tells apart are walked once. It begins with nothing known, and, for steps that
//! are not on such a way, with one thing that whoever calls has done already. Nothing is done twice on a way: what is open
//! again by something given later begins a round of its own, which ends likewise: every step settles something.

use std::cell::RefCell;
use std::collections::{BTreeMap, HashMap};
use std::rc::Rc;

use super::condition::Condition;
use super::{Source, Steps, Value, advice, reopened};

/// What a walk found.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Walked {
    /// Ways from the first step to an end, by answers that a later step tells apart.
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

/// What is open that matters, and for each step whether it can still come, and on how much of its conditions.
type Place = (Vec<bool>, Vec<u8>);

struct Walk<'a> {
    steps: &'a Steps,
    known: HashMap<Place, (u128, usize)>,
    reached: Vec<bool>,
    /// What can come, by what is open.
    comes: RefCell<HashMap<Vec<bool>, Rc<Vec<bool>>>>,
    /// It has been walked from nothing known; what is left is to come to the other steps.
    seeks: bool,
}

pub(super) fn walk(steps: &Steps) -> Result<Walked, Wrong> {
    let mut walk = Walk {
        steps,
        known: HashMap::new(),
        reached: vec![false; steps.steps.len()],
        comes: RefCell::default(),
        seeks: false,
    };
    let (mut ways, mut longest) = (0_u128, 0);
    for state in walk.beginnings() {
        let (more, long) = walk.from(&state)?;
        ways = ways.saturating_add(more);
        longest = longest.max(long);
    }
    walk.seeks = true;
    for state in walk.told_beforehand() {
        walk.from(&state)?;
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
            self.steps.facts[*fact].can_be_given()
                && !self.steps.steps.iter().any(|step| step.settles.contains(fact))
                && !by.is_some_and(|(by, _)| measured.contains(&by))
        });
        let free: Vec<(usize, bool)> = free.map(|fact| (fact, true)).collect();
        self.parted(&vec![None; count], &free)
    }

    /// One thing is known before anything is asked, that a step which was not come to asks for.
    fn told_beforehand(&self) -> Vec<State> {
        let count = self.steps.facts.len();
        let never = self.steps.steps.iter().zip(&self.reached).filter(|(_, reached)| !**reached);
        let asked: Vec<usize> =
            never.flat_map(|(step, _)| step.when.conditions()).map(|one| one.fact).collect();
        let given = (0..count)
            .filter(|fact| asked.contains(fact) && self.steps.facts[*fact].can_be_given());
        given.flat_map(|fact| self.parted(&vec![None; count], &[(fact, false)])).collect()
    }

    /// How many ways lead from here to an end, and how long the longest is.
    fn from(&mut self, state: &State) -> Result<(u128, usize), Wrong> {
        if self.seeks && self.reached.iter().all(|reached| *reached) {
            return Ok((0, 0));
        }
        let Some(next) = advice::next(self.steps, state) else {
            return Err(Wrong { step: None, reason: "nothing is left to say".into() });
        };
        self.reached[next] = true;
        let step = &self.steps.steps[next];
        if step.is_end() {
            return Ok((1, 1));
        }
        let place = self.place(state);
        let sought = |(kind, reached): (&u8, &bool)| *kind > 0 && !reached;
        if self.seeks && !place.1.iter().zip(&self.reached).any(sought) {
            return Ok((0, 0));
        }
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

    /// Every answer to these facts, each with whether it may be left out: one state for each place.
    fn parted(&self, state: &State, facts: &[(usize, bool)]) -> Vec<State> {
        let mut all = vec![state.clone()];
        for (fact, may_lack) in facts.iter().filter(|(fact, _)| state[*fact].is_none()) {
            all = self.answered(&all, *fact, *may_lack);
        }
        // A difference may be anything, whatever the two are: more ways than there are, and none too few.
        for (fact, place) in self.steps.facts.iter().zip(0..) {
            let Some(of) = fact.less else { continue };
            let (known, open): (Vec<_>, Vec<_>) = all.into_iter().partition(|state: &State| {
                state[place].is_none() && of.iter().all(|one| state[*one].is_some())
            });
            all = open;
            all.extend(self.answered(&known, place, false));
        }
        all
    }

    fn answered(&self, all: &[State], fact: usize, may_lack: bool) -> Vec<State> {
        let mut answers: Vec<_> = self.steps.facts[fact].answers().into_iter().map(Some).collect();
        answers.extend(may_lack.then_some(None));
        let mut places: BTreeMap<Place, State> = BTreeMap::new();
        for before in all {
            for answer in &answers {
                let mut state = before.clone();
                state[fact] = *answer;
                for dropped in reopened::dropped(self.steps, &state) {
                    state[dropped] = Some(None);
                }
                places.entry(self.place(&state)).or_insert(state);
            }
        }
        places.into_values().collect()
    }

    /// For each fact, whether it is not settled and a step is left that can settle it.
    fn coming(&self, state: &State) -> Rc<Vec<bool>> {
        let open: Vec<bool> = state.iter().map(Option::is_none).collect();
        let mut known = self.comes.borrow_mut();
        known.entry(open).or_insert_with_key(|open| Rc::new(self.coming_of(open))).clone()
    }

    fn coming_of(&self, open: &[bool]) -> Vec<bool> {
        let is_open = |fact: &usize| open[*fact];
        let mut comes = vec![false; open.len()];
        for step in self.steps.steps.iter().filter(|step| step.settles.iter().any(is_open)) {
            for (fact, place) in self.steps.facts.iter().zip(0..) {
                let by = fact.measured.is_some_and(|(by, _)| Some(by) == step.measure);
                comes[place] |= is_open(&place) && (by || step.settles.contains(&place));
            }
        }
        for (fact, place) in self.steps.facts.iter().zip(0..) {
            if let Some(of) = fact.less {
                comes[place] = is_open(&place) && of.iter().all(|one| !is_open(one) || comes[*one]);
            }
        }
        comes
    }

    /// Two states that are alike here go the same ways: what can still come, and what of it is open.
    fn place(&self, state: &State) -> Place {
        let comes = self.coming(state);
        let is_open = |fact: &usize| comes[*fact];
        let mut open = vec![false; state.len()];
        let mut each = vec![0; self.steps.steps.len()];
        for (step, kind) in self.steps.steps.iter().zip(&mut each) {
            let (all, any) = (&step.when.all, &step.when.any);
            let fails = |one: &Condition| !is_open(&one.fact) && !one.holds(state);
            let has_any = any.is_empty() || any.iter().any(|one| one.holds(state));
            if all.iter().any(fails)
                || !has_any && any.iter().all(fails)
                || !step.is_end() && !step.settles.iter().any(is_open)
            {
                continue;
            }
            *kind = 1 + u8::from(has_any);
            let asks = all.iter().chain(any.iter().filter(|_| !has_any)).map(|one| one.fact);
            let asks: Vec<usize> = asks.filter(is_open).collect();
            for fact in asks.iter().chain(&step.settles).filter(|fact| is_open(fact)) {
                open[*fact] = true;
                for of in self.steps.facts[*fact].less.iter().flatten() {
                    open[*of] |= is_open(of);
                }
            }
            // It holds, whatever comes: what stands behind it does not matter any more.
            if step.is_end() && has_any && asks.is_empty() {
                break;
            }
        }
        (open, each)
    }
}

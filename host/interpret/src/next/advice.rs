//! What follows from what is known: what is ruled out and why, and the one next step.

use super::{Bench, Change, Fact, Hands, Known, Settled, Step, Steps, Suspect, Value, Wiring};

/// What follows from what is known.
#[derive(Clone, Debug)]
pub struct Advice<'a> {
    /// The next step, or the conclusion.
    pub step: &'a Step,
    /// What has to be done first, until the bench stands as the step needs it.
    pub first: Vec<Change>,
    /// Of an end: what closes the bench after it; nothing where it is closed, or not known to be open.
    pub close: Vec<Change>,
    /// Why it is that one; empty: it is its turn.
    pub because: Vec<Evidence<'a>>,
    /// What is ruled out.
    pub ruled_out: Vec<RuledOut<'a>>,
    /// Of a conclusion: the suspects that are left.
    pub left: Vec<&'a Suspect>,
    /// All that is known, in the order of the file.
    pub known: Vec<Evidence<'a>>,
}

/// A fact that has come up, and who says so.
#[derive(Clone, Debug)]
pub struct Evidence<'a> {
    /// The fact.
    pub fact: &'a Fact,
    /// What it is, and who says so.
    pub settled: Settled,
}

/// A suspect that is out of it.
#[derive(Clone, Debug)]
pub struct RuledOut<'a> {
    /// The suspect.
    pub suspect: &'a Suspect,
    /// Why.
    pub because: Vec<Evidence<'a>>,
}

impl<'a> Known<'a> {
    /// What follows.
    #[must_use]
    pub fn advice(&self) -> Advice<'a> {
        let state = self.state();
        let steps = self.steps;
        let place =
            next(steps, &state).expect("the last step holds whatever is known: it is read so");
        let step = &steps.steps[place];
        let because = step.when.because(&state);
        let mut ruled_out = vec![];
        for (suspect, at) in steps.suspects.iter().zip(0..) {
            let mut why = vec![];
            // What a conclusion proves is not ruled out by what it was put right to.
            let is_proven = step.wiring == Some(Wiring::AtFault) && step.blames.contains(&at);
            if !is_proven && suspect.ruled_out.holds(&state) {
                why = suspect.ruled_out.because(&state);
            }
            if step.rules_out.contains(&at) {
                why.extend(
                    because.iter().filter(|fact| !why.contains(fact)).copied().collect::<Vec<_>>(),
                );
            }
            if !why.is_empty() {
                ruled_out.push((at, RuledOut { suspect, because: self.evidence(&why) }));
            }
        }
        let is_out = |at: &usize| ruled_out.iter().any(|(out, _)| out == at);
        let left = step.blames.iter().filter(|at| !is_out(at));
        Advice {
            step,
            first: self.bench.changes(step.bench),
            close: self.closing(step),
            because: self.evidence(&because),
            left: left.map(|at| &steps.suspects[*at]).collect(),
            ruled_out: ruled_out.into_iter().map(|(_, one)| one).collect(),
            known: self.evidence(&(0..steps.facts.len()).collect::<Vec<_>>()),
        }
    }

    /// Nobody touches what is kept off, and what an end leaves otherwise stays so.
    fn closing(&self, step: &Step) -> Vec<Change> {
        let stands = self.bench.then(step.bench);
        match (step.is_end() && step.hands != Hands::KeepOff, step.leaves == Bench::default()) {
            (true, true) => stands.closing(),
            (true, false) => stands.changes(step.leaves),
            (false, _) => vec![],
        }
    }

    pub(super) fn evidence(&self, facts: &[usize]) -> Vec<Evidence<'a>> {
        let each = facts.iter().filter_map(|at| {
            let settled = self.settled(*at)?;
            Some(Evidence { fact: &self.steps.facts[*at], settled })
        });
        each.collect()
    }
}

/// The first step that holds and has something to settle, or ends it.
pub(super) fn next(steps: &Steps, state: &[Option<Option<Value>>]) -> Option<usize> {
    steps.steps.iter().position(|step| {
        let is_settled = |fact: &usize| state[*fact].is_some();
        step.when.holds(state) && (step.is_end() || !step.settles.iter().all(is_settled))
    })
}

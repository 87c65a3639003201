//! A condition: one fact, and what it must be.

use super::Value;

/// What a fact must be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Test {
    /// This word.
    Is(usize),
    /// Another word.
    IsNot(usize),
    /// Less than this.
    Below(f64),
    /// More than this.
    Above(f64),
    /// It has come up, and is not known.
    Unknown,
}

/// A fact, by its place, and what it must be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Condition {
    pub(super) fact: usize,
    pub(super) test: Test,
}

/// All of `all`, and one of `any` if there are any.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct When {
    pub(super) all: Vec<Condition>,
    pub(super) any: Vec<Condition>,
}

impl Condition {
    /// Nothing holds of a fact that has not come up.
    pub(super) fn holds(self, state: &[Option<Option<Value>>]) -> bool {
        let Some(value) = state[self.fact] else { return false };
        match (self.test, value) {
            (Test::Unknown, value) => value.is_none(),
            (Test::Is(word), Some(Value::Word(is))) => is == word,
            (Test::IsNot(word), Some(Value::Word(is))) => is != word,
            (Test::Below(at), Some(Value::Number { value, u })) => value + u < at,
            (Test::Above(at), Some(Value::Number { value, u })) => value - u > at,
            _ => false,
        }
    }
}

impl When {
    pub(super) fn holds(&self, state: &[Option<Option<Value>>]) -> bool {
        self.all.iter().all(|one| one.holds(state))
            && (self.any.is_empty() || self.any.iter().any(|one| one.holds(state)))
    }

    /// The facts that make it hold, each once.
    pub(super) fn because(&self, state: &[Option<Option<Value>>]) -> Vec<usize> {
        let mut facts: Vec<usize> = vec![];
        for one in self.all.iter().chain(&self.any).filter(|one| one.holds(state)) {
            if !facts.contains(&one.fact) {
                facts.push(one.fact);
            }
        }
        facts
    }

    pub(super) fn conditions(&self) -> impl Iterator<Item = &Condition> {
        self.all.iter().chain(&self.any)
    }
}

//! What is known of a case, and who says so.

use super::{
    Bench, Evidence, Fact, FactError, Kind, Never, Reading, Readings, Source, Step, Steps, Value,
    near, reopened,
};

/// What is known of a case by a file of steps.
#[derive(Clone, Debug)]
pub struct Known<'a> {
    pub(super) steps: &'a Steps,
    facts: Vec<Option<Settled>>,
    /// How the bench stands after what was done last: things are given in the order in which they were done.
    pub bench: Bench,
    /// A capture was made, and nothing that was done after it takes the clips off.
    pub is_clipped_on: bool,
    /// What counts no more: given anew, or not what it was after what was done since.
    pub superseded: Vec<Evidence<'a>>,
    /// What was told and measured, and does not agree: what was measured counts.
    pub contradictions: Vec<Contradiction<'a>>,
}

/// A fact that has come up.
#[derive(Clone, Debug, PartialEq)]
pub struct Settled {
    /// What it is; absent: not known.
    pub value: Option<Value>,
    /// Who says so.
    pub origin: Origin,
}

/// Who says so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Origin {
    /// The capture in this file.
    Measured(String),
    /// Somebody, over the phone.
    Told,
    /// Whoever was asked.
    Answered,
    /// Two others, one less the other.
    Computed,
}

/// What was told, and what was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Contradiction<'a> {
    /// Of which fact.
    pub fact: &'a Fact,
    /// What was told.
    pub told: Value,
    /// What was measured.
    pub measured: Value,
    /// In which file.
    pub file: String,
}

/// What cannot be together.
#[derive(Clone, Debug)]
pub struct Impossible<'a> {
    /// Why not, and what counts as not known.
    pub never: &'a Never,
    /// What was given.
    pub given: Vec<Evidence<'a>>,
}

const UNKNOWN: &str = "unknown";

impl<'a> Known<'a> {
    /// Nothing yet.
    #[must_use]
    pub fn nothing(steps: &'a Steps) -> Self {
        Self {
            steps,
            facts: vec![None; steps.facts.len()],
            bench: Bench::default(),
            is_clipped_on: false,
            superseded: vec![],
            contradictions: vec![],
        }
    }

    /// What a capture tells; of two of one kind the later one counts.
    pub fn measured(&mut self, file: &str, source: Source, readings: &Readings) {
        let steps = self.steps;
        let is_of = |fact: &Fact| fact.measured.is_some_and(|(by, _)| by == source);
        let beside: Vec<usize> =
            (0..steps.facts.len()).filter(|place| is_of(&steps.facts[*place])).collect();
        for place in beside.iter().copied() {
            let fact = &steps.facts[place];
            let Some((_, name)) = fact.measured else { continue };
            let reading = readings.iter().find(|(one, _)| *one == name).and_then(|(_, said)| *said);
            let value = reading.and_then(|reading| match reading {
                Reading::Word(word) => fact.kind.value(word),
                Reading::Number { value, u } => fact.decided(Value::Number { value, u }),
            });
            let before = self.facts[place].as_ref();
            let told = before.filter(|one| !matches!(one.origin, Origin::Measured(_)));
            match (told.map(|one| one.value), value) {
                // What could not be told by it may have been told.
                (Some(Some(_)), None) => continue,
                (Some(Some(told)), Some(measured)) if !fact.same(told, measured) => {
                    let file = file.to_owned();
                    self.contradictions.push(Contradiction { fact, told, measured, file });
                }
                _ => {}
            }
            let origin = Origin::Measured(file.to_owned());
            self.give(place, Settled { value, origin }, &beside);
        }
        let measuring = steps.steps.iter().find(|step| step.measure == Some(source));
        self.after(measuring);
        self.is_clipped_on = true;
    }

    /// What somebody says over the phone.
    pub fn told(&mut self, key: &str, value: &str) -> Result<(), FactError> {
        let place = self.tellable(key)?;
        let fact = &self.steps.facts[place];
        let value = match value {
            UNKNOWN => None,
            _ => Some(fact.kind.value(value).ok_or_else(|| FactError::NotOf {
                key: key.to_owned(),
                value: value.to_owned(),
                expected: fact.kind.expected(),
            })?),
        };
        self.tell(place, value, Origin::Told);
        Ok(())
    }

    /// What answers a question: yes, no or unknown.
    pub fn answered(&mut self, key: &str, value: &str) -> Result<(), FactError> {
        let place = self.tellable(key)?;
        let fact = &self.steps.facts[place];
        let expected = fact.kind.expected();
        if value == UNKNOWN {
            self.tell(place, None, Origin::Answered);
            return Ok(());
        }
        if fact.kind != Kind::YesNo {
            return Err(FactError::NotYesNo { key: key.to_owned(), expected });
        }
        let said = fact.kind.value(value);
        let (key, value) = (key.to_owned(), value.to_owned());
        let said = said.ok_or(FactError::NotOf { key, value, expected })?;
        self.tell(place, Some(said), Origin::Answered);
        Ok(())
    }

    fn tellable(&self, key: &str) -> Result<usize, FactError> {
        let place = self.steps.fact(key).ok_or_else(|| {
            let keys = self.steps.facts.iter().filter(|fact| fact.question.is_some());
            let near = near::near(key, keys.map(|fact| fact.key.as_str()));
            FactError::Unknown { key: key.to_owned(), near }
        })?;
        match self.steps.facts[place].question {
            Some(_) => Ok(place),
            None => Err(FactError::OnlyMeasured { key: key.to_owned() }),
        }
    }

    /// What was measured counts; what could not be told by it may be told.
    fn tell(&mut self, place: usize, value: Option<Value>, origin: Origin) {
        let fact = &self.steps.facts[place];
        let state = self.state();
        let settling = self.steps.steps.iter().filter(|step| step.settles.contains(&place));
        let in_turn = settling.clone().find(|step| step.when.holds(&state));
        self.after(in_turn.or(settling.into_iter().next()));
        if let Some(Settled { value: Some(measured), origin: Origin::Measured(file) }) =
            &self.facts[place]
        {
            if let Some(told) = value.filter(|told| !fact.same(*told, *measured)) {
                let (measured, file) = (*measured, file.clone());
                self.contradictions.push(Contradiction { fact, told, measured, file });
            }
            return;
        }
        self.give(place, Settled { value, origin }, &[]);
    }

    /// What was given before it counts no more, nor what was until it.
    fn give(&mut self, place: usize, settled: Settled, beside: &[usize]) {
        let is_same = |before: &Settled| match (before.value, settled.value) {
            (Some(before), Some(now)) => self.steps.facts[place].same(before, now),
            (before, now) => before == now,
        };
        let is_news = self.facts[place].as_ref().is_some_and(|before| !is_same(before));
        self.open_again(place, is_news);
        self.facts[place] = Some(settled);
        for fact in reopened::reopened(self.steps, &self.state(), place, beside) {
            self.open_again(fact, true);
        }
    }

    fn open_again(&mut self, place: usize, is_news: bool) {
        let Some(before) = self.facts[place].take() else { return };
        for earlier in reopened::earlier(self.steps, place) {
            self.facts[earlier] = Some(before.clone());
        }
        if is_news {
            self.superseded.push(Evidence { fact: &self.steps.facts[place], settled: before });
        }
    }

    /// What cannot be together, and was given.
    #[must_use]
    pub fn impossible(&self) -> Vec<Impossible<'a>> {
        let state = self.raw();
        let holding = self.steps.nevers.iter().filter(|never| never.when.holds(&state));
        let each = holding
            .map(|never| Impossible { never, given: self.evidence(&never.when.because(&state)) });
        each.collect()
    }

    fn after(&mut self, step: Option<&Step>) {
        if let Some(step) = step {
            self.bench = self.bench.then(step.bench).then(step.leaves);
            self.is_clipped_on &= step.bench == Bench::default();
        }
    }

    /// What is known of a fact; of a difference, what follows from both.
    pub(super) fn settled(&self, place: usize) -> Option<Settled> {
        let fact = &self.steps.facts[place];
        let Some([one, other]) = fact.less else { return self.facts[place].clone() };
        let (one, other) = (self.settled(one)?.value, self.settled(other)?.value);
        let value = one.zip(other).and_then(|(one, other)| one.less(other));
        let value = value.and_then(|value| fact.decided(value));
        Some(Settled { value, origin: Origin::Computed })
    }

    /// What is known of each fact, for conditions.
    pub(super) fn state(&self) -> Vec<Option<Option<Value>>> {
        let mut state = self.raw();
        for fact in reopened::dropped(self.steps, &state) {
            state[fact] = Some(None);
        }
        state
    }

    fn raw(&self) -> Vec<Option<Option<Value>>> {
        let each = 0..self.facts.len();
        each.map(|place| self.settled(place).map(|settled| settled.value)).collect()
    }
}

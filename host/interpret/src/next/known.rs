//! What is known of a case, and who says so.

use super::{Bench, Fact, FactError, Kind, Reading, Readings, Source, Step, Steps, Value, near};

/// What is known of a case by a file of steps.
#[derive(Clone, Debug)]
pub struct Known<'a> {
    pub(super) steps: &'a Steps,
    pub(super) facts: Vec<Option<Settled>>,
    told: Vec<bool>,
    /// How the bench stands after what was done last: things are given in the order in which they were done.
    pub bench: Bench,
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

const UNKNOWN: &str = "unknown";

impl<'a> Known<'a> {
    /// Nothing yet.
    #[must_use]
    pub fn nothing(steps: &'a Steps) -> Self {
        let count = steps.facts.len();
        let (facts, told) = (vec![None; count], vec![false; count]);
        Self { steps, facts, told, bench: Bench::default(), contradictions: vec![] }
    }

    /// What a capture tells; of two of one kind the later one counts.
    pub fn measured(&mut self, file: &str, source: Source, readings: &Readings) {
        for (fact, place) in self.steps.facts.iter().zip(0..) {
            let Some((by, name)) = fact.measured else { continue };
            if by != source {
                continue;
            }
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
            self.facts[place] = Some(Settled { value, origin: Origin::Measured(file.to_owned()) });
        }
        let measuring = self.steps.steps.iter().find(|step| step.measure == Some(source));
        self.after(measuring);
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
        self.tell(place, value, Origin::Told)
    }

    /// What answers a question: yes, no or unknown.
    pub fn answered(&mut self, key: &str, value: &str) -> Result<(), FactError> {
        let place = self.tellable(key)?;
        let fact = &self.steps.facts[place];
        let expected = fact.kind.expected();
        if value == UNKNOWN {
            return self.tell(place, None, Origin::Answered);
        }
        if fact.kind != Kind::YesNo {
            return Err(FactError::NotYesNo { key: key.to_owned(), expected });
        }
        let said = fact.kind.value(value);
        let (key, value) = (key.to_owned(), value.to_owned());
        self.tell(
            place,
            Some(said.ok_or(FactError::NotOf { key, value, expected })?),
            Origin::Answered,
        )
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
    fn tell(
        &mut self,
        place: usize,
        value: Option<Value>,
        origin: Origin,
    ) -> Result<(), FactError> {
        let fact = &self.steps.facts[place];
        if std::mem::replace(&mut self.told[place], true) {
            return Err(FactError::Twice { key: fact.key.clone() });
        }
        let settling = self.steps.steps.iter().find(|step| step.settles.contains(&place));
        self.after(settling);
        let fact = &self.steps.facts[place];
        if let Some(Settled { value: Some(measured), origin: Origin::Measured(file) }) =
            &self.facts[place]
        {
            if let Some(told) = value.filter(|told| !fact.same(*told, *measured)) {
                let (measured, file) = (*measured, file.clone());
                self.contradictions.push(Contradiction { fact, told, measured, file });
            }
            return Ok(());
        }
        self.facts[place] = Some(Settled { value, origin });
        Ok(())
    }

    fn after(&mut self, step: Option<&Step>) {
        if let Some(step) = step {
            self.bench = self.bench.then(step.bench).then(step.leaves);
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
        let each = 0..self.facts.len();
        each.map(|place| self.settled(place).map(|settled| settled.value)).collect()
    }
}

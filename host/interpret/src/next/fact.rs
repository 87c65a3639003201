//! Something that can be known of a case, and what it can be.

use super::Source;
use super::condition::Condition;

/// Something that can be known of a case.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    /// What it is told by.
    pub key: String,
    /// What it is called, as evidence.
    pub about: String,
    /// What it can be.
    pub kind: Kind,
    /// The reading that gives it, where one does.
    pub measured: Option<(Source, &'static str)>,
    /// The first of these facts less the second is what it is, by their places.
    pub less: Option<[usize; 2]>,
    /// What this fact was the time before, by its place.
    pub earlier: Option<usize>,
    /// What it was counts until one of these is given, and holds.
    pub(super) until: Vec<Condition>,
    /// What is asked; absent where it is only measured.
    pub question: Option<String>,
    /// Where the conditions on it turn, the least first.
    pub(super) thresholds: Vec<f64>,
}

/// What a fact can be.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// Yes or no: as words, the first and the second.
    YesNo,
    /// One of these words.
    Outcome(Vec<String>),
    /// A number in this unit, within this range.
    Number {
        /// Its unit.
        unit: String,
        /// The least it can be.
        least: f64,
        /// The most it can be.
        most: f64,
    },
}

/// What a fact is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value {
    /// One of its words, by its place.
    Word(usize),
    /// A number, and half of the interval that holds it; 0 of what was told.
    Number {
        /// The number.
        value: f64,
        /// Half of the interval.
        u: f64,
    },
}

impl Value {
    /// This number less the other one; readings of one jig may err alike, which is not made use of.
    pub(super) fn less(self, other: Self) -> Option<Self> {
        let (Self::Number { value, u }, Self::Number { value: other, u: v }) = (self, other) else {
            return None;
        };
        // What was told as 27.1 and 21.8 differs by 5.3, whatever binary fractions make of it.
        let difference = ((value - other) * 1e6).round() / 1e6;
        Some(Self::Number { value: difference, u: u.hypot(v) })
    }
}

const YES_NO: [&str; 2] = ["yes", "no"];

impl Kind {
    /// The word at this place.
    #[must_use]
    pub fn word(&self, place: usize) -> &str {
        self.words().get(place).copied().unwrap_or_default()
    }

    /// All words; none of a number.
    #[must_use]
    pub fn words(&self) -> Vec<&str> {
        match self {
            Self::YesNo => YES_NO.to_vec(),
            Self::Outcome(words) => words.iter().map(String::as_str).collect(),
            Self::Number { .. } => vec![],
        }
    }

    /// What a text says; absent where it says nothing that this can be.
    pub(super) fn value(&self, text: &str) -> Option<Value> {
        if let Self::Number { least, most, .. } = self {
            let value = text.replace('−', "-").parse::<f64>().ok()?;
            return (*least..=*most).contains(&value).then_some(Value::Number { value, u: 0.0 });
        }
        self.words().iter().position(|word| *word == text).map(Value::Word)
    }

    /// What it must be, in words.
    #[must_use]
    pub fn expected(&self) -> String {
        match self {
            Self::Number { unit, least, most } => {
                format!("a number from {least} to {most}, in {unit}")
            }
            _ => self.words().join(", "),
        }
    }
}

impl Fact {
    /// A value that lies on both sides of a threshold tells nothing there.
    pub(super) fn decided(&self, value: Value) -> Option<Value> {
        let Value::Number { value: v, u } = value else { return Some(value) };
        let straddles = |at: &f64| u > 0.0 && (v - u..=v + u).contains(at);
        (v.is_finite() && u.is_finite() && !self.thresholds.iter().any(straddles)).then_some(value)
    }

    /// Somebody or something gives it, and not other facts.
    pub(super) fn can_be_given(&self) -> bool {
        self.measured.is_some() || self.question.is_some()
    }

    /// Two values mean the same to every condition.
    pub(super) fn same(&self, one: Value, other: Value) -> bool {
        match (one, other) {
            (Value::Number { value: one, .. }, Value::Number { value: other, .. }) => self
                .thresholds
                .iter()
                .all(|at| (one < *at) == (other < *at) && (one > *at) == (other > *at)),
            _ => one == other,
        }
    }

    /// One value for each way that its conditions can come out, and not known.
    pub(super) fn answers(&self) -> Vec<Option<Value>> {
        let of = |value: f64| Value::Number { value, u: 0.0 };
        let mut answers: Vec<Option<Value>> = match &self.kind {
            Kind::Number { least, most, .. } => {
                let inner = self.thresholds.iter().copied().filter(|at| least < at && at < most);
                let mut points = vec![*least];
                points.extend(inner);
                points.push(*most);
                let between = points.windows(2).map(|two| f64::midpoint(two[0], two[1]));
                let between: Vec<f64> = between.collect();
                let mut each: Vec<f64> = vec![];
                for point in points.into_iter().chain(between) {
                    let alike = |one: &f64| self.same(of(*one), of(point));
                    if !each.iter().any(alike) {
                        each.push(point);
                    }
                }
                each.into_iter().map(|point| Some(of(point))).collect()
            }
            kind => (0..kind.words().len()).map(|place| Some(Value::Word(place))).collect(),
        };
        answers.push(None);
        answers
    }
}

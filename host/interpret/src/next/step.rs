//! A step, and a suspect.

use serde::{Deserialize, Serialize};

use super::condition::When;
use super::{Bench, Source};

/// Something that can be done next.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Its name.
    pub name: String,
    /// What kind of step it is.
    pub act: Act,
    /// The question, what to do, or what is concluded.
    pub text: String,
    /// What is known after it, by place.
    pub settles: Vec<usize>,
    /// What is measured in it.
    pub measure: Option<Source>,
    /// How its outcome is told.
    pub tell: Option<String>,
    /// What hands are on.
    pub hands: Hands,
    /// How the bench must stand when it begins.
    pub bench: Bench,
    /// How it stands afterwards, where that is otherwise.
    pub leaves: Bench,
    /// The captures whose own next step is to be done in it, where they do not pass.
    pub remedy: Vec<Source>,
    /// Of an end: what is measured again, once it is mended.
    pub again: Option<Source>,
    /// A caution beside the one that goes with the hands.
    pub caution: Option<String>,
    /// Of a conclusion: what it says of the wiring.
    pub wiring: Option<Wiring>,
    /// Of a conclusion: the suspects that are left, by place.
    pub blames: Vec<usize>,
    /// Of a conclusion: the suspects that it rules out, by place.
    pub rules_out: Vec<usize>,
    /// Where it comes from.
    pub source: String,
    pub(super) when: When,
}

/// What kind of step.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Act {
    /// Something is asked.
    Ask,
    /// Something is done.
    Do,
    /// Something is concluded.
    Conclude,
}

/// What hands are on during a step.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Hands {
    /// Nothing that could be live.
    #[default]
    None,
    /// Low-voltage terminals with power on.
    Live,
    /// Wires, power off.
    Wires,
    /// The two data conductors, to exchange them, power off.
    Pair,
    /// Nothing at all.
    KeepOff,
}

/// What a conclusion says of the wiring.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Wiring {
    /// It is at fault.
    AtFault,
    /// It is not.
    Cleared,
    /// Either may be.
    Undecided,
}

/// What cannot be together.
#[derive(Clone, Debug, PartialEq)]
pub struct Never {
    /// Why not.
    pub text: String,
    /// What counts as not known then, by place.
    pub drops: usize,
    pub(super) when: When,
}

/// Something that shows the symptom.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// Its name.
    pub name: String,
    /// What it is.
    pub text: String,
    pub(super) ruled_out: When,
}

impl Step {
    /// Nothing follows it.
    #[must_use]
    pub fn is_end(&self) -> bool {
        self.settles.is_empty()
    }
}

//! A file of steps as it stands in its text: every value with its place.

use serde::Deserialize;
use toml::Spanned;

use super::{Bench, Hands, Source, Wiring};

pub(super) type Words = Spanned<String>;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Steps {
    pub(super) name: Words,
    pub(super) version: Words,
    pub(super) about: String,
    pub(super) sheets: Spanned<Vec<Words>>,
    pub(super) source: Words,
    pub(super) fact: Vec<Spanned<Fact>>,
    #[serde(default)]
    pub(super) never: Vec<Spanned<Never>>,
    #[serde(default)]
    pub(super) suspect: Vec<Spanned<Suspect>>,
    pub(super) step: Vec<Spanned<Step>>,
}

#[derive(Clone, Copy, Deserialize, PartialEq)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Kind {
    YesNo,
    Outcome,
    Number,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Fact {
    pub(super) key: Words,
    pub(super) about: Words,
    pub(super) kind: Spanned<Kind>,
    pub(super) values: Option<Spanned<Vec<String>>>,
    pub(super) unit: Option<Words>,
    pub(super) least: Option<Spanned<f64>>,
    pub(super) most: Option<Spanned<f64>>,
    pub(super) measured: Option<Words>,
    pub(super) less: Option<Spanned<[Words; 2]>>,
    pub(super) earlier: Option<Words>,
    #[serde(default)]
    pub(super) until: Vec<Words>,
    pub(super) question: Option<Words>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Never {
    pub(super) all: Vec<Words>,
    pub(super) text: Words,
    pub(super) drops: Words,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Suspect {
    pub(super) name: Words,
    pub(super) text: Words,
    #[serde(default)]
    pub(super) all: Vec<Words>,
    #[serde(default)]
    pub(super) any: Vec<Words>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Step {
    pub(super) name: Words,
    #[serde(default)]
    pub(super) all: Vec<Words>,
    #[serde(default)]
    pub(super) any: Vec<Words>,
    pub(super) ask: Option<Words>,
    #[serde(rename = "do")]
    pub(super) act: Option<Words>,
    pub(super) conclude: Option<Words>,
    pub(super) measure: Option<Spanned<Source>>,
    #[serde(default)]
    pub(super) settles: Vec<Words>,
    pub(super) tell: Option<Words>,
    pub(super) hands: Option<Spanned<Hands>>,
    pub(super) bench: Option<Spanned<Bench>>,
    pub(super) leaves: Option<Spanned<Bench>>,
    #[serde(default)]
    pub(super) remedy: Vec<Spanned<Source>>,
    pub(super) again: Option<Spanned<Source>>,
    pub(super) caution: Option<Words>,
    pub(super) wiring: Option<Spanned<Wiring>>,
    #[serde(default)]
    pub(super) blames: Vec<Words>,
    #[serde(default)]
    pub(super) rules_out: Vec<Words>,
    pub(super) source: Option<Words>,
}

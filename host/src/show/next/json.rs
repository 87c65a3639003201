//! For programs; `next-format.md` beside this folder describes it.

use runproof_interpret::judgement::Verdict;
use runproof_interpret::next::{
    Act, Bench, Change, Evidence, Fact, Hands, Kind, Origin, Source, Suspect, Value, Wiring,
};
use serde::Serialize;
use serde_json::Value as Json;

use super::{Commands, Shown, Told, command};
use crate::show::words;

/// Raised only when an older reader would misunderstand the rest.
const VERSION: u32 = 1;

#[derive(Serialize)]
struct Printed<'a> {
    runproof_next: u32,
    made_by: &'static str,
    steps: File<'a>,
    step: Step<'a>,
    because: Vec<Known<'a>>,
    left: Vec<Named<'a>>,
    ruled_out: Vec<RuledOut<'a>>,
    known: Vec<Known<'a>>,
    contradictions: Vec<Contradiction<'a>>,
    impossible: Vec<Impossible<'a>>,
    superseded: Vec<Known<'a>>,
    captures: Vec<Capture<'a>>,
    run: Vec<String>,
    or_told: Option<String>,
}

#[derive(Serialize)]
struct File<'a> {
    name: &'a str,
    version: &'a str,
}

#[derive(Serialize)]
struct Step<'a> {
    name: &'a str,
    kind: Act,
    is_end: bool,
    text: &'a str,
    hands: Hands,
    first: Vec<First>,
    bench: Bench,
    leaves: Bench,
    remedies: Vec<Remedy<'a>>,
    close: Vec<First>,
    cautions: Vec<String>,
    outcome: Option<&'a str>,
    wiring: Option<Wiring>,
    settles: Vec<Asked<'a>>,
    source: &'a str,
}

#[derive(Serialize)]
struct First {
    change: Change,
    text: &'static str,
}

#[derive(Serialize)]
struct Remedy<'a> {
    file: &'a str,
    text: &'static str,
}

#[derive(Serialize)]
struct Asked<'a> {
    key: &'a str,
    question: Option<&'a str>,
    words: Vec<&'a str>,
    unit: Option<&'a str>,
    least: Option<f64>,
    most: Option<f64>,
}

#[derive(Serialize)]
struct Named<'a> {
    name: &'a str,
    text: &'a str,
}

#[derive(Serialize)]
struct RuledOut<'a> {
    name: &'a str,
    text: &'a str,
    because: Vec<Known<'a>>,
}

#[derive(Serialize)]
struct Known<'a> {
    key: &'a str,
    about: &'a str,
    value: Json,
    u: Option<f64>,
    unit: Option<&'a str>,
    by: &'static str,
    file: Option<&'a str>,
}

#[derive(Serialize)]
struct Contradiction<'a> {
    key: &'a str,
    told: Json,
    measured: Json,
    file: &'a str,
}

#[derive(Serialize)]
struct Impossible<'a> {
    text: &'a str,
    drops: &'a str,
    given: Vec<Known<'a>>,
}

#[derive(Serialize)]
struct Capture<'a> {
    file: &'a str,
    kind: Source,
    verdict: Verdict,
    headline: String,
}

impl Told<'_> {
    pub(crate) fn json(&self, commands: &Commands) -> String {
        let (advice, steps) = (self.advice, self.steps);
        let step = advice.step;
        let impossible = self.known.impossible();
        let printed = Printed {
            runproof_next: VERSION,
            made_by: concat!("runproof ", env!("CARGO_PKG_VERSION")),
            steps: File { name: &steps.name, version: &steps.version },
            step: Step {
                name: &step.name,
                kind: step.act,
                is_end: step.is_end(),
                text: &step.text,
                hands: step.hands,
                first: changes(&advice.first),
                bench: step.bench,
                leaves: step.leaves,
                remedies: self
                    .remedies()
                    .into_iter()
                    .map(|(file, text)| Remedy { file, text })
                    .collect(),
                close: changes(&advice.close),
                cautions: words::next_cautions(step, self.known.is_clipped_on),
                outcome: step.tell.as_deref(),
                wiring: step.wiring,
                settles: step.settles.iter().map(|fact| asked(&steps.facts[*fact])).collect(),
                source: &step.source,
            },
            because: advice.because.iter().map(known).collect(),
            left: advice.left.iter().map(|one| named(one)).collect(),
            ruled_out: advice
                .ruled_out
                .iter()
                .map(|one| RuledOut {
                    name: &one.suspect.name,
                    text: &one.suspect.text,
                    because: one.because.iter().map(known).collect(),
                })
                .collect(),
            known: advice.known.iter().map(known).collect(),
            contradictions: self
                .known
                .contradictions
                .iter()
                .map(|one| Contradiction {
                    key: &one.fact.key,
                    told: value(one.fact, Some(one.told)),
                    measured: value(one.fact, Some(one.measured)),
                    file: &one.file,
                })
                .collect(),
            impossible: impossible
                .iter()
                .map(|one| Impossible {
                    text: &one.never.text,
                    drops: &steps.facts[one.never.drops].key,
                    given: one.given.iter().map(known).collect(),
                })
                .collect(),
            superseded: self.known.superseded.iter().map(known).collect(),
            captures: self.captures.iter().map(capture).collect(),
            run: commands.run.iter().map(|words| command::line(words)).collect(),
            or_told: commands.or_told.as_ref().map(|words| command::line(words)),
        };
        let text = serde_json::to_string_pretty(&printed);
        let text = text.unwrap_or_else(|error| unreachable!("it has text keys only: {error}"));
        format!("{text}\n")
    }
}

fn changes(all: &[Change]) -> Vec<First> {
    let each = all.iter().zip(words::next_first(all));
    each.map(|(change, text)| First { change: *change, text }).collect()
}

fn capture(one: &super::Judged) -> Capture<'_> {
    let (verdict, headline) = match &one.shown {
        Shown::Check(judgement) => (judgement.verdict, words::headline(judgement)),
        Shown::Live(judgement) => (judgement.verdict, words::live::headline(judgement)),
    };
    Capture { file: &one.file, kind: one.source, verdict, headline }
}

fn asked(fact: &Fact) -> Asked<'_> {
    let (unit, least, most) = match &fact.kind {
        Kind::Number { unit, least, most } => (Some(unit.as_str()), Some(*least), Some(*most)),
        _ => (None, None, None),
    };
    let question = fact.question.as_deref();
    Asked { key: &fact.key, question, words: fact.kind.words(), unit, least, most }
}

fn named<'a>(one: &&'a Suspect) -> Named<'a> {
    Named { name: &one.name, text: &one.text }
}

fn known<'a>(one: &'a Evidence<'a>) -> Known<'a> {
    let Evidence { fact, settled } = one;
    let (by, file) = match &settled.origin {
        Origin::Measured(file) => ("measured", Some(file.as_str())),
        Origin::Told => ("told", None),
        Origin::Answered => ("answered", None),
        Origin::Computed => ("computed", None),
    };
    let u = match settled.value {
        Some(Value::Number { u, .. }) if u > 0.0 => Some(u),
        _ => None,
    };
    let unit = match &fact.kind {
        Kind::Number { unit, .. } => Some(unit.as_str()),
        _ => None,
    };
    let value = value(fact, settled.value);
    Known { key: &fact.key, about: &fact.about, value, u, unit, by, file }
}

fn value(fact: &Fact, value: Option<Value>) -> Json {
    match value {
        None => Json::Null,
        Some(Value::Word(place)) => fact.kind.word(place).into(),
        Some(Value::Number { value, .. }) => value.into(),
    }
}

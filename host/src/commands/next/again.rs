//! What to run next: as it was run, and what the step gives beside.

use std::path::Path;

use runproof_interpret::next::{Act, Advice, Fact, Kind, Source, Step, Steps};

use crate::arguments::Next;
use crate::show::next::Commands;

/// Where nothing else was told, as everywhere.
const USUAL_SHEET: &str = "service-24vac";

pub(super) fn commands(advice: &Advice<'_>, steps: &Steps, arguments: &Next) -> Commands {
    let step = advice.step;
    let mut commands = Commands { run: vec![], or_told: None };
    if step.is_end() {
        if let Some(source) = step.again {
            let file = new_file(source);
            commands.run.push(measuring(source, &file, arguments));
            commands.run.push(again(with_capture(source, &file)));
        }
        return commands;
    }
    let tellable: Vec<&Fact> = step
        .settles
        .iter()
        .map(|fact| &steps.facts[*fact])
        .filter(|fact| fact.question.is_some())
        .filter(|fact| !advice.known.iter().any(|known| known.fact.key == fact.key))
        .collect();
    if let Some(source) = step.measure {
        let file = new_file(source);
        commands.run.push(measuring(source, &file, arguments));
        commands.run.push(again(with_capture(source, &file)));
        if !tellable.is_empty() {
            commands.or_told = Some(again(with_told(&tellable, step)));
        }
    } else {
        commands.run.push(again(with_told(&tellable, step)));
    }
    commands
}

/// As it was run, but for how it prints.
fn again(more: Vec<String>) -> Vec<String> {
    let given = std::env::args_os().skip(1).map(|one| one.to_string_lossy().into_owned());
    let given = given.filter(|one| one != "--json");
    std::iter::once("runproof".to_owned()).chain(given).chain(more).collect()
}

fn with_told(facts: &[&Fact], step: &Step) -> Vec<String> {
    let each = facts.iter().flat_map(|fact| {
        let by_answer = fact.kind == Kind::YesNo && step.act != Act::Conclude;
        let (option, value) = match &fact.kind {
            Kind::YesNo if by_answer => ("--answer", "ANSWER"),
            Kind::Number { .. } => ("--told", "NUMBER"),
            _ => ("--told", "WORD"),
        };
        [option.to_owned(), format!("{}={value}", fact.key)]
    });
    each.collect()
}

fn with_capture(source: Source, file: &str) -> Vec<String> {
    match source {
        Source::Check | Source::ToEarth => vec!["--check".into(), file.into()],
        Source::LiveAdapter | Source::LivePlate => vec!["--live".into(), file.into()],
    }
}

fn measuring(source: Source, file: &str, arguments: &Next) -> Vec<String> {
    let mut words = match source {
        Source::Check => vec!["runproof", "check"],
        Source::ToEarth => vec!["runproof", "check", "--to-earth"],
        Source::LiveAdapter => vec!["runproof", "live", "--at", "adapter"],
        Source::LivePlate => vec!["runproof", "live", "--at", "plate"],
    };
    let sheet = arguments.against.sheet();
    if sheet != USUAL_SHEET {
        words.extend(["--sheet", sheet]);
    }
    words.extend(["--save", file]);
    words.into_iter().map(str::to_owned).collect()
}

/// A name that no file here has.
fn new_file(source: Source) -> String {
    let stem = match source {
        Source::Check => "check",
        Source::ToEarth => "to-earth",
        Source::LiveAdapter => "adapter",
        Source::LivePlate => "plate",
    };
    let names = (1_u32..).map(|number| format!("{stem}-{number}.jsonl"));
    names.into_iter().find(|name| !Path::new(name).exists()).unwrap_or_else(|| stem.to_owned())
}

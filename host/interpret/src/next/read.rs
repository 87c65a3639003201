//! Reads a file of steps: what it says must be something, and its walk must end.

mod facts;
mod names;
mod sheets;
mod steps;
mod stops;
mod touches;
mod whens;

use toml::Spanned;

use self::names::Names;
use super::condition::When;
use super::{BYTES_MAX, Fact, Source, Steps, StepsError, text, walk};

/// Everything but the walk.
pub(super) fn read_only(text: &str) -> Result<Steps, StepsError> {
    one(text, &[], |_| Ok(walk::Walked::default()))
}

/// With the walk.
pub(super) fn read(text: &str, own_sheets: &[&str]) -> Result<Steps, StepsError> {
    one(text, own_sheets, walk::walk)
}

fn one(
    text: &str,
    own_sheets: &[&str],
    walk: impl FnOnce(&Steps) -> Result<walk::Walked, walk::Wrong>,
) -> Result<Steps, StepsError> {
    if text.len() > BYTES_MAX {
        return Err(StepsError::whole(format!("more than {BYTES_MAX} bytes")));
    }
    let file: text::Steps =
        toml::from_str(text).map_err(|error| StepsError::parsing(text, &error))?;
    let at = At(text);
    let (mut facts, untils) = facts::read(at, file.fact)?;
    let keys =
        Names::of(at, "key", "fact", facts.iter().map(|(key, fact)| (key, fact.key.as_str())))?;
    let whens = whens::Whens { at, keys: &keys, facts: &facts };
    let named: Vec<_> = file.suspect.iter().map(|one| &one.get_ref().name).collect();
    let named = named.into_iter().map(|name| (name, name.get_ref().as_str()));
    let suspect_names = Names::of(at, "name", "suspect", named)?;
    let suspects = steps::suspects(at, &whens, &file.suspect)?;
    let named: Vec<_> = file.step.iter().map(|one| &one.get_ref().name).collect();
    let named = named.into_iter().map(|name| (name, name.get_ref().as_str()));
    let step_names = Names::of(at, "name", "step", named)?;
    let source = at.words("source", &file.source)?;
    let steps = steps::steps(at, &whens, &suspect_names, &file.step, &source)?;
    let (untils, nevers) = (whens.untils(&untils)?, whens.nevers(&file.never)?);
    let each = suspects.iter().map(|one| &one.ruled_out).chain(steps.iter().map(|one| &one.when));
    let each = each.chain(nevers.iter().map(|one| &one.when)).flat_map(When::conditions);
    whens::thresholds(&mut facts, each.chain(untils.iter().flatten()));
    for ((_, fact), until) in facts.iter_mut().zip(untils) {
        fact.until = until;
    }
    let steps = Steps {
        name: at.words("name", &file.name)?,
        version: at.words("version", &file.version)?,
        about: file.about,
        sheets: sheets::read(at, &file.sheets, own_sheets)?,
        facts: facts.iter().map(|(_, fact)| fact.clone()).collect(),
        nevers,
        suspects,
        steps,
        walked: walk::Walked::default(),
    };
    let live: Vec<&str> =
        steps.facts.iter().filter(|fact| is_live(fact)).map(|fact| fact.key.as_str()).collect();
    for (step, text) in steps.steps.iter().zip(&file.step) {
        touches::check(at, text.get_ref(), step, &live)?;
    }
    stops::check(at, &steps, &file.step)?;
    if let Some(idle) = (0..facts.len()).find(|fact| !is_used(&steps, *fact)) {
        let (key, fact) = &facts[idle];
        let reason = format!("nothing depends on `{}`: no condition has it", fact.key);
        return Err(at.wrong("key", key, reason));
    }
    let walked = walk(&steps).map_err(|found| {
        let place = found.step.unwrap_or(steps.steps.len() - 1);
        at.wrong("name", step_names.spans[place], found.reason)
    })?;
    Ok(Steps { walked, ..steps })
}

fn is_live(fact: &Fact) -> bool {
    matches!(fact.measured, Some((Source::LiveAdapter | Source::LivePlate, _)))
}

fn is_used(steps: &Steps, fact: usize) -> bool {
    let whens = steps.steps.iter().map(|step| &step.when);
    let whens = whens.chain(steps.suspects.iter().map(|suspect| &suspect.ruled_out));
    let untils = steps.facts.iter().flat_map(|one| &one.until);
    whens.flat_map(When::conditions).chain(untils).any(|one| one.fact == fact)
}

/// The text that errors point into.
#[derive(Clone, Copy)]
struct At<'a>(&'a str);

impl At<'_> {
    /// An error at a value, of this key.
    fn wrong<T>(self, key: &str, at: &Spanned<T>, reason: impl Into<String>) -> StepsError {
        let line = StepsError::at(self.0, at.span().start, reason);
        StepsError { key: Some(key.to_owned()), ..line }
    }

    /// A key that a table lacks.
    fn missing<T>(self, key: &str, table: &Spanned<T>) -> StepsError {
        StepsError::missing(self.0, table.span().start, key)
    }

    /// A text that says something.
    fn words(self, key: &str, text: &Spanned<String>) -> Result<String, StepsError> {
        if text.get_ref().trim().is_empty() {
            return Err(self.wrong(key, text, "must say something"));
        }
        Ok(text.get_ref().clone())
    }
}

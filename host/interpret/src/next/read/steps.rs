//! Steps and suspects, as a file has them.

use toml::Spanned;

use super::At;
use super::names::Names;
use super::whens::Whens;
use crate::next::{Act, Bench, Hands, Source, Step, StepsError, Suspect, text};

pub(super) fn suspects(
    at: At<'_>,
    whens: &Whens<'_>,
    suspects: &[Spanned<text::Suspect>],
) -> Result<Vec<Suspect>, StepsError> {
    let each = suspects.iter().map(|table| {
        let one = table.get_ref();
        if one.all.is_empty() && one.any.is_empty() {
            let reason = "needs `all` or `any`: what rules it out";
            return Err(at.wrong("name", &one.name, reason));
        }
        let (name, text) = (one.name.get_ref().clone(), at.words("text", &one.text)?);
        Ok(Suspect { name, text, ruled_out: whens.when(&one.all, &one.any)? })
    });
    each.collect()
}

pub(super) fn steps(
    at: At<'_>,
    whens: &Whens<'_>,
    suspects: &Names<'_>,
    steps: &[Spanned<text::Step>],
    source: &str,
) -> Result<Vec<Step>, StepsError> {
    let mut read: Vec<Step> = vec![];
    for table in steps {
        read.push(one(at, whens, suspects, table.get_ref(), source)?);
    }
    match steps.last().zip(read.last()) {
        None => Err(StepsError::whole("there is no step")),
        Some((table, last)) if !last.is_end() || last.when.conditions().next().is_some() => {
            let reason = "the last step must be an end without conditions: it is what is said when \
                          nothing else is left, in whatever order things are told";
            Err(at.wrong("name", &table.get_ref().name, reason))
        }
        Some(_) => Ok(read),
    }
}

fn one(
    at: At<'_>,
    whens: &Whens<'_>,
    suspects: &Names<'_>,
    step: &text::Step,
    source: &str,
) -> Result<Step, StepsError> {
    let (act, text) = match (&step.ask, &step.act, &step.conclude) {
        (Some(fact), None, None) => (Act::Ask, fact),
        (None, Some(text), None) => (Act::Do, text),
        (None, None, Some(text)) => (Act::Conclude, text),
        _ => return Err(at.wrong("name", &step.name, "needs one of `ask`, `do` and `conclude`")),
    };
    belongs(at, act, step)?;
    let mut settles = whens.keys.places("settles", &step.settles)?;
    let mut said = at.words("do", text)?;
    if act == Act::Ask {
        let fact = whens.keys.place("ask", text, text.get_ref())?;
        let Some(question) = &whens.facts[fact].1.question else {
            return Err(at.wrong("ask", text, format!("`{said}` has no `question`")));
        };
        said.clone_from(question);
        settles = vec![fact];
    }
    let measure = step.measure.as_ref().map(|source| *source.get_ref());
    for (fact, named) in settles.iter().zip(&step.settles) {
        let fact = &whens.facts[*fact].1;
        let is_measured = fact.measured.is_some_and(|(by, _)| Some(by) == measure);
        if fact.question.is_none() && !is_measured {
            let reason = format!(
                "this step would be given for ever: it does not measure `{}`, and that has no `question`",
                fact.key
            );
            return Err(at.wrong("settles", named, reason));
        }
    }
    let said_or =
        |key, text: &Option<text::Words>| text.as_ref().map(|text| at.words(key, text)).transpose();
    Ok(Step {
        name: step.name.get_ref().clone(),
        act,
        text: said,
        settles,
        measure,
        tell: said_or("tell", &step.tell)?,
        hands: step.hands.as_ref().map(|hands| *hands.get_ref()).unwrap_or_default(),
        bench: of_bench(&step.bench),
        leaves: of_bench(&step.leaves),
        remedy: remedy(at, act, step)?,
        again: again(at, act, step)?,
        caution: said_or("caution", &step.caution)?,
        wiring: step.wiring.as_ref().map(|wiring| *wiring.get_ref()),
        blames: suspects.places("blames", &step.blames)?,
        rules_out: suspects.places("rules_out", &step.rules_out)?,
        source: said_or("source", &step.source)?.unwrap_or_else(|| source.to_owned()),
        when: whens.when(&step.all, &step.any)?,
    })
}

fn of_bench(bench: &Option<Spanned<Bench>>) -> Bench {
    bench.as_ref().map(|bench| *bench.get_ref()).unwrap_or_default()
}

/// Only a dead check says how what it found is put right.
fn remedy(at: At<'_>, act: Act, step: &text::Step) -> Result<Vec<Source>, StepsError> {
    for one in &step.remedy {
        if !matches!(one.get_ref(), Source::Check | Source::ToEarth) || act == Act::Ask {
            let reason = "is \"check\" or \"to-earth\", of a step with `do` or `conclude`";
            return Err(at.wrong("remedy", one, reason));
        }
    }
    Ok(step.remedy.iter().map(|one| *one.get_ref()).collect())
}

/// Nothing is measured again once something follows it.
fn again(at: At<'_>, act: Act, step: &text::Step) -> Result<Option<Source>, StepsError> {
    let Some(again) = &step.again else { return Ok(None) };
    let keeps_off = step.hands.as_ref().is_some_and(|one| *one.get_ref() == Hands::KeepOff);
    if act == Act::Ask || !step.settles.is_empty() || keeps_off {
        let reason = "is for an end at which hands may be on";
        return Err(at.wrong("again", again, reason));
    }
    Ok(Some(*again.get_ref()))
}

/// Every kind of step has its own keys.
fn belongs(at: At<'_>, act: Act, step: &text::Step) -> Result<(), StepsError> {
    let of_do = [("settles", step.settles.first()), ("tell", step.tell.as_ref())];
    let of_conclusion = [("blames", step.blames.first()), ("rules_out", step.rules_out.first())];
    let (others, kind) = match act {
        Act::Conclude => (&of_do[..], "do"),
        Act::Do => (&of_conclusion[..], "conclude"),
        Act::Ask => (&of_do[..], "do"),
    };
    if let Some((key, there)) = others.iter().find_map(|(key, there)| Some((key, (*there)?))) {
        return Err(at.wrong(key, there, format!("is for a step with `{kind}`")));
    }
    if let Some(measure) = step.measure.as_ref().filter(|_| act != Act::Do) {
        return Err(at.wrong("measure", measure, "is for a step with `do`"));
    }
    if let Some(wiring) = step.wiring.as_ref().filter(|_| act != Act::Conclude) {
        return Err(at.wrong("wiring", wiring, "is for a step with `conclude`"));
    }
    if let Some(measure) = step.measure.as_ref().filter(|_| step.settles.is_empty()) {
        return Err(at.wrong("measure", measure, "needs `settles`: what is known after it"));
    }
    match (act, &step.hands, &step.wiring) {
        (Act::Do, None, _) => {
            let reason = "needs `hands`: \"none\", \"live\", \"wires\", \"pair\" or \"keep-off\"";
            Err(at.wrong("name", &step.name, reason))
        }
        (Act::Do, Some(hands), _)
            if !step.settles.is_empty() && *hands.get_ref() == Hands::KeepOff =>
        {
            Err(at.wrong("hands", hands, "\"keep-off\" is for an end: nothing may follow it"))
        }
        (Act::Do, _, _) if !step.settles.is_empty() && step.tell.is_none() => {
            Err(at.wrong("name", &step.name, "needs `tell`: how its outcome is told"))
        }
        (Act::Conclude, _, None) => {
            let reason = "needs `wiring`: \"at-fault\", \"cleared\" or \"undecided\"";
            Err(at.wrong("name", &step.name, reason))
        }
        _ => Ok(()),
    }
}

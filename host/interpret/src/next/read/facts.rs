//! Facts, as a file has them.

use toml::Spanned;

use super::At;
use crate::next::readings::Can;
use crate::next::{Fact, Kind, Source, StepsError, near, text};

/// Each with its key as it stands.
pub(super) type Facts = Vec<(Spanned<String>, Fact)>;

type Less = Option<Spanned<[text::Words; 2]>>;

pub(super) fn read(at: At<'_>, facts: Vec<Spanned<text::Fact>>) -> Result<Facts, StepsError> {
    let (mut read, mut less): (Facts, Vec<Less>) = (vec![], vec![]);
    for fact in facts {
        let ((key, of), fact) = one(at, fact)?;
        read.push((key, fact));
        less.push(of);
    }
    for (place, of) in less.iter().enumerate() {
        let Some(of) = of else { continue };
        let [one, other] = of.get_ref();
        let places = [term(at, &read, place, one)?, term(at, &read, place, other)?];
        read[place].1.less = Some(places);
    }
    Ok(read)
}

/// A number in the same unit, that is no difference itself.
fn term(at: At<'_>, read: &Facts, of: usize, key: &text::Words) -> Result<usize, StepsError> {
    let unit = |fact: &Fact| match &fact.kind {
        Kind::Number { unit, .. } => Some(unit.clone()),
        _ => None,
    };
    let term = read.iter().position(|(one, _)| one.get_ref() == key.get_ref());
    match term.filter(|term| *term != of).map(|term| (term, &read[term].1)) {
        Some((term, fact)) if fact.can_be_given() && unit(fact) == unit(&read[of].1) => Ok(term),
        _ => {
            let reason = format!(
                "`{}` is no number in the same unit that is measured or told: name two such facts",
                key.get_ref()
            );
            Err(at.wrong("less", key, reason))
        }
    }
}

fn one(
    at: At<'_>,
    table: Spanned<text::Fact>,
) -> Result<((Spanned<String>, Less), Fact), StepsError> {
    let fact = table.get_ref();
    let kind = kind(at, &table)?;
    let measured = fact.measured.as_ref().map(|text| reading(at, text, &kind)).transpose()?;
    let question = fact.question.as_ref().map(|text| at.words("question", text)).transpose()?;
    let other = question.is_some() || measured.is_some();
    match &fact.less {
        Some(less) if other || !matches!(kind, Kind::Number { .. }) => {
            let reason = "is for a number alone that has neither `measured` nor `question`";
            return Err(at.wrong("less", less, reason));
        }
        None if !other => {
            let reason = "nobody can give it: it needs `measured`, `question` or both, or `less`";
            return Err(at.wrong("key", &fact.key, reason));
        }
        _ => {}
    }
    let about = at.words("about", &fact.about)?;
    let key = fact.key.get_ref().clone();
    let read = Fact { key, about, kind, measured, less: None, question, thresholds: vec![] };
    let table = table.into_inner();
    Ok(((table.key, table.less), read))
}

fn kind(at: At<'_>, table: &Spanned<text::Fact>) -> Result<Kind, StepsError> {
    let fact = table.get_ref();
    let is = *fact.kind.get_ref();
    let no_values = fact.values.as_ref().filter(|_| is != text::Kind::Outcome);
    if let Some(values) = no_values {
        return Err(at.wrong("values", values, "is for the kind \"outcome\" alone"));
    }
    let number = [("least", &fact.least), ("most", &fact.most)];
    if is != text::Kind::Number {
        if let Some((key, one)) =
            number.into_iter().find_map(|(key, one)| Some((key, one.as_ref()?)))
        {
            return Err(at.wrong(key, one, "is for the kind \"number\" alone"));
        }
        if let Some(unit) = &fact.unit {
            return Err(at.wrong("unit", unit, "is for the kind \"number\" alone"));
        }
    }
    match is {
        text::Kind::YesNo => Ok(Kind::YesNo),
        text::Kind::Outcome => outcome(at, table),
        text::Kind::Number => {
            let unit = fact.unit.as_ref().ok_or_else(|| at.missing("unit", table))?;
            let least = fact.least.as_ref().ok_or_else(|| at.missing("least", table))?;
            let most = fact.most.as_ref().ok_or_else(|| at.missing("most", table))?;
            for (key, bound) in [("least", least), ("most", most)] {
                if !bound.get_ref().is_finite() {
                    return Err(at.wrong(key, bound, "must be a number"));
                }
            }
            if least.get_ref() >= most.get_ref() {
                return Err(at.wrong("most", most, "must be above `least`"));
            }
            let unit = at.words("unit", unit)?;
            Ok(Kind::Number { unit, least: *least.get_ref(), most: *most.get_ref() })
        }
    }
}

fn outcome(at: At<'_>, table: &Spanned<text::Fact>) -> Result<Kind, StepsError> {
    let values = table.get_ref().values.as_ref().ok_or_else(|| at.missing("values", table))?;
    let words = values.get_ref();
    let is_plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    let fits = |word: &String| {
        !word.is_empty() && word.chars().all(is_plain) && word != "unknown" && word != "not"
    };
    let twice = words.iter().enumerate().any(|(at, word)| words[..at].contains(word));
    if words.len() < 2 || twice || !words.iter().all(fits) {
        let reason = "must be two words or more, each once, of small letters, digits and hyphens; \
                      \"unknown\" is understood";
        return Err(at.wrong("values", values, reason));
    }
    Ok(Kind::Outcome(words.clone()))
}

fn reading(
    at: At<'_>,
    text: &Spanned<String>,
    kind: &Kind,
) -> Result<(Source, &'static str), StepsError> {
    let name = text.get_ref();
    let Some((source, reading, can)) = Source::reading(name) else {
        let all = Source::all_readings();
        let near = near::told(&near::near(name, all.iter().map(String::as_str)));
        let all = all.join(", ");
        return Err(at.wrong(
            "measured",
            text,
            format!("no capture tells `{name}`{near}; there are {all}"),
        ));
    };
    let (fits, needs) = match (can, kind) {
        (Can::Words(words), kind) => {
            let has = kind.words();
            (words.iter().all(|word| has.contains(word)), words.join(", "))
        }
        (Can::Volts, Kind::Number { unit, .. }) => (unit == "V", "a number in V".into()),
        (Can::Volts, _) => (false, "a number in V".into()),
    };
    if !fits {
        return Err(at.wrong(
            "measured",
            text,
            format!("`{name}` is {needs}, and this fact cannot be that"),
        ));
    }
    Ok((source, reading))
}

//! Facts, as a file has them.

use toml::Spanned;

use super::At;
use crate::next::readings::Can;
use crate::next::{Fact, Kind, Source, StepsError, near, text};

/// Each with its key as it stands.
pub(super) type Facts = Vec<(Spanned<String>, Fact)>;

/// Of each fact, until what it counts.
pub(super) type Untils = Vec<Vec<text::Words>>;

/// What of a fact names others.
struct Others {
    less: Option<Spanned<[text::Words; 2]>>,
    earlier: Option<text::Words>,
}

pub(super) fn read(
    at: At<'_>,
    facts: Vec<Spanned<text::Fact>>,
) -> Result<(Facts, Untils), StepsError> {
    let (mut read, mut others, mut untils): (Facts, Vec<Others>, Untils) = (vec![], vec![], vec![]);
    for fact in facts {
        untils.push(fact.get_ref().until.clone());
        let (key, of, fact) = one(at, fact)?;
        read.push((key, fact));
        others.push(of);
    }
    for (place, of) in others.iter().enumerate() {
        if let Some(less) = &of.less {
            let [one, other] = less.get_ref();
            let places = [term(at, &read, place, one)?, term(at, &read, place, other)?];
            read[place].1.less = Some(places);
        }
        if let Some(earlier) = &of.earlier {
            read[place].1.earlier = Some(before(at, &read, place, earlier)?);
        }
    }
    Ok((read, untils))
}

/// A fact that is given, and can be the same.
fn before(at: At<'_>, read: &Facts, of: usize, key: &text::Words) -> Result<usize, StepsError> {
    let place = read.iter().position(|(one, _)| one.get_ref() == key.get_ref());
    let fits =
        |place: &usize| read[*place].1.can_be_given() && read[*place].1.kind == read[of].1.kind;
    place.filter(fits).ok_or_else(|| {
        let reason = format!(
            "`{}` is no fact that is measured or told and can be the same as this one: name such a fact",
            key.get_ref()
        );
        at.wrong("earlier", key, reason)
    })
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
) -> Result<(Spanned<String>, Others, Fact), StepsError> {
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
        None if !other && fact.earlier.is_none() => {
            let reason = "nobody can give it: it needs `measured`, `question` or both, or `less` or `earlier`";
            return Err(at.wrong("key", &fact.key, reason));
        }
        _ => {}
    }
    if let Some(earlier) = fact.earlier.as_ref().filter(|_| other || fact.less.is_some()) {
        let reason = "is for a fact alone that has neither `measured` nor `question` nor `less`";
        return Err(at.wrong("earlier", earlier, reason));
    }
    let about = at.words("about", &fact.about)?;
    let key = fact.key.get_ref().clone();
    let read = Fact {
        key,
        about,
        kind,
        measured,
        less: None,
        earlier: None,
        until: vec![],
        question,
        thresholds: vec![],
    };
    let table = table.into_inner();
    Ok((table.key, Others { less: table.less, earlier: table.earlier }, read))
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

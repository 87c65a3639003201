//! Conditions, as a file has them: "supply-plate below 20".

use toml::Spanned;

use super::At;
use super::facts::Facts;
use super::names::Names;
use crate::next::condition::{Condition, Test, When};
use crate::next::{Kind, Never, StepsError, Value, text};

/// What conditions can be about.
pub(super) struct Whens<'a> {
    pub(super) at: At<'a>,
    pub(super) keys: &'a Names<'a>,
    pub(super) facts: &'a Facts,
}

const FORM: &str = "must be like \"FACT is VALUE\", \"FACT is not VALUE\", \"FACT is unknown\", \
                    \"FACT below NUMBER\" or \"FACT above NUMBER\"";

impl Whens<'_> {
    pub(super) fn when(
        &self,
        all: &[Spanned<String>],
        any: &[Spanned<String>],
    ) -> Result<When, StepsError> {
        let read = |key, texts: &[Spanned<String>]| {
            texts.iter().map(|text| self.condition(key, text)).collect::<Result<Vec<_>, _>>()
        };
        Ok(When { all: read("all", all)?, any: read("any", any)? })
    }

    /// Of each fact, until what it counts: never by itself.
    pub(super) fn untils(
        &self,
        untils: &[Vec<Spanned<String>>],
    ) -> Result<Vec<Vec<Condition>>, StepsError> {
        let each = untils.iter().enumerate().map(|(fact, texts)| {
            let read = texts.iter().map(|text| {
                let one = self.condition("until", text)?;
                if one.fact == fact || self.facts[one.fact].1.less.is_some() {
                    let reason = "must be about another fact, one that is measured or told";
                    return Err(self.at.wrong("until", text, reason));
                }
                Ok(one)
            });
            read.collect()
        });
        each.collect()
    }

    /// What cannot be together.
    pub(super) fn nevers(&self, nevers: &[Spanned<text::Never>]) -> Result<Vec<Never>, StepsError> {
        let each = nevers.iter().map(|table| {
            let one = table.get_ref();
            let when = self.when(&one.all, &[])?;
            let drops = self.keys.place("drops", &one.drops, one.drops.get_ref())?;
            if !when.all.iter().any(|of| of.fact == drops && of.test != Test::Unknown) {
                let reason = "must be one of the facts in `all`, which is known there";
                return Err(self.at.wrong("drops", &one.drops, reason));
            }
            Ok(Never { text: self.at.words("text", &one.text)?, drops, when })
        });
        each.collect()
    }

    fn condition(&self, key: &str, text: &Spanned<String>) -> Result<Condition, StepsError> {
        let words: Vec<&str> = text.get_ref().split_whitespace().collect();
        let [name, rest @ ..] = words.as_slice() else {
            return Err(self.at.wrong(key, text, FORM));
        };
        let fact = self.keys.place(key, text, name)?;
        let kind = &self.facts[fact].1.kind;
        let word = |word: &str| match (kind, kind.value(word)) {
            (_, Some(Value::Word(place))) => Ok(place),
            (Kind::Number { .. }, _) => {
                let reason = format!("`{name}` is a number: say \"below\" or \"above\"");
                Err(self.at.wrong(key, text, reason))
            }
            _ => {
                let reason = format!("`{name}` cannot be `{word}`: it is {}", kind.expected());
                Err(self.at.wrong(key, text, reason))
            }
        };
        let number = |number: &str| match (kind, number.parse::<f64>()) {
            (Kind::Number { least, most, .. }, Ok(at)) if (*least..=*most).contains(&at) => Ok(at),
            _ => {
                let reason =
                    format!("`{name}` has no side of `{number}`: it is {}", kind.expected());
                Err(self.at.wrong(key, text, reason))
            }
        };
        let test = match rest {
            ["is", "unknown"] => Test::Unknown,
            ["is", "not", is_not] => Test::IsNot(word(is_not)?),
            ["is", is] => Test::Is(word(is)?),
            ["below", at] => Test::Below(number(at)?),
            ["above", at] => Test::Above(number(at)?),
            _ => return Err(self.at.wrong(key, text, FORM)),
        };
        Ok(Condition { fact, test })
    }
}

/// Where conditions on each fact turn.
pub(super) fn thresholds<'a>(facts: &mut Facts, conditions: impl Iterator<Item = &'a Condition>) {
    for one in conditions {
        if let Test::Below(at) | Test::Above(at) = one.test {
            let known = &mut facts[one.fact].1.thresholds;
            if !known.contains(&at) {
                known.push(at);
                known.sort_by(f64::total_cmp);
            }
        }
    }
}

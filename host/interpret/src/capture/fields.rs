//! The values of one line by key, with errors that name line and key.

use runproof_protocol::Post;
use serde_json::{Map, Value};

use super::{CaptureError, FlexEntry, Reason};
use crate::declared::Declared;

/// The keys and values of a line, or of an object inside it.
pub(super) struct Fields<'a> {
    line: usize,
    inside: &'static str,
    map: &'a Map<String, Value>,
}

impl<'a> Fields<'a> {
    pub(super) fn new(line: usize, map: &'a Map<String, Value>) -> Self {
        Self { line, inside: "", map }
    }

    pub(super) fn has(&self, key: &str) -> bool {
        self.map.contains_key(key)
    }

    pub(super) fn error(&self, key: &str, reason: Reason) -> CaptureError {
        let dot = if self.inside.is_empty() { "" } else { "." };
        let key = format!("{}{dot}{key}", self.inside);
        CaptureError { line: self.line, key: Some(key), reason }
    }

    /// The value of a key, as far as `parse` accepts it.
    fn get<T>(
        &self,
        key: &str,
        expected: &'static str,
        parse: impl FnOnce(&'a Value) -> Option<T>,
    ) -> Result<T, CaptureError> {
        let value = self.map.get(key).ok_or_else(|| self.error(key, Reason::Missing))?;
        parse(value).ok_or_else(|| self.error(key, Reason::WrongKind { expected }))
    }

    pub(super) fn object(&self, key: &'static str) -> Result<Fields<'a>, CaptureError> {
        let map = self.get(key, "an object", Value::as_object)?;
        Ok(Fields { line: self.line, inside: key, map })
    }

    /// A text; empty where the key is missing.
    pub(super) fn text_or_empty(&self, key: &str) -> Result<String, CaptureError> {
        if !self.has(key) {
            return Ok(String::new());
        }
        self.get(key, "text", Value::as_str).map(str::to_owned)
    }

    /// One of a few words.
    pub(super) fn one_of<T>(
        &self,
        key: &str,
        expected: &'static str,
        parse: impl FnOnce(&'a str) -> Option<T>,
    ) -> Result<T, CaptureError> {
        self.get(key, expected, |value| value.as_str().and_then(parse))
    }

    /// A number that `parse` accepts.
    pub(super) fn number<T>(
        &self,
        key: &str,
        expected: &'static str,
        parse: impl FnOnce(f64) -> Option<T>,
    ) -> Result<T, CaptureError> {
        self.get(key, expected, |value| value.as_f64().and_then(parse))
    }

    /// A whole number that `parse` accepts.
    pub(super) fn whole_as<T>(
        &self,
        key: &str,
        expected: &'static str,
        parse: impl FnOnce(u64) -> Option<T>,
    ) -> Result<T, CaptureError> {
        self.get(key, expected, |value| value.as_u64().and_then(parse))
    }

    /// Times; null is none.
    pub(super) fn micros(&self, key: &str) -> Result<Vec<Option<u16>>, CaptureError> {
        self.get(key, "a list of times in whole µs, null for none", |value| {
            let times = value.as_array()?.iter().map(|time| match time {
                Value::Null => Some(None),
                time => time.as_u64().and_then(|time| time.try_into().ok()).map(Some),
            });
            times.collect()
        })
    }

    pub(super) fn whole(&self, key: &str) -> Result<u64, CaptureError> {
        self.get(key, "a whole number, not negative", Value::as_u64)
    }

    pub(super) fn whole_u32(&self, key: &str) -> Result<u32, CaptureError> {
        self.whole_as(key, "a whole number below 4 294 967 296", |number| number.try_into().ok())
    }

    /// A number; `usual` where the key is missing.
    pub(super) fn number_or(
        &self,
        key: &str,
        expected: &'static str,
        usual: f64,
    ) -> Result<f64, CaptureError> {
        if self.has(key) { self.number(key, expected, Some) } else { Ok(usual) }
    }

    pub(super) fn four(&self, key: &str, expected: &'static str) -> Result<[f64; 4], CaptureError> {
        self.get(key, expected, |value| {
            let numbers: Option<Vec<f64>> = value.as_array()?.iter().map(Value::as_f64).collect();
            numbers?.try_into().ok()
        })
    }

    pub(super) fn two_posts(&self, key: &str) -> Result<[Post; 2], CaptureError> {
        self.get(key, "two different posts, 1 to 4", |value| {
            let post = |value: &Value| Post::from_number(value.as_u64()?.try_into().ok()?);
            let posts: Option<Vec<Post>> = value.as_array()?.iter().map(post).collect();
            let [a, b] = posts?.try_into().ok()?;
            (a != b).then_some([a, b])
        })
    }

    /// Resistances, none below nothing; null is infinite.
    pub(super) fn six_ohms(&self, key: &str) -> Result<[Option<f64>; 6], CaptureError> {
        self.get(key, "six resistances in ohms, null where no current passes", |value| {
            let ohms = value.as_array()?.iter().map(|ohm| match ohm {
                Value::Null => Some(None),
                ohm => ohm.as_f64().filter(|ohm| *ohm >= 0.0).map(Some),
            });
            ohms.collect::<Option<Vec<_>>>()?.try_into().ok()
        })
    }

    /// Six numbers that all hold.
    pub(super) fn six(
        &self,
        key: &str,
        expected: &'static str,
        holds: impl Fn(f64) -> bool,
    ) -> Result<[f64; 6], CaptureError> {
        self.get(key, expected, |value| {
            let numbers = value.as_array()?.iter();
            let numbers: Option<Vec<f64>> =
                numbers.map(|one| one.as_f64().filter(|one| holds(*one))).collect();
            numbers?.try_into().ok()
        })
    }

    /// What was declared of a reel.
    pub(super) fn reel(&self, key: &str) -> Result<Declared, CaptureError> {
        const EXPECTED: &str =
            "what was declared of a reel, each of a kind and a size that a reel can have";
        self.get(key, EXPECTED, |value| {
            let declared: Declared = serde_json::from_value(value.clone()).ok()?;
            declared.impossible().is_none().then_some(declared)
        })
    }

    /// A piece of a watch of a flexed run, under its key.
    pub(super) fn flex(&self, key: &'static str) -> Result<FlexEntry, CaptureError> {
        self.get(key, FlexEntry::EXPECTED, |value| {
            let whole = Map::from_iter([(key.to_owned(), value.clone())]);
            let flex: FlexEntry = serde_json::from_value(Value::Object(whole)).ok()?;
            flex.is_possible().then_some(flex)
        })
    }

    /// Four numbers that all hold.
    pub(super) fn four_that(
        &self,
        key: &str,
        expected: &'static str,
        holds: impl Fn(f64) -> bool,
    ) -> Result<[f64; 4], CaptureError> {
        let four = self.four(key, expected)?;
        match four.iter().all(|one| holds(*one)) {
            true => Ok(four),
            false => Err(self.error(key, super::Reason::WrongKind { expected })),
        }
    }

    pub(super) fn flag(&self, key: &str) -> Result<bool, CaptureError> {
        if !self.has(key) {
            return Ok(false);
        }
        self.get(key, "true or false", Value::as_bool)
    }
}

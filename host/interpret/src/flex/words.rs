//! Phases and lanes as they stand in text.

use std::fmt;

use runproof_protocol::{Phase, Post};
use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::FlexLaneOf;

const PHASES: [(Phase, &str); 4] = [
    (Phase::Flex, "flex"),
    (Phase::FlexShorts, "flex-shorts"),
    (Phase::FlexAcross, "flex-across"),
    (Phase::FlexAlong, "flex-along"),
];

/// The same where there may be none.
pub(crate) fn maybe_phase<S: Serializer>(one: &Option<Phase>, to: S) -> Result<S::Ok, S::Error> {
    match one {
        Some(one) => phase::serialize(one, to),
        None => to.serialize_none(),
    }
}

/// A phase in which a run is flexed, as its word.
pub(super) mod phase {
    use super::{Deserialize, Deserializer, PHASES, Phase, Serializer};

    pub(in crate::flex) fn serialize<S: Serializer>(one: &Phase, to: S) -> Result<S::Ok, S::Error> {
        match PHASES.iter().find(|row| row.0 == *one) {
            Some((_, word)) => to.serialize_str(word),
            None => Err(serde::ser::Error::custom("nothing is flexed in this phase")),
        }
    }

    pub(in crate::flex) fn deserialize<'a, D: Deserializer<'a>>(
        from: D,
    ) -> Result<Phase, D::Error> {
        let word = String::deserialize(from)?;
        let row = PHASES.iter().find(|row| row.1 == word);
        row.map(|row| row.0).ok_or_else(|| serde::de::Error::custom("no phase of a flexed run"))
    }
}

const UNTOLD: &str = "untold";

impl fmt::Display for FlexLaneOf {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Conductor(post) => write!(f, "{post}"),
            Self::Pair(a, b) => write!(f, "{a}-{b}"),
            Self::Untold => f.write_str(UNTOLD),
        }
    }
}

impl FlexLaneOf {
    /// From what [`Display`](fmt::Display) writes.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let post = |text: &str| Post::ALL.into_iter().find(|post| post.to_string() == text);
        match text.split_once('-') {
            None if text == UNTOLD => Some(Self::Untold),
            None => post(text).map(Self::Conductor),
            Some((a, b)) => {
                let pair = (post(a)?, post(b)?);
                (pair.0 < pair.1).then_some(Self::Pair(pair.0, pair.1))
            }
        }
    }
}

impl Serialize for FlexLaneOf {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

impl<'a> Deserialize<'a> for FlexLaneOf {
    fn deserialize<D: Deserializer<'a>>(from: D) -> Result<Self, D::Error> {
        let text = String::deserialize(from)?;
        Self::parse(&text).ok_or_else(|| D::Error::custom("a lane is like 1, 1-3 or untold"))
    }
}

#[test]
fn a_lane_comes_back_from_its_text() {
    let conductors = Post::ALL.map(FlexLaneOf::Conductor);
    let pairs = Post::PAIRS.map(|(a, b)| FlexLaneOf::Pair(a, b));
    for lane in conductors.into_iter().chain(pairs).chain([FlexLaneOf::Untold]) {
        assert_eq!(FlexLaneOf::parse(&lane.to_string()), Some(lane));
    }
    for text in ["", "0", "5", "1-", "1-1", "3-1", "1-5", "1-2-3", "all", " 1"] {
        assert_eq!(FlexLaneOf::parse(text), None, "{text}");
    }
}

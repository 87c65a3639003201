//! From pieces, one after the other, to proofs, and from these to whether a jig was right at a time.

use serde::Serialize;

use super::chart::{Charted, Reading, charted};

/// A known piece, as a jig read it. Times are seconds of any clock.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// When.
    pub at_s: i64,
    /// Which.
    pub name: String,
    /// As it is stated; none: it could not be told, which neither proves nor disproves.
    pub is_as_stated: Option<bool>,
    /// What was read of it, by what it is of.
    pub readings: Vec<Reading>,
}

/// All pieces were read as stated, one shortly after the other.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Proof {
    /// When the last of them was.
    pub at_s: i64,
    /// What was read of all of them.
    pub readings: Vec<Reading>,
}

/// Why a jig is out.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "out", rename_all = "kebab-case")]
pub enum Out {
    /// A piece was read otherwise than is stated.
    Piece {
        /// Which.
        name: String,
    },
    /// A reading is beyond three standard deviations of what it was when its chart was begun (NIST/SEMATECH 6.3.2,
    /// Western Electric's first rule).
    BeyondItsChart {
        /// What it is of.
        of: String,
    },
}

/// Something that says how a jig was.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "event", rename_all = "kebab-case")]
pub enum Event {
    /// It was right.
    Proved {
        /// When.
        at_s: i64,
    },
    /// It was not.
    Out {
        /// When.
        at_s: i64,
        /// Why.
        why: Out,
    },
}

/// How a jig was over time.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct History {
    /// What said so.
    pub events: Events,
    /// The proofs in which every piece was as stated.
    pub proofs: Vec<Proof>,
    /// What was read, and how it keeps.
    pub charts: Vec<Charted>,
    /// Of the proof that is under way: pieces that were as stated.
    pub under_way: Vec<String>,
}

/// Pieces that are further apart are of two proofs. (judgement: measured at one sitting)
const SITTING_S: i64 = 2 * 3600;
/// So long a proof holds. (judgement: a day, as the shop proves its jigs every day)
const HOLDS_S: i64 = 24 * 3600;

impl History {
    /// By the pieces in the order of their times; `all` are the names of those that make a proof.
    #[must_use]
    pub fn of(pieces: &[Piece], all: &[&str]) -> Self {
        let (mut proofs, mut events) = (vec![], vec![]);
        let mut sitting: Vec<&Piece> = vec![];
        for piece in pieces.iter().filter(|piece| all.contains(&piece.name.as_str())) {
            sitting.retain(|one| piece.at_s - one.at_s <= SITTING_S && one.name != piece.name);
            match piece.is_as_stated {
                None => continue,
                Some(true) => sitting.push(piece),
                Some(false) => {
                    sitting.clear();
                    let why = Out::Piece { name: piece.name.clone() };
                    events.push(Event::Out { at_s: piece.at_s, why });
                }
            }
            if sitting.len() == all.len() {
                let readings = sitting.drain(..).flat_map(|one| one.readings.clone()).collect();
                proofs.push(Proof { at_s: piece.at_s, readings });
                events.push(Event::Proved { at_s: piece.at_s });
            }
        }
        let under_way = sitting.iter().map(|one| one.name.clone()).collect();
        let charts = charted(&proofs);
        for chart in &charts {
            for proof in chart.beyond() {
                let why = Out::BeyondItsChart { of: chart.of.clone() };
                let at_s = proofs[proof].at_s;
                events.retain(|event| *event != Event::Proved { at_s });
                events.push(Event::Out { at_s, why });
            }
        }
        Self { events: Events::of(events), proofs, charts, under_way }
    }
}

/// What said something of a jig, the oldest first.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
#[serde(transparent)]
pub struct Events(Vec<Event>);

impl Events {
    /// In whatever order they come.
    #[must_use]
    pub fn of(events: impl IntoIterator<Item = Event>) -> Self {
        let mut all: Vec<Event> = events.into_iter().collect();
        all.sort_by_key(Event::at_s);
        Self(all)
    }

    /// All of them.
    #[must_use]
    pub fn all(&self) -> &[Event] {
        &self.0
    }

    /// Whether the jig was right when it measured something: it was proved not more than a day before, and whatever says
    /// something of it next does not say that it is out.
    #[must_use]
    pub fn was_right(&self, at_s: i64) -> bool {
        let after = self.0.partition_point(|event| event.at_s() <= at_s);
        let is_out = |event: &&Event| event.at_s() == at_s && matches!(event, Event::Out { .. });
        if self.0[..after]
            .iter()
            .rev()
            .take_while(|event| event.at_s() == at_s)
            .any(|one| is_out(&one))
        {
            return false;
        }
        let before = after.checked_sub(1).map(|last| &self.0[last]);
        let proved =
            matches!(before, Some(Event::Proved { at_s: proved }) if at_s - proved <= HOLDS_S);
        proved && !matches!(self.0.get(after), Some(Event::Out { .. }))
    }

    /// The last thing that says something of it.
    #[must_use]
    pub fn last(&self) -> Option<&Event> {
        self.0.last()
    }

    /// When it was last found out, between which two proofs: nothing that it measured there is certain. Either may be missing.
    #[must_use]
    pub fn last_doubt_s(&self) -> Option<(Option<i64>, Option<i64>)> {
        let is_proved = |event: &&Event| matches!(event, Event::Proved { .. });
        let last = self.0.iter().rposition(|event| matches!(event, Event::Out { .. }))?;
        let before = self.0[..last].iter().rev().find(is_proved).map(Event::at_s);
        let after = self.0[last..].iter().find(is_proved).map(Event::at_s);
        Some((before, after))
    }

    /// When it was last proved: since then nothing that it measured is certain, if it is out now.
    #[must_use]
    pub fn last_proved_s(&self) -> Option<i64> {
        let proved = |event: &Event| matches!(event, Event::Proved { .. }).then(|| event.at_s());
        self.0.iter().rev().find_map(proved)
    }

    /// Until when its last proof holds.
    #[must_use]
    pub fn due_s(&self) -> Option<i64> {
        self.last_proved_s().map(|at_s| at_s + HOLDS_S)
    }
}

impl IntoIterator for Events {
    type Item = Event;
    type IntoIter = std::vec::IntoIter<Event>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}

impl Event {
    /// When.
    #[must_use]
    pub fn at_s(&self) -> i64 {
        match self {
            Self::Proved { at_s } | Self::Out { at_s, .. } => *at_s,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: [&str; 2] = ["good", "open"];
    const DAY: i64 = 24 * 3600;

    fn piece(at_s: i64, name: &str, is_as_stated: Option<bool>) -> Piece {
        Piece { at_s, name: name.into(), is_as_stated, readings: vec![] }
    }

    fn proved(at_s: i64) -> Vec<Piece> {
        vec![piece(at_s - 60, "good", Some(true)), piece(at_s, "open", Some(true))]
    }

    #[test]
    fn a_proof_takes_every_piece_at_one_sitting() {
        let history = |pieces: &[Piece]| History::of(pieces, &ALL).events.all().to_vec();
        assert_eq!(history(&proved(1000)), [Event::Proved { at_s: 1000 }]);
        assert_eq!(history(&proved(1000)[..1]), []);
        let apart = [piece(0, "good", Some(true)), piece(7201, "open", Some(true))];
        assert_eq!(history(&apart), []);
        let twice = [piece(0, "good", Some(true)), piece(60, "good", Some(true))];
        assert_eq!(history(&twice), []);
        let unsure = [piece(0, "good", None), piece(60, "open", Some(true))];
        assert_eq!(history(&unsure), []);
        let other = [piece(0, "good", Some(true)), piece(60, "mine", Some(true))];
        assert_eq!(History::of(&other, &ALL).under_way, ["good"]);
    }

    #[test]
    fn a_piece_that_reads_otherwise_undoes_what_was_begun() {
        let pieces = [
            piece(0, "good", Some(true)),
            piece(60, "open", Some(false)),
            piece(120, "open", Some(true)),
        ];
        let history = History::of(&pieces, &ALL);
        let why = Out::Piece { name: "open".into() };
        assert_eq!(history.events.all(), [Event::Out { at_s: 60, why }]);
        assert_eq!(history.events.last_proved_s(), None);
    }

    #[test]
    fn a_jig_was_right_between_two_proofs_and_for_a_day_after_the_last() {
        let pieces = [proved(1000), proved(1000 + DAY / 2)].concat();
        let history = History::of(&pieces, &ALL);
        let right = |at_s: i64| history.events.was_right(at_s);
        assert!(!right(999), "before its first proof nobody knows");
        assert!(right(1001) && right(1000 + DAY / 2) && right(1000 + DAY / 2 + DAY));
        assert!(!right(1001 + DAY / 2 + DAY), "longer than a day after the last");
        assert!(!History::of(&[], &ALL).events.was_right(0));
    }

    #[test]
    fn what_was_measured_before_a_jig_is_found_out_is_not_certain() {
        let mut pieces = [proved(1000), proved(5000)].concat();
        pieces.push(piece(9000, "good", Some(false)));
        pieces.extend(proved(10_000));
        let history = History::of(&pieces, &ALL);
        let right = |at_s: i64| history.events.was_right(at_s);
        assert!(right(3000), "between two good proofs");
        assert!(!right(6000), "the next word was that it is out");
        assert!(!right(9500) && right(10_001));
        assert_eq!(history.events.due_s(), Some(10_000 + DAY));
    }
}

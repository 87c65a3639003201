//! What is on the screen, whatever its size.

use std::collections::VecDeque;

use runproof_interpret::flex::{FlexKind, FlexLane, FlexLaneOf, FlexNews, Now as Lane};
use runproof_protocol::Microseconds;

use super::super::face::{Happened, Now};
use super::strip::{LETTER_S, Mark, Strip};
use crate::show::words::{self, flex};

/// No terminal is higher.
const RECENT_MAX: usize = 100;

/// More is not typed in one go.
const LETTERS_MAX: usize = 60;

/// One lane.
pub(super) struct Row {
    pub(super) lane: FlexLane,
    pub(super) name: String,
    pub(super) now: String,
    pub(super) strip: Strip<Mark>,
}

/// All of it.
pub(super) struct Model {
    names: flex::Names,
    pub(super) rows: Vec<Row>,
    pub(super) marks: Strip<bool>,
    /// What happened, the latest last.
    pub(super) recent: VecDeque<String>,
    pub(super) s: f64,
    pub(super) watched_s: f64,
    pub(super) begun: bool,
    pub(super) lost: bool,
    /// What is being typed, and since when.
    pub(super) typing: Option<(String, Microseconds)>,
    at: Microseconds,
    /// When numbers were last taken over: they would flicker.
    numbers_s: f64,
}

impl Model {
    pub(super) fn new(names: flex::Names) -> Self {
        Self {
            names,
            rows: vec![],
            marks: Strip::new(),
            recent: VecDeque::new(),
            s: 0.0,
            watched_s: 0.0,
            begun: false,
            lost: false,
            typing: None,
            at: Microseconds(0),
            numbers_s: f64::NEG_INFINITY,
        }
    }

    pub(super) fn look(&mut self, now: &Now<'_>) {
        let before_s = self.s;
        self.s = now.s();
        self.at = now.at;
        self.watched_s = now.watched_s;
        self.begun |= now.clock.from.is_some();
        let numbers = self.s - self.numbers_s >= LETTER_S;
        if numbers {
            self.numbers_s = self.s;
        }
        for lane in now.lanes {
            if lane.of == FlexLaneOf::Untold && lane.count == 0 {
                continue;
            }
            let row = match self.rows.iter_mut().position(|row| row.lane.of == lane.of) {
                Some(at) => &mut self.rows[at],
                None => {
                    let name = self.names.short(lane.of);
                    self.rows
                        .push(Row { lane: *lane, name, now: "—".into(), strip: Strip::new() });
                    self.rows.last_mut().unwrap_or_else(|| unreachable!("it was pushed"))
                }
            };
            let changed =
                std::mem::discriminant(&row.lane.now) != std::mem::discriminant(&lane.now);
            if let Some(told) = flex::now(lane).filter(|_| numbers || changed || row.now == "—") {
                row.now = told;
            }
            row.lane = *lane;
            if let Some(mark) = mark(lane) {
                row.strip.mark(before_s.max(self.s - LETTER_S), self.s, mark);
            }
        }
    }

    pub(super) fn happened(&mut self, happened: Happened<'_>, now: &Now<'_>) {
        let s = now.s();
        let told = match happened {
            Happened::News(news) => {
                self.stripe(news, now);
                let at = match news {
                    FlexNews::Ended(event) => now.clock.s(event.at),
                    FlexNews::Gap(gap) => now.clock.s(gap.at),
                    FlexNews::Baseline { .. } | FlexNews::Began { .. } => s,
                };
                flex::happened(news, &self.names, now.lanes).map(|(whom, what)| (at, whom, what))
            }
            Happened::Mark(text, at) => {
                let s = now.clock.s(at);
                self.marks.mark(s, s, true);
                Some((s, "mark".into(), words::printable(text)))
            }
            Happened::Lost => {
                self.lost = true;
                Some((s, "jig".into(), flex::LOST.into()))
            }
            Happened::FoundAgain(_) => {
                self.lost = false;
                Some((s, "jig".into(), flex::FOUND_AGAIN.into()))
            }
        };
        if let Some((s, whom, what)) = told {
            self.recent.push_back(format!("{s:>9.3} s  {whom:<7} {what}"));
            if self.recent.len() > RECENT_MAX {
                self.recent.pop_front();
            }
        }
    }

    /// What was too short to be seen as it is now.
    fn stripe(&mut self, news: &FlexNews, now: &Now<'_>) {
        match news {
            FlexNews::Ended(event) => {
                let from = now.clock.s(event.at);
                let until = from + event.lasted.micros() as f64 / 1e6;
                let mark = if event.kind == FlexKind::Step { Mark::Rose } else { Mark::Bad };
                let row = self.rows.iter_mut().find(|row| row.lane.of == event.lane);
                if let Some(row) = row {
                    row.strip.mark(from, until, mark);
                }
            }
            FlexNews::Gap(gap) => {
                let from = now.clock.s(gap.at);
                let until = from + gap.lasted_us as f64 / 1e6;
                self.rows.iter_mut().for_each(|row| row.strip.mark(from, until, Mark::Lost));
            }
            FlexNews::Baseline { .. } | FlexNews::Began { .. } => {}
        }
    }

    pub(super) fn is_pairs(&self) -> bool {
        self.rows.iter().any(|row| matches!(row.lane.of, FlexLaneOf::Pair(..)))
    }

    /// Begins to type a mark, which counts from now on.
    pub(super) fn begin_mark(&mut self) {
        self.typing = Some((String::new(), self.at));
    }

    pub(super) fn type_letter(&mut self, letter: char) {
        if let Some((text, _)) = &mut self.typing
            && text.chars().count() < LETTERS_MAX
            && !letter.is_control()
        {
            text.push(letter);
        }
    }
}

/// Nothing where it is another's turn.
fn mark(lane: &FlexLane) -> Option<Mark> {
    match lane.now {
        Lane::Carries { .. } | Lane::Apart => Some(Mark::Well),
        Lane::Broken { .. } | Lane::Touching { .. } => Some(Mark::Bad),
        Lane::NotKnown | Lane::NotWatchedNow => None,
    }
}

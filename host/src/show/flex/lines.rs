//! A watch line by line: what happened, when, to whom.

use std::io::{self, Write};

use runproof_interpret::flex::{FlexKind, FlexLaneOf, FlexNews};
use runproof_protocol::Microseconds;

use super::face::{Face, Happened, Now, Said};
use super::{FOUND_AGAIN, LOST};
use crate::show::words::{self, flex};

/// Who reads has no use for more in a second; all are counted.
const LINES_A_SECOND: u32 = 20;

/// What is not over after so long is told as going on.
const GOES_ON_S: f64 = 1.0;

/// Plain lines on standard output.
pub(crate) struct Lines {
    names: flex::Names,
    typed: Box<dyn FnMut() -> Option<String>>,
    /// What has begun and is not over, whether that was told.
    going_on: Vec<(FlexLaneOf, FlexKind, Microseconds, bool)>,
    /// The second, and how many lines it has.
    second: (u64, u32),
    untold: u64,
}

impl Lines {
    pub(crate) fn new(names: flex::Names, typed: impl FnMut() -> Option<String> + 'static) -> Self {
        let typed = Box::new(typed);
        Self { names, typed, going_on: vec![], second: (0, 0), untold: 0 }
    }

    fn happened(&mut self, news: &FlexNews, now: &Now<'_>) -> io::Result<()> {
        let at = match news {
            FlexNews::Began { lane, kind, at } => {
                self.going_on.push((*lane, *kind, *at, false));
                return Ok(());
            }
            FlexNews::Ended(event) => {
                self.going_on.retain(|one| (one.0, one.1) != (event.lane, event.kind));
                event.at
            }
            FlexNews::Gap(gap) => gap.at,
            FlexNews::Baseline { .. } => now.at,
        };
        let Some((whom, what)) = flex::happened(news, &self.names, now.lanes) else {
            return Ok(());
        };
        if self.is_enough(now) {
            self.untold += 1;
            return Ok(());
        }
        line(now.clock.s(at), &whom, &what)
    }

    /// Whether this second has its lines.
    fn is_enough(&mut self, now: &Now<'_>) -> bool {
        let second = now.s() as u64;
        if self.second.0 != second {
            self.second = (second, 0);
        }
        self.second.1 += 1;
        self.second.1 > LINES_A_SECOND
    }
}

impl Face for Lines {
    fn tell(&mut self, happened: Happened<'_>, now: &Now<'_>) -> io::Result<()> {
        match happened {
            Happened::News(news) => self.happened(news, now),
            Happened::Mark(text, at) => line(now.clock.s(at), "mark", &words::printable(text)),
            Happened::Lost => line(now.s(), "jig", LOST),
            Happened::FoundAgain(_) => line(now.s(), "jig", FOUND_AGAIN),
        }
    }

    fn look(&mut self, now: &Now<'_>) -> io::Result<()> {
        let s = now.s();
        if self.untold > 0 && self.second.0 != s as u64 {
            let more = std::mem::take(&mut self.untold);
            line(s, "…", &format!("and {more} more in a second, which are counted"))?;
        }
        for (lane, kind, at, told) in &mut self.going_on {
            if !*told && s - now.clock.s(*at) > GOES_ON_S {
                *told = true;
                line(now.clock.s(*at), &self.names.short(*lane), flex::still(*kind))?;
            }
        }
        Ok(())
    }

    fn said(&mut self) -> Option<Said> {
        let text = (self.typed)()?;
        Some(if text.is_empty() { Said::Enough } else { Said::Mark { text, at: None } })
    }
}

/// "   12.345 s  data−  broke for 0.42 ms".
fn line(s: f64, whom: &str, what: &str) -> io::Result<()> {
    let mut lines = vec![];
    let first = format!("{s:>9.3} s  {whom:<7} ");
    let indent = first.chars().count();
    crate::show::terminal::broken(&mut lines, first, indent, what);
    let mut to = io::stdout().lock();
    to.write_all(format!("{}\n", lines.join("\n")).as_bytes())?;
    to.flush()
}

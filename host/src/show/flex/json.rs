//! A watch for programs: a line of JSON for all that happens, at last the result; `flex-format.md` beside `show` describes it.

use std::io::{self, Write};

use runproof_interpret::Capture;
use runproof_interpret::flex::{
    FlexEvent, FlexGap, FlexHead, FlexKind, FlexLane, FlexLaneOf, FlexMark, FlexNews, FlexRecord,
};
use runproof_interpret::judgement::{FlexFinding, Verdict};
use runproof_protocol::Post;
use runproof_records::Kept;
use serde::Serialize;

use super::Seen;
use super::face::{Face, Happened, Now, Said};
use crate::show::in_all_results::{Jig, Numbered, jig};

/// Raised only when an older reader would misunderstand it.
const VERSION: u32 = 1;

#[derive(Serialize)]
pub(in crate::show) struct Printed<'a> {
    runproof_flex: u32,
    made_by: &'static str,
    jig: Jig<'a>,
    broken_off: Option<&'a str>,
    /// By post.
    conductors: [String; 4],
    record: Option<Numbered>,
    verdict: Verdict,
    findings: &'a [FlexFinding],
    watched_s: f64,
    duration_u_us: f64,
    duration_u_part: f64,
    watches: Vec<PrintedWatch<'a>>,
}

/// Since the jig last came: what was counted in all, beside what is kept of it.
#[derive(Serialize)]
struct PrintedWatch<'a> {
    head: &'a FlexHead,
    lanes: &'a [FlexLane],
    events: &'a [FlexEvent],
    gaps: &'a [FlexGap],
    marks: &'a [FlexMark],
}

impl<'a> From<&'a FlexRecord> for PrintedWatch<'a> {
    fn from(one: &'a FlexRecord) -> Self {
        let FlexRecord { head, lanes, events, gaps, marks } = one;
        Self { head, lanes, events, gaps, marks }
    }
}

pub(in crate::show) fn printed<'a>(capture: &'a Capture, seen: &'a Seen) -> Printed<'a> {
    let names = seen.names();
    Printed {
        runproof_flex: VERSION,
        made_by: concat!("runproof ", env!("CARGO_PKG_VERSION")),
        jig: jig(capture),
        broken_off: crate::show::broken_off(capture),
        conductors: Post::ALL.map(|post| names.post(post).to_owned()),
        record: None,
        verdict: seen.judgement.verdict,
        findings: &seen.judgement.findings,
        watched_s: seen.judgement.watched_s,
        duration_u_us: seen.judgement.duration_u_us,
        duration_u_part: seen.judgement.duration_u_part,
        watches: seen.judgement.watches.iter().map(PrintedWatch::from).collect(),
    }
}

/// On many lines.
pub(crate) fn result(capture: &Capture, seen: &Seen, kept: Option<&Kept>) -> String {
    let record = kept.map(Numbered::from);
    crate::show::written(&Printed { record, ..printed(capture, seen) })
}

/// On one line, behind all that happened.
pub(crate) fn last(capture: &Capture, seen: &Seen, kept: Option<&Kept>) -> String {
    let record = kept.map(Numbered::from);
    text(&Line::Result(Box::new(Printed { record, ..printed(capture, seen) }))) + "\n"
}

/// As a record has it.
pub(crate) fn plain(capture: &Capture, seen: &Seen) -> String {
    text(&printed(capture, seen))
}

/// A line; the key says what it is.
#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
enum Line<'a> {
    /// How the run is at rest is known now.
    Baseline {
        t_s: f64,
        steps_from_ohm: Option<f64>,
    },
    Began {
        t_s: f64,
        lane: FlexLaneOf,
        kind: FlexKind,
    },
    Event {
        t_s: f64,
        #[serde(flatten)]
        event: &'a FlexEvent,
    },
    Gap {
        t_s: f64,
        #[serde(flatten)]
        gap: &'a FlexGap,
    },
    Mark {
        t_s: f64,
        text: &'a str,
    },
    /// The jig is gone, and looked for.
    Lost {
        t_s: f64,
    },
    FoundAgain {
        t_s: f64,
        after_s: f64,
    },
    Lanes {
        t_s: f64,
        watched_s: f64,
        lanes: &'a [FlexLane],
    },
    Result(Box<Printed<'a>>),
}

/// JSON on standard output.
pub(crate) struct Json {
    typed: Box<dyn FnMut() -> Option<String>>,
    /// Of the last line of lanes.
    second: Option<u64>,
}

impl Json {
    pub(crate) fn new(typed: impl FnMut() -> Option<String> + 'static) -> Self {
        Self { typed: Box::new(typed), second: None }
    }
}

impl Face for Json {
    fn tell(&mut self, happened: Happened<'_>, now: &Now<'_>) -> io::Result<()> {
        let t_s = now.s();
        write(&match happened {
            Happened::News(FlexNews::Baseline { steps_from_ohm }) => {
                Line::Baseline { t_s, steps_from_ohm: *steps_from_ohm }
            }
            Happened::News(FlexNews::Began { lane, kind, at }) => {
                Line::Began { t_s: now.clock.s(*at), lane: *lane, kind: *kind }
            }
            Happened::News(FlexNews::Ended(event)) => {
                Line::Event { t_s: now.clock.s(event.at), event }
            }
            Happened::News(FlexNews::Gap(gap)) => Line::Gap { t_s: now.clock.s(gap.at), gap },
            Happened::Mark(text, at) => Line::Mark { t_s: now.clock.s(at), text },
            Happened::Lost => Line::Lost { t_s },
            Happened::FoundAgain(after_s) => Line::FoundAgain { t_s, after_s },
        })
    }

    fn look(&mut self, now: &Now<'_>) -> io::Result<()> {
        let t_s = now.s();
        let second = Some(t_s as u64);
        if second == self.second || now.lanes.is_empty() {
            return Ok(());
        }
        self.second = second;
        write(&Line::Lanes { t_s, watched_s: now.watched_s, lanes: now.lanes })
    }

    fn said(&mut self) -> Option<Said> {
        let text = (self.typed)()?;
        Some(if text.is_empty() { Said::Enough } else { Said::Mark { text, at: None } })
    }
}

fn write(line: &Line<'_>) -> io::Result<()> {
    let mut to = io::stdout().lock();
    to.write_all(text(line).as_bytes())?;
    to.write_all(b"\n")?;
    to.flush()
}

fn text(value: &impl Serialize) -> String {
    serde_json::to_string(value).unwrap_or_else(|error| unreachable!("all keys are text: {error}"))
}

//! The capture: all that was measured in one test, and all that is needed to judge it again.
//!
//! The text form is described in `capture-format.md` beside this crate.

mod at;
mod error;
mod fields;
mod flex;
mod from_wire;
mod head;
mod kept;
mod live_zero;
mod phase_end;
mod plausible;
mod read;
mod reading;
mod rise;
mod to_earth;
mod touch;
mod warmth;
mod words;
mod write;
mod zero;

pub use error::{CaptureError, Implausible, Reason};
pub use flex::FlexEntry;
pub use from_wire::head_from;
pub use head::{Head, JigConstants, Plug};
pub use live_zero::LiveZero;
pub use phase_end::{Ending, PhaseEnd};
pub use reading::{Channel, Node, Reading};
pub use rise::Rise;
use runproof_protocol::Phase;
pub use to_earth::{Drain, ToEarth};
pub use touch::{End, Touch};
pub use warmth::Warmth;
pub use zero::Zero;

use crate::declared::Declared;
use crate::judgement::At;

/// The format's version, written in the head.
pub const VERSION: u64 = 1;

/// A longer text is refused. A full test takes about 0.1 MB.
pub const BYTES_MAX: usize = 8 << 20;

/// A text of more lines is refused. A full test has about 1 000.
pub const LINES_MAX: usize = 40_000;

/// A longer line is refused. A reading takes about 200 bytes.
pub const LINE_BYTES_MAX: usize = 4096;

/// One test: a head, then readings, rises, phase ends and touches in the order they came.
#[derive(Clone, Debug, PartialEq)]
pub struct Capture {
    /// Who measured, and with what.
    pub head: Head,
    /// In the order they came.
    pub entries: Vec<Entry>,
}

/// A line of a capture behind its head.
#[derive(Clone, Debug, PartialEq)]
pub enum Entry {
    /// Something was read.
    Reading(Reading),
    /// A post was timed.
    Rise(Rise),
    /// A phase was over.
    End(PhaseEnd),
    /// Two wires were held together.
    Touch(Touch),
    /// The run was clipped for the test to earth.
    ToEarth(ToEarth),
    /// The jig told how warm it is.
    Warmth(Warmth),
    /// What the jig's zero was.
    Zero(Zero),
    /// Where the jig was clipped on to a live run.
    At(At),
    /// What its live zero was.
    LiveZero(LiveZero),
    /// It is the test of a reel, of which this was declared.
    Reel(Box<Declared>),
    /// A reel's second reading follows.
    ReelAgain,
    /// Of a run that was flexed: what was seen meanwhile.
    Flex(Box<FlexEntry>),
}

impl Capture {
    /// A capture with nothing measured yet.
    #[must_use]
    pub fn new(head: Head) -> Self {
        Self { head, entries: Vec::new() }
    }

    /// Adds how long a post took to rise.
    pub fn push_rise(&mut self, rise: Rise) {
        self.entries.push(Entry::Rise(rise));
    }

    /// Adds a reading.
    pub fn push(&mut self, reading: Reading) {
        self.entries.push(Entry::Reading(reading));
    }

    /// Adds what was seen while two wires were held together.
    pub fn push_touch(&mut self, touch: Touch) {
        self.entries.push(Entry::Touch(touch));
    }

    /// Says that the run is clipped for the test to earth.
    pub fn push_to_earth(&mut self, clipped: ToEarth) {
        self.entries.push(Entry::ToEarth(clipped));
    }

    /// Says that a phase is over, and how.
    pub fn end(&mut self, end: PhaseEnd) {
        self.entries.push(Entry::End(end));
    }

    /// Reads the text form.
    pub fn read(text: &str) -> Result<Self, CaptureError> {
        read::read(text)
    }

    /// The text form: one JSON object a line.
    #[must_use]
    pub fn write(&self) -> String {
        write::write(self)
    }

    /// The readings of one phase, in the order they came.
    pub fn readings(&self, phase: Phase) -> impl Iterator<Item = &Reading> {
        self.entries.iter().filter_map(move |entry| match entry {
            Entry::Reading(reading) if reading.phase == phase => Some(reading),
            _ => None,
        })
    }

    /// The rises of one phase, in the order they came.
    pub fn rises(&self, phase: Phase) -> impl Iterator<Item = &Rise> {
        self.entries.iter().filter_map(move |entry| match entry {
            Entry::Rise(rise) if rise.phase == phase => Some(rise),
            _ => None,
        })
    }

    /// What was seen while wires were held together, in the order it was.
    pub fn touches(&self) -> impl Iterator<Item = &Touch> {
        self.entries.iter().filter_map(|entry| match entry {
            Entry::Touch(touch) => Some(touch),
            _ => None,
        })
    }

    /// How the run was clipped for the test to earth; absent for any other test.
    #[must_use]
    pub fn to_earth(&self) -> Option<ToEarth> {
        self.entries.iter().find_map(|entry| match entry {
            Entry::ToEarth(clipped) => Some(*clipped),
            _ => None,
        })
    }

    /// What was declared of a reel; absent for any other test.
    #[must_use]
    pub fn reel(&self) -> Option<&Declared> {
        self.entries.iter().find_map(|entry| match entry {
            Entry::Reel(declared) => Some(&**declared),
            _ => None,
        })
    }

    /// How warm the jig was when it measured last, in °C.
    #[must_use]
    pub fn jig_c(&self) -> Option<f64> {
        self.entries.iter().rev().find_map(|entry| match entry {
            Entry::Warmth(warmth) => Some(warmth.jig_c),
            _ => None,
        })
    }

    /// The zero that the readings go with, if there is one.
    #[must_use]
    pub fn zero(&self) -> Option<&Zero> {
        self.entries.iter().rev().find_map(|entry| match entry {
            Entry::Zero(zero) => Some(zero),
            _ => None,
        })
    }

    /// The live zero that the readings go with, if there is one.
    #[must_use]
    pub fn live_zero(&self) -> Option<&LiveZero> {
        self.entries.iter().rev().find_map(|entry| match entry {
            Entry::LiveZero(zero) => Some(zero),
            _ => None,
        })
    }

    /// How one phase ended; more than one when it was measured more than once.
    pub fn ends(&self, phase: Phase) -> impl Iterator<Item = &Ending> {
        self.entries.iter().filter_map(move |entry| match entry {
            Entry::End(end) if end.phase == phase => Some(&end.ending),
            _ => None,
        })
    }
}

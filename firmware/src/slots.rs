//! The mailbox between the measurement and the task that owns the bus.
//!
//! The measurement never holds a bus transfer: it asks for a slot and awaits the answer. If it is
//! dropped meanwhile, the converter task still brings its transfer to an end; the answer then
//! finds nobody with its ticket and is passed over.

use core::cell::Cell;

use embassy_sync::blocking_mutex::raw::NoopRawMutex;
use embassy_sync::signal::Signal;
use runproof_protocol::{Converter, Fault, Input, Microseconds, Range};

/// Which input a converter is to look at, on which range.
pub type Look = (Input, Range);

/// One conversion on each of the named converters, side by side.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Slot {
    looks: [Option<Look>; 3],
}

impl Slot {
    /// This slot, with a look on one more converter.
    #[must_use]
    pub const fn and(mut self, converter: Converter, look: Look) -> Self {
        self.looks[converter.index()] = Some(look);
        self
    }

    /// The converters that are asked, with their looks.
    pub fn looks(&self) -> impl Iterator<Item = (Converter, Look)> {
        Converter::ALL.into_iter().filter_map(|one| Some((one, self.looks[one.index()]?)))
    }
}

/// What one converter answered.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Conversion {
    /// Its two's-complement code.
    pub code: i16,
    /// When it was started.
    pub at: Microseconds,
}

/// A slot's answer, by converter; zero where none was asked.
pub type Conversions = [Conversion; 3];

/// The one-place mailbox.
#[derive(Default)]
pub struct Slots {
    asked: Signal<NoopRawMutex, (u32, Slot)>,
    answered: Signal<NoopRawMutex, (u32, Result<Conversions, Fault>)>,
    ticket: Cell<u32>,
}

impl Slots {
    /// An empty mailbox.
    #[must_use]
    pub const fn new() -> Self {
        Self { asked: Signal::new(), answered: Signal::new(), ticket: Cell::new(0) }
    }

    /// Posts a slot and awaits its answer.
    pub async fn ask(&self, slot: Slot) -> Result<Conversions, Fault> {
        let ticket = self.ticket.get().wrapping_add(1);
        self.ticket.set(ticket);
        self.asked.signal((ticket, slot));
        loop {
            let (answered, answer) = self.answered.wait().await;
            if answered == ticket {
                return answer;
            }
        }
    }

    /// For the converter task: awaits the next slot, and its ticket.
    pub async fn next(&self) -> (u32, Slot) {
        self.asked.wait().await
    }

    /// For the converter task: the answer to a ticket.
    pub fn answer(&self, ticket: u32, answer: Result<Conversions, Fault>) {
        self.answered.signal((ticket, answer));
    }
}

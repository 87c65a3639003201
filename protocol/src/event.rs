//! What the jig tells the host.

use heapless::String;
use serde::{Deserialize, Serialize};

use crate::{
    Converter, Edges, Key, Microseconds, Microvolts, Millicelsius, Milliohms, NotKept, Pattern,
    Phase, Post, Record, Restart, Rise,
};

/// Jig → host.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Event {
    /// The answer to hello.
    Hello {
        /// The jig's [`VERSION`](crate::VERSION).
        version: u16,
        /// The nonce of the hello that is answered.
        nonce: u32,
        /// What this jig can do.
        capabilities: Capabilities,
    },
    /// The answer to identify.
    Identity(Identity),
    /// The answer to re-arm: no hazard is latched now.
    Armed,
    /// A phase has begun.
    Started {
        /// Which.
        phase: Phase,
    },
    /// A pattern was driven and read; the drives were off again before this was sent.
    Pattern(Pattern),
    /// The phase is complete.
    Done {
        /// Which.
        phase: Phase,
        /// How many pattern and rise events belong to it.
        patterns: u16,
    },
    /// The phase ended early; what was read so far has been sent.
    Stopped {
        /// Which.
        phase: Phase,
        /// Why.
        reason: Stop,
    },
    /// There is voltage on the run: nothing is driven and the relays stay open until re-armed.
    Hazard {
        /// What was seen.
        kind: HazardKind,
        /// The largest voltage between two posts; at least this, where it was beyond the range.
        largest: Microvolts,
    },
    /// The jig could not follow a command now.
    Refused {
        /// The phase that was asked for.
        phase: Phase,
        /// Why.
        reason: Refusal,
    },
    /// The jig is there.
    Heartbeat {
        /// Its clock.
        at: Microseconds,
    },
    /// A post was let go and timed; nothing was driven any more before this was sent.
    Rise(Rise),
    /// The jig's own temperature, as a phase begins: what its parts' values go with.
    Warm {
        /// Which.
        phase: Phase,
        /// Inside it.
        jig: Millicelsius,
    },
    /// Why the jig started anew by itself, told after each hello until it is switched off.
    Restarted(Restart),
    /// The jig's key was pressed.
    Key,
    /// A record is kept now, whatever happens to the jig's power.
    Kept {
        /// Under this key.
        key: Key,
    },
    /// A record that was asked for.
    Recalled {
        /// Its key.
        key: Key,
        /// Its bytes; none: nothing is kept under that key.
        record: Record,
    },
    /// A record was not kept, or cannot be told. What was kept before stays.
    NotKept {
        /// Under this key.
        key: Key,
        /// Why.
        reason: NotKept,
    },
    /// Posts began or ceased to carry current while the run was flexed.
    Edges(Edges),
}

/// What a jig can do.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Capabilities {
    /// It can measure the open phase.
    pub open_phase: bool,
    /// It can measure the plug phase.
    pub plug_phase: bool,
    /// It can take a glance.
    pub glance: bool,
    /// It times how posts rise in the open phase.
    pub rise: bool,
    /// It has lamps, a sounder and a key, and keeps what it measures without a host.
    pub alone: bool,
    /// It keeps records.
    pub stores: bool,
    /// It reads a powered run, and its own live dividers.
    pub live: bool,
    /// It lights the lights at the far end.
    pub far_lights: bool,
    /// It has a load for the supply of a live run.
    pub supply_load: bool,
    /// It switches the ring of a fixture for made-up leads, and looks at what is in it.
    pub fixture: bool,
    /// It watches a run that is flexed.
    pub flex: bool,
}

/// Who a jig is, and what it is built of.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Identity {
    /// Its serial; empty when it has none.
    pub serial: String<24>,
    /// The kind of board the engine runs on.
    pub board: String<16>,
    /// The firmware's version.
    pub firmware: String<16>,
    /// The values of its parts.
    pub parts: JigParts,
    /// The end plug that belongs to it.
    pub plug: Plug,
    /// What it can put across posts 3 and 4 of a live run; none has no resistance.
    pub supply_load: Milliohms,
}

/// The nominal values that readings are interpreted with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct JigParts {
    /// The resistor and fuse that each post's current is read across, posts 1–4.
    pub series: [Milliohms; 4],
    /// Their tolerance, in parts per million.
    pub series_tolerance_ppm: u32,
    /// From each sense node to the common point of the pulls, both lines together.
    pub pull: Milliohms,
    /// The live divider, from post to its mid voltage.
    pub divider: Milliohms,
    /// From each post to its sense node, by both jaws in parallel.
    pub sense: Milliohms,
}

/// The end plug's ring of four resistors.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Plug {
    /// In the order of the ring: 1–3, 3–4, 4–2, 2–1.
    pub ring: [Milliohms; 4],
    /// Their tolerance, in parts per million.
    pub tolerance_ppm: u32,
}

/// Why a phase ended early.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Stop {
    /// The host asked for it.
    Aborted,
    /// Part of the jig does not work.
    Fault(Fault),
    /// The host took no bytes for too long.
    HostSilent,
}

/// Why a phase did not begin.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[cfg_attr(not(target_os = "none"), derive(Serialize))]
pub enum Refusal {
    /// A hazard is latched; re-arm first.
    HazardLatched,
    /// This jig cannot measure that phase.
    NotCapable,
    /// It has measured none without a host.
    NothingKept,
}

/// Part of the jig that does not work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Fault {
    /// The converter does not answer on the bus.
    Absent(Converter),
    /// The converter answers but never finishes a conversion.
    NeverReady(Converter),
    /// The bus hung while this converter was addressed; it was reset.
    BusStuck(Converter),
    /// The watch does not see the post move when it is driven.
    WatchBlind(Post),
    /// What answers at the converter's address does not keep what it is told.
    Wrong(Converter),
    /// The edge catcher does not see the post go from the rail to the middle, or back; or the jig has none.
    EdgesBlind(Post),
}

/// What kind of voltage was seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[cfg_attr(not(target_os = "none"), derive(Serialize))]
pub enum HazardKind {
    /// Before anything was driven.
    BeforeClosing,
    /// While the relays were closed.
    WhileClosed,
}

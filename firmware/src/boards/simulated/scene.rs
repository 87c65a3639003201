//! What is on the clips: a run with its faults, its end plug, and what else is on it.

mod check;
mod flexed;
mod live;
mod read;
mod reels;
mod source;

use std::string::String;
use std::vec::Vec;

pub use flexed::{Contact, FLEXED, Flexed, Moves};
pub use live::LIVE;
pub use read::{BUILT_IN, SceneError};
pub use reels::REELS;
use serde::Deserialize;
pub use source::{Harmonic, Shape, Source, Through};

use super::Nanoseconds;

/// A simulated run.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Scene {
    /// What it shows, in a sentence.
    pub about: String,
    /// The cable between the two ends.
    pub run: Run,
    /// What happens with the end plug.
    pub plug: EndPlug,
    /// What was left connected at the far end.
    #[serde(default)]
    pub left_on: Vec<LeftOn>,
    /// Voltage from elsewhere.
    #[serde(default)]
    pub source: Vec<Source>,
    /// Wires that someone holds together for a while.
    #[serde(default)]
    pub touch: Vec<Touch>,
    /// What moves while the run is flexed; four at most.
    #[serde(default)]
    pub flexed: Vec<Flexed>,
    /// The end plug is taken out again so many seconds after the jig's start.
    #[serde(default = "never")]
    pub key_out_s: f64,
    /// Its key is turned over so many seconds after the jig's start: the lights on its reverse face are in, in
    /// place of the ring.
    #[serde(default = "never")]
    pub key_reversed_s: f64,
    /// How the jig is.
    #[serde(default)]
    pub jig: JigState,
}

/// How warm the jig and its end plug are, how often it was clipped on before, how it stands to earth, and what
/// it has.
#[derive(Clone, Copy, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct JigState {
    /// The jig's parts, in °C.
    pub celsius: f64,
    /// The end plug's, in °C.
    pub plug_celsius: f64,
    /// Its clips were put on so many times before: each time its contacts are others.
    pub clipped_before: u32,
    /// The most that a clip's jaw or the tail's clip adds, in milliohms.
    pub contact_mohm: f64,
    /// Between its ground and earth, in picofarads, as long as nothing else joins them.
    pub earth_pf: f64,
    /// Its ground is on earth, through the computer that it hangs on.
    pub earthed: bool,
    /// It has a load for the supply of a live run.
    pub supply_load: bool,
}

impl Default for JigState {
    fn default() -> Self {
        Self {
            celsius: PARTS_AT_C,
            plug_celsius: PARTS_AT_C,
            clipped_before: 0,
            contact_mohm: CONTACT_MOHM,
            earth_pf: EARTH_PF,
            earthed: false,
            supply_load: true,
        }
    }
}

/// Of a box as large as a hand, with a computer that runs on its battery. [judgement]
const EARTH_PF: f64 = 50.0;

/// Of plain clips. [judgement]
pub(super) const CONTACT_MOHM: f64 = 100.0;

/// What parts' tolerances hold at.
pub(super) const PARTS_AT_C: f64 = 25.0;

/// What happens with the end plug.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum EndPlug {
    /// It is never put in.
    Out,
    /// It is in from the start.
    In,
    /// It is put in as soon as the open phase has been measured.
    GoesIn,
    /// It is in from the start, and its key is taken out as soon as a plug phase has been measured.
    GoesOut,
    /// It belongs to a fixture, and is in while the jig switches it in.
    Switched,
}

/// A cable of four conductors. A conductor is called by the post that it belongs on.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Run {
    /// From end to end, in metres.
    pub length_m: f64,
    /// Each conductor at 20 °C, in ohms a kilometre.
    pub ohm_per_km: f64,
    /// The copper's temperature as the jig starts, in °C.
    pub copper_c: f64,
    /// By how much it becomes warmer, in kelvins a minute; seen anew whenever the jig closes its relays.
    #[serde(default)]
    pub warms_k_per_min: f64,
    /// Capacitance between any two conductors, in picofarads a metre.
    #[serde(default = "pf_per_m")]
    pub pf_per_m: f64,
    /// Standard deviation of conductors' resistance from their mean, as a fraction.
    #[serde(default = "sibling_spread")]
    pub sibling_spread: f64,
    /// The same of their capacitance.
    #[serde(default)]
    pub capacitance_spread: f64,
    /// The post that conductors 1–4 are clipped to.
    #[serde(default = "straight")]
    pub clipped_to: [u8; 4],
    /// The terminal at the far end that conductors 1–4 arrive at.
    pub arrives_at: [u8; 4],
    /// The end plug's terminal that its tail joins far terminals 1–4 to.
    #[serde(default = "straight")]
    pub plugged_to: [u8; 4],
    /// Conductors that are broken.
    #[serde(default)]
    pub open: Vec<OpenConductor>,
    /// Conductors with a bad joint.
    #[serde(default)]
    pub joint: Vec<Joint>,
    /// Conductors that touch each other, or leak to each other.
    #[serde(default)]
    pub short: Vec<Short>,
}

/// Between two of four cores in one unshielded jacket: 70 pF/m from core to core with the other two
/// floating, 105 to all three. [judgement]
fn pf_per_m() -> f64 {
    35.0
}

/// Of cores drawn through the same dies. [judgement]
fn sibling_spread() -> f64 {
    0.01
}

fn straight() -> [u8; 4] {
    [1, 2, 3, 4]
}

/// A break.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OpenConductor {
    /// In this conductor.
    pub post: u8,
    /// Where, as a fraction of the length from the jig.
    pub at: f64,
}

/// A clip, screw, splice or nicked core that has resistance.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// In this conductor.
    pub post: u8,
    /// Where, as a fraction of the length from the jig.
    pub at: f64,
    /// How much, in ohms.
    pub ohm: f64,
}

/// A path between two conductors: metal that touches, or damp.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Short {
    /// Between these conductors.
    pub posts: [u8; 2],
    /// Where, as a fraction of the length from the jig.
    pub at: f64,
    /// How well, in ohms.
    pub ohm: f64,
}

/// A device that is still landed at the far end.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LeftOn {
    /// Between these terminals.
    pub between: [u8; 2],
    /// Its resistance; where it conducts only beyond a voltage, its resistance then.
    pub ohm: f64,
    /// It conducts only beyond this voltage, in either direction: a rectifier with what it feeds.
    pub conducts_from_v: Option<f64>,
    /// Below that voltage.
    #[serde(default = "blocks_ohm")]
    pub blocks_ohm: f64,
    /// It is lifted so many seconds after the jig's start.
    #[serde(default = "never")]
    pub until_s: f64,
}

fn blocks_ohm() -> f64 {
    72_000.0
}

fn never() -> f64 {
    f64::INFINITY
}

/// Two wires, held together.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Touch {
    /// Where.
    pub end: End,
    /// Which, by the terminals that they came off at this end.
    pub terminals: [u8; 2],
    /// From so many seconds after the jig's start.
    pub from_s: f64,
    /// Until so many.
    pub until_s: f64,
}

/// One of the run's ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum End {
    /// Where the jig is.
    Near,
    /// Where the end plug goes.
    Far,
}

impl Touch {
    pub(super) fn holds(&self, seconds: f64) -> bool {
        (self.from_s..self.until_s).contains(&seconds)
    }
}

impl Scene {
    /// When the run changes by itself, the earliest last.
    pub(super) fn changes(&self) -> Vec<Nanoseconds> {
        let lifted = self.left_on.iter().map(|one| one.until_s);
        let switched_on = self.source.iter().map(|source| source.from_s);
        let touched = self.touch.iter().flat_map(|touch| [touch.from_s, touch.until_s]);
        let mut changes: Vec<Nanoseconds> = lifted
            .chain(switched_on)
            .chain(touched)
            .chain([self.key_out_s, self.key_reversed_s])
            .filter(|seconds| seconds.is_finite() && *seconds > 0.0)
            .map(|seconds| (seconds * 1e9).ceil() as Nanoseconds)
            .collect();
        changes.sort_unstable_by(|a, b| b.cmp(a));
        changes
    }
}

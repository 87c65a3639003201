//! A finding: something wrong, or something that could not be told.

use runproof_protocol::Post;
use serde::{Deserialize, Serialize};

use super::{Location, Place, post_number};
use crate::limits::{ExplainsComplaint, Severity};

/// Something wrong, or that could not be told, with its value and place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// What.
    pub kind: FindingKind,
    /// Why it could not be told; absent for what was found.
    pub cause: Option<Cause>,
    /// Whom it concerns; empty: the run as a whole.
    #[serde(serialize_with = "post_number::list")]
    pub posts: Vec<Post>,
    /// The number that speaks, where there is one.
    pub value: Option<f64>,
    /// Of the value.
    pub unit: Option<Unit>,
    /// Of the value, with the judgement's coverage factor.
    pub expanded_uncertainty: Option<f64>,
    /// Of a voltage: what is left of it under the load.
    pub loaded_v: Option<f64>,
    /// Of hum: the mains' frequency; the value is rms.
    pub hertz: Option<f64>,
    /// What it means for the run.
    pub severity: Severity,
    /// Whether it would explain why someone was called.
    pub explains_complaint: ExplainsComplaint,
    /// The supply arrives at a data terminal: landed so, it can destroy what is connected there.
    pub supply_reaches_data: bool,
    /// How far along the run, where that can be told.
    pub location: Option<Location>,
    /// Of an exchange: where it may lie; one place where that is known.
    pub places: Vec<Place>,
    /// Other runs that the readings allow, the best first.
    pub alternatives: Vec<Alternative>,
}

impl Finding {
    pub(crate) fn new(kind: FindingKind, severity: Severity) -> Self {
        Self {
            kind,
            cause: None,
            posts: Vec::new(),
            value: None,
            unit: None,
            expanded_uncertainty: None,
            loaded_v: None,
            hertz: None,
            severity,
            explains_complaint: ExplainsComplaint::Possibly,
            supply_reaches_data: false,
            location: None,
            places: Vec::new(),
            alternatives: Vec::new(),
        }
    }

    /// With so many ohms, and their expanded uncertainty where it is known.
    pub(crate) fn ohms(mut self, ohm: f64, expanded_uncertainty_ohm: Option<f64>) -> Self {
        self.value = Some(ohm);
        self.unit = Some(Unit::Ohm);
        self.expanded_uncertainty = expanded_uncertainty_ohm;
        self
    }
}

/// What was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum FindingKind {
    /// There was voltage on the run.
    Hazard,
    /// All conductors move together against the jig, by the value: one of them may be live to earth.
    AllMoveTogether,
    /// A conductor reaches nothing at the far end.
    Open,
    /// The two data conductors are exchanged, and nothing else.
    ReversedPair,
    /// Conductors arrive at other terminals than their own.
    Crossed,
    /// Clips are on other wires than they should be; the result is as if they were not.
    ClipsExchanged,
    /// The colours that were told go other ways than the conductors, which arrive right; wires that were
    /// held together do not tell whether cores change colour, or clips went on by colour.
    ColoursDisagree,
    /// Conductors touch each other.
    Short,
    /// There is a path between two conductors that should not be there.
    Leakage,
    /// A voltage that couples in from a cable alongside: it collapses under the load.
    CoupledVoltage,
    /// Mains hum from what runs alongside: a remark where the readings hold still.
    Hum,
    /// A conductor has more resistance than its limit.
    HighResistance,
    /// A conductor has more resistance than its siblings, by the value; its limit allows it.
    UnevenResistance,
    /// A conductor's resistance is nearer to its limit than its uncertainty.
    TooCloseToLimit,
    /// A conductor has more resistance than the sheet allows beyond another.
    SiblingDifference,
    /// Whether it has is within the uncertainty.
    TooCloseToSiblingDifference,
    /// Two conductors in series have more resistance than their limit.
    HighLoopResistance,
    /// Whether they have is within the uncertainty.
    TooCloseToLoopLimit,
    /// The run is longer, by what was told, than the sheet allows.
    TooLong,
    /// No copper of a usual size has this resistance at the length that was told.
    LengthUnlikely,
    /// The wire, as it was told, is as thick as the cores of mains cable.
    ThickWire,
    /// The limits take gauge and length, and they were not told.
    LimitUnknown,
    /// Conductors have less resistance than the wire that was told can have.
    LessThanWire,
    /// No conductor meets another: the end plug is not in, or this is the wrong cable.
    NoEndPlug,
    /// Several maps explain the readings.
    AmbiguousMap,
    /// No map explains the readings.
    Unexplained,
    /// Something that is not a bare run is connected.
    SomethingConnected,
    /// There is voltage on the run that does not come from the jig, too little to be a hazard.
    ForeignVoltage,
    /// Repeated readings differ by more than the converters' noise.
    Unsteady,
    /// A core touches bare metal, or the shield.
    ShortToMetal,
    /// There is a path between cores and bare metal, or the shield, that should not be there.
    LeakToMetal,
    /// The shield is bonded at both ends.
    ShieldBondedTwice,
    /// The shield is bonded at neither end.
    ShieldNotBonded,
    /// Between shield and metal is neither a bond nor nothing.
    ShieldPoorlyBonded,
    /// One end could not be lifted: the run cannot pass.
    NotLifted,
    /// The capture lacks what a judgement needs.
    Incomplete,
}

impl FindingKind {
    /// Conductors arrive at other terminals than their own.
    #[must_use]
    pub fn is_exchange(self) -> bool {
        matches!(self, Self::ReversedPair | Self::Crossed)
    }
}

/// Why something could not be told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Cause {
    /// The plug phase has no readings.
    NotMeasured,
    /// The phase has no end.
    NoEnd,
    /// The phase has more than one end.
    SeveralEnds,
    /// The phase was stopped.
    Stopped,
    /// The phase ended because of voltage on the run.
    Hazard,
    /// The link broke.
    Lost,
    /// Patterns of the phase are missing.
    PatternsMissing,
    /// A reading that the judgement needs is missing.
    ReadingsMissing,
    /// A reading that the judgement needs was beyond its range.
    Saturated,
    /// The jig does not read alike what is alike: it may be damaged, or its capture not its own.
    SelfCalibration,
    /// Current that leaves one post does not come back by the others.
    CurrentLost,
    /// What is connected is no plain resistance: a rectifier with a capacitor, or a semiconductor.
    NotPlain,
    /// What is connected is a source of voltage.
    Source,
    /// A few ohms between supply and common: a winding still landed, or a short.
    Winding,
    /// The resistance of one or two terminators between the data conductors.
    Terminator,
    /// A fault, or what hangs on the end that could not be lifted.
    NotLifted,
    /// Alike from both data conductors to common: a receiver still landed, or damp.
    Receiver,
    /// Nobody looked for voltage before the run was driven.
    NotLooked,
    /// The open phase has no readings.
    OpenNotMeasured,
    /// The end plug was in during the open phase.
    PlugNotOut,
    /// Readings that must agree with each other do not: they are of more than one run or jig.
    Contradictory,
    /// Wires that were held together show that clips or conductors are exchanged, but not which.
    TouchesUnfinished,
    /// No map fits all wires that were held together: another one was taken for one of them.
    TouchesDisagree,
    /// Two conductors are open: where the others arrive cannot be verified.
    TwoOpen,
    /// It was not shown that the clip on metal, or on the shield, touches it.
    ContactNotShown,
    /// Other posts meet than the two that the sheet has conductors on.
    OtherPosts,
}

/// Of a finding's value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Unit {
    /// Ω
    Ohm,
    /// V
    Volt,
    /// m
    Metre,
    /// A number of things.
    Count,
}

/// Another run that the readings allow.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Alternative {
    /// The plug's terminal that the conductor on posts 1–4 would arrive at.
    #[serde(serialize_with = "post_number::map")]
    pub reaches: [Option<Post>; 4],
    /// Conductors that would have more resistance than their siblings.
    #[serde(serialize_with = "post_number::list")]
    pub high_resistance: Vec<Post>,
    /// Its χ², with the penalty for what it supposes; the best has the least.
    pub score: f64,
}

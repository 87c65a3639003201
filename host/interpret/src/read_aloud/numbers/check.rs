//! The numbers of a check and of a test to earth.

use super::table;
use crate::capture::Drain;
use crate::judgement::{Bonded, Cause, ExplainsComplaint, FindingKind, Reason, Severity};

table!(Severity, 3: Fail = 0, CannotTell = 1, Note = 2);
table!(ExplainsComplaint, 3: Yes = 0, Possibly = 1, Unlikely = 2);
table!(Drain, 3: Landed = 0, Free = 1, Unsure = 2);
table!(Bonded, 6:
    HereOnly = 0, ElsewhereOnly = 1, Twice = 2, Nowhere = 3, Elsewhere = 4, NotElsewhere = 5);

// A code carries it together with a verdict: `outcome` beside this has the pairs.
table!(Reason, 16:
    WithinLimit = 0,
    BeyondLimit = 1,
    TooCloseToLimit = 2,
    Open = 3,
    Shorted = 4,
    ArrivesElsewhere = 5,
    MapUnknown = 6,
    Disturbed = 7,
    NotLifted = 8,
    NotMeasured = 9,
    LimitUnknown = 10,
);

// With none before them 1 more: of 48 in a code.
table!(FindingKind, 47:
    Hazard = 0,
    AllMoveTogether = 1,
    Open = 2,
    ReversedPair = 3,
    Crossed = 4,
    ClipsExchanged = 5,
    ColoursDisagree = 6,
    Short = 7,
    Leakage = 8,
    CoupledVoltage = 9,
    Hum = 10,
    HighResistance = 11,
    UnevenResistance = 12,
    TooCloseToLimit = 13,
    SiblingDifference = 14,
    TooCloseToSiblingDifference = 15,
    HighLoopResistance = 16,
    TooCloseToLoopLimit = 17,
    TooLong = 18,
    LengthUnlikely = 19,
    ThickWire = 20,
    LimitUnknown = 21,
    LessThanWire = 22,
    NoEndPlug = 23,
    AmbiguousMap = 24,
    Unexplained = 25,
    SomethingConnected = 26,
    ForeignVoltage = 27,
    Unsteady = 28,
    ShortToMetal = 29,
    LeakToMetal = 30,
    ShieldBondedTwice = 31,
    ShieldNotBonded = 32,
    ShieldPoorlyBonded = 33,
    NotLifted = 34,
    Incomplete = 35,
);

table!(Cause, 31:
    NotMeasured = 0,
    NoEnd = 1,
    SeveralEnds = 2,
    Stopped = 3,
    Hazard = 4,
    Lost = 5,
    PatternsMissing = 6,
    ReadingsMissing = 7,
    Saturated = 8,
    SelfCalibration = 9,
    CurrentLost = 10,
    NotPlain = 11,
    Source = 12,
    Winding = 13,
    Terminator = 14,
    NotLifted = 15,
    Receiver = 16,
    NotLooked = 17,
    OpenNotMeasured = 18,
    PlugNotOut = 19,
    Contradictory = 20,
    TouchesUnfinished = 21,
    TouchesDisagree = 22,
    TwoOpen = 23,
    ContactNotShown = 24,
    OtherPosts = 25,
);

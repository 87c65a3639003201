//! The numbers of a live run.

use super::table;
use crate::judgement::{
    Activity, At, LiveCause, LiveFindingKind, LiveReason, LiveUnit, PairSign, SupplyKind,
};

table!(At, 2: Adapter = 0, Plate = 1);
table!(PairSign, 3: Right = 0, Reversed = 1, Undecided = 2);
table!(Activity, 3: Idle = 0, Busy = 1, Unknown = 2);
table!(LiveUnit, 4: VoltDirect = 0, VoltRms = 1, VoltPeak = 2, Hertz = 3);

table!(SupplyKind, 9:
    AlternatingMains = 0,
    Other = 1,
    HalfWave = 2,
    FullWave = 3,
    Direct = 4,
    None = 5,
    Unknown = 6,
);

table!(LiveReason, 16:
    WithinLimits = 0,
    BelowLimit = 1,
    AboveLimit = 2,
    TooCloseToLimit = 3,
    LimitUnknown = 4,
    OtherKind = 5,
    Nothing = 6,
    CouplesIn = 7,
    Floats = 8,
    Reversed = 9,
    Undecided = 10,
    BeyondRange = 11,
    Busy = 12,
    NotMeasured = 13,
);

table!(LiveFindingKind, 39:
    Hazard = 0,
    AllMoveTogether = 1,
    SecondSource = 2,
    SupplyOnData = 3,
    SupplyElsewhere = 4,
    SupplyCrossedWithCommon = 5,
    ForeignVoltage = 6,
    CommonMissing = 7,
    NoSupply = 8,
    OtherSupply = 9,
    LowSupply = 10,
    HighSupply = 11,
    SupplyGivesWay = 12,
    SupplySags = 13,
    ReversedPair = 14,
    Floats = 15,
    PairNotBiased = 16,
    PairLoaded = 17,
    PairAboveRange = 18,
    BeyondReceiver = 19,
    Hum = 20,
    TooCloseToLimit = 21,
    LimitUnknown = 22,
    Incomplete = 23,
);

table!(LiveCause, 15:
    NotMeasured = 0,
    NotFinished = 1,
    PatternsMissing = 2,
    ReadingsMissing = 3,
    LoadedMissing = 4,
    Unexplained = 5,
    Busy = 6,
    CommonMissing = 7,
);

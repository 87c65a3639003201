//! What a dead-run check does not test: said in every result, so that nobody reads it into a pass.

use serde::{Deserialize, Serialize};

/// Something that was not tested.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum NotTested {
    /// Shorts and leakage with the end plug out: with it in, a path above some 3 kΩ may not be seen.
    ShortsAndLeakage,
    /// How the conductors were landed before they were lifted for the test.
    HowItWasLanded,
    /// Anything to chassis, earth or a shield: the jig has no post for them.
    ToChassisOrShield,
    /// To a shield, in a test to earth: none is on post 3.
    ToShield,
    /// Conductor by conductor: continuity, where each arrives, and between any two.
    EachConductor,
    /// Noise, and how data passes.
    NoiseAndTraffic,
    /// The loops against the cable's length: gauge and length were not told.
    LoopAgainstLength,
    /// Voltage on the run before it was driven: this capture has no such readings.
    VoltageOnTheRun,
}

//! What is known of a run beside the readings that are judged.

use serde::{Deserialize, Serialize};

use crate::capture::End;
use crate::copper::{Calculated, CelsiusRange, Gauge, Length, expected_ohm};
use crate::judgement::Measured;
use crate::landing::Landed;
use crate::limits::Quantity;
use crate::other_end::OtherEnd;

/// What is known of a run beside its readings: as it was told, or measured another time.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct RunKnowledge {
    /// Its conductors.
    pub gauge: Option<Gauge>,
    /// From end to end.
    pub length: Option<Length>,
    /// Of the copper.
    pub temperature: CelsiusRange,
    /// Both ends were seen to be lifted: what joins two conductors is then a fault, and not a device
    /// that is still landed.
    pub lifted: bool,
    /// This end could not be lifted: what hangs there may hide a fault, or look like one.
    pub cannot_lift: Option<End>,
    /// Which colour was on which terminal.
    pub landed: Landed,
    /// The run from its other end.
    pub other_end: Option<OtherEnd>,
}

impl RunKnowledge {
    /// What one conductor must have; absent unless both gauge and length are known.
    #[must_use]
    pub fn calculated(&self) -> Option<Calculated> {
        Some(expected_ohm(self.gauge?, self.length?, self.temperature))
    }
}

/// What is known of a powered run beside its readings: as it was told, or measured another time.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct LiveKnowledge {
    /// What a control takes, in amperes, in place of what the sheet says.
    pub control_current: Option<Quantity>,
    /// Supply and common of the run together, in ohms: what lies between the jig and the far end.
    pub run_ohm: Option<Measured>,
}

#[test]
fn what_is_known_comes_back_from_text() {
    let known = RunKnowledge {
        gauge: "18awg-stranded".parse().ok(),
        length: "100.1ft".parse().ok(),
        temperature: "60..71.3F".parse().unwrap_or_default(),
        cannot_lift: Some(End::Far),
        landed: Landed {
            near: "data+=white,data-=green,common=brown,supply=red striped".parse().ok(),
            far: None,
        },
        ..RunKnowledge::default()
    };
    assert!(known.gauge.is_some() && known.length.is_some() && known.landed.near.is_some());
    let text = serde_json::to_string(&known).expect("text");
    assert_eq!(serde_json::from_str::<RunKnowledge>(&text).ok(), Some(known), "{text}");
    let nothing = serde_json::from_str::<RunKnowledge>("{}").ok();
    assert_eq!(nothing, Some(RunKnowledge::default()));
    let of_mains = r#"{"gauge":"5awg"}"#;
    assert!(serde_json::from_str::<RunKnowledge>(of_mains).is_err(), "no such gauge");
}

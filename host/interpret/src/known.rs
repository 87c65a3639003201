//! What is known of a run beside its capture.

/// What the operator says of a run.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RunKnowledge {
    /// Both ends were seen to be lifted: what joins two conductors is then a fault, and not a device
    /// that is still landed.
    pub lifted: bool,
}

//! What it means to be beyond a limit.

use serde::{Deserialize, Serialize};

/// What a limit that is passed, or any other finding, means for the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Severity {
    /// The run fails.
    Fail,
    /// The run cannot pass.
    CannotTell,
    /// Worth knowing; the run may pass.
    Note,
}

/// Whether a finding would explain why someone was called.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ExplainsComplaint {
    /// Nothing works like that.
    Yes,
    /// It may.
    Possibly,
    /// Hardly.
    Unlikely,
}

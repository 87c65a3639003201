//! Whether a conductor's wires are bare or tinned.

use serde::{Deserialize, Serialize};

/// What a conductor's wires are covered with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Surface {
    /// Nothing.
    Plain,
    /// Tin, which conducts less than the copper it takes the place of.
    Tinned,
}

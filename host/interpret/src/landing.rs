//! How the run was landed, by the colours of its wires: what a person read off, not measured.

mod colours;
mod found;

pub use colours::{Colours, NotColours};
pub(crate) use found::landing;
use serde::{Deserialize, Serialize};

/// Which colour was on which terminal, as far as it was told.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Landed {
    /// At the jig's end.
    pub near: Option<Colours>,
    /// At the end plug's.
    pub far: Option<Colours>,
}

//! That a run was clipped for the test to earth, and what its shield was.

use serde::{Deserialize, Serialize};

/// All cores are held together on post 1, bare metal is on post 2, the drain wire of a shield on post 3.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ToEarth {
    /// The shield's drain wire here; nothing where no shield is on post 3.
    pub shield: Option<Drain>,
}

/// How a shield's drain wire was found at the near end, before it was lifted for the test.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Drain {
    /// On earth or chassis.
    Landed,
    /// On nothing.
    Free,
    /// Nobody saw.
    Unsure,
}

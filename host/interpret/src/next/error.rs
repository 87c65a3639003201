//! Why something that was told is not of the case.

use super::near;

/// What was told is none of the facts, or nothing that it can be.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum FactError {
    /// No fact has this key.
    #[error("there is no fact `{key}`{}", near::told(near))]
    Unknown {
        /// What was told.
        key: String,
        /// Those that are near.
        near: Vec<String>,
    },
    /// It cannot be that.
    #[error("`{key}` cannot be `{value}`: it is {expected} or unknown")]
    NotOf {
        /// The fact.
        key: String,
        /// What was told.
        value: String,
        /// What it can be.
        expected: String,
    },
    /// Only yes, no or unknown answers it.
    #[error("`{key}` is no question of yes or no; it takes one of: {expected}")]
    NotYesNo {
        /// The fact.
        key: String,
        /// What it can be.
        expected: String,
    },
    /// It is measured, and not told.
    #[error("`{key}` is only measured, nobody can tell it")]
    OnlyMeasured {
        /// The fact.
        key: String,
    },
}

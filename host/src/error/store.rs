//! Why what is kept on this computer could not be used.

use runproof_records::StoreError;

use crate::exit::Exit;

/// What makes a store usable again.
pub(crate) fn next_step(error: &StoreError) -> &'static str {
    match error {
        StoreError::Later { .. } => "use that later version here too",
        StoreError::Busy { .. } => "end the other program that keeps it, and try again",
        StoreError::Full { .. } => "make room on that disk",
        StoreError::ReadOnly { .. } | StoreError::NotOpened { .. } => {
            "make that folder one that you can write to"
        }
        StoreError::Damaged { .. } => {
            "move that file away, and keep it: most of it can be read by SQLite's own tools; a new one is begun"
        }
        StoreError::NoRecord { .. } => "list them with `runproof records`",
        StoreError::Several { .. } => "give more of the id, or its number here",
        _ => "try again; if it stays so, move that file away, and keep it: a new one is begun",
    }
}

pub(super) fn exit(error: &StoreError) -> Exit {
    match error {
        StoreError::NoRecord { .. }
        | StoreError::Several { .. }
        | StoreError::Later { .. }
        | StoreError::Damaged { .. } => Exit::BadFile,
        _ => Exit::NotSaved,
    }
}

//! The platform's folder for a program's data.

use std::path::PathBuf;

use etcetera::BaseStrategy;

/// Where this program keeps what it is to find again; none where the platform says no such folder.
pub(crate) fn data_folder() -> Option<PathBuf> {
    let platform = etcetera::choose_base_strategy().ok()?;
    Some(platform.data_dir().join("runproof"))
}

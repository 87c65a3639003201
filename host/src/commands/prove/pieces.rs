//! Scenes of known pieces.

use std::path::Path;

use runproof_firmware::boards::simulated::Scene;
use runproof_interpret::pieces::Piece;

use crate::commands::check::scene_in_file;
use crate::error::Error;

/// Those that are kept with a jig of this design.
const BUILT_IN: [(&str, &str); 3] = [
    ("good", include_str!("../../../../firmware/jig/check-pieces/good.toml")),
    ("crossed", include_str!("../../../../firmware/jig/check-pieces/crossed.toml")),
    ("open", include_str!("../../../../firmware/jig/check-pieces/open.toml")),
];

/// A scene for each piece: sound ones, or those in a folder.
pub(super) fn scenes(from: &Path, pieces: &[&Piece]) -> Result<Vec<(String, Scene)>, Error> {
    pieces.iter().map(|piece| Ok((piece.name.clone(), scene(from, &piece.name)?))).collect()
}

fn scene(from: &Path, piece: &str) -> Result<Scene, Error> {
    let built_in = BUILT_IN.iter().find(|(name, _)| from == Path::new("pieces") && *name == piece);
    match built_in {
        Some((_, text)) => Ok(Scene::read(text)?),
        None => scene_in_file(&from.join(format!("{piece}.toml"))),
    }
}

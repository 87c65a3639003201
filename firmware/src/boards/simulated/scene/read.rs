//! A scene as text, and those that come with the program.

use std::string::{String, ToString};

use super::{FLEXED, LIVE, REELS, Scene};

/// Runs to be tested that come with the program, by name.
pub const BUILT_IN: [(&str, &str); 33] = [
    ("good-run", include_str!("../scenes/good-run.toml")),
    ("reversed-pair", include_str!("../scenes/reversed-pair.toml")),
    ("crossed-supply", include_str!("../scenes/crossed-supply.toml")),
    ("rolled-splice", include_str!("../scenes/rolled-splice.toml")),
    ("tail-exchanged", include_str!("../scenes/tail-exchanged.toml")),
    ("clips-shifted", include_str!("../scenes/clips-shifted.toml")),
    ("open-supply", include_str!("../scenes/open-supply.toml")),
    ("cut-common", include_str!("../scenes/cut-common.toml")),
    ("cut-through", include_str!("../scenes/cut-through.toml")),
    ("reversed-and-open", include_str!("../scenes/reversed-and-open.toml")),
    ("staple-short", include_str!("../scenes/staple-short.toml")),
    ("nail-through-three", include_str!("../scenes/nail-through-three.toml")),
    ("corroded-splice", include_str!("../scenes/corroded-splice.toml")),
    ("loose-data-screw", include_str!("../scenes/loose-data-screw.toml")),
    ("long-thin-run", include_str!("../scenes/long-thin-run.toml")),
    ("damp-splice", include_str!("../scenes/damp-splice.toml")),
    ("slightly-damp", include_str!("../scenes/slightly-damp.toml")),
    ("terminator-left", include_str!("../scenes/terminator-left.toml")),
    ("transformer-landed", include_str!("../scenes/transformer-landed.toml")),
    ("receiver-landed", include_str!("../scenes/receiver-landed.toml")),
    ("rectifier-landed", include_str!("../scenes/rectifier-landed.toml")),
    ("ghost-voltage", include_str!("../scenes/ghost-voltage.toml")),
    ("hum-alongside", include_str!("../scenes/hum-alongside.toml")),
    ("powered-run", include_str!("../scenes/powered-run.toml")),
    ("no-plug", include_str!("../scenes/no-plug.toml")),
    ("wrong-cable", include_str!("../scenes/wrong-cable.toml")),
    ("plug-left-in", include_str!("../scenes/plug-left-in.toml")),
    ("tail-on-clips", include_str!("../scenes/tail-on-clips.toml")),
    ("two-wire", include_str!("../scenes/two-wire.toml")),
    ("sound-to-earth", include_str!("../scenes/sound-to-earth.toml")),
    ("nicked-to-conduit", include_str!("../scenes/nicked-to-conduit.toml")),
    ("damp-conduit", include_str!("../scenes/damp-conduit.toml")),
    ("shield-bonded-far", include_str!("../scenes/shield-bonded-far.toml")),
];

/// A scene that cannot be used.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SceneError {
    /// There is none of that name.
    #[error("there is no scene named `{0}`")]
    Unknown(String),
    /// It is not written as a scene is.
    #[error("the scene cannot be read: {0}")]
    Unreadable(String),
    /// A value is out of range.
    #[error("the scene's `{key}` is wrong: {reason}")]
    Impossible {
        /// Which value.
        key: &'static str,
        /// What it must be.
        reason: &'static str,
    },
}

impl Scene {
    /// The built-in scene of this name.
    pub fn built_in(name: &str) -> Result<Self, SceneError> {
        let (_, text) = BUILT_IN
            .iter()
            .chain(&LIVE)
            .chain(&REELS)
            .chain(&FLEXED)
            .find(|(known, _)| *known == name)
            .ok_or_else(|| SceneError::Unknown(name.to_string()))?;
        Self::read(text)
    }

    /// Reads and checks a scene.
    pub fn read(text: &str) -> Result<Self, SceneError> {
        let scene: Self =
            toml::from_str(text).map_err(|error| SceneError::Unreadable(error.to_string()))?;
        scene.checked()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_built_in_scene_can_be_used() {
        for (name, _) in BUILT_IN.into_iter().chain(LIVE).chain(REELS).chain(FLEXED) {
            assert!(Scene::built_in(name).is_ok(), "{name}: {:?}", Scene::built_in(name));
        }
    }

    #[test]
    fn a_wrong_scene_is_told() {
        let (_, good) = BUILT_IN.into_iter().find(|(name, _)| *name == "good-run").expect("it");
        for (from, to, told) in [
            ("arrives_at = [1, 2, 3, 4]", "arrives_at = [1, 2, 3, 3]", "run.arrives_at"),
            ("length_m = 30.0", "length_m = nan", "run.length_m"),
            ("copper_c", "plugged_to = [0, 1, 2, 3]\ncopper_c", "run.plugged_to"),
            ("plug = \"goes-in\"", "plgu = \"goes-in\"", "plgu"),
        ] {
            assert!(good.contains(from), "{from}");
            let error = Scene::read(&good.replace(from, to)).unwrap_err().to_string();
            assert!(error.contains(told), "{error}");
        }
    }
}

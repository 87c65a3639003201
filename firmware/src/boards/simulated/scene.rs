//! What is on the clips: a run with its faults, and its end plug, from a small text file.

use std::string::{String, ToString};
use std::vec::Vec;

use runproof_protocol::Post;
use serde::Deserialize;

/// The scenes that come with the program, by name.
pub const BUILT_IN: [(&str, &str); 6] = [
    ("good-run", include_str!("scenes/good-run.toml")),
    ("reversed-pair", include_str!("scenes/reversed-pair.toml")),
    ("crossed-supply", include_str!("scenes/crossed-supply.toml")),
    ("open-supply", include_str!("scenes/open-supply.toml")),
    ("no-plug", include_str!("scenes/no-plug.toml")),
    ("powered-run", include_str!("scenes/powered-run.toml")),
];

/// A simulated run.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Scene {
    /// What it shows, in a sentence.
    pub about: String,
    /// The cable between the two ends.
    pub run: Run,
    /// The end plug is in.
    pub plug_fitted: bool,
    /// Voltage from elsewhere.
    pub foreign: Option<Foreign>,
}

/// A cable of four conductors.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Run {
    /// From end to end, in metres.
    pub length_m: f64,
    /// Each conductor at 20 °C, in ohms a kilometre.
    pub ohm_per_km: f64,
    /// The copper's temperature, in °C.
    pub copper_c: f64,
    /// The end plug's terminal that the conductor on posts 1–4 arrives at.
    pub arrives_at: [u8; 4],
    /// Conductors that are broken.
    #[serde(default)]
    pub open: Vec<OpenConductor>,
    /// Conductors with a bad joint.
    #[serde(default)]
    pub joint: Vec<Joint>,
    /// Conductors that touch each other.
    #[serde(default)]
    pub short: Vec<Short>,
}

/// A break.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OpenConductor {
    /// In the conductor on this post.
    pub post: u8,
    /// Where, as a fraction of the length from the jig.
    pub at: f64,
}

/// A clip, screw, splice or nicked core that has resistance.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// In the conductor on this post.
    pub post: u8,
    /// Where, as a fraction of the length from the jig.
    pub at: f64,
    /// How much, in ohms.
    pub ohm: f64,
}

/// Two conductors that touch.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Short {
    /// The conductors on these two posts.
    pub posts: [u8; 2],
    /// Where, as a fraction of the length from the jig.
    pub at: f64,
    /// How well, in ohms.
    pub ohm: f64,
}

/// A source that someone left on the run, at its far end.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Foreign {
    /// Between the conductors on these two posts.
    pub between: [u8; 2],
    /// Alternating part, in volts.
    pub volts_rms: f64,
    /// Its frequency.
    pub hertz: f64,
    /// Its inner resistance.
    pub source_ohm: f64,
}

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

    fn checked(self) -> Result<Self, SceneError> {
        let wrong = |key, reason| Err(SceneError::Impossible { key, reason });
        let run = &self.run;
        if !(0.1..=2_000.0).contains(&run.length_m) {
            return wrong("run.length_m", "0.1 to 2000 m");
        }
        if !(1.0..=1_000.0).contains(&run.ohm_per_km) {
            return wrong("run.ohm_per_km", "1 to 1000 Ω/km");
        }
        if !(-40.0..=105.0).contains(&run.copper_c) {
            return wrong("run.copper_c", "-40 to 105 °C");
        }
        let mut arrivals = run.arrives_at;
        arrivals.sort_unstable();
        if arrivals != [1, 2, 3, 4] {
            return wrong("run.arrives_at", "each of 1, 2, 3, 4 once");
        }
        let is_post = |number: &u8| Post::from_number(*number).is_some();
        let is_pair = |[a, b]: &[u8; 2]| is_post(a) && is_post(b) && a != b;
        let is_place = |at: &f64| (0.0..=1.0).contains(at);
        let is_ohm = |ohm: &f64| (1e-3..=1e9).contains(ohm);
        for open in &run.open {
            if !(is_post(&open.post) && is_place(&open.at)) {
                return wrong("run.open", "a post, 1 to 4, and a place, 0 (at the jig) to 1");
            }
        }
        for joint in &run.joint {
            if !(is_post(&joint.post) && is_place(&joint.at) && is_ohm(&joint.ohm)) {
                return wrong("run.joint", "a post, a place 0 to 1, and 1 mΩ to 1 GΩ");
            }
        }
        for short in &run.short {
            if !(is_pair(&short.posts) && is_place(&short.at) && is_ohm(&short.ohm)) {
                return wrong("run.short", "two posts, a place 0 to 1, and 1 mΩ to 1 GΩ");
            }
        }
        if let Some(foreign) = &self.foreign {
            if !is_pair(&foreign.between) {
                return wrong("foreign.between", "two different posts, 1 to 4");
            }
            if !(0.0..=600.0).contains(&foreign.volts_rms) {
                return wrong("foreign.volts_rms", "0 to 600 V");
            }
            if !(1.0..=1_000.0).contains(&foreign.hertz) {
                return wrong("foreign.hertz", "1 to 1000 Hz");
            }
            if !(0.01..=1e9).contains(&foreign.source_ohm) {
                return wrong("foreign.source_ohm", "0.01 Ω to 1 GΩ");
            }
        }
        Ok(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_built_in_scene_can_be_used() {
        for (name, _) in BUILT_IN {
            assert!(Scene::built_in(name).is_ok(), "{name}: {:?}", Scene::built_in(name));
        }
    }

    #[test]
    fn a_wrong_scene_is_told() {
        let good = BUILT_IN[0].1;
        for (from, to, told) in [
            ("arrives_at = [1, 2, 3, 4]", "arrives_at = [1, 2, 3, 3]", "run.arrives_at"),
            ("length_m = 30.0", "length_m = nan", "run.length_m"),
            ("plug_fitted", "plug_fited", "plug_fited"),
        ] {
            assert!(good.contains(from), "{from}");
            let error = Scene::read(&good.replace(from, to)).unwrap_err().to_string();
            assert!(error.contains(told), "{error}");
        }
    }
}

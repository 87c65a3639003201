//! What moves while a run is flexed: a contact that breaks, worsens slowly, or touches another.

use std::vec::Vec;

use serde::Deserialize;

/// Runs that are flexed, by name.
pub const FLEXED: [(&str, &str); 6] = [
    ("flex-good", include_str!("../scenes/flexed/flex-good.toml")),
    ("flex-nicked", include_str!("../scenes/flexed/flex-nicked.toml")),
    ("flex-loose-screw", include_str!("../scenes/flexed/flex-loose-screw.toml")),
    ("flex-warm-joint", include_str!("../scenes/flexed/flex-warm-joint.toml")),
    ("flex-blower", include_str!("../scenes/flexed/flex-blower.toml")),
    ("flex-staple", include_str!("../scenes/flexed/flex-staple.toml")),
];

/// A contact that moves.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Flexed {
    /// What it is.
    pub of: Contact,
    /// Where, as a fraction of the length from the jig.
    pub at: f64,
    /// When it is away from rest.
    pub moves: Moves,
    /// It rests until so many seconds after the jig's start.
    #[serde(default)]
    pub from_s: f64,
    /// And from so many on.
    #[serde(default = "super::never")]
    pub until_s: f64,
}

/// What moves.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Contact {
    /// A conductor, by the post that it belongs on: next to nothing at rest, away it has so many ohms; broken, a thousand million.
    Conductor {
        /// Which.
        post: u8,
        /// Away from rest.
        #[serde(default = "broken")]
        ohm: f64,
    },
    /// Two conductors that touch when they are away from rest.
    Touch {
        /// Which.
        posts: [u8; 2],
        /// Then.
        ohm: f64,
    },
}

fn broken() -> f64 {
    1e9
}

/// How it moves.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Moves {
    /// As a bad contact chatters: at rest and away for times drawn from exponential laws, of these means (a Markov chain of two
    /// states).
    Chatters {
        /// At rest.
        rests_ms: f64,
        /// Away.
        away_ms: f64,
    },
    /// As something shakes it.
    Shakes {
        /// So often a second.
        hertz: f64,
        /// Away each time.
        away_ms: f64,
    },
    /// As copper warms and cools: from rest to away and back in steps too small to be told.
    Creeps {
        /// There and back.
        period_s: f64,
    },
    /// At these times: since `from_s`, and how long, in milliseconds.
    At(Vec<[f64; 2]>),
}

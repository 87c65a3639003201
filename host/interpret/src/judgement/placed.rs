//! Where an exchange lies: at the clips, in the run, or at the clips of the end plug.

use runproof_protocol::Post;
use serde::{Deserialize, Serialize, Serializer};

/// A part of the way from post to plug.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Place {
    /// The jig's clips on the near end's wires.
    Clips,
    /// The run, from terminal to terminal.
    Run,
    /// The tail's clips on the far end's wires.
    PlugEnd,
}

/// How each part joins, as wires that were held together showed it; absent where they did not.
///
/// Terminals are numbered as the posts that they belong on. Each list goes by terminal, 1 to 4.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Placed {
    /// By the near end's terminal, the post that its wire is on.
    #[serde(serialize_with = "numbers")]
    pub clips: Option<[Post; 4]>,
    /// By the near end's terminal, the far end's that its wire arrives at.
    #[serde(serialize_with = "numbers")]
    pub run: Option<[Post; 4]>,
    /// By the far end's terminal, the plug's that its wire is on.
    #[serde(serialize_with = "numbers")]
    pub plug_end: Option<[Post; 4]>,
}

fn numbers<S: Serializer>(posts: &Option<[Post; 4]>, to: S) -> Result<S::Ok, S::Error> {
    posts.map(|posts| posts.map(Post::number)).serialize(to)
}

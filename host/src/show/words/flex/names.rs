//! What lanes are called: by the limit sheet, which says what is on each post.

use runproof_interpret::LimitSheet;
use runproof_interpret::flex::FlexLaneOf;
use runproof_protocol::Post;

use super::super::conductor;

/// Of four posts.
#[derive(Clone, Debug)]
pub(crate) struct Names([String; 4]);

impl Names {
    pub(crate) fn of(sheet: &LimitSheet) -> Self {
        Self(Post::ALL.map(|post| {
            let named = sheet.conductors.iter().find(|one| one.post == post);
            named.map_or_else(|| format!("post {post}"), |one| conductor(one.name).to_owned())
        }))
    }

    /// The conductor on this post.
    pub(crate) fn post(&self, post: Post) -> &str {
        &self.0[post.index()]
    }

    /// "data−", "data+ and common", "not told which".
    pub(crate) fn lane(&self, of: FlexLaneOf) -> String {
        match of {
            FlexLaneOf::Conductor(post) => self.post(post).to_owned(),
            FlexLaneOf::Pair(a, b) => format!("{} and {}", self.post(a), self.post(b)),
            FlexLaneOf::Untold => "untold".into(),
        }
    }

    /// The same where there is little room: "data+ common".
    pub(crate) fn short(&self, of: FlexLaneOf) -> String {
        match of {
            FlexLaneOf::Pair(a, b) => format!("{} {}", self.post(a), self.post(b)),
            one => self.lane(one),
        }
    }
}

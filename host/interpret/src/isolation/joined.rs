//! Posts that metal joins, taken for one: what leaks between them and others is then told as a whole.
//!
//! Two inputs' gains differ by more than such posts do, so how a leak divides between them cannot be told, and
//! the attempt would spoil its sum.

use runproof_protocol::Post;

use crate::resistances::Swing;

/// A path below this is called a short; from here on, leakage. [judgement]
pub(super) const SHORT_MAX_OHM: f64 = 1_000.0;

/// By post, the first post that it is joined to: itself, where it is joined to none before it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Joined([Post; 4]);

impl Joined {
    /// Every post for itself.
    pub(super) const NONE: Self = Self(Post::ALL);

    pub(super) fn of(swings: &[Swing; 6]) -> Self {
        let mut first = Post::ALL;
        for swing in swings.iter().filter(|swing| swing.meets_below(SHORT_MAX_OHM)) {
            let (a, b) = (first[swing.posts.0.index()], first[swing.posts.1.index()]);
            first.iter_mut().filter(|one| **one == a.max(b)).for_each(|one| *one = a.min(b));
        }
        Self(first)
    }

    /// Which first posts a pair stands between; none where it stands within a group.
    pub(super) fn between(&self, (a, b): (Post, Post)) -> Option<(Post, Post)> {
        let (a, b) = (self.0[a.index()], self.0[b.index()]);
        (a != b).then_some((a.min(b), a.max(b)))
    }

    /// All posts that are joined to this one, itself among them.
    pub(super) fn with(&self, post: Post) -> impl Iterator<Item = Post> + Clone {
        let first = self.0[post.index()];
        let all = self.0;
        Post::ALL.into_iter().filter(move |one| all[one.index()] == first)
    }

    /// The first post of each group.
    pub(super) fn firsts(&self) -> impl Iterator<Item = Post> {
        let all = self.0;
        Post::ALL.into_iter().filter(move |one| all[one.index()] == *one)
    }
}

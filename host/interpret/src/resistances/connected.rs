//! Which posts meet each other at all.

use runproof_protocol::Post;

use super::OPEN_OHM;
use super::swing::Swing;

/// How the posts fall into groups that are connected.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Connected {
    /// All four.
    All,
    /// All but one.
    AllBut(Post),
    /// Two with each other, the other two with nothing.
    Two([Post; 2]),
    /// Two and two.
    TwoAndTwo,
    /// None with any.
    None,
}

pub(crate) fn connected(swings: &[Swing; 6]) -> Connected {
    // The least post that each is connected with, through others too.
    let mut group = [0, 1, 2, 3];
    for swing in swings.iter().filter(|swing| swing.meets_below(OPEN_OHM)) {
        let (a, b) = (group[swing.posts.0.index()], group[swing.posts.1.index()]);
        for member in &mut group {
            if *member == a.max(b) {
                *member = a.min(b);
            }
        }
    }
    let size = |post: &Post| group.iter().filter(|g| **g == group[post.index()]).count();
    let alone: Vec<Post> = Post::ALL.into_iter().filter(|post| size(post) == 1).collect();
    let together: Vec<Post> = Post::ALL.into_iter().filter(|post| size(post) > 1).collect();
    match (alone.as_slice(), together.as_slice()) {
        ([], _) if size(&Post::P1) == 4 => Connected::All,
        ([], _) => Connected::TwoAndTwo,
        ([post], _) => Connected::AllBut(*post),
        (_, [a, b]) => Connected::Two([*a, *b]),
        _ => Connected::None,
    }
}

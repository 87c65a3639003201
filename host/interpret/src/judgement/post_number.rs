//! Posts in results are the numbers printed beside the clips.

use runproof_protocol::Post;
use serde::Serializer;

pub(super) fn one<S: Serializer>(post: &Post, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_u8(post.number())
}

pub(super) fn maybe<S: Serializer>(post: &Option<Post>, to: S) -> Result<S::Ok, S::Error> {
    match post {
        Some(post) => one(post, to),
        None => to.serialize_none(),
    }
}

pub(super) fn list<S: Serializer>(posts: &[Post], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(posts.iter().map(|post| post.number()))
}

pub(super) fn map<S: Serializer>(posts: &[Option<Post>; 4], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(posts.iter().map(|post| post.map(Post::number)))
}

pub(super) fn pair<S: Serializer>(posts: &[Post; 2], to: S) -> Result<S::Ok, S::Error> {
    list(posts, to)
}

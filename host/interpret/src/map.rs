//! A map: the plug's terminal that the conductor of each post arrives at.

use runproof_protocol::Post;

/// By post, in order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Map([Post; 4]);

impl Map {
    /// Every conductor at its own terminal.
    pub(crate) const STRAIGHT: Self = Self(Post::ALL);

    /// All 24.
    pub(crate) fn all() -> impl Iterator<Item = Self> {
        (0..256_usize).filter_map(|code| {
            let map: [Post; 4] = std::array::from_fn(|k| Post::ALL[code >> (2 * k) & 3]);
            let whole = Post::ALL.iter().all(|post| map.contains(post));
            whole.then_some(Self(map))
        })
    }

    pub(crate) fn reaches(&self, post: Post) -> Post {
        self.0[post.index()]
    }

    /// From which post a conductor arrives there.
    pub(crate) fn inverse(&self) -> Self {
        let mut back = *self;
        for post in Post::ALL {
            back.0[self.reaches(post).index()] = post;
        }
        back
    }

    /// This map first, then the other.
    pub(crate) fn then(&self, other: &Self) -> Self {
        Self(self.0.map(|post| other.reaches(post)))
    }

    /// By post, in order.
    pub(crate) fn posts(&self) -> [Post; 4] {
        self.0
    }

    /// Posts whose conductor arrives at another terminal than its own.
    pub(crate) fn moved(&self) -> impl Iterator<Item = Post> {
        let map = *self;
        Post::ALL.into_iter().filter(move |post| map.reaches(*post) != *post)
    }
}

#[test]
fn there_are_24_maps_and_one_is_straight() {
    let moved: Vec<usize> = Map::all().map(|map| map.moved().count()).collect();
    let count = |n| moved.iter().filter(|moved| **moved == n).count();
    assert_eq!((count(0), count(1), count(2), count(3), count(4)), (1, 0, 6, 8, 9));
}

#[test]
fn a_map_and_its_inverse_are_straight() {
    for map in Map::all() {
        assert_eq!(map.then(&map.inverse()), Map::STRAIGHT, "{map:?}");
        assert_eq!(map.inverse().then(&map), Map::STRAIGHT, "{map:?}");
    }
}

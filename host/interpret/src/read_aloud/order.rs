//! Orders of four things as one number, posts of a finding, and which conductor is on which post.

use runproof_protocol::Post;
use serde::{Serialize, Serializer};

use super::packing::Numbered;
use crate::limits::ConductorName;

/// The orders of 0 to 3, sorted.
fn orders() -> impl Iterator<Item = [usize; 4]> {
    let all = (0..256_usize).map(|code| [code >> 6 & 3, code >> 4 & 3, code >> 2 & 3, code & 3]);
    all.filter(|order| (0..4).all(|one| order.contains(&one)))
}

/// How many there are.
const ORDERS: u32 = 24;

fn number_of(order: [usize; 4]) -> Option<u32> {
    orders().position(|one| one == order).map(|found| found as u32)
}

fn order_of(number: u32) -> Option<[usize; 4]> {
    orders().nth(number as usize)
}

/// By post, the terminal that its wire belongs on. What is no order is told as the straight one.
impl Numbered for [Post; 4] {
    const RADIX: u32 = ORDERS;
    fn number(&self) -> u32 {
        number_of(self.map(Post::index)).unwrap_or(0)
    }
    fn numbered(number: u32) -> Option<Self> {
        Some(order_of(number)?.map(|index| Post::ALL[index]))
    }
}

/// What a run's conductors are called.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wires {
    /// By post, of four.
    Four([ConductorName; 4]),
    /// Two that have no names, or whatever has not these four.
    Nameless,
}

const NAMES: [ConductorName; 4] = [
    ConductorName::DataPlus,
    ConductorName::DataMinus,
    ConductorName::Common,
    ConductorName::Supply,
];

impl Wires {
    /// By names and posts.
    pub(super) fn of(named: &[(ConductorName, Post)]) -> Self {
        let on = |post: Post| named.iter().find(|(_, on)| *on == post).map(|(name, _)| *name);
        let four = Post::ALL.map(on);
        match four {
            [Some(a), Some(b), Some(c), Some(d)] if order_of_names([a, b, c, d]).is_some() => {
                Self::Four([a, b, c, d])
            }
            _ => Self::Nameless,
        }
    }

    /// With their posts; none of what has no names.
    pub fn named(&self) -> impl Iterator<Item = (ConductorName, Post)> {
        let names = match self {
            Self::Four(names) => names.as_slice(),
            Self::Nameless => &[],
        };
        names.iter().copied().zip(Post::ALL)
    }
}

fn order_of_names(names: [ConductorName; 4]) -> Option<u32> {
    let index = |name| NAMES.iter().position(|one| *one == name);
    let [a, b, c, d] = names.map(index);
    number_of([a?, b?, c?, d?])
}

/// Nameless is behind all orders.
impl Numbered for Wires {
    const RADIX: u32 = ORDERS + 1;
    fn number(&self) -> u32 {
        match self {
            Self::Four(names) => order_of_names(*names).unwrap_or(ORDERS),
            Self::Nameless => ORDERS,
        }
    }
    fn numbered(number: u32) -> Option<Self> {
        if number == ORDERS {
            return Some(Self::Nameless);
        }
        Some(Self::Four(order_of(number)?.map(|index| NAMES[index])))
    }
}

impl Serialize for Wires {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        self.named().map(|(name, _)| name).collect::<Vec<_>>().serialize(to)
    }
}

impl Numbered for Post {
    const RADIX: u32 = 4;
    fn number(&self) -> u32 {
        self.index() as u32
    }
    fn numbered(number: u32) -> Option<Self> {
        Self::ALL.get(number as usize).copied()
    }
}

/// Whom a finding concerns, in the order of their numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Posts([bool; 4]);

impl Posts {
    pub(super) fn of(posts: &[Post]) -> Self {
        Self(Post::ALL.map(|post| posts.contains(&post)))
    }

    /// Each of them.
    #[must_use]
    pub fn all(&self) -> Vec<Post> {
        Post::ALL.into_iter().filter(|post| self.0[post.index()]).collect()
    }
}

/// A bit each, post 1's the lowest.
impl Numbered for Posts {
    const RADIX: u32 = 16;
    fn number(&self) -> u32 {
        self.0.iter().rev().fold(0, |sum, is_in| sum << 1 | u32::from(*is_in))
    }
    fn numbered(number: u32) -> Option<Self> {
        Some(Self([0, 1, 2, 3].map(|bit| number >> bit & 1 == 1)))
    }
}

impl Serialize for Posts {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_seq(self.all().iter().map(|post| post.number()))
    }
}

#[test]
fn every_order_and_every_choice_comes_back() {
    assert_eq!(orders().count(), ORDERS as usize);
    for number in 0..ORDERS {
        assert_eq!(<[Post; 4]>::numbered(number).map(|one| one.number()), Some(number));
    }
    for number in 0..Wires::RADIX {
        assert_eq!(Wires::numbered(number).map(|one| one.number()), Some(number));
    }
    for number in 0..Posts::RADIX {
        assert_eq!(Posts::numbered(number).map(|one| one.number()), Some(number));
    }
    assert_eq!(Post::ALL.number(), 0);
    assert_eq!(Posts::of(&[Post::P4, Post::P2]).all(), [Post::P2, Post::P4]);
}

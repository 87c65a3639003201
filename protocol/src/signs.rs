//! What a jig shows and sounds without a screen: four lamps beside the posts, and a sounder.
//!
//! Made to be told over the phone. Steady: good. Dark: open. Two blinking together: joined. Two taking
//! turns: exchanged; three or four: going round. One blinking alone: too much resistance. A wink, most
//! of the time dark: cannot tell. All flashing fast: voltage on the run.

use serde::{Deserialize, Serialize};

use crate::Post;

/// A lamp's pattern: sixteen steps, the lowest bit first, over and over.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lamp(pub u16);

impl Lamp {
    /// How many steps a pattern has.
    pub const STEPS: usize = 16;
    /// How long one step is, in microseconds.
    pub const STEP_MICROS: u64 = 100_000;

    /// Never lit: the post's conductor is open.
    pub const DARK: Self = Self(0);
    /// Always lit: its conductor is good.
    pub const STEADY: Self = Self(0xFFFF);
    /// Half of the time: with another at the same time, they are joined; alone, it has too much resistance.
    pub const BLINK: Self = Self(0x00FF);
    /// Twice as often: a second pair that is joined.
    pub const QUICK_BLINK: Self = Self(0x0F0F);
    /// Shortly, now and then: cannot tell.
    pub const WINK: Self = Self(0x0003);
    /// As fast as can be seen: voltage on the run.
    pub const FLASH: Self = Self(0x5555);

    /// Lit in the `nth` of `of` turns, which others take with it: exchanged.
    #[must_use]
    pub const fn turn(nth: usize, of: usize) -> Self {
        match (of, nth) {
            (2, 0) => Self(0x00FF),
            (2, _) => Self(0xFF00),
            (3, 0) => Self(0x001F),
            (3, 1) => Self(0x03E0),
            (3, _) => Self(0x7C00),
            (_, 0) => Self(0x000F),
            (_, 1) => Self(0x00F0),
            (_, 2) => Self(0x0F00),
            _ => Self(0xF000),
        }
    }

    /// A second pair that takes turns, twice as often as the first.
    #[must_use]
    pub const fn quick_turn(nth: usize) -> Self {
        if nth == 0 { Self(0x0F0F) } else { Self(0xF0F0) }
    }

    /// Whether it is lit in this step, counted on and on.
    #[must_use]
    pub const fn lit(self, step: usize) -> bool {
        self.0 >> (step % Self::STEPS) & 1 != 0
    }
}

/// What the sounder plays; each is told from the others with closed eyes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Tune {
    /// Nothing.
    #[default]
    Silent,
    /// One short tone: this part is done, the next may begin.
    Next,
    /// Two tones, rising.
    Pass,
    /// Three long low tones.
    Fail,
    /// Two tones of one height.
    CannotTell,
    /// High and low in turns, until something else is to be played.
    Hazard,
    /// The run carries: one short tick now and then, until something else is to be played.
    Carries,
    /// A conductor broke: high, as long as a break can be heard.
    Broke,
    /// Two conductors touched: low and rough.
    Touched,
}

/// All lamps and the sounder.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Signs {
    /// Beside posts 1–4.
    pub lamps: [Lamp; 4],
    /// Played once, from its beginning.
    pub tune: Tune,
}

impl Signs {
    /// All lamps alike.
    #[must_use]
    pub const fn all(lamp: Lamp, tune: Tune) -> Self {
        Self { lamps: [lamp; 4], tune }
    }

    /// Voltage on the run.
    pub const HAZARD: Self = Self::all(Lamp::FLASH, Tune::Hazard);
    /// Something could not be told.
    pub const CANNOT_TELL: Self = Self::all(Lamp::WINK, Tune::CannotTell);

    /// How the lamps of posts whose conductors arrive elsewhere take turns: by `arrives`, the place that each
    /// conductor reaches, where it is known. Lamps of others stay as they are.
    pub fn exchanged(&mut self, arrives: [Option<Post>; 4]) {
        let mut done = [false; 4];
        let mut pairs = 0;
        for first in Post::ALL {
            let mut round = heapless::Vec::<Post, 4>::new();
            let mut at = first;
            while !done[at.index()] && round.push(at).is_ok() {
                done[at.index()] = true;
                match arrives[at.index()] {
                    Some(next) => at = next,
                    None => round.clear(),
                }
                if round.is_empty() {
                    break;
                }
            }
            if round.len() < 2 || at != first {
                continue;
            }
            let of = round.len();
            for (nth, post) in round.iter().enumerate() {
                self.lamps[post.index()] =
                    if pairs > 0 { Lamp::quick_turn(nth) } else { Lamp::turn(nth, of) };
            }
            pairs += 1;
        }
    }
}

/// What the lights on the reverse face of the end plug's key are to show: one pair across the key's contacts
/// 1 and 2, one across 3 and 4.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FarLights {
    /// Of both pairs alike, once through.
    pub pattern: Lamp,
    /// The posts whose conductors reach the key's contacts 1–4.
    pub posts: [Post; 4],
}

impl FarLights {
    /// Nothing is lit.
    pub const DARK: Self = Self { pattern: Lamp::DARK, posts: Post::ALL };
}

#[test]
fn exchanged_conductors_take_turns() {
    let arrives = |to: [u8; 4]| to.map(Post::from_number);
    let lamps = |to| {
        let mut signs = Signs::all(Lamp::STEADY, Tune::Silent);
        signs.exchanged(arrives(to));
        signs.lamps
    };
    assert_eq!(lamps([1, 2, 3, 4]), [Lamp::STEADY; 4]);
    let [a, b] = [Lamp::turn(0, 2), Lamp::turn(1, 2)];
    assert_eq!(lamps([2, 1, 3, 4]), [a, b, Lamp::STEADY, Lamp::STEADY]);
    assert_eq!(lamps([4, 2, 3, 1]), [a, Lamp::STEADY, Lamp::STEADY, b]);
    assert_eq!(lamps([3, 4, 1, 2]), [a, Lamp::quick_turn(0), b, Lamp::quick_turn(1)]);
    let round = [0, 1, 2].map(|nth| Lamp::turn(nth, 3));
    assert_eq!(lamps([1, 3, 4, 2]), [Lamp::STEADY, round[0], round[1], round[2]]);
    assert_eq!(lamps([2, 3, 4, 1]), [0, 1, 2, 3].map(|nth| Lamp::turn(nth, 4)));
    assert_eq!(lamps([2, 0, 3, 4]), [Lamp::STEADY; 4]);
}

/// At each step one lamp of those that take turns is lit, and no two at once.
#[test]
fn turns_are_taken_one_by_one() {
    for of in [2, 3, 4] {
        for step in 0..16 {
            let lit = (0..of).filter(|nth| Lamp::turn(*nth, of).lit(step)).count();
            assert!(lit == 1 || of == 3 && step == 15 && lit == 0, "{of} at step {step}");
        }
    }
}

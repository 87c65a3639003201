//! The simulated circuit by itself: what its nodes are at, without noise and converters' errors, so
//! that another program can compute them and compare.

use std::vec::Vec;

use runproof_protocol::{Converter, Drive, Input, Range};
use serde::Serialize;

use super::Nanoseconds;
use super::electronics::{self, Electronics, Lines};
use super::flexing::Away;
use super::parts::Parts;
use super::release::WITHIN_SECONDS;
use super::scene::{EndPlug, Scene};
use super::wiring::{self, Stands};

/// One jig on one run, the same as [`World`](super::World)'s of this scene and seed.
#[derive(Debug)]
pub struct Circuitry {
    scene: Scene,
    parts: Parts,
}

/// How everything that can be switched stands.
#[derive(Clone, Copy, Debug, Default)]
pub struct Setting {
    /// Posts 1–4.
    pub drives: [Drive; 4],
    /// The pull lines.
    pub pulls: [Drive; 2],
    /// The posts' relays.
    pub relays_closed: bool,
    /// The load is across the posts.
    pub loaded: bool,
    /// The supply load is across posts 3 and 4.
    pub supply_loaded: bool,
    /// The end plug is in.
    pub plug_in: bool,
    /// Since the jig's start.
    pub seconds: f64,
    /// What each converter's input stage is switched to.
    pub looks: [Option<(Input, Range)>; 3],
}

impl Setting {
    /// What moves is at rest.
    fn stands(&self) -> Stands {
        Stands { plug_in: self.plug_in, seconds: self.seconds, away: Away::default() }
    }
}

/// A node against ground.
#[derive(Clone, Debug)]
pub struct NodeVoltage {
    /// Its steady part.
    pub direct_v: f64,
    /// What alternates, by frequency, peak: so much of sin ωt and of cos ωt.
    pub phasors_v: Vec<(f64, [f64; 2])>,
}

impl Circuitry {
    /// A jig built of parts drawn from `seed`, clipped to the run of `scene`.
    #[must_use]
    pub fn new(scene: Scene, seed: u64) -> Self {
        Self { parts: Parts::of(seed, &scene).0, scene }
    }

    /// The parts as drawn.
    #[must_use]
    pub fn parts(&self) -> impl Serialize {
        &self.parts
    }

    /// What conductors 1–4 have from end to end, in ohms: their wire, each its own, and their joints. What
    /// the contacts add is not among it.
    #[must_use]
    pub fn conductors_ohm(&self) -> [f64; 4] {
        wiring::conductors_ohm(&self.scene.run, &self.parts)
    }

    /// Whether the scene has the plug in when the phase with or without it is measured.
    #[must_use]
    pub fn plug_in(&self, plug_phase: bool) -> bool {
        match self.scene.plug {
            EndPlug::Out => false,
            EndPlug::In | EndPlug::GoesOut => true,
            EndPlug::GoesIn | EndPlug::Switched => plug_phase,
        }
    }

    /// How many seconds until the line of post 0–3 reads high, which both pulls lift from where all posts
    /// are low and the pulls off; nothing if it does not in the time that is waited. For runs on which
    /// nothing alternates.
    #[must_use]
    pub fn rise_seconds(&self, post: usize, referred: bool, setting: &Setting) -> Option<f64> {
        let stands = setting.stands();
        let before = Lines {
            posts: [Drive::Low; 4],
            contacts_closed: setting.relays_closed,
            referred,
            ..Lines::default()
        };
        let mut after = Lines { pulls: [Drive::High; 2], ..before };
        after.posts[post] = Drive::Off;
        let lines = [&before, &after];
        let rise = electronics::transient(&self.scene, &self.parts, lines, stands, post);
        rise.passes(self.parts.reads_high_volts[post], 0.0, WITHIN_SECONDS)
    }

    /// Each converter's four inputs, in the order N, G, D and of posts; what traffic does to them is left out.
    #[must_use]
    pub fn inputs(&self, setting: &Setting) -> [[NodeVoltage; 4]; 3] {
        let electronics = self.electronics(setting);
        electronics.inputs(&electronics.volts(&setting.looks)).map(|posts| {
            posts.map(|emf| NodeVoltage {
                direct_v: emf.direct,
                phasors_v: emf
                    .tones
                    .iter()
                    .map(|tone| (tone.hertz, [tone.phasor.re, tone.phasor.im]))
                    .collect(),
            })
        })
    }

    /// How long a conversion of this converter takes, by its own oscillator.
    #[must_use]
    pub fn conversion_nanos(&self, converter: Converter) -> Nanoseconds {
        self.parts.converters[converter.index()].conversion_nanos
    }

    /// What this converter's input is at on the mean, from one time to another; nothing where it does not look.
    #[must_use]
    pub fn averages_v(
        &self,
        setting: &Setting,
        converter: Converter,
        spans: &[[Nanoseconds; 2]],
    ) -> Vec<f64> {
        let mut electronics = self.electronics(setting);
        let Some(sight) = &electronics.seen(&setting.looks)[converter.index()] else {
            return Vec::new();
        };
        let average = |[from, to]: &[Nanoseconds; 2]| sight.area(*from, *to) / (to - from) as f64;
        spans.iter().map(average).collect()
    }

    fn electronics(&self, setting: &Setting) -> Electronics {
        let Setting { drives, pulls, relays_closed, loaded, supply_loaded, .. } = *setting;
        let (posts, contacts_closed, referred) = (drives, relays_closed, false);
        let lines = Lines { posts, pulls, contacts_closed, loaded, supply_loaded, referred };
        Electronics::new(&self.scene, &self.parts, &lines, setting.stands())
    }
}

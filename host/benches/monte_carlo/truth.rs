//! What is true of a run that was drawn.

use runproof_firmware::boards::simulated::{Circuitry, EndPlug};
use runproof_interpret::LimitSheet;

use crate::draw::Drawn;

/// Posts are told by their numbers; what belongs to a conductor is told of the post that it is clipped to.
#[derive(Clone, Debug)]
pub(crate) struct Truth {
    pub(crate) faults: Vec<Fault>,
    /// The plug's terminal that each post reaches; nothing where it reaches none.
    pub(crate) reaches: [Option<u8>; 4],
    /// From post to plug, contacts taken off.
    pub(crate) ohm: [f64; 4],
}

/// What was put on the run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Fault {
    Map,
    Open { post: u8, at: f64 },
    Joint { post: u8 },
    Path { posts: [u8; 2], at: f64, ohm: f64 },
    NoPlug,
    Device,
}

/// Above this a path is a leak.
const SHORT_MAX_OHM: f64 = 1_000.0;

impl Fault {
    pub(crate) fn is_short(&self) -> bool {
        matches!(self, Self::Path { ohm, .. } if *ohm < SHORT_MAX_OHM)
    }

    pub(crate) fn is_leak(&self) -> bool {
        matches!(self, Self::Path { ohm, .. } if *ohm >= SHORT_MAX_OHM)
    }
}

impl Truth {
    pub(crate) fn of(drawn: &Drawn) -> Self {
        let scene = &drawn.scene;
        let run = &scene.run;
        let post_of = |conductor: u8| run.clipped_to[usize::from(conductor) - 1];
        let wire_ohm = Circuitry::new(scene.clone(), drawn.jig_seed).conductors_ohm();
        let (mut reaches, mut ohm) = ([None; 4], [0.0; 4]);
        for conductor in 1..=4_u8 {
            let index = usize::from(conductor) - 1;
            let post = usize::from(post_of(conductor)) - 1;
            ohm[post] = wire_ohm[index];
            let whole = !run.open.iter().any(|open| open.post == conductor);
            let terminal = run.plugged_to[usize::from(run.arrives_at[index]) - 1];
            reaches[post] = (whole && scene.plug != EndPlug::Out).then_some(terminal);
        }
        let mut faults = vec![];
        let moved = |(post, terminal): (u8, Option<u8>)| terminal.is_some_and(|one| one != post);
        if (1..).zip(reaches).any(moved) {
            faults.push(Fault::Map);
        }
        faults.extend(run.open.iter().map(|o| Fault::Open { post: post_of(o.post), at: o.at }));
        faults.extend(run.joint.iter().map(|one| Fault::Joint { post: post_of(one.post) }));
        faults.extend(run.short.iter().map(|short| {
            let mut posts = short.posts.map(post_of);
            posts.sort_unstable();
            Fault::Path { posts, at: short.at, ohm: short.ohm }
        }));
        faults.extend((scene.plug == EndPlug::Out).then_some(Fault::NoPlug));
        faults.extend((!scene.left_on.is_empty()).then_some(Fault::Device));
        Self { faults, reaches, ohm }
    }

    /// Something is so wrong that the run must not pass, however it is.
    pub(crate) fn must_not_pass(&self, sheet: &LimitSheet) -> bool {
        self.is_faulty(sheet) || self.has(|one| matches!(one, Fault::NoPlug | Fault::Device))
    }

    /// A true value is beyond its limit, or the run is wired wrongly: that nobody has put the plug in, or
    /// that a device is still landed, is no fault of the run.
    pub(crate) fn is_faulty(&self, sheet: &LimitSheet) -> bool {
        let fails = |one: &Fault| match one {
            Fault::Map | Fault::Open { .. } => true,
            Fault::Path { ohm, .. } => *ohm < sheet.leakage.fail_below.value,
            Fault::Joint { .. } | Fault::NoPlug | Fault::Device => false,
        };
        self.has(fails) || (1..=4).any(|post| self.beyond_limit(post, sheet))
    }

    pub(crate) fn beyond_limit(&self, post: u8, sheet: &LimitSheet) -> bool {
        let index = usize::from(post) - 1;
        let open = self.has(|one| matches!(one, Fault::Open { post: open, .. } if *open == post));
        !open && self.ohm[index] > limit_ohm(post, sheet)
    }

    pub(crate) fn has(&self, of: impl Fn(&Fault) -> bool) -> bool {
        self.faults.iter().any(of)
    }
}

pub(crate) fn limit_ohm(post: u8, sheet: &LimitSheet) -> f64 {
    let limit = sheet.conductors[usize::from(post) - 1].resistance.as_ref();
    limit.expect("this sheet has one").value
}

//! What may be wrong with a run, and how often it is drawn.

/// A kind of run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Class {
    Sound,
    StrongHum,
    WrongMap,
    Open,
    Joint,
    Short,
    Leak,
    NoPlug,
    Device,
    CrossedAndJoint,
    ShortAndWrongMap,
    OpenAndCrossed,
    ShortAndJoint,
    TwoJoints,
}

impl Class {
    /// Each with its share of the runs, in percent.
    pub(crate) const SHARES: [(Self, u32); 14] = [
        (Self::Sound, 15),
        (Self::StrongHum, 1),
        (Self::WrongMap, 12),
        (Self::Open, 11),
        (Self::Joint, 12),
        (Self::Short, 12),
        (Self::Leak, 10),
        (Self::NoPlug, 2),
        (Self::Device, 5),
        (Self::CrossedAndJoint, 4),
        (Self::ShortAndWrongMap, 4),
        (Self::OpenAndCrossed, 4),
        (Self::ShortAndJoint, 4),
        (Self::TwoJoints, 4),
    ];

    /// That a number from 0 to 99 falls to.
    pub(crate) fn of_percent(mut percent: u32) -> Self {
        for (class, share) in Self::SHARES {
            if percent < share {
                return class;
            }
            percent -= share;
        }
        Self::Sound
    }

    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Sound => "none",
            Self::StrongHum => "none, strong hum",
            Self::WrongMap => "wrong map",
            Self::Open => "open",
            Self::Joint => "joint",
            Self::Short => "short",
            Self::Leak => "leak",
            Self::NoPlug => "no plug",
            Self::Device => "device connected",
            Self::CrossedAndJoint => "crossed + joint",
            Self::ShortAndWrongMap => "short + wrong map",
            Self::OpenAndCrossed => "open + crossed",
            Self::ShortAndJoint => "short + joint",
            Self::TwoJoints => "two joints",
        }
    }

    pub(crate) fn is_of_two(self) -> bool {
        use Class::{CrossedAndJoint, OpenAndCrossed, ShortAndJoint, ShortAndWrongMap, TwoJoints};
        matches!(
            self,
            CrossedAndJoint | ShortAndWrongMap | OpenAndCrossed | ShortAndJoint | TwoJoints
        )
    }
}

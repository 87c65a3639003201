//! Why something did not work, in words for logs, captures and messages.

use core::fmt;

use crate::{Converter, Fault, HazardKind, NotKept, Refusal, Stop};

impl fmt::Display for Converter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Sense => "the sense converter",
            Self::Drive => "the drive converter",
            Self::Live => "the live converter",
        })
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Absent(converter) => write!(f, "{converter} does not answer on the jig's bus"),
            Self::NeverReady(converter) => write!(f, "{converter} never finishes a conversion"),
            Self::Wrong(converter) => {
                write!(f, "what answers in place of {converter} is something else")
            }
            Self::BusStuck(converter) => write!(f, "the jig's bus hung at {converter}"),
            Self::WatchBlind(post) => {
                write!(f, "the jig's watch for voltage is blind at post {post}")
            }
            Self::EdgesBlind(post) => {
                write!(f, "the jig's edge catcher is blind at post {post}, or the jig has none")
            }
        }
    }
}

impl fmt::Display for Stop {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Aborted => f.write_str("it was aborted"),
            Self::Fault(fault) => write!(f, "a fault of the jig: {fault}"),
            Self::HostSilent => f.write_str("the host took no readings for too long"),
        }
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::HazardLatched => "the jig saw voltage on the run before and is not re-armed",
            Self::NotCapable => "this jig cannot measure that phase",
            Self::NothingKept => "the jig has not measured that phase by itself",
        })
    }
}

impl fmt::Display for NotKept {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NotCapable => "this jig keeps nothing",
            Self::Measuring => "the jig is measuring",
            Self::HazardLatched => "the jig saw voltage on the run before and is not re-armed",
            Self::NotARecord => "the jig does not understand it",
            Self::Fault => "the jig's memory does not work",
        })
    }
}

impl fmt::Display for HazardKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::BeforeClosing => "voltage between posts before anything was driven",
            Self::WhileClosed => "voltage on a post while the run was being measured",
        })
    }
}

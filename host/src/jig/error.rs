//! Why there is no jig to talk to.

use std::io;

use runproof_interpret::capture::Implausible;
use runproof_protocol::{NotKept, VERSION};
use thiserror::Error;

#[derive(Debug, Error)]
pub(crate) enum JigError {
    #[error("no jig is attached")]
    NoneAttached,
    #[error("several jigs are attached: {}", paths.join(", "))]
    SeveralAttached { paths: Vec<String> },
    #[error("cannot see which ports there are: {reason}")]
    PortsUnknown { reason: String },
    #[error("there is no port {path}")]
    NoSuchPort { path: String },
    #[error("you may not open {path}")]
    NotPermitted { path: String },
    #[error("{path} is in use by another program")]
    InUse { path: String },
    #[error("cannot open {path}: {reason}")]
    CannotOpen { path: String, reason: String },
    #[error("no jig answers on {path}")]
    Silent { path: String },
    #[error("what answers on {path} is not a jig")]
    NotAJig { path: String },
    #[error(
        "this jig speaks version {jig} of the contract, this program version {VERSION}: they \
         would misunderstand each other"
    )]
    OtherVersion { jig: u16 },
    #[error("the jig on {path} cannot be what it says it is: its `{}` {part}", part.key)]
    ImplausibleParts { path: String, part: Implausible },
    #[error("this jig's firmware keeps nothing on the jig")]
    KeepsNothing,
    #[error("this jig's firmware reads no live run")]
    ReadsNothingLive,
    #[error("this jig's firmware knows no fixture for leads")]
    KnowsNoFixture,
    #[error("this jig's firmware watches no run that is flexed")]
    WatchesNoFlexing,
    #[error("the end plug's name is longer than a jig keeps")]
    TooLong,
    #[error("nothing was kept on the jig: {reason}")]
    NotKept { reason: NotKept },
    #[error("the jig does not tell what it keeps: {reason}")]
    NotRecalled { reason: NotKept },
    #[error("this jig keeps the values of end plug {kept}, and this is said to be end plug {told}")]
    OtherPlug { kept: String, told: String },
    #[error("the connection to the jig broke: {0}")]
    Lost(io::Error),
}

impl JigError {
    pub(crate) fn next_step(&self) -> String {
        match self {
            Self::NoneAttached => {
                "plug the jig in; if it is plugged in, try another cable (some only charge), or \
                 name its port with `--port`; without a jig: `runproof check --simulate good-run`"
                    .into()
            }
            Self::SeveralAttached { paths } => {
                let path = paths.first().map_or("PATH", String::as_str);
                format!("say which one, for example `runproof check --port {path}`")
            }
            Self::PortsUnknown { .. } => "name the jig's port with `--port`".into(),
            Self::NoSuchPort { .. } => {
                "plug the jig in and look at which /dev/ttyACM* appears; or try without one: \
                 `runproof check --simulate good-run`"
                    .into()
            }
            Self::NotPermitted { path } => format!(
                "join the group that owns it (see `ls -l {path}`, often `sudo usermod -aG dialout \
                 $USER`), then log in again"
            ),
            Self::InUse { .. } => {
                "close the other program, or unplug the jig and plug it in".into()
            }
            Self::CannotOpen { .. } => "check that this is the jig's port".into(),
            Self::Silent { .. } | Self::NotAJig { .. } => {
                "check that this is the jig's port; unplug the jig, plug it in, and try again"
                    .into()
            }
            Self::OtherVersion { jig } if *jig > VERSION => {
                "install the runproof that came with this jig's firmware, or a newer one".into()
            }
            Self::OtherVersion { .. } => {
                "put the firmware that came with this runproof on the jig".into()
            }
            Self::ImplausibleParts { .. } => {
                "if they were stored on it, `runproof jig --forget plug --forget parts` goes back to what it \
                 was built with; else its values are damaged: put its firmware on it again, and \
                 measure with another jig until then"
                    .into()
            }
            Self::ReadsNothingLive | Self::KnowsNoFixture | Self::WatchesNoFlexing => {
                "put the firmware that came with this runproof on the jig".into()
            }
            Self::KeepsNothing => {
                "put the firmware that came with this runproof on the jig; until then each computer \
                 keeps its own zeros"
                    .into()
            }
            Self::NotKept { reason } | Self::NotRecalled { reason } => match reason {
                NotKept::Measuring => "wait until nothing is measured with it, and try again".into(),
                NotKept::HazardLatched => {
                    "find the voltage's source and remove it, then `runproof check --rearm`".into()
                }
                NotKept::NotCapable | NotKept::NotARecord => {
                    "put the firmware that came with this runproof on the jig".into()
                }
                NotKept::Fault => {
                    "unplug the jig, plug it in, and try again; if it stays, its memory is worn out, and \
                     each computer keeps its own zeros"
                        .into()
                }
            },
            Self::TooLong => "give the end plug a name of at most 16 letters".into(),
            Self::OtherPlug { kept, .. } => format!(
                "use end plug {kept}, or store the values of the other with `runproof jig \
                 --plug-values` and `--plug-name`"
            ),
            Self::Lost(_) => "check the cable to the jig, and measure again".into(),
        }
    }
}

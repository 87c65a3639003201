//! What `live` takes.

use std::path::PathBuf;
use std::time::Duration;

use clap::{Args, ValueEnum};
use runproof_interpret::judgement::At;

use super::{About, Keep, Output, WhichJig, duration};

#[derive(Debug, Args)]
pub(crate) struct Live {
    #[command(flatten)]
    pub(crate) jig: WhichJig,

    /// Where the jig is clipped on: it goes into the result
    #[arg(long, value_enum, value_name = "PLACE")]
    pub(crate) at: Option<Place>,

    /// Limit sheet: a name from `limits`, or a file of your own
    #[arg(long, value_name = "NAME|FILE", default_value = "service-24vac")]
    pub(crate) sheet: String,

    /// Read again and again, a line each, until Enter is pressed; the result
    /// is that of the worst reading. The jig's load is left out: only a single
    /// reading tells what sags under it
    #[arg(long)]
    pub(crate) watch: bool,

    /// With --watch: for so long, such as 30s or 10min; of a simulated jig's own time 3s unless given
    #[arg(long = "for", value_name = "DURATION", value_parser = duration::read, requires = "watch")]
    pub(crate) during: Option<Duration>,

    /// A live reading of the same run that was saved at its other end (`live --at … --save FILE`), to see where the
    /// volts are lost; say with --at where the jig is now
    #[arg(long, value_name = "FILE", requires = "at")]
    pub(crate) against: Option<PathBuf>,

    /// Do not put the jig's load on the supply: only what stands there by itself is read
    #[arg(long, conflicts_with_all = ["control_current", "run"])]
    pub(crate) no_load: bool,

    #[command(flatten)]
    pub(crate) control: Control,

    /// The zero of the jig's voltmeter: a file that `zero --save` wrote, or `none`; unless told, the newest
    /// one that was taken of this jig on this computer
    #[arg(long, value_name = "FILE|none")]
    pub(crate) zero: Option<PathBuf>,

    /// Clear a hazard that the jig has latched: a live reading drives nothing
    #[arg(long)]
    pub(crate) rearm: bool,

    #[command(flatten)]
    pub(crate) keep: Keep,

    #[command(flatten)]
    pub(crate) output: Output,

    #[command(flatten)]
    pub(crate) about: About,
}

/// What a powered run's supply must bear, where the jig could load it.
#[derive(Debug, Args)]
pub(crate) struct Control {
    /// What a control takes from the supply, in amperes, such as 0.15, in place of what the limit sheet says
    #[arg(long, value_name = "AMPERES", value_parser = amperes)]
    pub(crate) control_current: Option<f64>,

    /// A check of this run that was saved: what is left of the supply at its far end
    #[arg(long, value_name = "FILE")]
    pub(crate) run: Option<PathBuf>,
}

/// From a milliampere to the 3 A of a control circuit's fuse.
fn amperes(text: &str) -> Result<f64, String> {
    let number = text.trim().trim_end_matches(['A', 'a']).trim().parse().ok();
    let number = number.filter(|amperes| (0.001..=3.0).contains(amperes));
    number.ok_or_else(|| "give amperes from 0.001 to 3, such as 0.15".into())
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Place {
    /// At the unit's end, where the supply comes from
    Adapter,
    /// At the wall plate, where the control is
    Plate,
}

impl From<Place> for At {
    fn from(place: Place) -> Self {
        match place {
            Place::Adapter => Self::Adapter,
            Place::Plate => Self::Plate,
        }
    }
}

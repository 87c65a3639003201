//! What is known of the run, against which it is judged.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use runproof_interpret::RunKnowledge;
use runproof_interpret::capture::End;
use runproof_interpret::copper::{CelsiusRange, Gauge, Length};
use runproof_interpret::landing::{Colours, Landed};

/// What the run is held against.
#[derive(Debug, Args)]
pub(crate) struct Against {
    /// Limit sheet: a name from `limits`, or a file of your own; service-24vac unless told, or the lot's with --lot
    #[arg(long, value_name = "NAME|FILE")]
    pub(crate) sheet: Option<String>,

    /// Size of the conductors, such as 18awg, 18awg-stranded or 0.75mm2-solid; cable with cores of 14awg
    /// or thicker may carry mains, and the jig is not for it
    #[arg(long, value_name = "SIZE")]
    pub(crate) gauge: Option<Gauge>,

    /// Length of the run, such as 100ft or 30m
    #[arg(long, value_name = "LENGTH")]
    pub(crate) length: Option<Length>,

    /// How warm the cable is, such as 20C, 60..70C or 140..160F; unless told, −20 to 70 °C
    #[arg(long, value_name = "RANGE", allow_hyphen_values = true)]
    pub(crate) cable_temp: Option<CelsiusRange>,

    /// Which colour was on which terminal here, such as
    /// data+=white,data-=green,common=brown,supply=red; no colour stands for anything
    #[arg(long, value_name = "COLOURS")]
    pub(crate) near_colours: Option<Colours>,

    /// The same at the far end
    #[arg(long, value_name = "COLOURS")]
    pub(crate) far_colours: Option<Colours>,

    /// A capture of the same run with the jig at its other end: places a broken conductor by both its
    /// pieces
    #[arg(long, value_name = "FILE")]
    pub(crate) other_end: Option<PathBuf>,

    /// You have seen that both ends are lifted: what joins two conductors is a fault, not a device
    #[arg(long, conflicts_with = "cannot_lift")]
    pub(crate) lifted: bool,

    /// This end cannot be lifted: what hangs there may hide a fault or look like one, so that the run
    /// cannot pass, and only what it cannot feign is said to fail
    #[arg(long, value_enum, value_name = "END")]
    pub(crate) cannot_lift: Option<WhichEnd>,
}

impl Against {
    /// The limit sheet that a run is held against unless another one is told.
    pub(crate) const USUAL_SHEET: &str = "service-24vac";

    /// The limit sheet's name or file.
    pub(crate) fn sheet(&self) -> &str {
        self.sheet.as_deref().unwrap_or(Self::USUAL_SHEET)
    }

    /// What was told that can be true of one run only.
    pub(crate) fn of_one_run(&self) -> Vec<&'static str> {
        let told = [
            (self.near_colours.is_some(), "--near-colours"),
            (self.far_colours.is_some(), "--far-colours"),
            (self.other_end.is_some(), "--other-end"),
            (self.lifted, "--lifted"),
            (self.cannot_lift.is_some(), "--cannot-lift"),
        ];
        told.into_iter().filter_map(|(is_told, option)| is_told.then_some(option)).collect()
    }

    /// What was told of wires by their terminals.
    pub(crate) fn by_terminal(&self) -> Option<&'static str> {
        let near = self.near_colours.as_ref().map(|_| "--near-colours");
        near.or(self.far_colours.as_ref().map(|_| "--far-colours"))
    }

    /// All of it that is not in a file.
    pub(crate) fn told(&self) -> RunKnowledge {
        RunKnowledge {
            gauge: self.gauge,
            length: self.length,
            temperature: self.cable_temp.unwrap_or_default(),
            lifted: self.lifted,
            cannot_lift: self.cannot_lift.map(|end| match end {
                WhichEnd::Near => End::Near,
                WhichEnd::Far => End::Far,
            }),
            landed: Landed { near: self.near_colours.clone(), far: self.far_colours.clone() },
            other_end: None,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum WhichEnd {
    /// Where the jig is
    Near,
    /// Where the end plug goes
    Far,
}

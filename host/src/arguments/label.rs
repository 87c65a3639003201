//! What `label` takes.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use super::InUnits;
use crate::show::label::size::Size;

#[derive(Debug, Args)]
pub(crate) struct Label {
    /// Records, by their numbers or ids: a label for each
    #[arg(value_name = "RECORD", required_unless_present = "lot")]
    pub(crate) of: Vec<PathBuf>,

    /// All tested units of this lot, on sheets
    #[arg(long, value_name = "LOT", conflicts_with = "of")]
    pub(crate) lot: Option<String>,

    /// How large a label is: at least 30x15mm, so that it can be read
    #[arg(long, value_name = "WIDTHxHEIGHT", default_value = "30x15mm", value_parser = label_size)]
    pub(crate) size: Size,

    /// On sheets of so many labels beside each other and below each other, such as 6x15; of a lot as many as fit
    #[arg(long, value_name = "ACROSSxDOWN", value_parser = counts)]
    pub(crate) sheet: Option<[u32; 2]>,

    /// The sheets' paper
    #[arg(long, value_enum, default_value_t = Paper::Letter)]
    pub(crate) paper: Paper,

    /// From the paper's left and upper edge to the first label
    #[arg(long, value_name = "LEFTxTOP", default_value = "10x10mm")]
    pub(crate) margin: Size,

    /// From one label's left and upper edge to the next one's; a label's size unless given
    #[arg(long, value_name = "ACROSSxDOWN")]
    pub(crate) pitch: Option<Size>,

    /// As a PDF instead of drawings (SVG): a page for each label or sheet
    #[arg(long)]
    pub(crate) pdf: bool,

    /// The new file; label-….svg here unless given, or label-….pdf. Several drawings are numbered. A name that ends in
    /// .pdf makes a PDF
    #[arg(long, value_name = "FILE")]
    pub(crate) to: Option<PathBuf>,

    #[command(flatten)]
    pub(crate) in_units: InUnits,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Paper {
    /// US Letter
    Letter,
    /// A4
    A4,
}

impl Paper {
    pub(crate) fn size(self) -> Size {
        match self {
            Self::Letter => Size { width_mm: 215.9, height_mm: 279.4 },
            Self::A4 => Size { width_mm: 210.0, height_mm: 297.0 },
        }
    }
}

fn label_size(text: &str) -> Result<Size, String> {
    let size: Size = text.parse()?;
    match size.width_mm >= 30.0 && size.height_mm >= 15.0 {
        true => Ok(size),
        false => Err("nobody could read it: at least 30x15mm".into()),
    }
}

fn counts(text: &str) -> Result<[u32; 2], String> {
    let count = |text: &str| text.trim().parse().ok().filter(|count| (1..=1000).contains(count));
    let (across, down) = text.split_once(['x', '×']).unwrap_or_default();
    let counts = count(across).zip(count(down)).map(|(across, down)| [across, down]);
    counts.ok_or_else(|| "give how many beside and below each other, such as 6x15".into())
}

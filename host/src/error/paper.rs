//! Why something could not be put on paper.

use std::path::PathBuf;

use thiserror::Error;

use crate::exit::Exit;

#[derive(Debug, Error)]
pub(crate) enum PaperError {
    #[cfg(not(feature = "pdf"))]
    #[error("this build of the program writes no PDF")]
    NoPdf,
    #[cfg(feature = "pdf")]
    #[error("it cannot be drawn: {why}")]
    NotDrawn { why: String },
    #[error("{} is no record, and a label says which one it is of", path.display())]
    NoRecord { path: PathBuf },
    #[error("these labels do not fit on that paper, or lie over each other")]
    OffSheet,
    #[error("no unit of the lot {lot} was tested yet by what it was declared with")]
    NothingTested { lot: String },
}

impl PaperError {
    pub(crate) fn next_step(&self) -> String {
        match self {
            #[cfg(not(feature = "pdf"))]
            Self::NoPdf => {
                "`cargo build --release --all-features` makes one that does; or leave out --pdf and give a file that does not end \
                 in .pdf: any browser prints that page"
                    .into()
            }
            #[cfg(feature = "pdf")]
            Self::NotDrawn { .. } => {
                "leave out --pdf and give a file that does not end in .pdf: any browser prints that page".into()
            }
            Self::NoRecord { .. } => {
                "take it in with `runproof records import`, and give the record's number".into()
            }
            Self::OffSheet => {
                "give fewer with --sheet, or another --margin, --pitch or --size; --paper a4 is another paper".into()
            }
            Self::NothingTested { .. } => {
                "test its units: `runproof lot show` says which are drawn".into()
            }
        }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            #[cfg(not(feature = "pdf"))]
            Self::NoPdf => Exit::Usage,
            #[cfg(feature = "pdf")]
            Self::NotDrawn { .. } => Exit::NotSaved,
            Self::OffSheet => Exit::Usage,
            Self::NoRecord { .. } | Self::NothingTested { .. } => Exit::BadFile,
        }
    }
}

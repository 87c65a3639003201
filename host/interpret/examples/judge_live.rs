//! Judges the live phase of captures, each a file that is named, by `service-24vac`: one line of JSON each.

use std::error::Error;

use runproof_interpret::{Capture, LimitSheet, LiveKnowledge, judge_live};

fn main() -> Result<(), Box<dyn Error>> {
    for path in std::env::args().skip(1) {
        let capture = Capture::read(&std::fs::read_to_string(&path)?)?;
        let judgement =
            judge_live(&capture, &LimitSheet::service_24vac(), &LiveKnowledge::default());
        println!("{}", serde_json::to_string(&judgement)?);
    }
    Ok(())
}

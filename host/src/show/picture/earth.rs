//! A test to metal: all cores together, metal, and a shield; and what is between them.

use runproof_interpret::Judgement;
use runproof_interpret::judgement::ToEarth;
use runproof_interpret::to_earth::{CORES, METAL, SHIELD};

use super::drawing::{Drawing, FAR, Part, Tie, x};
use crate::show::words;

pub(super) fn drawn(told: &ToEarth, judgement: &Judgement) -> Drawing {
    let mut posts = vec![CORES, METAL];
    posts.extend(told.to_shield.map(|_| SHIELD));
    let mut drawing = Drawing {
        rows: posts.len(),
        near: "at the clips",
        far: "",
        about: "All cores together, bare metal, and the shield where there is one.".into(),
        parts: vec![],
    };
    for (row, post) in posts.iter().enumerate() {
        let verdict = match *post {
            METAL => Some(told.to_metal),
            SHIELD => told.to_shield,
            _ => None,
        };
        let lines = [words::name_of(*post, judgement), format!("post {post}")];
        drawing.parts.push(Part::End { row, is_far: false, lines, verdict });
        let verdict = verdict.unwrap_or(judgement.verdict);
        drawing.parts.push(Part::Line { from: row, to: Some(row), until: FAR, verdict });
    }
    for (n, path) in judgement.isolation.iter().enumerate() {
        let rows: Vec<usize> =
            path.posts.iter().filter_map(|post| posts.iter().position(|one| one == post)).collect();
        let (at, says) = (x(0.15 + 0.27 * n as f64), words::path(Some(path)));
        let as_a = if path.at_least { Tie::Path } else { Tie::Short };
        drawing.parts.push(Part::Join { rows, at, says, as_a });
    }
    drawing
}

//! The current that each post sends into the run, of one pattern or of the difference of two.

use runproof_protocol::Post;

use crate::capture::JigConstants;

/// What the currents are computed from; of a difference of two patterns the differences.
pub(super) struct Nodes {
    /// The two posts that are driven.
    pub(super) driven: (Post, Post),
    /// Their drive nodes, as the sense nodes' converter would read them.
    pub(super) drive_v: [f64; 2],
    /// All posts, against ground.
    pub(super) posts_v: [f64; 4],
    /// The live divider's mid voltage; 0 in a difference.
    pub(super) mid_v: f64,
}

/// Kirchhoff's current law at each post: what comes through the series resistor, less what goes to
/// the live divider and, by the sense node, to the pulls' common point.
pub(super) fn into_run_a(nodes: &Nodes, jig: &JigConstants) -> [f64; 4] {
    let mean_v = nodes.posts_v.iter().sum::<f64>() / 4.0;
    let mut current_a = nodes.posts_v.map(|post_v| {
        let pulls_a = (post_v - mean_v) / (jig.sense_ohm + jig.pull_ohm);
        -(post_v - nodes.mid_v) / jig.divider_ohm - pulls_a
    });
    let driven = [nodes.driven.0, nodes.driven.1];
    for (post, drive_v) in driven.into_iter().zip(nodes.drive_v) {
        let k = post.index();
        current_a[k] += (drive_v - nodes.posts_v[k]) / jig.series_ohm[k];
    }
    current_a
}

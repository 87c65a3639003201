//! Conductors of a live run, as the limit sheet names them.

use runproof_interpret::judgement::{LiveFinding, LiveJudgement};
use runproof_protocol::Post;

use super::super::conductor;

/// "data+ and data−", of a finding; a post that holds none of the sheet's conductors is named by its number.
pub(super) fn whom(finding: &LiveFinding, judgement: &LiveJudgement) -> String {
    let names: Vec<_> = finding.posts.iter().map(|post| of(*post, judgement)).collect();
    match names.split_last() {
        Some((last, others)) if !others.is_empty() => format!("{} and {last}", others.join(", ")),
        Some((last, _)) => last.clone(),
        None => String::new(),
    }
}

/// "data+".
pub(super) fn of(post: Post, judgement: &LiveJudgement) -> String {
    let named = judgement.conductors.iter().find(|one| one.post == post);
    named.map_or_else(|| format!("post {post}"), |one| conductor(one.name).into())
}

pub(super) fn on(whom: &str) -> String {
    if whom.is_empty() { String::new() } else { format!(" on {whom}") }
}

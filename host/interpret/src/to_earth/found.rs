//! What is between cores, metal and shield.

use runproof_protocol::Post;

use super::shield::shield;
use super::{CORES, METAL, SHIELD};
use crate::capture::ToEarth as Clipped;
use crate::findings::{beyond, valued};
use crate::isolation::{Isolation, Path};
use crate::judgement::{Bonded, Cause, ExplainsComplaint, Finding, FindingKind, Severity, Verdict};
use crate::limits::LimitSheet;
use crate::obstacle::Obstacle;
use crate::settled::verdict_of;

/// What was found, and the verdict of the path from the cores to each.
pub(super) struct Read {
    pub(super) found: Vec<Finding>,
    pub(super) verdicts: Vec<(Post, Verdict)>,
    pub(super) bonded: Option<Bonded>,
}

/// A path that fails needs no proof of contact: it is one.
pub(super) fn read(
    isolation: &Isolation,
    sheet: &LimitSheet,
    clipped: Clipped,
    contact_shown: &[Post],
) -> Read {
    let mut read = core_paths(isolation, sheet, clipped);
    let shown = |post: &Post| contact_shown.contains(post);
    let unshown: Vec<Post> = read.verdicts.iter().map(|(post, _)| *post).collect();
    let unshown: Vec<Post> = unshown.into_iter().filter(|post| !shown(post)).collect();
    let fails = |read: &Read, post| read.verdicts.contains(&(post, Verdict::Fail));
    let unproved: Vec<Post> = unshown.iter().copied().filter(|post| !fails(&read, *post)).collect();
    for (_, verdict) in read.verdicts.iter_mut().filter(|(post, _)| unproved.contains(post)) {
        *verdict = verdict.and(Verdict::CannotTell);
    }
    if !unproved.is_empty() {
        read.found.push(Obstacle::incomplete(Cause::ContactNotShown).posts(unproved).into());
    }
    let foreign = isolation.paths.iter().filter(|path| !path.at_least && foreign(path, clipped));
    let foreign = foreign.filter(|path| beyond(path, sheet).is_some());
    read.found.extend(foreign.map(|path| {
        let obstacle = Obstacle::new(FindingKind::Unexplained).cause(Cause::OtherPosts);
        obstacle.posts([path.posts.0, path.posts.1]).into()
    }));
    if let (Some(drain), Some(path)) = (clipped.shield, isolation.between(METAL, SHIELD)) {
        let (bonded, remark) = shield(path, drain, unshown.is_empty(), sheet);
        read.bonded = bonded;
        read.found.extend(remark);
    }
    read
}

/// Where the rest cannot be told, only what is surely metal is.
pub(super) fn shorts(isolation: Option<&Isolation>, sheet: &LimitSheet, clipped: Clipped) -> Read {
    let nothing = Read { found: vec![], verdicts: vec![], bonded: None };
    let mut read = isolation.map_or(nothing, |one| core_paths(one, sheet, clipped));
    read.verdicts.retain(|(_, verdict)| *verdict == Verdict::Fail);
    read
}

/// From the cores to metal and shield. Where those two are joined, what leaks to both is told once.
fn core_paths(isolation: &Isolation, sheet: &LimitSheet, clipped: Clipped) -> Read {
    let mut paths: Vec<&Path> = isolation.between(CORES, METAL).into_iter().collect();
    paths.extend(clipped.shield.and_then(|_| isolation.between(CORES, SHIELD)));
    let joined =
        clipped.shield.is_some() && isolation.between(METAL, SHIELD).is_some_and(Path::is_short);
    let mut found: Vec<Finding> = vec![];
    let mut verdicts = vec![];
    for path in paths {
        let post = path.posts.1;
        let finding = core_path(path, sheet);
        let severity = finding.as_ref().map(|finding| finding.severity);
        verdicts.push((post, severity.map_or(Verdict::Pass, verdict_of)));
        match (finding, found.first_mut()) {
            (Some(finding), Some(first)) if joined && first.kind == finding.kind => {
                first.posts.push(post);
                first.severity = first.severity.min(finding.severity);
            }
            (finding, _) => found.extend(finding),
        }
    }
    Read { found, verdicts, bonded: None }
}

fn core_path(path: &Path, sheet: &LimitSheet) -> Option<Finding> {
    if path.at_least {
        // Nothing was seen, but too little would have been.
        let blind = path.ohm < sheet.leakage.fail_below.value;
        let posts = [path.posts.0, path.posts.1];
        return blind.then(|| Obstacle::new(FindingKind::Unsteady).posts(posts).into());
    }
    let (kind, severity, explains) = if path.is_short() {
        (FindingKind::ShortToMetal, Severity::Fail, ExplainsComplaint::Possibly)
    } else {
        let (limit, severity) = beyond(path, sheet)?;
        (FindingKind::LeakToMetal, severity, limit.explains_complaint)
    };
    let mut finding = Finding::new(kind, severity);
    finding.explains_complaint = explains;
    Some(valued(finding, vec![path.posts.0, path.posts.1], path.ohm, Some(path.u_ohm)))
}

/// A post that should hold nothing holds something.
fn foreign(path: &Path, clipped: Clipped) -> bool {
    let empty = |post: Post| post == Post::P4 || post == SHIELD && clipped.shield.is_none();
    empty(path.posts.0) || empty(path.posts.1)
}

//! The checker: it believes the brief and the physics, and nothing that a proof says.

use super::claim::{self, Claim, Section};
use super::facts::Facts;
use super::node::{Ground, Node};
use super::point::Point;
use super::reader::{Reader, Refusal};
use super::text::{FIRST, Step};
use crate::brief::Brief;

/// What was proved.
#[derive(Debug, Clone, PartialEq)]
pub struct Proved {
    /// Each of the claims.
    pub claims: Vec<Claim>,
    /// How many leaves were checked.
    pub leaves: usize,
}

/// Checks a proof against a brief; `digest` is that of the brief's text.
///
/// # Errors
/// Where it fails first.
pub fn check(brief: &Brief, digest: u64, proof: &str) -> Result<Proved, Refusal> {
    let mut reader = Reader::of(proof);
    reader.expect(FIRST, "this is no proof of this version")?;
    reader
        .expect(&format!("brief {digest:016x}"), "it is the proof of another brief, or of other settings")?;
    let parts = reader.after("parts").and_then(|n| n.parse::<usize>().ok()).filter(|parts| *parts > 0);
    let parts = parts.ok_or_else(|| reader.refuse("it does not say of how many parts it is"))?;
    let mut proved = Proved { claims: vec![], leaves: 0 };
    for _ in 0..parts {
        section(brief, &mut reader, &mut proved)?;
    }
    reader.over("more follows after its last part")?;
    Ok(proved)
}

fn section(brief: &Brief, reader: &mut Reader, proved: &mut Proved) -> Result<(), Refusal> {
    let Section { claim, brief: open } = claim::read(brief, reader)?;
    let facts = Facts::of(&open).map_err(|what| reader.refuse(format!("nothing is proved of {what}")))?;
    let (claim, views) = claim::witnessed(claim, (brief, &facts), reader)?;
    let large = |reader: &Reader| reader.refuse("figures of the brief are too large");
    let ground = Ground::new(&facts, views, claim.cutoffs.clone()).ok_or_else(|| large(reader))?;
    proved.leaves += tree(&ground, reader)?;
    proved.claims.push(claim);
    Ok(())
}

/// Walks through a tree in its order, with the nodes that are still to come on a stack.
fn tree(ground: &Ground, reader: &mut Reader) -> Result<usize, Refusal> {
    let mut waiting = vec![ground.root()];
    let mut leaves = 0;
    while let Some(node) = waiting.pop() {
        let line = reader.next()?;
        let step: Step = line.parse().map_err(|()| reader.refuse("this is no line of a tree"))?;
        match step {
            Step::Branch(branch) => {
                for upper in [true, false] {
                    let child = node.child(ground, branch, upper);
                    waiting.push(child.ok_or_else(|| reader.refuse("there is nothing to branch on"))?);
                }
            }
            Step::Lines(view, lines) => {
                let with = node.with_lines(ground, view, lines);
                waiting.push(with.ok_or_else(|| reader.refuse("these lines do not hold"))?);
            }
            leaf => {
                closes(ground, &node, &leaf).map_err(|what| reader.refuse(what))?;
                leaves += 1;
            }
        }
    }
    reader.expect("end", "the tree is over, and more follows")?;
    Ok(leaves)
}

/// Closes a node by a leaf.
fn closes(ground: &Ground, node: &Node, leaf: &Step) -> Result<(), &'static str> {
    let point = |view: usize| -> Result<Point, &'static str> {
        let steps = node.point().ok_or("more than one spec is left")?;
        let portions = ground.views.get(view).ok_or("there is no such view")?;
        Ok(Point::new(ground.facts, portions, &steps))
    };
    let closed = match leaf {
        Step::Refuted(terms) => node.refuted_by(ground, terms),
        Step::Breaks(limit, view) => {
            let limit = ground.facts.limits.get(*limit).ok_or("there is no such limit")?;
            point(*view)?.breaks(limit)
        }
        Step::NoBetter => point(0)?.score().low >= ground.cutoffs.value(node.cutoff(ground)),
        Step::Branch(_) | Step::Lines(..) => false,
    };
    if closed { Ok(()) } else { Err("this does not close the node") }
}

//! What decides at a free-pour optimum, told so that optima of different programs can be compared.

use crate::solve::face::{Edge, Way};
use crate::solve::standing::Standing;
use crate::tolerance::UNUSED;

/// Something that decides, told so that it is the same thing in every program of the question.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// A limit or proportion.
    Limit(Edge),
    /// A column at its least or most.
    Column(usize, Way),
    /// A column whose score bends at a given amount, at that amount.
    Bend(usize),
    /// The same, poured beyond that amount.
    Beyond(usize),
}

/// What the bounds of a program stand for. A column that bends is made of two variables, and the bounds
/// between them say on which side of the bend it is.
pub fn marks(standing: &Standing, edges: &[Edge]) -> Vec<Mark> {
    let rows = edges.iter().filter(|e| matches!(e, Edge::RowMin(_) | Edge::RowMax(_) | Edge::RowBoth(_)));
    let mut marks: Vec<Mark> = rows.map(|e| Mark::Limit(*e)).collect();
    for (column, range) in standing.program.of_column.iter().enumerate() {
        let (first, last) = (range.start, range.end.saturating_sub(1));
        marks.extend(edges.contains(&Edge::Min(first)).then_some(Mark::Column(column, Way::Down)));
        marks.extend(edges.contains(&Edge::Max(last)).then_some(Mark::Column(column, Way::Up)));
        if first < last {
            let over = standing.point.get(last).is_some_and(|amount| *amount > UNUSED);
            let at = edges.contains(&Edge::Max(first)) && edges.contains(&Edge::Min(last));
            marks.extend(over.then_some(Mark::Beyond(column)));
            marks.extend((at && !over).then_some(Mark::Bend(column)));
        }
    }
    marks
}

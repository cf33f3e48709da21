//! What decides at a free-pour optimum, told so that optima of different programs can be compared.

use crate::free::standing::Standing;
use crate::lp::bound::{Bound, Way};
use crate::tolerance::UNUSED;

/// Something that decides, told so that it is the same thing in every program of the question.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// A limit or proportion.
    Limit(Bound),
    /// A column at its least or most.
    Column(usize, Way),
    /// A column whose score bends at a given amount, at that amount.
    Bend(usize),
    /// The same, poured beyond that amount.
    Beyond(usize),
}

/// What the bounds of a program stand for. A column that bends is made of two variables, and the bounds
/// between them say on which side of the bend it is.
pub fn marks(standing: &Standing, bounds: &[Bound]) -> Vec<Mark> {
    let rows = bounds.iter().filter(|e| matches!(e, Bound::RowMin(_) | Bound::RowMax(_) | Bound::RowBoth(_)));
    let mut marks: Vec<Mark> = rows.map(|e| Mark::Limit(*e)).collect();
    for (column, range) in standing.program.of_column.iter().enumerate() {
        let (first, last) = (range.start, range.end.saturating_sub(1));
        marks.extend(bounds.contains(&Bound::Min(first)).then_some(Mark::Column(column, Way::Down)));
        marks.extend(bounds.contains(&Bound::Max(last)).then_some(Mark::Column(column, Way::Up)));
        if first < last {
            let over = standing.point.get(last).is_some_and(|amount| *amount > UNUSED);
            let at = bounds.contains(&Bound::Max(first)) && bounds.contains(&Bound::Min(last));
            marks.extend(over.then_some(Mark::Beyond(column)));
            marks.extend((at && !over).then_some(Mark::Bend(column)));
        }
    }
    marks
}

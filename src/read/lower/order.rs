//! In which order things can be made that are made of each other. No recursion: a chain may be as long
//! as the file.

/// So many cycles are told; a hostile file could hold one for every pair of things.
const MOST_CYCLES: usize = 100;

/// An order, and where there can be none.
#[derive(Debug, Default, PartialEq)]
pub struct Order {
    /// Each comes after those that it needs, cycles aside.
    pub sorted: Vec<usize>,
    /// What needs itself.
    pub cycles: Vec<Cycle>,
}

/// Things that need each other in a circle.
#[derive(Debug, PartialEq)]
pub struct Cycle {
    /// Each needs the next, and the last the first.
    pub members: Vec<usize>,
    /// The last member, and which of its needs closes the circle.
    pub closed_by: (usize, usize),
}

/// How far a thing has been looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Mark {
    Fresh,
    Started,
    Done,
}

/// Sorts those of `0..count` that `wanted` names. `needs(a, n)` is the n-th need of `a`: `None` where
/// there is no n-th one, `Some(None)` where it is nothing that has to be made.
pub fn order(
    count: usize,
    wanted: impl Iterator<Item = usize>,
    needs: impl Fn(usize, usize) -> Option<Option<usize>>,
) -> Order {
    let mut marks = vec![Mark::Fresh; count];
    let mut order = Order::default();
    for first in wanted {
        if marks[first] != Mark::Fresh {
            continue;
        }
        marks[first] = Mark::Started;
        // Each entry: a thing, and how many of its needs have been looked at.
        let mut path = vec![(first, 0)];
        while let Some((at, looked)) = path.last_mut() {
            let (at, nth) = (*at, *looked);
            let Some(need) = needs(at, nth) else {
                marks[at] = Mark::Done;
                order.sorted.push(at);
                path.pop();
                continue;
            };
            *looked += 1;
            let Some(next) = need else { continue };
            match marks[next] {
                Mark::Fresh => {
                    marks[next] = Mark::Started;
                    path.push((next, 0));
                }
                Mark::Started if order.cycles.len() >= MOST_CYCLES => {}
                Mark::Started => {
                    let members = path.iter().map(|(on, _)| *on).skip_while(|on| *on != next).collect();
                    order.cycles.push(Cycle { members, closed_by: (at, nth) });
                }
                Mark::Done => {}
            }
        }
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Orders by a table of needs.
    fn ordered(needs: &[&[usize]]) -> Order {
        order(needs.len(), 0..needs.len(), |at, nth| needs[at].get(nth).map(|next| Some(*next)))
    }

    #[test]
    fn each_comes_after_what_it_needs() {
        assert_eq!(ordered(&[&[1, 2], &[2], &[]]).sorted, [2, 1, 0]);
        assert!(ordered(&[&[1, 2], &[2], &[]]).cycles.is_empty());
    }

    #[test]
    fn a_cycle_is_named_from_where_it_is_entered() {
        let found = ordered(&[&[1], &[2], &[3, 1], &[]]);
        assert_eq!(found.cycles, [Cycle { members: vec![1, 2], closed_by: (2, 1) }]);
        assert_eq!(ordered(&[&[0]]).cycles, [Cycle { members: vec![0], closed_by: (0, 0) }]);
    }
}

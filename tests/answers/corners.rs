//! Corners of the search: briefs on which it once did not end.

use washline::brief::Role;
use washline::liquid::Label;

use crate::briefs::{Aims, seeded};
use crate::exact::check;
use crate::plan::Item;

/// The aim is the cost and the cost has to lie within a range: where that range is broken, no pivot costs
/// anything, and each ties with every other. The simplex went round in a circle here, and the search
/// asked it again for ever.
#[test]
fn a_plateau_of_equal_costs_is_searched_to_its_end() {
    let mut plan = seeded(57_730, Aims::Plain);
    let mut copy = plan.items[0].clone();
    (copy.name, copy.out, copy.must) = ("a copy".to_owned(), true, false);
    plan.items.push(copy);
    let mut whole = Item::liquid("a bottle", Role::Lengthener, Label::default(), 100);
    (whole.min, whole.max) = (Some(5000.0), Some(5000.0));
    plan.items.push(whole);
    check(&plan).expect("the enumerator's answer");
}

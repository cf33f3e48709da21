//! Every number that a comparison leans on, each with the question that it decides.
//!
//! Nothing else in the crate compares with a margin of its own making.

/// Is a limit met? Relative to the limit's own size (the contract: "within 1e-9 of its value").
pub const MET: f64 = 1e-9;

/// Are two scores the same, so that cost, count and name order them? Relative to the score's scale.
pub const SAME_SCORE: f64 = 1e-9;

/// Is an amount a whole number of pour steps? In steps.
pub const WHOLE: f64 = 1e-6;

/// Is an amount so small that the ingredient counts as unused? In ml or g, free pours only.
pub const UNUSED: f64 = 1e-7;

/// Where only the least value counts and not who has it: by how much must another spec be better for
/// the search to go on? Relative, and as much again at zero; beyond the loosening of the rows
/// ([`LOOSE`]), so that ties end a search.
pub const GAIN: f64 = 1e-8;

/// Is another spec strictly better, so that a looser limit is worth naming? Relative, and as much
/// again at zero; far beyond [`LOOSE`], so that specs that tie are cut off by the rows.
pub const BETTER: f64 = 1e-7;

/// By how much are the rows of the search loosened over the exact limits, so that no spec that the
/// exact judge would pass is cut away by rounding? Relative. It covers [`MET`], and three times as much for the
/// figures of the rows: each is some hundred operations from the brief's (a portion, a tangent, a difference), good to
/// 1e-13 of itself, and the terms of a limit are all positive, so that what they are off by is as small a share of the
/// limit. What the simplex does with them is not in it (`solve/simplex/sure.rs`).
pub const LOOSE: f64 = 4e-9;

/// Is a number in the simplex tableau big enough to pivot on? Rows are scaled to order 1.
pub const PIVOT: f64 = 1e-9;

/// Does a basic value break its bound, so that the dual simplex has to act? In scaled units.
pub const BROKEN: f64 = 1e-9;

/// Has the repeated linear program reached its fixed point? Relative change of the served volume.
pub const FIXED_POINT: f64 = 1e-12;

/// Is a multiplier of the dual optimal face zero? Relative to the largest cost, rows scaled to 1; beyond
/// what the margin of a limit ([`MET`]) leaves of a limit that is the aim itself.
pub const ZERO_PRICE: f64 = 1e-7;

/// Is another free-pour optimum better than the one that a range was followed along, so that the range
/// ended before? Relative, and as much again at zero; the programs behind both are good to 1e-9.
pub const SAME_PIECE: f64 = 1e-8;

/// Whether `value` meets a lower limit, by [`MET`].
pub fn meets_min(value: f64, limit: f64) -> bool {
    value >= limit - MET * limit.abs()
}

/// Whether `value` meets an upper limit, by [`MET`].
pub fn meets_max(value: f64, limit: f64) -> bool {
    value <= limit + MET * limit.abs()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_limit_is_met_within_its_relative_margin_and_not_beyond() {
        assert!(meets_max(100.0 + 0.9e-7, 100.0));
        assert!(!meets_max(100.0 + 1.1e-7, 100.0));
        assert!(meets_min(100.0 - 0.9e-7, 100.0));
        assert!(!meets_min(100.0 - 1.1e-7, 100.0));
        assert!(meets_max(0.0, 0.0) && !meets_max(1e-15, 0.0));
    }

    #[test]
    fn nothing_meets_a_limit_when_it_is_undefined() {
        assert!(!meets_max(f64::NAN, 1.0) && !meets_min(f64::NAN, 1.0));
    }
}

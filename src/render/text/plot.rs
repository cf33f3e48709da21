//! A curve in plain characters.

use super::page::{Page, right, width};
use crate::render::document::{Plot, Tone};

/// How many lines a plot has.
const HIGH: usize = 12;

/// Draws the heights over the points; a point without one stands on the ground.
pub fn write(page: &mut Page, plot: &Plot) {
    let (low, high) = Plot::reach(&plot.points);
    let flat = low.partial_cmp(&high) != Some(std::cmp::Ordering::Less);
    let lines = if flat { 1 } else { HIGH };
    let [bottom, top] = &plot.heights;
    let gutter = width(top).max(width(bottom));
    let columns = page.width().saturating_sub(2 + gutter + 2).max(8);
    let mut rows = vec![vec![' '; columns]; lines];
    let mut ground = vec!['-'; columns];
    let last = plot.points.len().saturating_sub(1).max(1);
    for (at, point) in plot.points.iter().enumerate() {
        let column = (at * (columns - 1)) / last;
        match point.height.filter(|h| h.is_finite()) {
            Some(height) => {
                let share = if flat { 0.0 } else { (height - low) / (high - low) };
                let up = (share * (lines - 1) as f64).round() as usize;
                rows[(lines - 1).saturating_sub(up)][column] = point.mark;
            }
            None => ground[column] = point.mark,
        }
    }
    for (row, cells) in rows.iter().enumerate() {
        let label = if row == 0 {
            top
        } else if row + 1 == lines {
            bottom
        } else {
            ""
        };
        let line: String = cells.iter().collect();
        page.line(&[(Tone::Aside, &format!("  {} |", right(label, gutter))), (Tone::Strong, &line)]);
    }
    let ground: String = ground.into_iter().collect();
    page.line(&[(Tone::Aside, &format!("  {} +{ground}", " ".repeat(gutter)))]);
    let [from, to] = &plot.ends;
    let room = columns.saturating_sub(width(from));
    page.line(&[(Tone::Aside, &format!("  {}  {from}{}", " ".repeat(gutter), right(to, room)))]);
    if let Some(legend) = &plot.legend {
        page.line(&[(Tone::Aside, &format!("  {}  {legend}", " ".repeat(gutter)))]);
    }
}

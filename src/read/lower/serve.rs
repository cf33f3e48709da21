//! How the drink is made and served, and the steps that the bar measures in.

use super::quantity;
use crate::brief::{Glass, Serve, Step};
use crate::liquid::{Dilution, Method};
use crate::quantity::Unit;
use crate::read::codes;
use crate::read::file::{self, File};
use crate::read::findings::Findings;

/// What a bar measures in where the brief says nothing, ml; common practice, no source.
const COMMON_STEP: f64 = 2.5;
/// Share of the glass that stays free where the brief says nothing, %.
const COMMON_HEADROOM: f64 = 5.0;

/// How the bar works: the serve, and the steps of its liquids.
#[derive(Debug)]
pub struct Bar {
    /// Method, ice, glass.
    pub serve: Serve,
    /// The step of liquids without one of their own.
    pub step: Step,
    /// Least amount of a liquid that is used, ml; `None`: one step.
    pub smallest: Option<f64>,
}

/// Reads `[serve]`.
pub fn bar(file: &File, findings: &mut Findings) -> Bar {
    let absent = file::Serve::default();
    let written = file.serve.as_ref().map_or(&absent, |serve| &serve.value);
    let method = written.method.as_ref().map_or(Method::None, |method| method.0);
    let melt = written.melt.as_ref().map(|melt| melt.value);
    let dilution = Dilution::of(method, melt);
    let unruled =
        written.method.as_ref().filter(|_| dilution.is_none() && !findings.is_spoiled("serve.melt"));
    if let Some(at) = unruled {
        let help = "give melt = …, the melt water in % of the poured volume";
        let what = "no rule is published for how much ice melts into a blended drink";
        findings.error(codes::NO_MELT, at.place(), what, help);
    }
    let step = written.pour.as_ref().and_then(|p| quantity::step(p, Unit::Ml, "the bar's step", findings));
    let smallest =
        written.smallest.as_ref().and_then(|s| quantity::amount(s, Unit::Ml, "the smallest pour", findings));
    let serve = Serve {
        method,
        melt,
        dilution: dilution.unwrap_or(Dilution::Share(0.0)),
        most: written.most.as_ref().map(|most| most.value),
        glass: glass(written, findings),
    };
    Bar { serve, step: step.unwrap_or(Step::Every(COMMON_STEP)), smallest }
}

fn glass(written: &file::Serve, findings: &mut Findings) -> Option<Glass> {
    let at = written.glass.as_ref()?;
    let brim = quantity::amount(at, Unit::Ml, "the glass", findings)?;
    if brim <= 0.0 {
        let what = "the glass holds nothing";
        findings.error(codes::OUT_OF_RANGE, at.place(), what, "give its brim volume, or leave it out");
        return None;
    }
    Some(Glass { brim, headroom: written.headroom.as_ref().map_or(COMMON_HEADROOM, |h| h.value) })
}

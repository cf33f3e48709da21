//! How the drink is made and served, and the steps that the bar measures in.

use super::quantity;
use crate::brief::{Candidate, Glass, GlassIce, Handling, Reference, Serve, Step};
use crate::liquid::ice::{Balance, Strained};
use crate::liquid::{Dilution, Drink, Method, heat, melt};
use crate::quantity::Unit;
use crate::read::codes;
use crate::read::file::{self, At, File};
use crate::read::findings::Findings;

/// What a bar measures in where the brief says nothing, ml; common practice, no source.
const COMMON_STEP: f64 = 2.5;
/// Share of the glass that stays free where the brief says nothing, %.
const COMMON_HEADROOM: f64 = 5.0;

/// Ice in a glass of which nothing is said, g; common practice, no source.
const COMMON_ICE: f64 = 120.0;
/// Ice per ml of the glass, g, in cubes and crushed; common practice, no source.
const ICE_PER_ML: (f64, f64) = (1.0 / 3.0, 0.5);

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
    let given = written.melt.as_ref().map(|melt| melt.value.0);
    let melt = given.map(|given| given.typical);
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
        spread: spread(method, given),
        ice: None,
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
    let headroom = written.headroom.as_ref().map_or(COMMON_HEADROOM, |h| h.value);
    Some(Glass { brim, headroom, ice: 0.0 })
}

/// How far the melt may be off, in ml per ml: by the rule, or by what the brief says of its own figure.
fn spread(method: Method, given: Option<file::Melt>) -> f64 {
    match given {
        Some(file::Melt { spread: Some(spread), .. }) => spread / 100.0,
        Some(file::Melt { exact: true, .. }) => 0.0,
        None if matches!(method, Method::Blend) => 0.0,
        _ if method == Method::None => 0.0,
        _ => melt::UNCERTAINTY,
    }
}

/// Puts the ice into the glass, where the drink is served on it. A built drink is where something in it holds
/// gas, or where the brief says so; without either the rule of built drinks stands for its ice.
pub fn put_ice(file: &File, candidates: &[Candidate], serve: &mut Serve, findings: &mut Findings) {
    let Some(written) = file.serve.as_ref() else { return };
    let built = serve.method == Method::Build;
    let told = written.ice.as_ref().map(At::place).or(written.crushed.as_ref().map(At::place));
    let on_ice = match written.served.as_ref().map(|served| served.0) {
        Some(file::Served::Up) => {
            let place = told.or(written.served.as_ref().filter(|_| built).map(At::place));
            if let Some(place) = place {
                let what = "a drink that is served up has no ice in its glass";
                let help = "write served = \"on ice\"; what is poured without any ice has method = \"none\"";
                findings.error(codes::UNKNOWN_WORD, place, what, help);
            }
            false
        }
        Some(file::Served::OnIce) => true,
        None => {
            told.is_some() || built && candidates.iter().any(|c| c.handling.contains(&Handling::Carbonated))
        }
    };
    if !on_ice {
        return;
    }
    let crushed = written.crushed.as_ref().is_some_and(|crushed| crushed.value);
    let per_ml = if crushed { ICE_PER_ML.1 } else { ICE_PER_ML.0 };
    let common = serve.glass.map_or(COMMON_ICE, |glass| per_ml * glass.brim);
    let mass =
        written.ice.as_ref().and_then(|at| quantity::amount(at, Unit::G, "the ice in the glass", findings));
    let mass = mass.unwrap_or(common);
    // What melts is given, where there is no other ice that it could be of.
    let given = serve.melt.is_some() && matches!(serve.method, Method::Build | Method::None);
    let balance = Balance { crushed, strained: Strained::of(serve.method), more: 0.0 };
    if built && !given {
        (serve.dilution, serve.spread) = (Dilution::Share(0.0), 0.0);
    }
    serve.ice = Some(GlassIce { mass, crushed, balance: (!given).then_some(balance) });
    if let Some(glass) = &mut serve.glass {
        glass.ice = mass / heat::ICE;
        if glass.holds() <= 0.0 {
            let place = written.ice.as_ref().map(At::place).or(written.glass.as_ref().map(At::place));
            let (what, help) = ("the ice leaves no room in the glass", "give it less ice, or a larger glass");
            findings.error(codes::OUT_OF_RANGE, place.unwrap_or(0..0), what, help);
        }
    }
}

/// Shifts the rule of shaken and stirred drinks to a given melt, so that it goes on depending on the strength:
/// where it is known which drink was weighed, by its strength or as the reference. Else the figure stands for
/// every strength.
pub fn shift(file: &File, candidates: &[Candidate], reference: Option<&Reference>, serve: &mut Serve) {
    let written = file.serve.as_ref().and_then(|serve| serve.melt.as_ref()).map(|melt| melt.value.0);
    let Some(given) = written.filter(|given| !given.exact) else { return };
    let weighed = given.at.map(|percent| percent / 100.0).or_else(|| {
        let pours = &reference?.pours;
        let parts = pours.iter().map(|p| (&candidates[p.candidate].portion, p.amount));
        Some(Drink::of(parts, Dilution::Share(0.0)).worked_strength)
    });
    let (Some(strength), Some(rule @ Dilution::Fit { .. })) = (weighed, Dilution::of(serve.method, None))
    else {
        return;
    };
    let shifted = rule.shifted(given.typical / 100.0 - rule.at(strength));
    // A rule that would take water out of weak drinks is none.
    if shifted.at(0.0) >= 0.0 {
        serve.dilution = shifted;
    }
}

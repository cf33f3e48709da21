//! How the drink is made, in words.

use super::{listed, poured};
use crate::answer::{Frame, SpecLine};
use crate::liquid::Method;
use crate::quantity::{Amount, UnitSystem, number};

/// Two sentences: what to do, and what is in the glass then.
pub fn method_sentences(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> String {
    format!("{} {}", made(frame, spec, units), served(frame, spec, units))
}

fn ml(value: f64, units: UnitSystem) -> String {
    number::pour_about(Amount::ml(value), units)
}

/// One sentence: what to do.
pub fn made(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> String {
    let glass = match frame.glass {
        Some(glass) => format!("a {} glass", number::pour(Amount::ml(glass.brim), units)),
        None => "the glass".to_owned(),
    };
    let tops: Vec<&str> = spec.pours.iter().filter(|p| p.tops).map(|p| p.ingredient.as_str()).collect();
    let (all, top) = if tops.is_empty() {
        (String::new(), String::new())
    } else {
        (format!(" everything but the {}", listed(&tops)), topped(spec, units))
    };
    let over = over_ice(frame);
    match frame.method {
        Method::Shake => format!("Shake{all} with ice and strain{over} into {glass}{top}."),
        Method::Stir => format!("Stir{all} with ice and strain{over} into {glass}{top}."),
        Method::Blend => format!("Blend{all} with ice and pour{over} into {glass}{top}."),
        Method::Build if frame.ice.is_some_and(|ice| ice.crushed) => {
            format!("Build on crushed ice in {glass}{top}.")
        }
        Method::Build => format!("Build on ice in {glass}{top}."),
        Method::None if frame.ice.is_some() => format!("Pour{over} into {glass}{top}."),
        Method::None => format!("Pour into {glass}, without ice{top}."),
    }
}

/// Over what it goes into the glass, with a space before it; nothing where it is served up.
pub fn over_ice(frame: &Frame) -> &'static str {
    match frame.ice {
        Some(ice) if ice.crushed => " over crushed ice",
        Some(_) => " over ice",
        None => "",
    }
}

/// What goes on top, with how much of it.
fn topped(spec: &SpecLine, units: UnitSystem) -> String {
    let tops = spec.pours.iter().filter(|pour| pour.tops);
    let tops: Vec<String> = tops.map(|pour| poured(pour, units)).collect();
    format!(", then top with {}", listed(&tops))
}

fn served(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> String {
    let volume = spec.served.get("volume");
    let water = if spec.melt > 0.0 {
        let by = if frame.ice.is_some() { " by the first sip" } else { "" };
        format!("The ice brings {} of water{by}", ml(spec.melt, units))
    } else {
        "No water comes from ice".to_owned()
    };
    let line = match frame.glass {
        Some(glass) => {
            let free = glass.brim - if frame.ice.is_some() { spec.level + glass.ice } else { volume };
            let side = if free >= 0.0 { "below" } else { "OVER" };
            let with = if frame.ice.is_some() { " with its ice" } else { "" };
            format!(", its wash line{with} {} {side} the brim", ml(free.abs(), units))
        }
        None => String::new(),
    };
    format!("{water}: {} in the glass{line}.", ml(volume, units))
}

//! How the drink is made, in words.

use super::listed;
use crate::liquid::Method;
use crate::quantity::{Amount, UnitSystem, number};
use crate::report::gather::{Frame, SpecLine};

/// Two sentences: what to do, and what is in the glass then.
pub fn method_sentences(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> String {
    format!("{} {}", make(frame, spec, units), served(frame, spec, units))
}

fn ml(value: f64, units: UnitSystem) -> String {
    number::pour_about(Amount::ml(value), units)
}

fn make(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> String {
    let glass = match frame.glass {
        Some(glass) => format!("a {} glass", number::pour(Amount::ml(glass.brim), units)),
        None => "the glass".to_owned(),
    };
    let gas: Vec<&str> = spec.pours.iter().filter(|p| p.sparkling).map(|p| p.ingredient.as_str()).collect();
    let ice_work = matches!(frame.method, Method::Shake | Method::Stir | Method::Blend);
    let (all, top) = if gas.is_empty() || !ice_work {
        (String::new(), String::new())
    } else {
        (format!(" everything but the {}", listed(&gas)), format!(", then top with the {}", listed(&gas)))
    };
    match frame.method {
        Method::Shake => format!("Shake{all} with ice and strain into {glass}{top}."),
        Method::Stir => format!("Stir{all} with ice and strain into {glass}{top}."),
        Method::Blend => format!("Blend{all} with ice and pour into {glass}{top}."),
        Method::Build => format!("Build on ice in {glass}."),
        Method::None => format!("Pour into {glass}, without ice."),
    }
}

fn served(frame: &Frame, spec: &SpecLine, units: UnitSystem) -> String {
    let volume = spec.served.get("volume");
    let water = if spec.melt > 0.0 {
        format!("The ice brings {} of water", ml(spec.melt, units))
    } else {
        "No water comes from ice".to_owned()
    };
    let line = match frame.glass {
        Some(glass) => {
            let free = glass.brim - volume;
            let side = if free >= 0.0 { "below" } else { "OVER" };
            format!(", its wash line {} {side} the brim", ml(free.abs(), units))
        }
        None => String::new(),
    };
    format!("{water}: {} in the glass{line}.", ml(volume, units))
}

//! What was tasted and weighed: spec lines become pours.

use crate::brief::{Brief, Facet, Pour, Tasted, Weighed};
use crate::read::file::{self, At, File};
use crate::read::findings::Findings;
use crate::read::kept::KeptSpec;
use crate::read::shape::shown;
use crate::read::{codes, spec_line};

/// The temperature of a reading that names none, °C: that of the tables.
const USUAL: f64 = 20.0;

/// Reads `[[tasted]]`.
pub fn tasted(file: &File, brief: &Brief, kept: &[KeptSpec], findings: &mut Findings) -> Vec<Tasted> {
    let written = file.tasted.as_ref().map_or(&[][..], |list| list.value.as_slice());
    written.iter().filter_map(|at| one_tasted(at, brief, kept, findings)).collect()
}

/// What was in a tasted glass: a line of pours, or a kept spec.
fn in_glass(
    written: &At<file::Tasted>,
    brief: &Brief,
    kept: &[KeptSpec],
    findings: &mut Findings,
) -> Option<Vec<Pour>> {
    let (place, what) = match (&written.poured, &written.glass) {
        (Some(line), None) => return pours(line, brief, findings),
        (None, Some(name)) => match kept.iter().find(|spec| spec.name == name.value) {
            Some(spec) => return Some(spec.pours.clone()),
            None => (name.place(), format!("no spec is kept as \"{}\"", shown(name))),
        },
        (None, None) => (written.place(), "nothing says what was in the glass".to_owned()),
        (Some(_), Some(name)) => (name.place(), "two things say what was in the glass".to_owned()),
    };
    let help = "write poured = \"50 ml aged rum, …\", or the name of a [[kept]] spec as glass";
    findings.error(codes::NO_GLASS, place, what, help);
    None
}

fn one_tasted(
    written: &At<file::Tasted>,
    brief: &Brief,
    kept: &[KeptSpec],
    findings: &mut Findings,
) -> Option<Tasted> {
    let word = |facet: Facet| {
        let said = match facet {
            Facet::Sweet => &written.sweet,
            Facet::Sour => &written.sour,
            Facet::Strong => &written.strong,
            Facet::Long => &written.long,
        };
        said.as_ref().map(|said| (facet, said.0))
    };
    Some(Tasted {
        pours: in_glass(written, brief, kept, findings)?,
        glass: written.glass.as_ref().map(|glass| glass.value.clone()),
        said: Facet::ALL.into_iter().filter_map(word).collect(),
        words: written.words.as_ref().map(|words| words.value.clone()),
        date: written.date.as_ref().map(|date| date.value.clone()),
    })
}

/// Reads `[[weighed]]`.
pub fn weighed(file: &File, brief: &Brief, findings: &mut Findings) -> Vec<Weighed> {
    let written = file.weighed.as_ref().map_or(&[][..], |list| list.value.as_slice());
    written.iter().filter_map(|at| one_weighed(at, brief, findings)).collect()
}

fn one_weighed(written: &At<file::Weighed>, brief: &Brief, findings: &mut Findings) -> Option<Weighed> {
    let pours = pours(written.poured.as_ref()?, brief, findings)?;
    let value = |at: &Option<At<f64>>| at.as_ref().map(|at| at.value);
    let found = Weighed {
        method: written.method.as_ref().map(|method| method.0),
        grams_in: value(&written.grams_in),
        grams_out: value(&written.grams_out),
        celsius: value(&written.temperature).unwrap_or(USUAL),
        brix: value(&written.brix),
        density: value(&written.density),
        titration: written.titration.as_ref().map(|titration| titration.0),
        date: written.date.as_ref().map(|date| date.value.clone()),
        pours,
    };
    let composed = found.brix.is_some() || found.density.is_some() || found.titration.is_some();
    if composed && found.pours.len() > 1 {
        let what = "these readings are of one ingredient, and several were poured";
        let help = "pour the one that was read: poured = \"10 ml lime juice\"";
        findings.error(codes::SEVERAL_READ, written.place(), what, help);
    } else if !composed && found.grams_in.is_none() && found.grams_out.is_none() {
        let what = "nothing was weighed or read";
        let help = "add grams_in, grams_out, brix, density or titration";
        findings.error(codes::NOTHING_READ, written.place(), what, help);
    }
    Some(found)
}

/// The pours of a line; what is wrong with it is told at the line.
fn pours(line: &At<String>, brief: &Brief, findings: &mut Findings) -> Option<Vec<Pour>> {
    match spec_line::read(line, brief) {
        Ok(pours) => Some(pours),
        Err(faults) => {
            for fault in faults {
                findings.error(codes::BAD_LINE, line.place(), fault.what, fault.help);
            }
            None
        }
    }
}

//! What was tasted and weighed: spec lines become pours.

use super::quantity;
use crate::brief::{Brief, Facet, Pour, Tasted, Titration, Weighed, Word};
use crate::read::file;
use crate::read::file::{At, Code, Entries, File, PouredAs, Quantity, Short, listed};
use crate::read::findings::{Findings, guess};
use crate::read::kept::KeptSpec;
use crate::read::shape::shown;
use crate::read::{codes, spec_line};

/// The temperature of a reading that names none, °C: that of the tables.
const USUAL: f64 = 20.0;

/// Reads `[[tasted]]`.
pub fn tasted(file: &File, brief: &Brief, kept: &[KeptSpec], findings: &mut Findings) -> Vec<Tasted> {
    let written = listed(file.tasted.as_ref());
    written.iter().filter_map(|at| one_tasted(at, brief, kept, findings)).collect()
}

/// What was in a tasted glass: pours, or a kept spec, which has its own name for it.
fn in_glass(
    written: &At<file::Tasted>,
    brief: &Brief,
    kept: &[KeptSpec],
    findings: &mut Findings,
) -> Option<(Vec<Pour>, Option<String>)> {
    let lines: Vec<&At<Short<String, PouredAs>>> =
        [&written.poured, &written.pours].into_iter().flatten().collect();
    let names: Vec<&At<Code>> = [&written.glass, &written.code].into_iter().flatten().collect();
    let (place, what) = match (lines.as_slice(), names.as_slice()) {
        ([line], []) => return pours(line, brief, findings).map(|pours| (pours, None)),
        ([], [name]) => match kept.iter().find(|spec| spec.name == name.0) {
            Some(spec) => return Some((spec.pours.clone(), Some(spec.name.clone()))),
            None => (name.place(), format!("no spec is kept as \"{}\"", shown(&name.0))),
        },
        ([], []) => (written.place(), "nothing says what was in the glass".to_owned()),
        ([.., line], []) => (line.place(), "two things say what was in the glass".to_owned()),
        (_, [.., name]) => (name.place(), "two things say what was in the glass".to_owned()),
    };
    let help = "write poured = \"50 ml aged rum, …\", or the name of a [[kept]] spec as glass: `washline flight --keep` \
                keeps its glasses under their codes";
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
        said.as_ref().map(|said| Word { facet, said: said.0 })
    };
    let (pours, glass) = in_glass(written, brief, kept, findings)?;
    Some(Tasted {
        pours,
        glass,
        said: Facet::ALL.into_iter().filter_map(word).collect(),
        words: written.words.as_ref().map(|words| words.value.clone()),
        date: written.date.as_ref().map(|date| date.value.clone()),
    })
}

/// Reads `[[weighed]]`.
pub fn weighed(file: &File, brief: &Brief, findings: &mut Findings) -> Vec<Weighed> {
    let written = listed(file.weighed.as_ref());
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
        titration: written.titration.as_ref().map(|t| Titration {
            base: t.base,
            molar: t.molar,
            sample: t.sample,
        }),
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

/// The pours of a line, or of a table; what is wrong with a line is told at the line.
fn pours(written: &At<Short<String, PouredAs>>, brief: &Brief, findings: &mut Findings) -> Option<Vec<Pour>> {
    let line = match &written.value.0 {
        PouredAs::Line(line) => line,
        PouredAs::Each(amounts) => return each(amounts, brief, findings),
    };
    match spec_line::read(line, brief) {
        Ok(pours) => Some(pours),
        Err(faults) => {
            for fault in faults {
                findings.error(codes::BAD_LINE, written.place(), fault.what, fault.help);
            }
            None
        }
    }
}

fn each(amounts: &Entries<Quantity>, brief: &Brief, findings: &mut Findings) -> Option<Vec<Pour>> {
    quantity::pours(&amounts.0, brief, findings, |name, findings| {
        let names = brief.candidates.iter().map(|candidate| candidate.name.as_str());
        let otherwise = || "add it as a [[candidate]]; out = true where it is not to be used".to_owned();
        let help = guess(findings.closest(name, names), otherwise);
        let what = format!("no ingredient is named \"{}\"", shown(name));
        findings.error(codes::UNKNOWN_NAME, name.place(), what, help);
    })
}

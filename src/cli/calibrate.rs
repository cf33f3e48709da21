//! `washline calibrate BRIEF|HOUSE`

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::args::CalibrateArgs;
use super::exit::{Exit, Failure};
use super::write::{self, Existing};
use super::{clock, input, keep, output};
use crate::answer::{CalibrationAnswer, OfMethod, calibration_answer};
use crate::brief::Brief;
use crate::calibrate::calibrate;
use crate::finding::Finding;
use crate::liquid::Method;
use crate::read::{self, Changes, House, Written, WrittenTo, figures_in, is_house};

/// Makes figures of what was weighed, shows them, and keeps them where that is asked for.
pub fn run(args: &CalibrateArgs) -> Result<Exit, Failure> {
    let show = keep::show(&args.show, args.keep.then_some(&args.brief))?;
    let house = house(args)?;
    let mut answer = match &house {
        Some(house) => of_house(house)?,
        None => of_brief(args)?,
    };
    answer.asked = Some(args.brief.asked());
    if args.keep {
        match &house {
            Some(house) => keep_in_house(args, house, &answer)?,
            None => keep_in_brief(args, &answer)?,
        }
    }
    output::show_text(&show, &answer)?;
    Ok(Exit::Answered)
}

/// The file as a house, where it is one.
fn house(args: &CalibrateArgs) -> Result<Option<Arc<House>>, Failure> {
    if args.brief.brief == Path::new("-") {
        return Ok(None);
    }
    // What cannot be read is told as a brief that cannot be read.
    let Ok(house) = input::house(&args.brief.brief) else { return Ok(None) };
    if !is_house(&house.bytes) {
        return Ok(None);
    }
    if !(args.brief.settings.is_empty() && args.brief.swaps.is_empty()) {
        let help = "name a brief, or leave --set and --swap out";
        return Err(Failure::placeless(
            "house-changed",
            "--set and --swap change a brief, and this is a house",
            help,
        ));
    }
    Ok(Some(house))
}

fn of_brief(args: &CalibrateArgs) -> Result<CalibrationAnswer, Failure> {
    let brief = input::read_page(&args.brief)?.0.brief;
    Ok(calibration_answer(&brief, &[(brief.serve.method, calibrate(&brief))]))
}

/// A house makes drinks in many ways: each has a melt of its own.
fn of_house(house: &Arc<House>) -> Result<CalibrationAnswer, Failure> {
    let read = |method: Method| -> Result<Brief, Failure> {
        read::weighed_of(house, method).map_err(|findings| refused(house, findings))
    };
    let first = read(Method::None)?;
    let mut found: Vec<OfMethod> = vec![];
    for weighed in &first.weighed {
        if let Some(method) = weighed.method
            && found.iter().all(|(known, _)| *known != method)
        {
            found.push((method, calibrate(&read(method)?)));
        }
    }
    if found.is_empty() {
        found.push((Method::None, calibrate(&first)));
    }
    Ok(calibration_answer(&first, &found))
}

fn refused(house: &House, findings: Vec<Finding>) -> Failure {
    Failure::of_line("", Some(house), findings)
}

fn keep_in_house(args: &CalibrateArgs, house: &House, answer: &CalibrationAnswer) -> Result<(), Failure> {
    let text = String::from_utf8_lossy(&house.bytes);
    let written = figures_in(None, Some(&text), &answer.keep, &clock::today())
        .map_err(|finding| refused(house, vec![finding]))?;
    if let Some(text) = &written.house {
        let kept = House { name: house.name.clone(), bytes: text.clone().into_bytes() };
        read::shelf_of(&Arc::new(kept)).map_err(|findings| refused(house, findings))?;
        write::whole(&args.brief.brief, text, Existing::Replace)?;
    }
    told(&written, None, Some(&args.brief.brief));
    Ok(())
}

/// Whole or not at all: the brief and its house are read anew as they will be before either is written.
fn keep_in_brief(args: &CalibrateArgs, answer: &CalibrationAnswer) -> Result<(), Failure> {
    let page = input::page_of(&args.brief)?;
    let text = String::from_utf8_lossy(&page.bytes).into_owned();
    let house = page.changes.house.clone();
    let house_text = house.as_ref().map(|house| String::from_utf8_lossy(&house.bytes).into_owned());
    let written = figures_in(Some(&text), house_text.as_deref(), &answer.keep, &clock::today())
        .map_err(|finding| page.refused(vec![finding]))?;
    let brief = written.brief.as_deref().unwrap_or(&text);
    let mut changes = Changes { house: house.clone(), ..page.changes.clone() };
    if let (Some(house), Some(text)) = (&house, &written.house) {
        changes.house = Some(Arc::new(House { name: house.name.clone(), bytes: text.clone().into_bytes() }));
    }
    read::read_changed(brief.as_bytes(), &changes).map_err(|findings| page.refused(findings))?;
    let path = house.as_ref().map(|house| PathBuf::from(&house.name));
    if let (Some(path), Some(text)) = (&path, &written.house) {
        write::whole(path, text, Existing::Replace)?;
    }
    if let Some(text) = &written.brief {
        write::whole(&args.brief.brief, text, Existing::Replace)?;
    }
    told(&written, Some(&args.brief.brief), path.as_deref());
    Ok(())
}

/// Says what was kept where, and what could not be.
fn told(written: &Written, brief: Option<&Path>, house: Option<&Path>) {
    for (place, path) in [(WrittenTo::House, house), (WrittenTo::Brief, brief)] {
        let of = written.told.iter().filter(|(_, to)| *to == place).map(|(what, _)| what.as_str());
        let what: Vec<&str> = of.collect();
        if let (Some(path), false) = (path, what.is_empty()) {
            output::say(&format!("Kept in {}: {}.\n", path.display(), what.join("; ")));
        }
    }
    for why in &written.left {
        output::say(&format!("Not kept: {why}.\n"));
    }
    if written.told.is_empty() && written.left.is_empty() {
        output::say("Nothing to keep: no figure follows from what was weighed.\n");
    }
}

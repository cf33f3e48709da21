//! `washline new FILE`

use std::path::Path;

use super::args::NewArgs;
use super::ask::{self, Asked};
use super::exit::{Exit, Failure};
use super::write::{self, Existing};
use super::{input, output};
use crate::draft::{At, Wish, brief};
use crate::read;

/// Writes a brief, whole or not at all, and never over a file.
pub fn run(args: &NewArgs) -> Result<Exit, Failure> {
    match &args.file {
        None if asks(args) => {
            let help = "washline new my-drink.toml, and then what it is to be";
            Err(Failure::placeless("no-file", "it needs the name of the file to write", help))
        }
        None => {
            let Asked { file, house, wish } = ask::ask()?;
            new(&file, || written(wish, house.as_deref(), &file))
        }
        Some(file) if asks(args) => new(file, || {
            let house = args.house.as_deref();
            let at = house.map(input::house).transpose()?.map(|house| At { house, path: String::new() });
            written(wish(args, at), house, file)
        }),
        Some(file) => new(file, || Ok(read::starter().to_owned())),
    }
}

/// Writes a new file with this text.
fn new(file: &Path, text: impl FnOnce() -> Result<String, Failure>) -> Result<Exit, Failure> {
    if let Some(line) = drink(file) {
        let what = format!("\"{line}\" is a drink and not the name of a file");
        let help = format!("washline new --from \"{line}\" my-drink.toml");
        return Err(Failure::placeless("no-file", what, help));
    }
    write::refuse_existing(file, Existing::Keep)?;
    write::whole(file, &text()?, Existing::Keep)?;
    let name = file.display();
    output::say(&format!("Wrote {name}. Change it, then: washline spec {name}\n"));
    Ok(Exit::Answered)
}

/// The drink that stands where the file should: whoever leaves out `--from` would get a file of that name.
fn drink(file: &Path) -> Option<&str> {
    let line = file.to_str().filter(|_| file.extension().is_none())?;
    brief(&Wish { line: Some(line.to_owned()), ..Wish::default() }).is_ok().then_some(line)
}

/// Whether anything is asked for beside a file to start from.
fn asks(args: &NewArgs) -> bool {
    let shaped = args.lighter.or(args.under).is_some() || args.caffeine_free || args.method.is_some();
    let named = [&args.from, &args.glass, &args.pour, &args.aim].into_iter().any(Option::is_some);
    shaped
        || named
        || args.family.is_some()
        || args.house.is_some()
        || !(args.without.is_empty() && args.notes.is_empty())
}

fn wish(args: &NewArgs, at: Option<At>) -> Wish {
    Wish {
        line: args.from.clone(),
        method: args.method,
        glass: args.glass.clone(),
        pour: args.pour.clone(),
        aim: args.aim.clone(),
        lighter: args.lighter,
        under: args.under,
        without: args.without.clone(),
        caffeine_free: args.caffeine_free,
        notes: args.notes.clone(),
        family: args.family,
        at,
    }
}

/// The brief that is wished for; its house is named from where the brief will be.
fn written(mut wish: Wish, house: Option<&Path>, file: &Path) -> Result<String, Failure> {
    if let Some((at, house)) = wish.at.as_mut().zip(house) {
        at.path = relative(house, file);
    }
    brief(&wish).map_err(|findings| {
        let house = wish.at.as_ref().map(|at| &*at.house);
        Failure::of_line(wish.line.as_deref().unwrap_or_default(), house, findings)
    })
}

/// The path of the house as the brief has to name it: relative to the folder that the brief is in.
pub fn relative(house: &Path, brief: &Path) -> String {
    let folder = brief.parent().unwrap_or(Path::new(""));
    let plain = || house.display().to_string();
    if house.is_absolute() {
        return plain();
    }
    if let Ok(rest) = house.strip_prefix(folder) {
        return rest.display().to_string();
    }
    let ups = folder.components().count();
    let climbs = folder.is_relative() && !folder.components().any(|part| part.as_os_str() == "..");
    match (climbs, house.canonicalize()) {
        (true, _) => format!("{}{}", "../".repeat(ups), plain()),
        (false, Ok(whole)) => whole.display().to_string(),
        (false, Err(_)) => plain(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drink_is_no_name_of_a_file() {
        assert!(drink(Path::new("50 ml aged rum, 25 ml lime juice")).is_some());
        for name in ["sour", "sour.toml", "50 ml", "50 ml aged rum.toml", "drinks/5 oz sour"] {
            assert_eq!(drink(Path::new(name)), None, "{name}");
        }
    }

    #[test]
    fn the_house_is_named_from_the_brief() {
        let of = |house: &str, brief: &str| relative(Path::new(house), Path::new(brief));
        assert_eq!(of("house.toml", "sour.toml"), "house.toml");
        assert_eq!(of("bar/house.toml", "bar/sour.toml"), "house.toml");
        assert_eq!(of("house.toml", "drinks/new/sour.toml"), "../../house.toml");
    }
}

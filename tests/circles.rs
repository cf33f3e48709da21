//! No two files of a room need each other: whoever reads one reads what it stands on, and is done. A folder's `mod.rs` and the
//! files in the folder are one thing, taken apart: between them nothing is asked.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::path::PathBuf;

use syn::visit::{Visit, visit_item_mod, visit_path};
use syn::{ItemMod, ItemUse, UseTree};

mod sources;
use sources::sources;

/// A file as the path of its module: `["solve", "free", "short"]`.
type Module = Vec<String>;

#[test]
fn no_two_files_of_a_room_need_each_other() {
    let files = files();
    let needs: BTreeMap<&Module, BTreeSet<Module>> =
        files.iter().map(|(module, text)| (module, needed(module, text, &files))).collect();
    let mut circles = BTreeSet::new();
    for (module, others) in &needs {
        for other in others {
            if let Some(way) = way(&needs, other, module) {
                let circle: BTreeSet<String> = way.iter().map(|one| one.join("/")).collect();
                circles.insert(circle.into_iter().collect::<Vec<_>>().join(", "));
            }
        }
    }
    assert!(
        circles.is_empty(),
        "these need each other:\n{}",
        circles.into_iter().collect::<Vec<_>>().join("\n")
    );
}

/// The test itself: what counts as needing, and what does not.
#[test]
fn what_a_file_needs_is_found() {
    let module = |path: &str| -> Module { path.split('/').map(str::to_owned).collect() };
    let all = ["solve", "solve/a", "solve/b", "solve/c", "solve/a/d", "model"];
    let files: BTreeMap<Module, String> = all.iter().map(|path| (module(path), String::new())).collect();
    let of = |path: &str, text: &str| needed(&module(path), text, &files);
    assert_eq!(of("solve/a", "use super::b::X; use crate::model::Y;"), BTreeSet::from([module("solve/b")]));
    assert_eq!(of("solve/a/d", "use super::super::{b::{X, Y}, c};").len(), 2);
    assert_eq!(of("solve/a/d", "fn f() { crate::solve::c::g(); }"), BTreeSet::from([module("solve/c")]));
    for own in [
        "use super::X;",
        "use self::d::X;",
        "#[cfg(test)] mod tests { use crate::solve::b::X; }",
        "// super::b",
    ] {
        assert!(of("solve/a", own).is_empty(), "{own}");
    }
    let needs = [("solve/a", "solve/b"), ("solve/b", "solve/c"), ("solve/c", "solve/a")]
        .map(|(a, b)| (module(a), module(b)));
    let needs: BTreeMap<&Module, BTreeSet<Module>> =
        needs.iter().map(|(a, b)| (a, BTreeSet::from([b.clone()]))).collect();
    assert_eq!(way(&needs, &module("solve/b"), &module("solve/a")).map(|way| way.len()), Some(3));
    assert_eq!(way(&needs, &module("solve/b"), &module("model")), None);
}

/// Every file of `src` with its text.
fn files() -> BTreeMap<Module, String> {
    let module = |path: PathBuf| {
        let inside = path.with_extension("");
        let parts = inside.components().skip(1).map(|part| part.as_os_str().to_string_lossy().into_owned());
        let mut module: Module = parts.collect();
        module.pop_if(|last| last == "mod");
        module
    };
    let all: BTreeMap<Module, String> =
        sources("src").into_iter().map(|(path, text)| (module(path), text)).collect();
    assert!(all.len() > 100, "{} files", all.len());
    all
}

/// The files of its own room that a file needs; not those that it is a part of, nor its own parts.
fn needed(module: &Module, text: &str, files: &BTreeMap<Module, String>) -> BTreeSet<Module> {
    let mut paths = Paths::default();
    paths.visit_file(&syn::parse_file(text).expect("a source file that parses"));
    let found = paths.all.iter().filter_map(|path| led_to(module, path, files));
    found.filter(|to| to[0] == module[0] && !to.starts_with(module) && !module.starts_with(to)).collect()
}

/// The file that a path leads to from a module.
fn led_to(from: &Module, path: &[String], files: &BTreeMap<Module, String>) -> Option<Module> {
    let mut to: Module = vec![];
    let mut steps = path.iter();
    match steps.next()?.as_str() {
        "crate" => {}
        "self" => to.clone_from(from),
        "super" => to.extend_from_slice(&from[..from.len() - 1]),
        _ => return None,
    }
    for step in steps {
        if step == "super" {
            to.pop();
            continue;
        }
        to.push(step.clone());
        if !files.contains_key(&to) {
            to.pop();
            break;
        }
    }
    (!to.is_empty()).then_some(to)
}

/// The shortest way along what is needed.
fn way<'m>(
    needs: &'m BTreeMap<&Module, BTreeSet<Module>>,
    from: &'m Module,
    to: &Module,
) -> Option<Vec<&'m Module>> {
    let mut before: BTreeMap<&Module, Option<&Module>> = BTreeMap::from([(from, None)]);
    let mut waiting = VecDeque::from([from]);
    while let Some(at) = waiting.pop_front() {
        if at == to {
            return Some(std::iter::successors(Some(at), |at| before[at]).collect());
        }
        for next in needs.get(at).into_iter().flatten() {
            before.entry(next).or_insert_with(|| {
                waiting.push_back(next);
                Some(at)
            });
        }
    }
    None
}

/// Every path that a file names, outside of its own tests.
#[derive(Default)]
struct Paths {
    all: Vec<Vec<String>>,
}

impl Paths {
    fn add(&mut self, before: &[String], tree: &UseTree) {
        let with = |name: &syn::Ident| [before, &[name.to_string()]].concat();
        match tree {
            UseTree::Path(path) => self.add(&with(&path.ident), &path.tree),
            UseTree::Name(name) => self.all.push(with(&name.ident)),
            UseTree::Rename(name) => self.all.push(with(&name.ident)),
            UseTree::Glob(_) => self.all.push(before.to_vec()),
            UseTree::Group(group) => group.items.iter().for_each(|tree| self.add(before, tree)),
        }
    }
}

impl<'ast> Visit<'ast> for Paths {
    fn visit_item_use(&mut self, item: &'ast ItemUse) {
        self.add(&[], &item.tree);
    }

    fn visit_item_mod(&mut self, item: &'ast ItemMod) {
        if item.content.is_none() || !item.attrs.iter().any(|attribute| attribute.path().is_ident("cfg")) {
            visit_item_mod(self, item);
        }
    }

    fn visit_path(&mut self, path: &'ast syn::Path) {
        self.all.push(path.segments.iter().map(|segment| segment.ident.to_string()).collect());
        visit_path(self, path);
    }
}

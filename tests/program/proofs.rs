//! `spec --proof` and `proof`: written whole, checked, refused with the line that fails.

use std::fs;

use super::run::washline;

const DEMO: &str = "problems-demo/quince-notebook.toml";

#[test]
fn a_proof_is_written_checked_and_left_alone() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("quince.proof");
    let file = path.to_str().expect("a plain path");
    let run = washline(["spec", DEMO, "--proof", file, "--only", "card"]).go();
    assert_eq!((run.status, run.err), (0, format!("Wrote {file}.\n")));
    let said = washline(["proof", file, DEMO]).go().answered(0);
    assert!(
        said.starts_with("Proved: ") && said.contains("37.5 ml gin") && said.contains("leaves checked"),
        "{said}"
    );
    let again = washline(["spec", DEMO, "--proof", file]).go().refused();
    assert!(again.contains("it exists already"), "{again}");
    assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 1);
    assert_eq!(washline(["spec", DEMO, "--proof", file, "--force", "--only", "card"]).go().status, 0);

    // Another brief, other settings, a leaf less, and no text at all.
    for other in [
        &["proof", file, "problems-demo/low-strength.toml"][..],
        &["proof", file, DEMO, "--set", "targets.acid.max=8"],
    ] {
        let said = washline(other.iter().copied()).go().refused();
        assert!(said.contains("it is the proof of another brief, or of other settings"), "{said}");
    }
    let text = fs::read_to_string(&path).expect("the proof");
    let leaf = text.lines().position(|line| line.starts_with("f ")).expect("a leaf");
    let less: Vec<&str> =
        text.lines().enumerate().filter(|(at, _)| *at != leaf).map(|(_, line)| line).collect();
    fs::write(&path, less.join("\n")).expect("a file");
    let said = washline(["proof", file, DEMO]).go().refused();
    assert!(said.contains("proof-refused") && said.contains("quince.proof:"), "{said}");
    fs::write(&path, [0xff, 0xfe]).expect("a file");
    assert!(washline(["proof", file, DEMO]).go().refused().contains("cannot read"));
}

#[test]
fn a_conflict_is_proved_core_by_core() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("wish.proof");
    let file = path.to_str().expect("a plain path");
    let demo = "problems-demo/too-much.toml";
    assert_eq!(washline(["spec", demo, "--proof", file, "--only", "card"]).go().status, 1);
    let said = washline(["proof", file, demo]).go().answered(0);
    let cores = said
        .lines()
        .filter(|line| line.starts_with("Proved: nothing that can be poured keeps all of these: "));
    let cores: Vec<&str> = cores.collect();
    assert_eq!(cores.len(), 2, "{said}");
    assert!(
        cores.iter().all(|line| line.ends_with("Without any one of them the others can be kept.")),
        "{said}"
    );
}

#[test]
fn what_has_no_proof_is_said() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("none.proof");
    let file = path.to_str().expect("a plain path");
    let run = washline(["spec", DEMO, "--set", "serve.pour=free", "--proof", file, "--only", "card"]).go();
    assert!(run.err.contains("No proof is written of free pours"), "{}", run.err);
    assert_eq!((run.status, fs::read_dir(folder.path()).expect("a folder").count()), (0, 0));
    // Where nothing can be written that is said, and nothing else.
    let said = washline(["spec", DEMO, "--proof", "no/such/folder/none.proof"]).go().refused();
    assert!(said.contains("there is no such folder"), "{said}");
    let swap = ["spec", "problems-demo/sweetener-swap.toml", "--swap", "sugar syrup 1:1=?", "--proof", file];
    assert!(washline(swap).go().refused().contains("not proved as one answer"));
}

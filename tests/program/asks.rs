//! `washline new` without arguments, at a terminal: a pseudo-terminal asks and is answered, as somebody at the keys
//! would; wrong answers are told and asked for again.

use std::fs::File;
use std::io::{Read as _, Write as _};
use std::os::fd::OwnedFd;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};

use rustix::pty::{OpenptFlags, grantpt, openpt, ptsname, unlockpt};

/// No answer takes longer than this, on the slowest machine.
const PATIENCE: Duration = Duration::from_secs(60);

/// A program at a terminal of its own.
struct Session {
    child: Child,
    keys: File,
    screen: Arc<Mutex<String>>,
    /// How much of the screen has been waited for.
    seen: usize,
}

impl Session {
    fn start(folder: &Path, arguments: &[&str]) -> Self {
        let keys: OwnedFd = openpt(OpenptFlags::RDWR | OpenptFlags::NOCTTY).expect("a terminal");
        grantpt(&keys).expect("granted");
        unlockpt(&keys).expect("unlocked");
        let name = ptsname(&keys, Vec::new()).expect("a name").into_string().expect("a path");
        let other = || File::options().read(true).write(true).open(&name).expect("its other end");
        let child = Command::new(env!("CARGO_BIN_EXE_washline"))
            .args(arguments)
            .current_dir(folder)
            .env("TERM", "xterm")
            .stdin(Stdio::from(other()))
            .stdout(Stdio::from(other()))
            .stderr(Stdio::from(other()))
            .spawn()
            .expect("the program starts");
        let keys = File::from(keys);
        let mut read = keys.try_clone().expect("a second hand");
        let screen = Arc::new(Mutex::new(String::new()));
        let shown = Arc::clone(&screen);
        thread::spawn(move || {
            let mut bytes = [0; 4096];
            while let Ok(count) = read.read(&mut bytes) {
                let text = String::from_utf8_lossy(&bytes[..count]).into_owned();
                shown.lock().expect("the screen").push_str(&text);
                if count == 0 {
                    break;
                }
            }
        });
        Self { child, keys, screen, seen: 0 }
    }

    /// Waits for words that have not been waited for yet.
    fn sees(&mut self, words: &str) -> &mut Self {
        let since = Instant::now();
        loop {
            let screen = self.screen.lock().expect("the screen").clone();
            let new = screen.get(self.seen..).unwrap_or_default();
            if let Some(at) = new.find(words) {
                self.seen += at + words.len();
                return self;
            }
            assert!(since.elapsed() < PATIENCE, "no `{words}` in\n{new}\nof\n{screen}");
            thread::sleep(Duration::from_millis(10));
        }
    }

    /// Types, and presses Enter.
    fn types(&mut self, text: &str) -> &mut Self {
        self.keys.write_all(format!("{text}\r").as_bytes()).expect("typed");
        self
    }

    fn ends(&mut self) -> Option<i32> {
        let since = Instant::now();
        while since.elapsed() < PATIENCE {
            if let Some(status) = self.child.try_wait().expect("a state") {
                return status.code();
            }
            thread::sleep(Duration::from_millis(10));
        }
        self.child.kill().expect("an end");
        panic!("it goes on after its last answer");
    }
}

#[test]
fn it_asks_tells_what_is_wrong_and_writes_a_brief_that_answers() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("taken.toml"), "").expect("a file");
    let mut session = Session::start(folder.path(), &["new"]);
    session.sees("bottles and prices").types("nowhere.toml").sees("no such file");
    session.sees("bottles and prices").types("");
    session.sees("on its card").types("50 ml gun smoke").sees("gun smoke");
    session.sees("on its card").types("50 ml Aged Rum, ¾ oz lime juise, 20 ml sugar syrup 1:1");
    session.sees("How it is made").types("");
    // As it measures: by hand 20 ml of ethanol in 92.2 ml before the ice, which brings about half as much again.
    session.sees("In the glass").sees("strength 1").sees("% vol");
    session.sees("At most how strong").types("plenty").sees("`plenty` is no number");
    session.sees("At most how strong").types("40").sees("already");
    session.sees("At most how strong").types("11");
    session.sees("Not to be used").types("moon dust").sees("moon dust");
    session.sees("Not to be used").types("");
    session.sees("Notes that").types("wet slate").sees("wet slate");
    session.sees("Notes that").types("honey");
    session.sees("The file to write").types("taken.toml").sees("exists already");
    session.sees("The file to write").types("mine.toml").sees("Wrote mine.toml");
    assert_eq!(session.ends(), Some(0));
    let text = std::fs::read_to_string(folder.path().join("mine.toml")).expect("the brief");
    for part in ["\"lime juice\"", "max = 11", "note = \"honey\"", "method = \"shake\""] {
        assert!(text.contains(part), "{part} is not in\n{text}");
    }
    let spec = Command::new(env!("CARGO_BIN_EXE_washline"))
        .args(["spec", "mine.toml"])
        .current_dir(folder.path())
        .output()
        .expect("an answer");
    let out = String::from_utf8_lossy(&spec.stdout).into_owned();
    assert_eq!(spec.status.code(), Some(0), "{out}");
    assert!(out.contains("Notes: honey from "), "{out}");
}

#[test]
fn nobody_is_asked_in_a_pipe() {
    let folder = tempfile::tempdir().expect("a folder");
    for input in [Stdio::null(), Stdio::piped()] {
        let run = Command::new(env!("CARGO_BIN_EXE_washline"))
            .arg("new")
            .current_dir(folder.path())
            .stdin(input)
            .output()
            .expect("an end");
        let told = String::from_utf8_lossy(&run.stderr);
        assert_eq!(run.status.code(), Some(2), "{told}");
        assert!(told.contains("nobody-to-ask") && told.contains("washline new my-drink.toml"), "{told}");
        assert!(run.stdout.is_empty());
    }
    // What asks for something in words asks for nothing else, terminal or not.
    let mut session = Session::start(folder.path(), &["new", "--family", "sour"]);
    session.sees("the name of the file");
    assert_eq!(session.ends(), Some(2));
}

//! The page that is alive, asked over a real socket: who may ask, what is written, and what is answered.

use std::fs;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::{SocketAddr, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use serde_json::{Value, json};
use tempfile::TempDir;

/// A server on a folder of its own, ended with the test.
struct Live {
    child: Child,
    at: SocketAddr,
    token: String,
    folder: TempDir,
}

impl Drop for Live {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

struct Answer {
    status: u16,
    head: String,
    body: String,
}

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn live_with(files: &[&str], arguments: &[&str]) -> Live {
    let folder = tempfile::tempdir().expect("a folder");
    for file in files {
        let name = Path::new(file).file_name().expect("a name");
        fs::copy(root().join(file), folder.path().join(name)).expect("a copy");
    }
    let mut child = Command::new(env!("CARGO_BIN_EXE_washline"))
        .args(["live", "--no-open"])
        .args(arguments)
        .current_dir(folder.path())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("it starts");
    let mut line = String::new();
    BufReader::new(child.stdout.take().expect("a pipe")).read_line(&mut line).expect("an address");
    let rest = line.trim().strip_prefix("http://").expect("an address").trim_end_matches('/');
    let (at, token) = rest.split_once('/').expect("a token");
    Live { child, at: at.parse().expect("a socket"), token: token.to_owned(), folder }
}

fn live() -> Live {
    live_with(&["problems-demo/low-strength.toml"], &["low-strength.toml"])
}

impl Live {
    fn send(&self, head: &str, body: &[u8]) -> Answer {
        let mut stream = TcpStream::connect(self.at).expect("a connection");
        // Who is refused early need not have read everything.
        let _ = stream.write_all(head.as_bytes()).and_then(|()| stream.write_all(body));
        let mut text = Vec::new();
        let _ = stream.read_to_end(&mut text);
        let text = String::from_utf8_lossy(&text).into_owned();
        let (head, body) = text.split_once("\r\n\r\n").unwrap_or((&text, ""));
        let status = head.split(' ').nth(1).and_then(|word| word.parse().ok()).unwrap_or(0);
        Answer { status, head: head.to_lowercase(), body: body.to_owned() }
    }

    fn get(&self, path: &str, headers: &str) -> Answer {
        self.send(&format!("GET {path} HTTP/1.1\r\n{headers}Connection: close\r\n\r\n"), b"")
    }

    fn host(&self) -> String {
        format!("Host: {}\r\n", self.at)
    }

    fn own(&self) -> String {
        format!("{}Origin: http://{}\r\nContent-Type: application/json\r\n", self.host(), self.at)
    }

    fn post_as(&self, headers: &str, path: &str, body: &str) -> Answer {
        let length = body.len();
        let head = format!(
            "POST /{}/{path} HTTP/1.1\r\n{headers}Content-Length: {length}\r\nConnection: close\r\n\r\n",
            self.token
        );
        self.send(&head, body.as_bytes())
    }

    #[track_caller]
    fn post(&self, path: &str, body: &Value) -> Value {
        let answer = self.post_as(&self.own(), path, &body.to_string());
        assert_eq!(answer.status, 200, "{}", answer.body);
        serde_json::from_str(&answer.body).expect("JSON")
    }

    fn text(&self) -> String {
        self.post("disk", &json!({}))["text"].as_str().expect("a text").to_owned()
    }

    fn ask(&self, path: &str, text: &str, edits: &Value) -> Value {
        self.post(path, &json!({ "seq": 1, "tab": "t", "text": text, "edits": edits }))
    }

    fn file(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }
}

#[test]
fn nothing_is_there_without_the_token() {
    let live = live();
    let host = live.host();
    let right = format!("/{}/", live.token);
    let page = live.get(&right, &host);
    assert_eq!(page.status, 200);
    for held in ["default-src 'none'", "script-src 'self'", "frame-ancestors 'none'", "nosniff", "no-store"] {
        assert!(page.head.contains(held), "{held}: {}", page.head);
    }
    // The policy lets no script and no style run that stands in the page.
    assert!(
        !page.body.contains("<style") && !page.body.contains(" style=") && !page.body.contains(" onclick=")
    );
    assert_eq!(page.body.matches("<script").count(), page.body.matches("<script src=").count());
    let wrong = "0".repeat(live.token.len());
    for path in
        ["/", "/live.js", "/favicon.ico", &format!("/{wrong}/"), &right.trim_end_matches('/').to_owned()]
    {
        let answer = live.get(path, &host);
        assert_eq!(answer.status, 404, "{path}");
        assert!(!answer.body.contains(&live.token) && !answer.head.contains(&live.token), "{path}");
    }
    assert_eq!(live.token.len(), 32);
    assert_ne!(live.token, self::live().token);
}

#[test]
fn another_host_or_origin_gets_nothing() {
    let live = live();
    let (page, port) = (format!("/{}/", live.token), live.at.port());
    for host in [
        "evil.example",
        "127.0.0.1",
        "127.0.0.1:1",
        &format!("evil.example:{port}"),
        &format!("10.1.2.3:{port}"),
    ] {
        assert_eq!(live.get(&page, &format!("Host: {host}\r\n")).status, 421, "{host}");
    }
    assert_eq!(live.get(&page, &format!("Host: localhost:{port}\r\n")).status, 200);
    assert!(live.get(&page, "").status >= 400);
    assert_eq!(live.get(&page, &format!("{}Sec-Fetch-Site: cross-site\r\n", live.host())).status, 403);
    let kind = "Content-Type: application/json\r\n";
    let (host, at) = (live.host(), live.at);
    for (headers, status) in [
        (format!("{host}{kind}"), 403),
        (format!("{host}{kind}Origin: http://evil.example\r\n"), 403),
        (format!("{host}{kind}Origin: null\r\n"), 403),
        (format!("{host}{kind}Origin: http://{at}\r\nOrigin: http://evil.example\r\n"), 403),
        (format!("{host}{kind}Origin: http://{at}\r\nSec-Fetch-Site: cross-site\r\n"), 403),
        (format!("{host}Origin: http://{at}\r\nContent-Type: text/plain\r\n"), 415),
        (format!("{host}{kind}Origin: http://{at}\r\nSec-Fetch-Site: same-origin\r\n"), 200),
    ] {
        assert_eq!(live.post_as(&headers, "disk", "{}").status, status, "{headers}");
    }
    let put = format!("PUT {page}save HTTP/1.1\r\n{}Connection: close\r\n\r\n", live.own());
    assert_eq!(live.send(&put, b"").status, 405);
}

#[test]
fn what_is_too_large_or_no_question_is_refused() {
    let live = live();
    let huge = format!("{{\"text\":\"{}\"}}", "x".repeat(13_000_000));
    // Some systems reset a connection whose body is not read: then there is no answer either.
    assert!([413, 0].contains(&live.post_as(&live.own(), "glass", &huge).status));
    for body in ["", "nonsense", "7", "{\"no such key\": 1}", "{\"seq\": -1}"] {
        assert_eq!(live.post_as(&live.own(), "glass", body).status, 400, "{body}");
    }
    // Four megabytes are read as a brief is, and told to be none.
    let large = json!({ "seq": 1, "tab": "t", "text": "# ".repeat(2_200_000) });
    let said = live.post("glass", &large);
    assert!(
        said["findings"][0]["said"].as_str().expect("a finding").contains("bytes that a brief may have"),
        "{said}"
    );
}

#[test]
fn only_the_brief_and_its_house_are_read() {
    let live = live_with(
        &["problems-demo/from-the-house.toml", "problems-demo/house.toml", "problems-demo/low-strength.toml"],
        &["from-the-house.toml"],
    );
    for path in
        ["house.toml", "low-strength.toml", "../from-the-house.toml", "%2e%2e/house.toml", "..%2fhouse.toml"]
    {
        let answer = live.get(&format!("/{}/{path}", live.token), &live.host());
        assert_eq!(answer.status, 404, "{path}");
    }
    let text = live.text();
    assert_eq!(live.ask("glass", &text, &json!([]))["taken"], true);
    for other in ["/etc/passwd", "low-strength.toml", "./house.toml"] {
        let other = text.replace("\"house.toml\"", &format!("\"{other}\""));
        assert_ne!(other, text);
        let said = live.ask("glass", &other, &json!([]));
        assert_eq!(said["taken"], false);
        let finding = said["findings"][0]["said"].as_str().expect("a finding");
        assert!(finding.contains("no other house") && !finding.contains("root:"), "{finding}");
        assert_eq!(said["findings"][0]["fields"][0], "house");
    }
    // A new file has a plain name, and none that is there is written over.
    let before = fs::read_to_string(live.file("low-strength.toml")).expect("a file");
    for name in ["../x.toml", "/tmp/x.toml", ".x.toml", "x.txt", "low-strength.toml", "house.toml"] {
        let said = live.post("save", &json!({ "text": text, "base": text, "name": name }));
        assert_eq!(said["written"], false, "{name}");
        assert_eq!(said["findings"][0]["fields"][0], "as", "{name}: {said}");
    }
    assert_eq!(fs::read_to_string(live.file("low-strength.toml")).expect("a file"), before);
    assert!(!live.file("../x.toml").exists());
}

#[test]
fn a_change_is_one_line_of_the_text_and_is_written_only_when_asked() {
    let live = live();
    let text = live.text();
    let edit = json!([{ "kind": "limit", "key": "strength", "side": "max", "to": "9" }]);
    let said = live.ask("glass", &text, &edit);
    let new = said["text"].as_str().expect("a text");
    let changed: Vec<(&str, &str)> = text.lines().zip(new.lines()).filter(|(a, b)| a != b).collect();
    assert_eq!(changed.len(), 1);
    assert_eq!(changed[0].1, "strength = { min = 8, max = 9 }   # % vol: the point of it all");
    assert_eq!(fs::read_to_string(live.file("low-strength.toml")).expect("a file"), text);
    let saved = live.post("save", &json!({ "text": new, "base": text }));
    assert_eq!(saved["written"], true);
    assert_eq!(fs::read_to_string(live.file("low-strength.toml")).expect("a file"), new);
    // What cannot be read is never written.
    let said = live.post("save", &json!({ "text": "nonsense", "base": new }));
    assert_eq!(said["written"], false);
    assert_eq!(fs::read_to_string(live.file("low-strength.toml")).expect("a file"), new);
}

#[test]
fn a_file_that_was_changed_meanwhile_is_not_written_over() {
    let live = live();
    let text = live.text();
    let theirs = format!("{text}# theirs\n");
    fs::write(live.file("low-strength.toml"), &theirs).expect("written");
    let mine = format!("{text}# mine\n");
    let said = live.post("save", &json!({ "text": mine, "base": text }));
    assert_eq!((said["written"].as_bool(), said["text"].as_str()), (Some(false), Some(theirs.as_str())));
    assert_eq!(fs::read_to_string(live.file("low-strength.toml")).expect("a file"), theirs);
    // Once she has seen theirs, hers may be written.
    assert_eq!(live.post("save", &json!({ "text": mine, "base": theirs }))["written"], true);
    assert_eq!(fs::read_to_string(live.file("low-strength.toml")).expect("a file"), mine);
}

#[test]
fn the_answer_of_an_older_state_does_not_come() {
    let live = live();
    let text = live.text();
    let ask = |seq: u64, tab: &str| {
        let body = json!({ "seq": seq, "tab": tab, "text": text }).to_string();
        live.post_as(&live.own(), "glass", &body).status
    };
    assert_eq!([ask(5, "a"), ask(4, "a"), ask(5, "a"), ask(1, "b"), ask(6, "a")], [200, 409, 200, 200, 200]);
    // A long question is given up as soon as a newer one comes.
    let (older, newer) = std::thread::scope(|scope| {
        let slow = scope.spawn(|| {
            let body = json!({ "seq": 7, "tab": "a", "text": text }).to_string();
            live.post_as(&live.own(), "reasons", &body).status
        });
        while ask(6, "a") != 409 {}
        let newer = ask(8, "a");
        (slow.join().expect("an answer"), newer)
    });
    assert_eq!((older, newer), (409, 200));
}

#[test]
fn the_answer_is_that_of_the_command_line() {
    let live = live();
    let text = live.text();
    let run = |set: &[&str]| {
        let mut command = Command::new(env!("CARGO_BIN_EXE_washline"));
        command.arg("spec").arg(live.file("low-strength.toml")).args(["--format", "json"]).args(set);
        let out = command.output().expect("an answer").stdout;
        serde_json::from_slice::<Value>(&out).expect("JSON")
    };
    let names = |spec: &Value| -> Vec<String> {
        let pours = spec["pours"].as_array().expect("pours");
        pours
            .iter()
            .map(|pour| format!("<b>{}</b> {}", pour["amount"], pour["unit"].as_str().expect("a unit")))
            .collect()
    };
    // By the score alone first, then what holds in the most serves.
    for (path, set) in
        [("glass", &["--set", "aim.to=0", "--set", "answer.alternatives=0"][..]), ("others", &[])]
    {
        let card =
            live.ask(path, &text, &json!([]))["fragments"]["card"].as_str().expect("a card").to_owned();
        let first = card.split("id=\"spec-1\"").next().expect("a card").to_owned();
        let mut rest = first.as_str();
        for amount in names(&run(set)["best"]) {
            let amount = amount.replace(".0<", "<");
            rest = rest.split_once(&amount).unwrap_or_else(|| panic!("{path}: {amount} is not in {first}")).1;
        }
        assert!(!rest.contains("class=\"amount\""), "{path}: {rest}");
    }
}

#[test]
fn a_finding_stands_at_its_field_in_the_words_of_the_command_line() {
    let live = live();
    let text = live.text();
    for (edit, field, words) in [
        (
            json!({ "kind": "price", "name": "lime juice", "to": "dear" }),
            "candidate.lime juice.price",
            "price",
        ),
        (
            json!({ "kind": "limit", "key": "strength", "side": "max", "to": "stiff" }),
            "targets.strength.max",
            "stiff",
        ),
        (
            json!({ "kind": "limit", "key": "strength", "side": "max", "to": "5" }),
            "targets.strength.max",
            "min",
        ),
        (json!({ "kind": "add", "name": "gin", "from": "larder" }), "find", "price"),
        (
            json!({ "kind": "use", "name": "unobtainium", "to": "must" }),
            "candidate.unobtainium",
            "unobtainium",
        ),
    ] {
        let said = live.ask("glass", &text, &json!([edit]));
        assert_eq!(
            (said["taken"].as_bool(), said["text"].as_str()),
            (Some(false), Some(text.as_str())),
            "{edit}"
        );
        let finding = &said["findings"][0];
        let fields = finding["fields"].as_array().expect("fields");
        assert!(fields.contains(&json!(field)), "{edit}: {finding}");
        assert!(finding["said"].as_str().expect("words").contains(words), "{edit}: {finding}");
    }
}

#[test]
fn a_conflict_is_left_by_its_smallest_change() {
    let live = live_with(&["problems-demo/too-much.toml"], &["too-much.toml"]);
    let text = live.text();
    let said = live.ask("others", &text, &json!([]));
    let clash = said["fragments"]["clash"].as_str().expect("a conflict");
    let edits =
        clash.split("data-edits=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("a way out");
    let edits: Value = serde_json::from_str(&edits.replace("&quot;", "\"")).expect("changes");
    let left = live.ask("others", &text, &edits);
    assert_eq!(left["taken"], true);
    assert!(left["fragments"]["card"].as_str().expect("a card").contains("class=\"amount\""), "{left}");
    assert_eq!(left["fragments"]["clash"], "");
}

#[test]
fn what_is_told_along_an_end_is_so() {
    let live = live();
    let text = live.text();
    let asked = json!({ "tab": "t", "text": text, "key": "strength", "side": "max", "axis": [5, 12] });
    let found = live.post("along", &asked);
    let open = found["open"].as_array().expect("stretches");
    let first = open.first().expect("something can be poured")[0].as_f64().expect("a number");
    assert!(first > 8.0 && first < 9.5, "{found}");
    let pourable = |at: f64| {
        let edit = json!([{ "kind": "limit", "key": "strength", "side": "max", "to": at.to_string() }]);
        let said = live.ask("glass", &text, &edit);
        said["fragments"]["card"].as_str().is_some_and(|card| card.contains("class=\"amount\""))
    };
    assert!(pourable(first));
    assert!(!pourable(first - 0.1), "{found}");
}

#[test]
fn a_drink_begins_with_a_line_or_a_family_and_is_saved_under_a_new_name() {
    let live = live_with(&["problems-demo/house.toml"], &["--house", "house.toml"]);
    assert_eq!(live.text(), "");
    for begin in [
        json!({ "line": "50 ml aged rum, 25 ml lime juice, 20 ml sugar syrup 1:1", "lighter": "12" }),
        json!({ "family": "sour" }),
    ] {
        let text = live.post("begin", &begin)["text"].as_str().expect("a text").to_owned();
        let said = live.ask("glass", &text, &json!([]));
        assert!(said["fragments"]["card"].as_str().expect("a card").contains("class=\"amount\""), "{said}");
    }
    let said = live.post("begin", &json!({ "line": "50 ml moonbeams" }));
    assert_eq!(said["findings"][0]["fields"][0], "line");
    let offers =
        live.post("find", &json!({ "words": "bay syr" }))["html"].as_str().expect("offers").to_owned();
    assert!(offers.contains("house, sweetener"), "{offers}");
    let text = live.post("begin", &json!({ "family": "sour" }))["text"].as_str().expect("a text").to_owned();
    let saved = live.post("save", &json!({ "text": text, "base": "", "name": "my sour.toml" }));
    assert_eq!((saved["written"].as_bool(), saved["file"].as_str()), (Some(true), Some("my sour.toml")));
    assert_eq!(fs::read_to_string(live.file("my sour.toml")).expect("a file"), text);
}

#[test]
fn hostile_names_are_text() {
    let live = live_with(&["tests/browser/hostile.toml"], &["hostile.toml"]);
    let text = live.text();
    for path in ["glass", "others", "reasons"] {
        let said = live.ask(path, &text, &json!([]));
        for (id, html) in said["fragments"].as_object().expect("pieces") {
            let html = html.as_str().expect("markup");
            for bad in ["<script", "<img", "onerror=\"", "\u{202e}"] {
                assert!(!html.contains(bad), "{path} {id}: {bad}");
            }
        }
    }
}

#[test]
fn listening_to_others_is_said_aloud() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut child = Command::new(env!("CARGO_BIN_EXE_washline"))
        .args(["live", "--no-open", "--listen", "0.0.0.0"])
        .current_dir(folder.path())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it starts");
    let mut line = String::new();
    BufReader::new(child.stderr.take().expect("a pipe")).read_line(&mut line).expect("words");
    let _ = child.kill();
    let _ = child.wait();
    assert!(line.contains("everybody who can reach 0.0.0.0") && line.contains("not encrypted"), "{line}");
}

//! Who may ask, what may be read, and what is never run.

use std::fs;
use std::io::{BufRead as _, BufReader};
use std::process::{Command, Stdio};

use serde_json::json;

use super::served::{live, live_with};

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
    for path in ["/", "/live.js", "/favicon.ico", &format!("/{wrong}/"), right.trim_end_matches('/')] {
        let answer = live.get(path, &host);
        assert_eq!(answer.status, 404, "{path}");
        assert!(!answer.body.contains(&live.token) && !answer.head.contains(&live.token), "{path}");
    }
    assert_eq!(live.token.len(), 32);
    assert_ne!(live.token, super::served::live().token);
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
    for name in ["../x.toml", "/elsewhere/x.toml", ".x.toml", "x.txt", "low-strength.toml", "house.toml"] {
        let said = live.post("save", &json!({ "text": text, "base": text, "name": name }));
        assert_eq!(said["written"], false, "{name}");
        assert_eq!(said["findings"][0]["fields"][0], "as", "{name}: {said}");
    }
    assert_eq!(fs::read_to_string(live.file("low-strength.toml")).expect("a file"), before);
    assert!(!live.file("../x.toml").exists());
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
        .args(["live", "--no-open", "--port", "0", "--listen", "0.0.0.0"])
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

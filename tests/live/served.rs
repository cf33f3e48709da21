//! A server on a folder of its own, and questions to it over a real socket.

use std::fs;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::{SocketAddr, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

use serde_json::{Value, json};
use tempfile::TempDir;

/// A server on a folder of its own, ended with the test.
pub struct Live {
    pub child: Child,
    pub at: SocketAddr,
    pub token: String,
    pub folder: TempDir,
}

impl Drop for Live {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

pub struct Answer {
    pub status: u16,
    pub head: String,
    pub body: String,
}

pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

pub fn live_with(files: &[&str], arguments: &[&str]) -> Live {
    let folder = tempfile::tempdir().expect("a folder");
    for file in files {
        let name = Path::new(file).file_name().expect("a name");
        fs::copy(root().join(file), folder.path().join(name)).expect("a copy");
    }
    let mut child = Command::new(env!("CARGO_BIN_EXE_washline"))
        .args(["live", "--no-open", "--port", "0"])
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

pub fn live() -> Live {
    live_with(&["problems-demo/low-strength.toml"], &["low-strength.toml"])
}

impl Live {
    pub fn send(&self, head: &str, body: &[u8]) -> Answer {
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

    pub fn get(&self, path: &str, headers: &str) -> Answer {
        self.send(&format!("GET {path} HTTP/1.1\r\n{headers}Connection: close\r\n\r\n"), b"")
    }

    pub fn host(&self) -> String {
        format!("Host: {}\r\n", self.at)
    }

    pub fn own(&self) -> String {
        format!("{}Origin: http://{}\r\nContent-Type: application/json\r\n", self.host(), self.at)
    }

    pub fn post_as(&self, headers: &str, path: &str, body: &str) -> Answer {
        let length = body.len();
        let head = format!(
            "POST /{}/{path} HTTP/1.1\r\n{headers}Content-Length: {length}\r\nConnection: close\r\n\r\n",
            self.token
        );
        self.send(&head, body.as_bytes())
    }

    #[track_caller]
    pub fn post(&self, path: &str, body: &Value) -> Value {
        let answer = self.post_as(&self.own(), path, &body.to_string());
        assert_eq!(answer.status, 200, "{}", answer.body);
        serde_json::from_str(&answer.body).expect("JSON")
    }

    pub fn text(&self) -> String {
        self.post("disk", &json!({}))["text"].as_str().expect("a text").to_owned()
    }

    pub fn ask(&self, path: &str, text: &str, edits: &Value) -> Value {
        self.post(path, &json!({ "seq": 1, "tab": "t", "text": text, "edits": edits }))
    }

    pub fn file(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }
}

//! A server of a folder of its own, and requests to it as they stand on the wire.

use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

/// A running server, ended when it is dropped.
pub struct Served {
    child: Child,
    /// The link that stands on the first line.
    pub link: String,
    /// Address and port.
    pub address: String,
    pub folder: tempfile::TempDir,
}

impl Served {
    /// A server of an empty folder.
    pub fn new() -> Self {
        Self::with(&[])
    }

    /// The same, with more words on its command line.
    pub fn with(words: &[&str]) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let (child, link) = start(folder.path(), words);
        let rest = link.strip_prefix("http://").unwrap();
        let address = rest.split('/').next().unwrap().to_owned();
        Self {
            child,
            link,
            address,
            folder,
        }
    }

    /// Puts a demo into the folder, under a name.
    pub fn demo(self, demo: &str, name: &str) -> Self {
        let text = crate::common::root().join(format!("shapes/demo/{demo}.toml"));
        std::fs::copy(text, self.folder.path().join(format!("{name}.toml"))).unwrap();
        self
    }

    pub fn text(&self, name: &str) -> String {
        std::fs::read_to_string(self.folder.path().join(format!("{name}.toml"))).unwrap()
    }

    pub fn get(&self, path: &str) -> Answer {
        self.ask("GET", path, &[], b"")
    }

    /// A form, as a browser sends it from this server's page.
    pub fn post(&self, path: &str, fields: &[(&str, &str)]) -> Answer {
        let origin = format!("http://{}", self.address);
        let headers = [
            ("Origin", origin.as_str()),
            ("Content-Type", "application/x-www-form-urlencoded"),
            ("Accept", "application/json"),
        ];
        self.ask("POST", path, &headers, encoded(fields).as_bytes())
    }

    pub fn ask(&self, method: &str, path: &str, headers: &[(&str, &str)], body: &[u8]) -> Answer {
        let mut head = format!("{method} {path} HTTP/1.1\r\nConnection: close\r\n");
        if !headers.iter().any(|(name, _)| *name == "Host") {
            head += &format!("Host: {}\r\n", self.address);
        }
        for (name, value) in headers {
            head += &format!("{name}: {value}\r\n");
        }
        head += &format!("Content-Length: {}\r\n\r\n", body.len());
        Answer::of(&self.sent(&[head.as_bytes(), body].concat(), false))
    }

    /// Sends bytes and nothing more, and gives back all that comes.
    pub fn raw(&self, bytes: &[u8]) -> Vec<u8> {
        self.sent(bytes, true)
    }

    fn sent(&self, bytes: &[u8], is_all: bool) -> Vec<u8> {
        let mut stream = TcpStream::connect(&self.address).unwrap();
        stream
            .set_read_timeout(Some(Duration::from_secs(60)))
            .unwrap();
        // A server that refuses early need not read to the end.
        let _ = stream.write_all(bytes);
        if is_all {
            let _ = stream.shutdown(std::net::Shutdown::Write);
        }
        let mut answer = vec![];
        let _ = stream.read_to_end(&mut answer);
        answer
    }

    /// Tells it to stop, and waits: whether it ended by itself and well.
    #[cfg(unix)]
    pub fn stops(&mut self) -> bool {
        let pid = self.child.id().to_string();
        let told = Command::new("kill").arg(pid).status().unwrap();
        told.success() && self.child.wait().unwrap().success()
    }

    /// Ends it at once, and starts another one of the same folder.
    pub fn killed_and_started(&mut self) {
        self.child.kill().unwrap();
        self.child.wait().unwrap();
        let (child, link) = start(self.folder.path(), &[]);
        self.address = link
            .trim_start_matches("http://")
            .trim_end_matches('/')
            .to_owned();
        (self.child, self.link) = (child, link);
    }
}

fn start(folder: &Path, words: &[&str]) -> (Child, String) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_trimloft"))
        .arg("serve")
        .arg(folder)
        .args(["--port", "0"])
        .args(words)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut first = String::new();
    let out = child.stdout.as_mut().unwrap();
    BufReader::new(out).read_line(&mut first).unwrap();
    (child, first.trim().to_owned())
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// What came back.
#[derive(Debug)]
pub struct Answer {
    pub status: u16,
    pub head: String,
    pub body: Vec<u8>,
}

impl Answer {
    fn of(bytes: &[u8]) -> Self {
        let end = bytes.windows(4).position(|four| four == b"\r\n\r\n");
        let end = end.unwrap_or_else(|| panic!("no answer: {}", String::from_utf8_lossy(bytes)));
        let head = String::from_utf8(bytes[..end].to_vec()).unwrap();
        let status = head.split(' ').nth(1).unwrap().parse().unwrap();
        Self {
            status,
            head,
            body: bytes[end + 4..].to_vec(),
        }
    }

    pub fn header(&self, name: &str) -> Option<&str> {
        let mut lines = self.head.lines().filter_map(|line| line.split_once(": "));
        lines.find_map(|(key, value)| key.eq_ignore_ascii_case(name).then_some(value))
    }

    pub fn text(&self) -> &str {
        std::str::from_utf8(&self.body).unwrap()
    }

    pub fn json(&self) -> serde_json::Value {
        serde_json::from_slice(&self.body)
            .unwrap_or_else(|error| panic!("{error}: {}", self.text()))
    }

    #[track_caller]
    pub fn is(self, status: u16) -> Self {
        let words = String::from_utf8_lossy(&self.body);
        assert_eq!(self.status, status, "{}\n{words}", self.head);
        self
    }

    /// The value of a hidden field of the page.
    #[track_caller]
    pub fn field(&self, name: &str) -> String {
        let page = scraper::Html::parse_document(self.text());
        let selector = scraper::Selector::parse(&format!("input[name='{name}']")).unwrap();
        let field = page
            .select(&selector)
            .next()
            .unwrap_or_else(|| panic!("no `{name}`"));
        field.value().attr("value").unwrap().to_owned()
    }
}

/// Fields as the body of a form.
pub fn encoded(fields: &[(&str, &str)]) -> String {
    let escaped = |words: &str| -> String {
        words
            .bytes()
            .map(|byte| match byte {
                b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' => char::from(byte).to_string(),
                _ => format!("%{byte:02X}"),
            })
            .collect()
    };
    let pairs = fields
        .iter()
        .map(|(key, value)| format!("{}={}", escaped(key), escaped(value)));
    pairs.collect::<Vec<_>>().join("&")
}

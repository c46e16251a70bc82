//! The page: how long after a change its picture is there, for one browser and for many at once.
//!
//! A client sends what the page's script sends: the whole form, one answer of it changed to what
//! nobody asked before, on a connection that it keeps. Timed from the first byte sent to the last
//! byte read; what a browser does with it is not. Two rules of how it goes on: at once, as nobody
//! types, or a quarter of a second after its last change, as somebody types who never stops to
//! think. Clients share the machine with the server.

use super::process::BINARY;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::thread::{scope, sleep};
use std::time::{Duration, Instant};

/// Between two changes of somebody who types.
const TYPING: Duration = Duration::from_millis(250);
/// The most browsers that are there at once.
const MANY: usize = 32;

/// Prints time after a change, and CPU time of the server, for both rules.
pub fn report(demo: &Path, changes: usize) {
    println!(
        "{:>8} {:>12} {:>9} {:>9} {:>9} {:>13}",
        "browsers", "pause ms", "median ms", "95 % ms", "99 % ms", "ms of CPU each"
    );
    let server = Server::of(demo);
    // Typefaces, shapes and threads are there from the first picture on.
    server.timed(4, 5, Duration::ZERO, 0);
    for (row, (clients, pause)) in [
        (1, Duration::ZERO),
        (1, TYPING),
        (MANY, Duration::ZERO),
        (MANY, TYPING),
    ]
    .into_iter()
    .enumerate()
    {
        let before = server.cpu();
        let mut took = server.timed(clients, changes, pause, row + 1);
        let cpu = server.cpu() - before;
        took.sort();
        let share =
            |part: usize| took[(took.len() * part / 100).min(took.len() - 1)].as_secs_f64() * 1e3;
        println!(
            "{clients:>8} {:>12} {:>9.1} {:>9.1} {:>9.1} {:>13.2}",
            pause.as_millis(),
            share(50),
            share(95),
            share(99),
            cpu.as_secs_f64() * 1e3 / took.len() as f64
        );
    }
}

/// A server of a folder with one demo in it; ended when dropped.
struct Server {
    child: Child,
    address: String,
    _folder: tempfile::TempDir,
}

impl Server {
    fn of(demo: &Path) -> Self {
        let folder = tempfile::tempdir().expect("a folder for files");
        std::fs::copy(demo, folder.path().join("a.toml")).expect("the folder can be written to");
        let mut child = Command::new(BINARY)
            .arg("serve")
            .arg(folder.path())
            .args(["--port", "0"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the binary runs");
        let mut link = String::new();
        let out = child.stdout.as_mut().expect("its output is read");
        BufReader::new(out)
            .read_line(&mut link)
            .expect("it says its address");
        let address = link
            .trim()
            .trim_start_matches("http://")
            .trim_end_matches('/')
            .to_owned();
        Self {
            child,
            address,
            _folder: folder,
        }
    }

    /// So many changes by each of so many clients, how long each took. `row` makes them new ones.
    fn timed(&self, clients: usize, changes: usize, pause: Duration, row: usize) -> Vec<Duration> {
        let one = |client: usize| {
            let mut client_of = Client::of(&self.address, row * MANY + client);
            // They do not begin in step.
            sleep(pause * client as u32 / clients as u32);
            let mut took = vec![];
            for _ in 0..changes {
                let begun = Instant::now();
                client_of.change();
                took.push(begun.elapsed());
                sleep(pause.saturating_sub(begun.elapsed()));
            }
            took
        };
        scope(|scope| {
            let all: Vec<_> = (0..clients)
                .map(|client| scope.spawn(move || one(client)))
                .collect();
            all.into_iter()
                .flat_map(|own| own.join().expect("a client ends"))
                .collect()
        })
    }

    /// CPU time of the server so far: `utime` and `stime` of `/proc/PID/stat`, in hundredths of a
    /// second; zero where the system does not tell.
    fn cpu(&self) -> Duration {
        let stat = std::fs::read_to_string(format!("/proc/{}/stat", self.child.id()));
        let stat = stat.unwrap_or_default();
        let fields = stat.rsplit_once(')').map_or("", |(_, rest)| rest);
        let ticks: u64 = fields
            .split_whitespace()
            .skip(11)
            .take(2)
            .filter_map(|own| own.parse::<u64>().ok())
            .sum();
        Duration::from_millis(ticks * 10)
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// One browser with the page open.
struct Client {
    stream: BufReader<TcpStream>,
    address: String,
    /// The form, less how far the part is from the edge.
    form: String,
    /// How far from the edge the part is that it typed last, in ten thousandths of a millimetre: every
    /// one is typed once.
    away: usize,
}

impl Client {
    fn of(address: &str, number: usize) -> Self {
        let stream = TcpStream::connect(address).expect("the server answers");
        stream
            .set_nodelay(true)
            .expect("a connection of this machine");
        let mut own = Self {
            stream: BufReader::with_capacity(1 << 16, stream),
            address: address.into(),
            form: String::new(),
            away: 340_000 + number * 100,
        };
        let page = own.ask("GET /p/a", "");
        own.form = form(&String::from_utf8_lossy(&page));
        own
    }

    /// Types another place, and reads the picture.
    fn change(&mut self) {
        self.away += 1;
        let body = format!(
            "{}&ask%3Apart%2E1%2Eat%3A0%3A1={:.4}",
            self.form,
            self.away as f64 / 1e4
        );
        let told = self.ask("POST /p/a/picture", &body);
        assert!(told.windows(5).any(|five| five == b"<svg "), "no picture");
    }

    fn ask(&mut self, what: &str, body: &str) -> Vec<u8> {
        let head = format!(
            "{what} HTTP/1.1\r\nHost: {0}\r\nOrigin: http://{0}\r\nAccept: application/json\r\n\
             Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {1}\r\n\r\n",
            self.address,
            body.len()
        );
        let sent = [head.as_bytes(), body.as_bytes()].concat();
        self.stream
            .get_mut()
            .write_all(&sent)
            .expect("the server reads");
        let (mut line, mut length) = (String::new(), 0);
        self.stream
            .read_line(&mut line)
            .expect("the server answers");
        assert!(line.contains(" 200 "), "{line}");
        while line != "\r\n" {
            line.clear();
            self.stream
                .read_line(&mut line)
                .expect("the server answers");
            let told = line.to_ascii_lowercase();
            if let Some(told) = told.strip_prefix("content-length:") {
                length = told.trim().parse().expect("a number");
            }
        }
        let mut answer = vec![0; length];
        self.stream
            .read_exact(&mut answer)
            .expect("the whole answer");
        answer
    }
}

/// What the form of a page sends, less how far the part is from the edge, encoded.
fn form(page: &str) -> String {
    let page = scraper::Html::parse_document(page);
    let fields = scraper::Selector::parse("#pattern input, #pattern select, #pattern textarea");
    let chosen = scraper::Selector::parse("option[selected]").expect("a selector");
    let mut pairs = vec![];
    for field in page.select(&fields.expect("a selector")) {
        let value = match field.value().name() {
            "textarea" => field.text().collect::<String>(),
            "select" => {
                let option = field.select(&chosen).next();
                option
                    .and_then(|own| own.attr("value"))
                    .unwrap_or_default()
                    .to_owned()
            }
            _ => field.attr("value").unwrap_or_default().to_owned(),
        };
        let is_sent = field.attr("type") != Some("radio") || field.attr("checked").is_some();
        let name = field.attr("name").unwrap_or_default();
        if is_sent && name != "ask:part.1.at:0:1" {
            pairs.push(format!("{}={}", encoded(name), encoded(&value)));
        }
    }
    pairs.join("&")
}

/// Words as a form encodes them.
fn encoded(words: &str) -> String {
    let byte = |byte: u8| match byte {
        b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' => char::from(byte).to_string(),
        _ => format!("%{byte:02X}"),
    };
    words.bytes().map(byte).collect()
}

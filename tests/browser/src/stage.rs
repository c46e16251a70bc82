//! A folder served, and a browser before it.

use chromiumoxide::browser::{Browser, BrowserConfig};
use chromiumoxide::cdp::browser_protocol::emulation::{
    SetDeviceMetricsOverrideParams, SetTouchEmulationEnabledParams,
};
use chromiumoxide::cdp::browser_protocol::input::{
    DispatchKeyEventParams, DispatchKeyEventType, InsertTextParams,
};
use chromiumoxide::cdp::browser_protocol::log::{EventEntryAdded, LogEntryLevel};
use chromiumoxide::cdp::browser_protocol::page::CaptureScreenshotFormat;
use chromiumoxide::cdp::js_protocol::runtime::EventExceptionThrown;
use chromiumoxide::page::{Page, ScreenshotParams};
use futures::StreamExt;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// Longest that anything on a page is waited for.
const PATIENCE: Duration = Duration::from_secs(60);

/// A screen: its name, width and height in pixels, and whether it is touched.
#[derive(Debug, Clone, Copy)]
pub struct Screen(pub &'static str, pub i64, pub i64, pub bool);

pub const DESKTOP: Screen = Screen("desktop", 1280, 800, false);
pub const PHONE: Screen = Screen("phone", 390, 844, true);

fn named(variable: &str) -> PathBuf {
    let value = std::env::var_os(variable);
    value
        .unwrap_or_else(|| panic!("`{variable}` is not set: see .ci/run"))
        .into()
}

pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .ancestors()
        .nth(2)
        .unwrap()
}

/// The program.
pub fn trimloft() -> Command {
    Command::new(root().join(named("TRIMLOFT")))
}

/// A folder that is served.
pub struct Served {
    child: Child,
    pub link: String,
    pub folder: tempfile::TempDir,
}

impl Served {
    pub fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let mut child = trimloft()
            .arg("serve")
            .arg(folder.path())
            .args(["--port", "0"])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut link = String::new();
        BufReader::new(child.stdout.as_mut().unwrap())
            .read_line(&mut link)
            .unwrap();
        let link = link.trim().to_owned();
        Self {
            child,
            link,
            folder,
        }
    }

    pub fn demo(self, demo: &str, name: &str) -> Self {
        let from = root().join(format!("shapes/demo/{demo}.toml"));
        std::fs::copy(from, self.folder.path().join(format!("{name}.toml"))).unwrap();
        self
    }

    pub fn with(self, name: &str, text: &str) -> Self {
        std::fs::write(self.folder.path().join(format!("{name}.toml")), text).unwrap();
        self
    }

    pub fn text(&self, name: &str) -> String {
        std::fs::read_to_string(self.folder.path().join(format!("{name}.toml"))).unwrap()
    }
}

impl Drop for Served {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A browser of its own.
pub struct Stage {
    browser: Browser,
    _profile: tempfile::TempDir,
}

impl Stage {
    pub async fn new() -> Self {
        let profile = tempfile::tempdir().unwrap();
        let config = BrowserConfig::builder()
            .chrome_executable(named("CHROMIUM"))
            .user_data_dir(profile.path())
            .no_sandbox()
            .viewport(None)
            .build()
            .unwrap();
        let (browser, mut events) = Browser::launch(config).await.unwrap();
        tokio::spawn(async move { while events.next().await.is_some() {} });
        Self {
            browser,
            _profile: profile,
        }
    }

    /// A window on such a screen.
    pub async fn window(&self, screen: Screen, link: &str) -> Window {
        let page = self.browser.new_page("about:blank").await.unwrap();
        let Screen(_, width, height, is_touched) = screen;
        let metrics = SetDeviceMetricsOverrideParams::new(width, height, 1.0, is_touched);
        page.execute(metrics).await.unwrap();
        page.execute(SetTouchEmulationEnabledParams::new(is_touched))
            .await
            .unwrap();
        let complaints = Arc::new(Mutex::new(vec![]));
        let mut entries = page.event_listener::<EventEntryAdded>().await.unwrap();
        let mut thrown = page.event_listener::<EventExceptionThrown>().await.unwrap();
        let (one, other) = (complaints.clone(), complaints.clone());
        tokio::spawn(async move {
            while let Some(event) = entries.next().await {
                if event.entry.level == LogEntryLevel::Error {
                    one.lock().unwrap().push(event.entry.text.clone());
                }
            }
        });
        tokio::spawn(async move {
            while let Some(event) = thrown.next().await {
                other
                    .lock()
                    .unwrap()
                    .push(event.exception_details.text.clone());
            }
        });
        let window = Window { page, complaints };
        window.opens(link).await;
        window
    }
}

/// A page as it is seen and touched.
pub struct Window {
    page: Page,
    complaints: Arc<Mutex<Vec<String>>>,
}

impl Window {
    pub async fn opens(&self, link: &str) {
        self.page.goto(link).await.unwrap();
    }

    /// What an expression of the page's script comes to.
    pub async fn js<T: serde::de::DeserializeOwned>(&self, expression: &str) -> T {
        let value = self.page.evaluate(expression).await;
        let value = value.unwrap_or_else(|error| panic!("{expression:.200}: {error:.200}"));
        value
            .into_value()
            .unwrap_or_else(|error| panic!("{expression:.200}: {error}"))
    }

    /// Waits until something is so.
    pub async fn waits(&self, expression: &str) {
        let since = Instant::now();
        let asked = format!("!!({expression})");
        loop {
            // Between two pages there is nothing to ask.
            let value = self.page.evaluate(asked.as_str()).await.ok();
            if value.and_then(|value| value.into_value::<bool>().ok()) == Some(true) {
                return;
            }
            assert!(since.elapsed() < PATIENCE, "never so: {expression}");
            tokio::time::sleep(Duration::from_millis(30)).await;
        }
    }

    /// Waits until the page has these words on it.
    pub async fn says(&self, words: &str) {
        self.waits(&format!(
            "document.body.innerText.includes({})",
            quoted(words)
        ))
        .await;
    }

    /// Clicks the one thing that a selector finds, where it is.
    pub async fn clicks(&self, selector: &str) {
        self.waits("!document.querySelector('[data-busy]')").await;
        self.waits(&format!("document.querySelector({})", quoted(selector)))
            .await;
        let _: bool = self
            .js(&format!(
                "(document.querySelector({}).scrollIntoView({{block: 'center'}}), true)",
                quoted(selector)
            ))
            .await;
        self.page
            .find_element(selector)
            .await
            .unwrap()
            .click()
            .await
            .unwrap();
    }

    /// Writes into a field in the place of what stands there, as a keyboard does.
    pub async fn writes(&self, field: &str, words: &str) {
        let selector = format!("[name='{field}']");
        self.waits(&format!("document.querySelector({})", quoted(&selector)))
            .await;
        let put = format!(
            "(() => {{ const f = document.querySelector({}); f.focus(); f.select(); return document.activeElement === f }})()",
            quoted(&selector)
        );
        assert!(self.js::<bool>(&put).await, "{field} can't be written in");
        self.page
            .execute(InsertTextParams::new(words))
            .await
            .unwrap();
    }

    /// Chooses one of the buttons, or of the list, of a question.
    pub async fn chooses(&self, field: &str, word: &str) {
        let button = format!("[name='{field}'][value='{word}']");
        self.waits(&format!(
            "document.querySelector({})",
            quoted(&format!("[name='{field}']"))
        ))
        .await;
        let is_button: bool = self
            .js(&format!(
                "!!document.querySelector({})",
                quoted(&format!("input{button}"))
            ))
            .await;
        if is_button {
            return self.clicks(&format!("input{button}")).await;
        }
        let choose = format!(
            "(() => {{ const f = document.querySelector({}); f.focus(); f.value = {}; for (const e of ['input', 'change']) f.dispatchEvent(new Event(e, {{ bubbles: true }})); return f.value === {} }})()",
            quoted(&format!("select[name='{field}']")),
            quoted(word),
            quoted(word)
        );
        assert!(self.js::<bool>(&choose).await, "{field} has no {word}");
    }

    /// Strikes a key.
    pub async fn strikes(&self, key: &str) {
        let code = match key {
            "Tab" => 9,
            "Enter" => 13,
            " " => 32,
            "ArrowLeft" => 37,
            "ArrowUp" => 38,
            "ArrowRight" => 39,
            "ArrowDown" => 40,
            _ => 0,
        };
        for kind in [DispatchKeyEventType::KeyDown, DispatchKeyEventType::KeyUp] {
            let mut event = DispatchKeyEventParams::builder()
                .r#type(kind)
                .key(key)
                .code(if key == " " { "Space" } else { key })
                .windows_virtual_key_code(code);
            if let (" ", Some(text)) | ("Enter", Some(text)) = (
                key,
                match key {
                    " " => Some(" "),
                    "Enter" => Some("\r"),
                    _ => None,
                },
            ) {
                event = event.text(text);
            }
            self.page.execute(event.build().unwrap()).await.unwrap();
        }
    }

    pub async fn types(&self, words: &str) {
        self.page
            .execute(InsertTextParams::new(words))
            .await
            .unwrap();
    }

    /// Axe-core's rules, and targets that are large enough, on the page as it stands; all that is
    /// folded is opened.
    pub async fn is_for_everybody(&self, what: &str) {
        let axe = std::fs::read_to_string(root().join(named("AXE"))).unwrap();
        let _: bool = self
            .js("(document.querySelectorAll('details').forEach(d => d.open = true), true)")
            .await;
        let _: bool = self.js(&format!("{axe};\ntrue")).await;
        let found: Vec<String> = self.js("axe.run().then(r => r.violations.map(v => v.id + ': ' + v.nodes.map(n => n.html).join(' | ')))").await;
        assert!(found.is_empty(), "{what}: {found:#?}");
        // 44 px, as WCAG 2.5.5 has it (from memory).
        let small: Vec<String> = self.js("[...document.querySelectorAll('a, button, select, summary, textarea, input:not([type=hidden]):not([type=radio])')].filter(e => e.offsetParent).filter(e => { const r = e.getBoundingClientRect(); return r.width < 43.5 || r.height < 43.5 }).map(e => e.outerHTML)").await;
        assert!(small.is_empty(), "{what}: {small:#?}");
        let wide: bool = self
            .js("document.documentElement.scrollWidth > innerWidth")
            .await;
        assert!(!wide, "{what} is wider than its screen");
    }

    /// Nothing that the browser complained of.
    pub fn is_quiet(&self) {
        let complaints = self.complaints.lock().unwrap();
        assert!(complaints.is_empty(), "{complaints:?}");
    }

    /// Keeps what is seen as `out/page-NAME.png`, where that is asked for.
    pub async fn shows(&self, name: &str) {
        if std::env::var_os("TRIMLOFT_RENEW_SAMPLES").is_none() {
            return;
        }
        tokio::time::sleep(Duration::from_millis(700)).await;
        let wanted = ScreenshotParams::builder()
            .format(CaptureScreenshotFormat::Png)
            .build();
        let picture = self.page.screenshot(wanted).await.unwrap();
        std::fs::write(root().join(format!("out/page-{name}.png")), picture).unwrap();
    }
}

/// Words as a literal of the page's script.
pub fn quoted(words: &str) -> String {
    serde_json::to_string(words).unwrap()
}

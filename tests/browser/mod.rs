//! A browser for the tests: Chromium without a window, spoken to through a pipe in the words of its `DevTools` protocol.
//! The pipe needs no port; when it closes, the browser ends, whatever became of the test.

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use tempfile::TempDir;

/// Longest wait for any one answer: a loaded machine draws a large solid in software.
const PATIENCE: Duration = Duration::from_secs(90);

/// A running browser with one page.
pub(crate) struct Browser {
    child: Child,
    to: Option<ChildStdin>,
    from: Receiver<Value>,
    calls: u64,
    tab: Option<String>,
    /// What the page has complained about.
    pub(crate) complaints: Vec<String>,
    _profile: TempDir,
}

/// How the browser draws solids.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Solids {
    /// In software.
    Drawn,
    /// Not at all.
    Refused,
}

impl Browser {
    /// Starts Chromium; `None`, said aloud, where there is none and none is demanded.
    pub(crate) fn start(test: &str, solids: Solids) -> Option<Browser> {
        let Some(program) = chromium() else {
            assert!(std::env::var_os("THREADWRIGHT_BROWSER_NEEDED").is_none(), "there is no chromium");
            // Not through `eprintln`, which the test runner would swallow.
            let _ = writeln!(std::io::stderr(), "SKIPPED {test}: there is no chromium on this machine");
            return None;
        };
        let profile = TempDir::new().expect("a folder can be made");
        let drawing: &[&str] = match solids {
            Solids::Drawn => &["--use-angle=swiftshader", "--enable-unsafe-swiftshader"],
            Solids::Refused => &["--disable-gpu", "--disable-3d-apis"],
        };
        // The protocol's pipe is file descriptors 3 and 4; the shell ties them to the ones Rust hands over.
        let mut child = Command::new("sh")
            .args(["-c", r#"exec "$0" "$@" 3<&0 4>&1 >/dev/null"#, &program])
            .args([
                "--headless",
                "--no-sandbox",
                "--disable-quic",
                "--no-first-run",
                "--remote-debugging-pipe",
            ])
            .args(["--disable-background-networking", "--disable-component-update", "--disable-sync"])
            .args(["--disable-dev-shm-usage", "--force-color-profile=srgb"])
            .args(drawing)
            .arg(format!("--user-data-dir={}", profile.path().display()))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("chromium can be started");
        let to = child.stdin.take();
        let mut lines = BufReader::new(child.stdout.take().expect("its output is a pipe"));
        let (send, from) = channel();
        std::thread::spawn(move || {
            let mut message = Vec::new();
            while lines.read_until(0, &mut message).is_ok_and(|count| count > 0) {
                message.pop();
                let Ok(value) = serde_json::from_slice(&message) else { break };
                if send.send(value).is_err() {
                    break;
                }
                message.clear();
            }
        });
        let (calls, tab) = (0, None);
        let mut browser = Browser { child, to, from, calls, tab, complaints: Vec::new(), _profile: profile };
        let target = browser.call("Target.createTarget", json!({"url": "about:blank"}));
        let target = target["targetId"].as_str().expect("a page has a name").to_owned();
        let tab = browser.call("Target.attachToTarget", json!({"targetId": target, "flatten": true}));
        browser.tab = tab["sessionId"].as_str().map(str::to_owned);
        for domain in ["Page.enable", "Runtime.enable", "Log.enable"] {
            browser.call(domain, json!({}));
        }
        Some(browser)
    }

    /// Calls a method of the protocol and waits for its answer.
    #[expect(clippy::needless_pass_by_value, reason = "parameters are written in place at every call")]
    pub(crate) fn call(&mut self, method: &str, parameters: Value) -> Value {
        self.calls += 1;
        let mut message = json!({"id": self.calls, "method": method, "params": parameters});
        if let Some(tab) = &self.tab {
            message["sessionId"] = json!(tab);
        }
        let to = self.to.as_mut().expect("the pipe is open");
        write!(to, "{message}\0").and_then(|()| to.flush()).expect("the browser listens");
        loop {
            let answer = self.from.recv_timeout(PATIENCE).unwrap_or_else(|why| panic!("{method}: {why}"));
            if answer["id"] == json!(self.calls) {
                assert!(answer["error"].is_null(), "{method}: {}", answer["error"]);
                return answer["result"].clone();
            }
            self.note(&answer);
        }
    }

    fn note(&mut self, event: &Value) {
        let parameters = &event["params"];
        let complaint = match event["method"].as_str() {
            Some("Runtime.exceptionThrown") => true,
            Some("Runtime.consoleAPICalled") => {
                ["error", "warning", "assert"].contains(&parameters["type"].as_str().unwrap_or(""))
            }
            Some("Log.entryAdded") => parameters["entry"]["level"] == "error",
            _ => false,
        };
        if complaint {
            self.complaints.push(parameters.to_string());
        }
    }

    /// Makes the window so large, in CSS pixels.
    pub(crate) fn size(&mut self, wide: u32, high: u32) {
        let size = json!({"width": wide, "height": high, "deviceScaleFactor": 1, "mobile": false});
        self.call("Emulation.setDeviceMetricsOverride", size);
    }

    /// Opens a page from disk and waits until it says that it is ready; how long that took.
    pub(crate) fn open(&mut self, page: &Path) -> Duration {
        let begun = Instant::now();
        self.call("Page.navigate", json!({"url": format!("file://{}", page.display())}));
        while begun.elapsed() < PATIENCE {
            match self.ask("document.documentElement?.dataset.ready ?? ''").as_str() {
                Some("yes") => return begun.elapsed(),
                Some("failed") => panic!("the page failed: {:?}", self.complaints),
                _ => std::thread::sleep(Duration::from_millis(20)),
            }
        }
        panic!("the page never became ready: {:?}", self.complaints);
    }

    /// The value of an expression on the page.
    pub(crate) fn ask(&mut self, expression: &str) -> Value {
        let question = json!({"expression": expression, "awaitPromise": true, "returnByValue": true});
        let answer = self.call("Runtime.evaluate", question);
        assert!(answer["exceptionDetails"].is_null(), "{expression}: {}", answer["exceptionDetails"]);
        answer["result"]["value"].clone()
    }

    /// Presses a key.
    pub(crate) fn key(&mut self, key: &str) {
        let text = if key == "Enter" { "\r" } else { "" };
        let code = match key {
            "Tab" => 9,
            "Enter" => 13,
            "ArrowLeft" => 37,
            "ArrowUp" => 38,
            "ArrowRight" => 39,
            "ArrowDown" => 40,
            _ => 0,
        };
        for way in ["keyDown", "keyUp"] {
            let event =
                json!({"type": way, "key": key, "code": key, "windowsVirtualKeyCode": code, "text": text});
            self.call("Input.dispatchKeyEvent", event);
        }
    }

    /// Presses the left button of the mouse at a place of the window and lets it go.
    pub(crate) fn click(&mut self, x: f64, y: f64) {
        for way in ["mousePressed", "mouseReleased"] {
            let event = json!({"type": way, "x": x, "y": y, "button": "left", "buttons": 1, "clickCount": 1});
            self.call("Input.dispatchMouseEvent", event);
        }
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        // Closing the pipe ends it; should it hang, it is ended by its own number.
        self.tab = None;
        if let Some(mut to) = self.to.take() {
            let _ = write!(to, "{}\0", json!({"id": 0, "method": "Browser.close"}));
        }
        let begun = Instant::now();
        while begun.elapsed() < Duration::from_secs(5) {
            if matches!(self.child.try_wait(), Ok(Some(_))) {
                return;
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// The name of a Chromium that can be started.
fn chromium() -> Option<String> {
    let named = std::env::var("CHROMIUM").ok();
    let names = ["chromium", "chromium-browser"].map(str::to_owned);
    named.into_iter().chain(names).find(|name| {
        let found = Command::new(name).arg("--version").stdout(Stdio::null()).stderr(Stdio::null()).status();
        found.is_ok_and(|status| status.success())
    })
}

//! A browser without a window, driven over its debugging pipe.
//!
//! Messages are JSON, each ended by a zero byte (Chrome DevTools Protocol, `--remote-debugging-pipe`): the browser reads them on file
//! descriptor 3 and answers on 4. A shell puts its own input and output there, so no socket and no further library is needed.

use base64::Engine as _;
use serde_json::{Value, json};
use std::collections::VecDeque;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::sync::{Mutex, MutexGuard};
use std::time::{Duration, Instant};

/// Programs that understand the protocol, by the names systems give them.
const NAMES: [&str; 4] = [
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
];
/// A machine that builds at the same time is slow.
const PATIENCE: Duration = Duration::from_secs(60);

/// Browsers beside each other would only wait for each other.
static ONE_AT_A_TIME: Mutex<()> = Mutex::new(());

/// A browser with one page.
pub(crate) struct Browser {
    child: Child,
    input: ChildStdin,
    messages: Receiver<Value>,
    events: VecDeque<Value>,
    session: Option<String>,
    last: u64,
    _profile: tempfile::TempDir,
    _turn: MutexGuard<'static, ()>,
}

impl Browser {
    /// Starts a browser; none, with a message, where none is installed.
    pub(crate) fn start(width: u32, height: u32) -> Option<Self> {
        let Some(program) = program() else {
            // Past the capture of the test program, so that it is seen.
            let names = NAMES.join(", ");
            let _ = writeln!(
                std::io::stderr(),
                "skipped: no browser is installed (looked for {names})"
            );
            return None;
        };
        let turn = ONE_AT_A_TIME
            .lock()
            .unwrap_or_else(std::sync::PoisonError::into_inner);
        let profile = tempfile::tempdir().unwrap();
        let mut child = Command::new("sh")
            .args(["-c", "exec \"$0\" \"$@\" 3<&0 4>&1 </dev/null >/dev/null"])
            .arg(program)
            .args([
                "--headless=new",
                "--remote-debugging-pipe",
                "--no-first-run",
                "--disable-gpu",
            ])
            // The tests open their own files only, and a container has no room for the sandbox.
            .args(["--no-sandbox", "--disable-dev-shm-usage", "--hide-scrollbars"])
            .arg(format!("--user-data-dir={}", profile.path().display()))
            .arg("about:blank")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let input = child.stdin.take().unwrap();
        let output = child.stdout.take().unwrap();
        let (sender, messages) = channel();
        std::thread::spawn(move || {
            for message in BufReader::new(output).split(0) {
                let Ok(bytes) = message else { return };
                let Ok(value) = serde_json::from_slice(&bytes) else {
                    return;
                };
                if sender.send(value).is_err() {
                    return;
                }
            }
        });
        let mut browser = Self {
            child,
            input,
            messages,
            events: VecDeque::new(),
            session: None,
            last: 0,
            _profile: profile,
            _turn: turn,
        };
        browser.attach(width, height);
        Some(browser)
    }

    fn attach(&mut self, width: u32, height: u32) {
        let page = self.call("Target.createTarget", json!({ "url": "about:blank" }));
        let target = page["targetId"].clone();
        let session = self.call(
            "Target.attachToTarget",
            json!({ "targetId": target, "flatten": true }),
        );
        self.session = Some(session["sessionId"].as_str().unwrap().to_owned());
        for domain in ["Page", "Runtime", "Log", "Network"] {
            self.call(&format!("{domain}.enable"), json!({}));
        }
        let mobile = width < 600;
        self.call(
            "Emulation.setDeviceMetricsOverride",
            json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": mobile }),
        );
        self.call("Emulation.setTouchEmulationEnabled", json!({ "enabled": mobile }));
    }

    /// Asks for something and waits for the answer.
    pub(crate) fn call(&mut self, method: &str, parameters: Value) -> Value {
        self.last += 1;
        let id = self.last;
        let mut message = json!({ "id": id, "method": method, "params": parameters });
        if let Some(session) = &self.session {
            message["sessionId"] = session.as_str().into();
        }
        self.input.write_all(message.to_string().as_bytes()).unwrap();
        self.input.write_all(&[0]).unwrap();
        self.input.flush().unwrap();
        loop {
            let message = self.receive();
            if message["id"] == id {
                assert!(message["error"].is_null(), "{method}: {}", message["error"]);
                return message["result"].clone();
            }
            self.events.push_back(message);
        }
    }

    fn receive(&mut self) -> Value {
        self.messages
            .recv_timeout(PATIENCE)
            .unwrap_or_else(|error| panic!("the browser says nothing: {error}"))
    }

    /// Opens a file and waits until it is loaded.
    pub(crate) fn open(&mut self, file: &Path) {
        self.events.clear();
        let url = format!("file://{}", file.canonicalize().unwrap().display());
        let answer = self.call("Page.navigate", json!({ "url": url }));
        assert!(answer["errorText"].is_null(), "{url}: {answer}");
        while !self
            .events
            .iter()
            .any(|event| event["method"] == "Page.loadEventFired")
        {
            let event = self.receive();
            self.events.push_back(event);
        }
    }

    /// The value of an expression of the page.
    pub(crate) fn value(&mut self, expression: &str) -> Value {
        let answer = self.call(
            "Runtime.evaluate",
            json!({ "expression": expression, "returnByValue": true, "awaitPromise": true }),
        );
        assert!(answer["exceptionDetails"].is_null(), "{expression}: {answer}");
        answer["result"]["value"].clone()
    }

    /// Waits until an expression of the page is true.
    pub(crate) fn wait_for(&mut self, expression: &str) {
        let began = Instant::now();
        while self.value(expression) != true {
            assert!(began.elapsed() < PATIENCE, "never true: {expression}");
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// The middle of an element on the screen.
    pub(crate) fn middle(&mut self, selector: &str) -> (f64, f64) {
        let place = self.value(&format!(
            "(() => {{ const element = document.querySelector('{selector}'); element.scrollIntoView({{ block: 'center' }}); \
             const box = element.getBoundingClientRect(); return [box.x + box.width / 2, box.y + box.height / 2]; }})()"
        ));
        (place[0].as_f64().unwrap(), place[1].as_f64().unwrap())
    }

    /// The middle of an element on the page, wherever the page is scrolled to.
    pub(crate) fn on_page(&mut self, selector: &str) -> (f64, f64) {
        let (x, y) = self.middle(selector);
        (x, y + self.value("window.scrollY").as_f64().unwrap())
    }

    fn mouse(&mut self, kind: &str, (x, y): (f64, f64), buttons: u32) {
        self.call(
            "Input.dispatchMouseEvent",
            json!({ "type": kind, "x": x, "y": y, "button": if kind == "mouseMoved" && buttons == 0 { "none" } else { "left" },
                "buttons": buttons, "clickCount": 1 }),
        );
    }

    /// Takes hold of an element with the mouse and moves it by so many pixels.
    pub(crate) fn drag(&mut self, selector: &str, by: (f64, f64)) {
        let from = self.middle(selector);
        self.mouse("mouseMoved", from, 0);
        self.mouse("mousePressed", from, 1);
        for step in 1..=5 {
            let share = f64::from(step) / 5.0;
            self.mouse("mouseMoved", (from.0 + share * by.0, from.1 + share * by.1), 1);
        }
        self.mouse("mouseReleased", (from.0 + by.0, from.1 + by.1), 0);
    }

    /// The same with a finger.
    pub(crate) fn swipe(&mut self, selector: &str, by: (f64, f64)) {
        let (x, y) = self.middle(selector);
        let touch = |kind: &str, points: Value| json!({ "type": kind, "touchPoints": points });
        self.call(
            "Input.dispatchTouchEvent",
            touch("touchStart", json!([{ "x": x, "y": y }])),
        );
        for step in 1..=5 {
            let share = f64::from(step) / 5.0;
            let points = json!([{ "x": x + share * by.0, "y": y + share * by.1 }]);
            self.call("Input.dispatchTouchEvent", touch("touchMove", points));
        }
        self.call("Input.dispatchTouchEvent", touch("touchEnd", json!([])));
    }

    /// Presses a key so many times, with Shift held if asked.
    pub(crate) fn press(&mut self, key: &str, times: usize, shift: bool) {
        // Modifier 8 is Shift.
        let modifiers = if shift { 8 } else { 0 };
        for _ in 0..times {
            for kind in ["keyDown", "keyUp"] {
                self.call(
                    "Input.dispatchKeyEvent",
                    json!({ "type": kind, "key": key, "code": key, "modifiers": modifiers }),
                );
            }
        }
    }

    /// What went wrong since the page was opened, and every request it made besides for itself.
    pub(crate) fn complaints(&mut self) -> Vec<String> {
        // Whatever is still on its way comes before this answer.
        self.value("1");
        let mut documents = 0;
        let complaint = |event: &Value| {
            let what = &event["params"];
            match event["method"].as_str().unwrap_or_default() {
                "Runtime.exceptionThrown" => Some(what["exceptionDetails"].to_string()),
                "Runtime.consoleAPICalled" => Some(what["args"].to_string()),
                "Log.entryAdded" => Some(what["entry"].to_string()),
                "Page.javascriptDialogOpening" => Some(what["message"].to_string()),
                "Network.requestWillBeSent" => {
                    documents += 1;
                    (documents > 1 || what["type"] != "Document").then(|| what["request"]["url"].to_string())
                }
                _ => None,
            }
        };
        self.events.iter().filter_map(complaint).collect()
    }

    /// Keeps a picture of the page where the variable `KIN_SCREENSHOTS` names a folder, for a person to look at.
    pub(crate) fn picture(&mut self, name: &str) {
        let Some(folder) = std::env::var_os("KIN_SCREENSHOTS") else {
            return;
        };
        let answer = self.call("Page.captureScreenshot", json!({ "captureBeyondViewport": true }));
        let bytes = base64::engine::general_purpose::STANDARD.decode(answer["data"].as_str().unwrap());
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(PathBuf::from(folder).join(name), bytes.unwrap()).unwrap();
    }

    /// How many pages the page prints on, with the margins of its own style sheet.
    ///
    /// * `width`, `height`: of the paper (in)
    pub(crate) fn printed_pages(&mut self, width: f64, height: f64) -> usize {
        let paper = json!({ "paperWidth": width, "paperHeight": height, "printBackground": true, "preferCSSPageSize": false });
        let answer = self.call("Page.printToPDF", paper);
        let bytes = base64::engine::general_purpose::STANDARD.decode(answer["data"].as_str().unwrap());
        let text = String::from_utf8_lossy(&bytes.unwrap()).into_owned();
        // Each page is an object of the type Page; Pages is the list of them (PDF 32000-1:2008, 7.7.3).
        let marks = text.match_indices("/Type /Page");
        marks
            .filter(|(at, mark)| !text[at + mark.len()..].starts_with('s'))
            .count()
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn program() -> Option<PathBuf> {
    let folders = std::env::var_os("PATH")?;
    let places: Vec<PathBuf> = std::env::split_paths(&folders).collect();
    let found = NAMES
        .iter()
        .flat_map(|name| places.iter().map(move |folder| folder.join(name)));
    found.into_iter().find(|path| path.is_file())
}

//! Shows the proof in the browser while the designer works: a server for this machine alone.
//!
//! It answers four kinds of address: `/` is the last good proof, `/picture/…` one of its pictures, `/events` tells of new
//! proofs (server-sent events, WHATWG HTML), `/notes` are the notes on pages, and takes them. A picture's address is a digest of it, so a browser asks for it only once.
//! It listens on the loopback address only, and answers no request that came under another name, or from a page of another
//! site, so that no such page can read what is being made, show it within itself, or learn that it is there.

use super::notes;
use crate::driver::Written;
use base64::prelude::{BASE64_STANDARD as STANDARD, Engine};
use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{Ipv4Addr, SocketAddr, TcpListener, TcpStream};
use std::path::PathBuf;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::Duration;

/// Browsers that look at once; more than anybody opens.
const MOST: usize = 32;
/// A line of a request is no longer than this, and a request has no more lines.
const LINE: u64 = 8 << 10;
const LINES: usize = 100;
/// Notes on pages are no longer than this, all of them.
const MOST_HANDED: u64 = 512 << 10;
/// How long a request may take to arrive, and an answer to be taken.
const PATIENCE: Duration = Duration::from_secs(10);
/// So often a silent line is said to be alive; a browser that went away is noticed then.
const BEAT: Duration = Duration::from_secs(5);

/// What there is to show.
#[derive(Default)]
struct Shown {
    /// Counts every change.
    tick: u64,
    /// Number of the round that made the page.
    number: u64,
    page: Arc<Vec<u8>>,
    /// Pictures by address: those of this proof and of the one before, which a browser may still be asking for.
    pictures: BTreeMap<String, Arc<Picture>>,
    last: BTreeMap<String, Arc<Picture>>,
    /// Why the last save gave no proof.
    broken: Option<String>,
}

/// A picture of the proof.
struct Picture {
    kind: String,
    bytes: Vec<u8>,
}

impl Picture {
    /// What a `data:` address holds (RFC 2397), where it is in Base64.
    fn of(data: &str) -> Option<Picture> {
        let (kind, text) = data.strip_prefix("data:")?.split_once(";base64,")?;
        Some(Picture { kind: kind.to_owned(), bytes: STANDARD.decode(text).ok()? })
    }
}

/// The window in which the proof stands.
#[derive(Default)]
pub struct Window {
    shown: Mutex<Shown>,
    changed: Condvar,
    open: AtomicUsize,
    /// Where notes on pages are kept, if they are.
    notes: Option<PathBuf>,
}

impl Window {
    /// A window that shows this page until there is a proof.
    pub fn new(page: String) -> Window {
        let window = Window::default();
        window.lock().page = Arc::new(page.into_bytes());
        window
    }

    /// The same, with notes on pages that are kept in this file.
    pub fn with_notes(page: String, notes: PathBuf) -> Window {
        Window { notes: Some(notes), ..Window::new(page) }
    }

    /// Puts a new proof into it.
    pub fn show(&self, number: u64, proof: Written) {
        let known = self.lock().pictures.clone();
        let one = |(address, data): &(String, String)| {
            let picture = known.get(address).cloned().or_else(|| Picture::of(data).map(Arc::new))?;
            Some((address.clone(), picture))
        };
        let pictures = proof.pictures.iter().filter_map(one).collect();
        self.change(|shown| {
            shown.last = std::mem::replace(&mut shown.pictures, pictures);
            (shown.number, shown.page, shown.broken) = (number, Arc::new(proof.page.into_bytes()), None);
        });
    }

    /// Says why there is none; the last one stays.
    pub fn complain(&self, words: String) {
        self.change(|shown| shown.broken = Some(words));
    }

    fn change(&self, change: impl FnOnce(&mut Shown)) {
        let mut shown = self.lock();
        change(&mut shown);
        shown.tick += 1;
        self.changed.notify_all();
    }

    fn lock(&self) -> MutexGuard<'_, Shown> {
        // Every change is made of plain assignments, so a panic cannot leave half of one.
        self.shown.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Opens the door: this port of the loopback address, or any that is free for 0.
///
/// # Errors
/// When the port is taken.
pub fn listen(port: u16) -> std::io::Result<(TcpListener, SocketAddr)> {
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, port))?;
    let address = listener.local_addr()?;
    Ok((listener, address))
}

/// Answers until the program ends.
pub fn serve(listener: &TcpListener, address: SocketAddr, window: &Arc<Window>) {
    for stream in listener.incoming().filter_map(Result::ok) {
        let window = window.clone();
        if window.open.fetch_add(1, Ordering::Relaxed) >= MOST {
            window.open.fetch_sub(1, Ordering::Relaxed);
            continue;
        }
        thread::spawn(move || {
            // A browser that goes away in the middle is no fault.
            let _ = answer(stream, address, &window);
            window.open.fetch_sub(1, Ordering::Relaxed);
        });
    }
}

fn answer(mut stream: TcpStream, address: SocketAddr, window: &Window) -> std::io::Result<()> {
    stream.set_read_timeout(Some(PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))?;
    stream.set_nodelay(true)?;
    let Some(asked) = request(&stream)? else { return say(&mut stream, "400 Bad Request", "not understood") };
    if !asked.is_ours(address.port()) {
        return say(&mut stream, "403 Forbidden", "only for this machine, and its own page");
    }
    if asked.body.is_some() {
        return taken(&mut stream, &asked, window);
    }
    match asked.target.as_str() {
        "/notes" => {
            let Some(file) = &window.notes else { return say(&mut stream, "404 Not Found", "no notes are kept here") };
            // There is no file until there is a note.
            let text = notes::read(file);
            head(&mut stream, "200 OK", "application/json", Some(text.len()), "no-store")?;
            stream.write_all(text.as_bytes())
        }
        "/" => {
            let page = window.lock().page.clone();
            head(&mut stream, "200 OK", "text/html; charset=utf-8", Some(page.len()), "no-store")?;
            stream.write_all(&page)
        }
        "/events" => {
            head(&mut stream, "200 OK", "text/event-stream", None, "no-store")?;
            events(&mut stream, window)
        }
        address => {
            let found = {
                let shown = window.lock();
                shown.pictures.get(address).or_else(|| shown.last.get(address)).cloned()
            };
            let Some(picture) = found else { return say(&mut stream, "404 Not Found", "there is nothing here") };
            // The address is a digest of the bytes: what lies under it never changes.
            let keep = "private, max-age=86400, immutable";
            head(&mut stream, "200 OK", &picture.kind, Some(picture.bytes.len()), keep)?;
            stream.write_all(&picture.bytes)
        }
    }
}

/// Takes notes: from the page of this server alone, which says so itself.
fn taken(stream: &mut TcpStream, asked: &Asked, window: &Window) -> std::io::Result<()> {
    let (Some(file), "/notes", Some(body)) = (&window.notes, asked.target.as_str(), &asked.body) else {
        return say(stream, "400 Bad Request", "nothing is taken here");
    };
    // A form of another site cannot send JSON unasked, and every browser names the page that sends.
    if asked.kind.as_deref() != Some("application/json") || asked.origin.is_none() {
        return say(stream, "403 Forbidden", "only from the page of this machine");
    }
    match notes::keep(file, body) {
        Ok(()) => say(stream, "200 OK", "kept"),
        Err(fault) => say(stream, "400 Bad Request", &fault.to_string()),
    }
}

/// What a request says of itself.
#[derive(Default)]
struct Asked {
    target: String,
    /// What is handed over, where something is.
    body: Option<Vec<u8>>,
    /// Of what kind that is.
    kind: Option<String>,
    length: Option<String>,
    host: Option<String>,
    /// The page that asks, where the browser says it (RFC 6454).
    origin: Option<String>,
    /// How that page is related to this one (Fetch Metadata, `Sec-Fetch-Site`).
    site: Option<String>,
}

impl Asked {
    /// Whether it was asked for under the name of this machine, by nobody or by a page of this very server.
    fn is_ours(&self, port: u16) -> bool {
        let hosts = [format!("127.0.0.1:{port}"), format!("localhost:{port}")];
        let Some(host) = self.host.as_ref().filter(|host| hosts.contains(host)) else { return false };
        self.origin.as_ref().is_none_or(|origin| *origin == format!("http://{host}"))
            && self.site.as_ref().is_none_or(|site| site == "same-origin" || site == "none")
    }
}

/// Reads a GET or POST request; `None` for anything else, and for one that says something of itself twice.
fn request(stream: &TcpStream) -> std::io::Result<Option<Asked>> {
    let mut reader = BufReader::new(stream.take(LINE * LINES as u64));
    let mut line = |text: &mut String| {
        text.clear();
        (&mut reader).take(LINE).read_line(text)
    };
    let mut text = String::new();
    line(&mut text)?;
    let mut parts = text.split_ascii_whitespace();
    let (Some(method @ ("GET" | "POST")), Some(target), Some(_)) = (parts.next(), parts.next(), parts.next()) else {
        return Ok(None);
    };
    let hands_over = method == "POST";
    let target = target.split(['?', '#']).next().unwrap_or_default().to_owned();
    let mut asked = Asked { target, ..Asked::default() };
    for _ in 0..LINES {
        if line(&mut text)? == 0 || text.trim().is_empty() {
            if !hands_over {
                return Ok(Some(asked));
            }
            let length = asked.length.as_deref().and_then(|n| n.parse::<u64>().ok()).filter(|n| *n <= MOST_HANDED);
            let Some(length) = length else { return Ok(None) };
            let mut body = Vec::new();
            reader.take(length).read_to_end(&mut body)?;
            asked.body = Some(body).filter(|b| b.len() as u64 == length);
            return Ok(asked.body.is_some().then_some(asked));
        }
        let Some((name, value)) = text.split_once(':') else { return Ok(None) };
        let kept = match name.to_ascii_lowercase().as_str() {
            "content-type" => &mut asked.kind,
            "content-length" => &mut asked.length,
            "host" => &mut asked.host,
            "origin" => &mut asked.origin,
            "sec-fetch-site" => &mut asked.site,
            _ => continue,
        };
        if kept.replace(value.trim().to_ascii_lowercase()).is_some() {
            return Ok(None);
        }
    }
    Ok(None)
}

fn head(stream: &mut TcpStream, status: &str, kind: &str, length: Option<usize>, keep: &str) -> std::io::Result<()> {
    let length = length.map(|n| format!("Content-Length: {n}\r\n")).unwrap_or_default();
    write!(
        stream,
        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\n{length}Cache-Control: {keep}\r\n\
         X-Content-Type-Options: nosniff\r\nX-Frame-Options: DENY\r\nCross-Origin-Resource-Policy: same-origin\r\n\
         Connection: close\r\n\r\n"
    )
}

fn say(stream: &mut TcpStream, status: &str, words: &str) -> std::io::Result<()> {
    head(stream, status, "text/plain; charset=utf-8", Some(words.len()), "no-store")?;
    stream.write_all(words.as_bytes())
}

/// Tells of the present state, and of each that follows, until the browser is gone.
fn events(stream: &mut TcpStream, window: &Window) -> std::io::Result<()> {
    let mut told = None;
    loop {
        let (tick, text) = {
            let mut shown = window.lock();
            while told == Some(shown.tick) {
                let (next, waited) = window.changed.wait_timeout(shown, BEAT).unwrap_or_else(PoisonError::into_inner);
                shown = next;
                if waited.timed_out() {
                    break;
                }
            }
            (shown.tick, message(&shown))
        };
        if told == Some(tick) {
            stream.write_all(b": alive\n\n")?;
        } else {
            stream.write_all(text.as_bytes())?;
        }
        stream.flush()?;
        told = Some(tick);
    }
}

fn message(shown: &Shown) -> String {
    match &shown.broken {
        Some(words) => format!("event: broken\ndata: {}\n\n", serde_json::Value::from(words.as_str())),
        None => format!("event: built\ndata: {}\n\n", shown.number),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn ask(address: SocketAddr, text: &str) -> String {
        let mut stream = TcpStream::connect(address).unwrap();
        stream.write_all(text.as_bytes()).unwrap();
        let mut out = String::new();
        stream.read_to_string(&mut out).unwrap();
        out
    }

    #[test]
    fn it_answers_this_machine_only_and_tells_of_changes() {
        let (listener, address) = listen(0).unwrap();
        assert!(address.ip().is_loopback());
        let window = Arc::new(Window::new("first".to_owned()));
        let of_server = window.clone();
        thread::spawn(move || serve(&listener, address, &of_server));
        let host = format!("Host: {address}\r\n\r\n");
        assert!(ask(address, &format!("GET / HTTP/1.1\r\n{host}")).ends_with("\r\n\r\nfirst"));
        assert!(ask(address, "GET / HTTP/1.1\r\nHost: elsewhere.example\r\n\r\n").contains("403"));
        assert!(ask(address, "GET / HTTP/1.1\r\n\r\n").contains("403"));
        assert!(ask(address, &format!("GET /etc/passwd HTTP/1.1\r\n{host}")).contains("404"));
        assert!(ask(address, &format!("POST / HTTP/1.1\r\n{host}")).contains("400"));

        // No notes are kept here, and nothing is taken.
        assert!(ask(address, &format!("GET /notes HTTP/1.1\r\n{host}")).contains("404"));
        let body = "Content-Type: application/json\r\nContent-Length: 2\r\n";
        assert!(ask(address, &format!("POST /notes HTTP/1.1\r\n{body}{host}[]")).contains("400"));

        let mut stream = TcpStream::connect(address).unwrap();
        stream.write_all(format!("GET /events HTTP/1.1\r\n{host}").as_bytes()).unwrap();
        let mut lines = BufReader::new(stream).lines().map_while(Result::ok).filter(|l| l.starts_with("data:"));
        assert_eq!(lines.next().unwrap(), "data: 0");
        let data = "data:image/png;base64,AAEC".to_owned();
        let written = |page: &str, pictures| Written { page: page.to_owned(), pictures };
        window.show(1, written("second", vec![("/picture/ab".to_owned(), data)]));
        let picture = ask(address, &format!("GET /picture/ab HTTP/1.1\r\n{host}"));
        assert!(picture.contains("image/png") && picture.contains("immutable") && picture.ends_with("\0\u{1}\u{2}"));
        assert_eq!(lines.next().unwrap(), "data: 1");
        window.complain("line 3:\n  <b>wrong</b>".to_owned());
        assert_eq!(lines.next().unwrap(), r#"data: "line 3:\n  <b>wrong</b>""#);
        assert!(ask(address, &format!("GET / HTTP/1.1\r\n{host}")).ends_with("second"));
        // A picture of the proof before is still there for a browser that asks late, and then no more.
        window.show(2, written("third", Vec::new()));
        assert!(ask(address, &format!("GET /picture/ab HTTP/1.1\r\n{host}")).contains("200"));
        window.show(3, written("fourth", Vec::new()));
        assert!(ask(address, &format!("GET /picture/ab HTTP/1.1\r\n{host}")).contains("404"));
    }

    #[test]
    fn notes_are_taken_from_its_own_page_alone() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join(crate::cli::notes::FILE);
        let (listener, address) = listen(0).unwrap();
        let window = Arc::new(Window::with_notes("page".to_owned(), file.clone()));
        thread::spawn(move || serve(&listener, address, &window));
        let host = format!("Host: {address}\r\n");
        let get = || ask(address, &format!("GET /notes HTTP/1.1\r\n{host}\r\n"));
        assert!(get().ends_with("\r\n\r\n[]"));
        let post = |more: &str, body: &str| {
            let length = body.len();
            ask(address, &format!("POST /notes HTTP/1.1\r\n{host}{more}Content-Length: {length}\r\n\r\n{body}"))
        };
        let note = r#"[{"file":"contents/log.pdf","page":3,"name":"Tides","text":"tab too pale","done":false}]"#;
        let ours = format!("Origin: http://{address}\r\nContent-Type: application/json\r\n");
        for (more, body) in [
            ("Content-Type: application/json\r\n".to_owned(), note),
            (format!("Origin: http://{address}\r\nContent-Type: text/plain\r\n"), note),
            ("Origin: http://elsewhere.example\r\nContent-Type: application/json\r\n".to_owned(), note),
            (ours.clone(), r#"[{"file":"x"}]"#),
            (ours.clone(), r#"{"path":"/etc/passwd"}"#),
        ] {
            let answer = post(&more, body);
            assert!(answer.contains("403") || answer.contains("400"), "{answer}");
            assert!(!file.exists(), "{more}{body}");
        }
        assert!(post(&ours, note).contains("200 OK"));
        assert!(get().contains("tab too pale") && file.exists());
    }
}

//! A server on a free port and a plain HTTP/1.1 client that can misbehave.
#![allow(dead_code)] // each test program uses a part of it

use guardcell_server::{Config, Server};
use std::io::{Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::{Path, PathBuf};
use std::time::Duration;
use tokio::sync::oneshot;

/// The root of the repository.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_path_buf()
}

/// A running server; it stops when this is dropped.
pub struct Running {
    pub address: SocketAddr,
    stop: Option<oneshot::Sender<()>>,
    thread: Option<std::thread::JoinHandle<()>>,
}

pub fn start(config: Config) -> Running {
    let (told, address) = std::sync::mpsc::channel();
    let (stop, stopped) = oneshot::channel::<()>();
    let thread = std::thread::spawn(move || {
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .worker_threads(2)
            .enable_all()
            .build()
            .unwrap();
        runtime.block_on(async {
            let server = Server::bind(config).await.unwrap();
            told.send(server.address()).unwrap();
            server
                .run(async {
                    let _ = stopped.await;
                })
                .await;
        });
    });
    Running { address: address.recv().unwrap(), stop: Some(stop), thread: Some(thread) }
}

pub fn config() -> Config {
    Config { bind: SocketAddr::from(([127, 0, 0, 1], 0)), ..Config::default() }
}

impl Running {
    /// Tells the server to stop; the thread goes on until it has finished.
    pub fn stop(&mut self) {
        if let Some(stop) = self.stop.take() {
            let _ = stop.send(());
        }
    }

    pub fn connect(&self) -> TcpStream {
        let stream = TcpStream::connect(self.address).unwrap();
        stream.set_read_timeout(Some(Duration::from_secs(60))).unwrap();
        stream
    }

    pub fn get(&self, path: &str) -> Answer {
        self.send("GET", path, &[], b"")
    }

    pub fn post(&self, path: &str, body: &[u8]) -> Answer {
        self.send("POST", path, &[("content-type", "application/json")], body)
    }

    pub fn send(&self, method: &str, path: &str, headers: &[(&str, &str)], body: &[u8]) -> Answer {
        let mut stream = self.connect();
        let mut head = format!("{method} {path} HTTP/1.1\r\nconnection: close\r\n");
        if !headers.iter().any(|(name, _)| *name == "host") {
            head += "host: localhost\r\n";
        }
        if !body.is_empty() {
            head += &format!("content-length: {}\r\n", body.len());
        }
        for (name, value) in headers {
            head += &format!("{name}: {value}\r\n");
        }
        stream.write_all(format!("{head}\r\n").as_bytes()).unwrap();
        // The server may answer and close before it has read all of a body it refuses.
        let _ = stream.write_all(body);
        Answer::read(&mut stream)
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        self.stop();
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

#[derive(Debug)]
pub struct Answer {
    pub status: u16,
    pub head: String,
    pub body: Vec<u8>,
}

impl Answer {
    /// Reads until the server closes.
    pub fn read(stream: &mut TcpStream) -> Self {
        let mut all = Vec::new();
        // A reset after the answer is how a refused body ends.
        let _ = stream.read_to_end(&mut all);
        Self::parse(&all)
    }

    pub fn parse(all: &[u8]) -> Self {
        let end = all.windows(4).position(|w| w == b"\r\n\r\n").unwrap_or(all.len());
        let head = String::from_utf8_lossy(&all[..end]).to_lowercase();
        let status = head.split(' ').nth(1).and_then(|s| s.parse().ok()).unwrap_or_default();
        let rest = all.get(end + 4..).unwrap_or_default();
        let chunked = head.contains("transfer-encoding: chunked");
        let body = if chunked { unchunk(rest) } else { rest.to_vec() };
        Self { status, head, body }
    }

    pub fn header(&self, name: &str) -> Option<&str> {
        self.head.lines().find_map(|l| l.strip_prefix(&format!("{name}: ")))
    }

    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    pub fn json(&self) -> serde_json::Value {
        serde_json::from_slice(&self.body).unwrap_or_else(|e| panic!("{e}: {self:?}"))
    }
}

fn unchunk(mut rest: &[u8]) -> Vec<u8> {
    let mut body = Vec::new();
    while let Some(end) = rest.windows(2).position(|w| w == b"\r\n") {
        let size = std::str::from_utf8(&rest[..end])
            .ok()
            .and_then(|s| usize::from_str_radix(s, 16).ok())
            .unwrap_or(0);
        if size == 0 {
            break;
        }
        let chunk = &rest[end + 2..];
        body.extend_from_slice(&chunk[..size.min(chunk.len())]);
        rest = chunk.get(size + 2..).unwrap_or_default();
    }
    body
}

//! Sends requests at a fixed rate and tells how long the answers took, counted from the moment
//! each request was due, not from when it could be sent: a server that falls behind is seen to.
//! Usage: `paced ADDRESS PATH BODY-FILE CONNECTIONS REQUESTS-PER-SECOND SECONDS`. Connections are
//! kept; a request that is due while all are in use waits, and its wait counts.
#![allow(clippy::print_stdout, reason = "a program for the terminal")]

use std::error::Error;
use std::io::{Error as IoError, ErrorKind};
use std::sync::Arc;
use std::time::Duration;
use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;
use tokio::sync::Mutex;
use tokio::time::{Instant, sleep_until};

#[tokio::main(flavor = "current_thread")]
async fn main() -> Result<(), Box<dyn Error>> {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let [address, path, file, connections, rate, seconds] = args.as_slice() else {
        return Err("usage: paced ADDRESS PATH BODY-FILE CONNECTIONS RATE SECONDS".into());
    };
    let (connections, rate): (usize, f64) = (connections.parse()?, rate.parse()?);
    let total = (rate * seconds.parse::<f64>()?) as u32;
    let body = std::fs::read(file)?;
    let mut request = format!(
        "POST {path} HTTP/1.1\r\nhost: localhost\r\ncontent-type: application/json\r\n\
         content-length: {}\r\n\r\n",
        body.len()
    )
    .into_bytes();
    request.extend_from_slice(&body);
    let request = Arc::new(request);
    let begin = Instant::now() + Duration::from_millis(100);
    // The next request that is due; whichever connection is free takes it.
    let next = Arc::new(Mutex::new(0_u32));
    let mut workers = Vec::new();
    for _ in 0..connections {
        let mut stream = TcpStream::connect(address).await?;
        stream.set_nodelay(true)?;
        let (request, next) = (Arc::clone(&request), Arc::clone(&next));
        workers.push(tokio::spawn(async move {
            let mut took = Vec::new();
            loop {
                let due = {
                    let mut next = next.lock().await;
                    if *next == total {
                        return Ok::<_, IoError>(took);
                    }
                    let due = begin + Duration::from_secs_f64(f64::from(*next) / rate);
                    *next += 1;
                    due
                };
                sleep_until(due).await;
                stream.write_all(&request).await?;
                read_answer(&mut stream).await?;
                took.push(due.elapsed());
            }
        }));
    }
    let mut took = Vec::new();
    for worker in workers {
        took.extend(worker.await??);
    }
    let span = begin.elapsed().as_secs_f64();
    took.sort_unstable();
    let at = |share: f64| {
        let i = ((took.len() as f64 * share) as usize).min(took.len().saturating_sub(1));
        took.get(i).map_or(0.0, |t| t.as_secs_f64() * 1000.0)
    };
    println!(
        "asked {rate:.0}/s, answered {:.0}/s: half within {:.2} ms, 90 % {:.2} ms, 99 % {:.2} ms, \
         the slowest {:.2} ms",
        took.len() as f64 / span,
        at(0.5),
        at(0.9),
        at(0.99),
        at(1.0)
    );
    Ok(())
}

/// Reads an answer of stated length and checks that it is one of success.
async fn read_answer(stream: &mut TcpStream) -> Result<(), IoError> {
    let wrong = |what: String| IoError::new(ErrorKind::InvalidData, what);
    let mut bytes = Vec::with_capacity(16 << 10);
    loop {
        if stream.read_buf(&mut bytes).await? == 0 {
            return Err(wrong("the connection was closed".into()));
        }
        let Some(end) = bytes.windows(4).position(|w| w == b"\r\n\r\n") else { continue };
        let head = String::from_utf8_lossy(bytes.get(..end).unwrap_or_default()).to_lowercase();
        if !head.starts_with("http/1.1 200") {
            return Err(wrong(head));
        }
        let length: usize = head
            .lines()
            .find_map(|l| l.strip_prefix("content-length: ")?.parse().ok())
            .ok_or_else(|| wrong("the answer has no length".into()))?;
        while bytes.len() < end + 4 + length {
            if stream.read_buf(&mut bytes).await? == 0 {
                return Err(wrong("the answer broke off".into()));
            }
        }
        return Ok(());
    }
}

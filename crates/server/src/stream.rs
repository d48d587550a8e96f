//! `POST /v1/…/stream` of every call: one request a line in, one answer a line out, no faster than the
//! caller reads. Only the line in work is kept.

use crate::body::{broken_off, expect_media, slow};
use crate::lane::Client;
use crate::problem::{Problem, Refusal};
use crate::seat::{InWork, client};
use crate::state::Shared;
use axum::body::{Body, BodyDataStream};
use axum::extract::State;
use axum::http::{HeaderValue, Request, Response, header};
use axum::routing::{MethodRouter, post};
use bytes::{Buf, Bytes, BytesMut};
use futures_util::{StreamExt, stream};
use guardcell::calls::{AnyCall, STREAM};
use guardcell::{Code, Error};
use std::convert::Infallible;
use std::sync::Arc;
use tokio::time::{Instant, timeout_at};

pub(crate) const MEDIA: &str = "application/x-ndjson";
/// The path at which a call answers many requests.
pub(crate) fn path(call: AnyCall) -> String {
    format!("/v1/{}{STREAM}", call.path())
}

/// The path of one request, if this is one of many.
pub(crate) fn without(path: &str) -> Option<&str> {
    path.strip_suffix(STREAM)
}

/// The route of a call for many requests.
pub(crate) fn answering(call: AnyCall) -> MethodRouter<Arc<Shared>> {
    post(move |State(shared): State<Arc<Shared>>, request: Request<Body>| async move {
        answers(call, shared, request)
    })
}

fn answers(
    call: AnyCall,
    shared: Arc<Shared>,
    request: Request<Body>,
) -> Result<Response<Body>, Refusal> {
    expect_media(request.headers(), &[MEDIA, "application/ndjson", "application/jsonl"])?;
    let client = client(request.extensions());
    let until = Instant::now() + shared.config.stream_time;
    let seat = request.extensions().get::<InWork>().cloned();
    let lines = Lines {
        call,
        shared,
        body: request.into_body().into_data_stream(),
        buffer: BytesMut::new(),
        searched: 0,
        number: 0,
        state: Reading::Open,
        client,
        until,
        _seat: seat,
    };
    let answers = stream::unfold(lines, |mut lines| async move {
        let answer = lines.next_answer().await?;
        Some((Ok::<Bytes, Infallible>(answer), lines))
    });
    let mut response = Response::new(Body::from_stream(answers));
    response.headers_mut().insert(header::CONTENT_TYPE, HeaderValue::from_static(MEDIA));
    response.headers_mut().insert(header::CACHE_CONTROL, HeaderValue::from_static("no-store"));
    Ok(response)
}

#[derive(PartialEq, Eq)]
enum Reading {
    Open,
    /// The body has ended; what is in the buffer is the last line.
    Ended,
    /// Nothing more is answered.
    Done,
}

struct Lines {
    call: AnyCall,
    shared: Arc<Shared>,
    body: BodyDataStream,
    buffer: BytesMut,
    /// How much of the buffer is known to hold no line end.
    searched: usize,
    number: u64,
    state: Reading,
    client: Client,
    /// When the stream ends, whatever its caller still has to ask.
    until: Instant,
    _seat: Option<InWork>,
}

impl Lines {
    async fn next_answer(&mut self) -> Option<Bytes> {
        // A line, not a byte, must arrive in time; blank lines do not put that off.
        let line_until = Instant::now() + self.shared.config.body_time;
        loop {
            if self.state == Reading::Done {
                return None;
            }
            if Instant::now() > self.until {
                self.state = Reading::Done;
                return Some(refused(self.number + 1, &too_long(&self.shared)));
            }
            if let Some(line) = self.take_line() {
                self.number += 1;
                if line.trim_ascii().is_empty() {
                    continue;
                }
                let (shared, number) = (Arc::clone(&self.shared), self.number);
                return Some(answer(self.call, &shared, self.client, number, line).await);
            }
            if self.state == Reading::Ended {
                return None;
            }
            if let Err(error) = self.read_more(line_until).await {
                self.state = Reading::Done;
                self.number += 1;
                return Some(refused(self.number, &error));
            }
        }
    }

    fn take_line(&mut self) -> Option<Bytes> {
        let rest = self.buffer.get(self.searched..).unwrap_or_default();
        if let Some(i) = rest.iter().position(|&b| b == b'\n') {
            let line = self.buffer.split_to(self.searched + i).freeze();
            self.buffer.advance(1);
            self.searched = 0;
            return Some(line);
        }
        self.searched = self.buffer.len();
        if self.state == Reading::Ended && !self.buffer.is_empty() {
            self.searched = 0;
            return Some(self.buffer.split().freeze());
        }
        None
    }

    async fn read_more(&mut self, line_until: Instant) -> Result<(), Error> {
        match timeout_at(line_until.min(self.until), self.body.next()).await {
            Ok(Some(Ok(frame))) => {
                if self.buffer.len() + frame.len() > self.shared.config.body_bytes
                    && !frame.contains(&b'\n')
                {
                    return Err(Error::new(
                        Code::TooLarge,
                        format!("the line is longer than {} bytes", self.shared.config.body_bytes),
                        "send less in one line",
                    ));
                }
                self.buffer.extend_from_slice(&frame);
                Ok(())
            }
            Ok(Some(Err(_))) => Err(broken_off()),
            Ok(None) => {
                self.state = Reading::Ended;
                Ok(())
            }
            Err(_) if Instant::now() > self.until => Err(too_long(&self.shared)),
            Err(_) => Err(slow(&self.shared)),
        }
    }
}

/// The answer to one line.
async fn answer(call: AnyCall, shared: &Shared, client: Client, number: u64, line: Bytes) -> Bytes {
    shared.metrics.stream_lines.inc();
    let size = line.len();
    let prepare = move || call.prepare(&line);
    match shared.calculate(client, size, prepare).await {
        Ok(answer) => {
            let mut out = format!("{{\"line\":{number},\"answer\":").into_bytes();
            out.extend_from_slice(&answer);
            out.extend_from_slice(b"}\n");
            out.into()
        }
        Err(error) => refused(number, &error),
    }
}

fn too_long(shared: &Shared) -> Error {
    Error::new(
        Code::Timeout,
        format!("a stream ends after {} s", shared.config.stream_time.as_secs()),
        "send the rest in another stream",
    )
}

/// The answer to a line that is refused.
fn refused(number: u64, error: &Error) -> Bytes {
    // Plain strings and numbers always serialise.
    let problem = serde_json::to_string(&Problem::of(error)).unwrap_or_default();
    format!("{{\"line\":{number},\"problem\":{problem}}}\n").into()
}

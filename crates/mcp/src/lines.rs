//! Messages as lines: read and written within bounds.
//!
//! A line that is too long, or no JSON, is answered with an error of the protocol and passed over.
//! While answers wait to be written nothing more is read, so that a client that does not read costs
//! no memory; and the end of the input is passed on only once everything is answered.

use guardcell::{Code, Error};
use rmcp::RoleServer;
use rmcp::model::{
    CallToolRequest, ClientNotification, ErrorCode, ErrorData, JsonRpcMessage, JsonRpcRequest,
    RequestId,
};
use rmcp::service::{RxJsonRpcMessage, TxJsonRpcMessage};
use rmcp::transport::Transport;
use serde_json::Value;
use std::collections::HashSet;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use tokio::io::{AsyncBufReadExt as _, AsyncRead, AsyncWrite, AsyncWriteExt as _, BufReader};
use tokio::sync::Notify;

/// The longest line, bytes: as the body of a request over HTTP.
const MOST_LINE: usize = 4 << 20;
/// The most requests that are open at once; more are refused.
const MOST_OPEN: usize = 32;
/// The most answers that wait to be written before reading stops.
const MOST_WAITING: usize = 32;

/// The lines of one client.
pub(crate) struct Lines<R, W> {
    input: BufReader<R>,
    line: Vec<u8>,
    /// The rest of a line that was too long is passed over.
    passing_over: bool,
    output: Arc<tokio::sync::Mutex<W>>,
    open: Arc<Open>,
}

/// What is not yet answered.
#[derive(Default)]
struct Open {
    count: Mutex<Count>,
    changed: Notify,
}

#[derive(Default)]
struct Count {
    requests: HashSet<RequestId>,
    waiting: usize,
}

impl Open {
    fn lock(&self) -> MutexGuard<'_, Count> {
        // Nothing in here can panic half way.
        self.count.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Waits until this holds.
    async fn until(&self, holds: impl Fn(&Count) -> bool + Send) {
        loop {
            let changed = self.changed.notified();
            if holds(&self.lock()) {
                return;
            }
            changed.await;
        }
    }
}

/// One answer that is being written; counted until it is dropped.
struct Writing(Arc<Open>, Option<RequestId>);

impl Writing {
    fn begun(open: &Arc<Open>, id: Option<RequestId>) -> Self {
        open.lock().waiting += 1;
        Self(Arc::clone(open), id)
    }
}

impl Drop for Writing {
    fn drop(&mut self) {
        let mut count = self.0.lock();
        count.waiting -= 1;
        if let Some(id) = &self.1 {
            count.requests.remove(id);
        }
        drop(count);
        self.0.changed.notify_waiters();
    }
}

/// What was read.
enum Read {
    Line,
    TooLong,
    End,
}

impl<R: AsyncRead + Unpin + Send, W: AsyncWrite + Unpin + Send + 'static> Lines<R, W> {
    pub(crate) fn new(input: R, output: W) -> Self {
        Self {
            input: BufReader::new(input),
            line: Vec::new(),
            passing_over: false,
            output: Arc::new(tokio::sync::Mutex::new(output)),
            open: Arc::default(),
        }
    }

    /// Reads a line into `self.line`, never more than [`MOST_LINE`] of it. It may be dropped at any
    /// await and asked again: what was read stays.
    async fn read(&mut self) -> Read {
        loop {
            let Ok(available) = self.input.fill_buf().await else { return Read::End };
            if available.is_empty() {
                // A last line without an end of line counts.
                return if self.line.is_empty() { Read::End } else { Read::Line };
            }
            let end = available.iter().position(|b| *b == b'\n');
            let taken = end.map_or(available.len(), |at| at + 1);
            let too_long = !self.passing_over && self.line.len() + taken > MOST_LINE;
            if too_long {
                self.line = Vec::new();
                self.passing_over = true;
            } else if !self.passing_over {
                self.line.extend_from_slice(&available[..taken]);
            }
            self.input.consume(taken);
            if end.is_some() && !std::mem::take(&mut self.passing_over) {
                return Read::Line;
            }
            if too_long {
                return Read::TooLong;
            }
        }
    }

    /// What a line is, or what to answer instead.
    fn understood(&self) -> Result<Option<RxJsonRpcMessage<RoleServer>>, Refused> {
        let line = self.line.trim_ascii();
        if line.is_empty() {
            return Ok(None);
        }
        let message = message(line).map_err(|e| Refused::of(line, &e))?;
        let mut count = self.open.lock();
        match &message {
            JsonRpcMessage::Request(request) => {
                if count.requests.len() >= MOST_OPEN {
                    return Err(Refused::busy(request.id.clone()));
                }
                count.requests.insert(request.id.clone());
            }
            // A request that was cancelled is not answered.
            JsonRpcMessage::Notification(n) => {
                if let ClientNotification::CancelledNotification(cancelled) = &n.notification
                    && let Some(id) = &cancelled.params.request_id
                {
                    count.requests.remove(id);
                }
            }
            JsonRpcMessage::Response(_) | JsonRpcMessage::Error(_) => {}
        }
        Ok(Some(message))
    }
}

/// A message. Almost all that is long is the call of a tool: that is tried first and alone, because
/// the reader of any message tries every kind of it on a copy.
fn message(line: &[u8]) -> Result<RxJsonRpcMessage<RoleServer>, serde_json::Error> {
    if let Ok(call) = serde_json::from_slice::<JsonRpcRequest<CallToolRequest>>(line) {
        return Ok(JsonRpcMessage::request(call.request.into(), call.id));
    }
    serde_json::from_slice(line)
}

/// A message that is not passed on.
struct Refused {
    id: Option<RequestId>,
    code: ErrorCode,
    error: Error,
}

impl Refused {
    /// The fault of a line that is no message.
    fn of(line: &[u8], e: &serde_json::Error) -> Self {
        match serde_json::from_slice::<Value>(line) {
            Ok(value) => Self {
                id: value.get("id").cloned().and_then(|id| serde_json::from_value(id).ok()),
                code: ErrorCode::INVALID_REQUEST,
                error: Error::new(
                    Code::WrongForm,
                    format!("this is no message of the protocol: {e}"),
                    "send a request with `jsonrpc`, `id`, `method` and `params`",
                ),
            },
            Err(e) => Self {
                id: None,
                code: ErrorCode::PARSE_ERROR,
                error: Error::new(
                    Code::MalformedJson,
                    format!("the line is not valid JSON: {e}"),
                    "send one JSON object a line (RFC 8259)",
                ),
            },
        }
    }

    fn busy(id: RequestId) -> Self {
        Self {
            id: Some(id),
            code: ErrorCode::INTERNAL_ERROR,
            error: Error::new(
                Code::Busy,
                format!("{MOST_OPEN} requests are open"),
                "wait for an answer before you ask more",
            ),
        }
    }

    fn too_long() -> Self {
        Self {
            id: None,
            code: ErrorCode::INVALID_REQUEST,
            error: Error::new(
                Code::TooLarge,
                format!("the line is longer than {} MiB", MOST_LINE >> 20),
                "ask for less at once",
            ),
        }
    }

    fn message(self) -> TxJsonRpcMessage<RoleServer> {
        let data = serde_json::to_value(&self.error).ok();
        JsonRpcMessage::error(
            ErrorData::new(self.code, self.error.detail().to_owned(), data),
            self.id,
        )
    }
}

impl<R, W> Transport<RoleServer> for Lines<R, W>
where
    R: AsyncRead + Unpin + Send + 'static,
    W: AsyncWrite + Unpin + Send + 'static,
{
    type Error = std::io::Error;

    fn send(
        &mut self,
        item: TxJsonRpcMessage<RoleServer>,
    ) -> impl Future<Output = Result<(), Self::Error>> + Send + 'static {
        let id = match &item {
            JsonRpcMessage::Response(response) => Some(response.id.clone()),
            JsonRpcMessage::Error(error) => error.id.clone(),
            JsonRpcMessage::Request(_) | JsonRpcMessage::Notification(_) => None,
        };
        let writing = Writing::begun(&self.open, id);
        let output = Arc::clone(&self.output);
        async move {
            let _writing = writing;
            let mut line = serde_json::to_vec(&item)?;
            drop(item);
            line.push(b'\n');
            let mut output = output.lock().await;
            output.write_all(&line).await?;
            output.flush().await
        }
    }

    async fn receive(&mut self) -> Option<RxJsonRpcMessage<RoleServer>> {
        loop {
            let open = Arc::clone(&self.open);
            open.until(|count| count.waiting < MOST_WAITING).await;
            let read = self.read().await;
            let understood = match read {
                Read::Line => self.understood(),
                Read::TooLong => Err(Refused::too_long()),
                Read::End => {
                    open.until(|count| count.requests.is_empty() && count.waiting == 0).await;
                    return None;
                }
            };
            self.line.clear();
            match understood {
                Ok(Some(message)) => return Some(message),
                Ok(None) => {}
                // Written on its own: reading may be broken off at any await.
                Err(refused) => {
                    tokio::spawn(self.send(refused.message()));
                }
            }
        }
    }

    async fn close(&mut self) -> Result<(), Self::Error> {
        self.output.lock().await.shutdown().await
    }
}

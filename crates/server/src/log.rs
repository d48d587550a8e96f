//! The log, which must never stop the service: lines go to a thread of their own through a bounded
//! queue. Where standard error is full, closed or not read, lines are lost and counted.

use prometheus_client::metrics::counter::Counter;
use std::io::{self, Write};
use std::sync::LazyLock;
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::time::Duration;
use tracing_subscriber::EnvFilter;
use tracing_subscriber::fmt::MakeWriter;

/// The form of log lines, which go to standard error.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum LogForm {
    /// No log.
    #[default]
    None,
    /// For people.
    Text,
    /// One JSON object a line.
    Json,
}

/// Lines that wait for standard error, at most: some hundred kilobytes.
const WAITING: usize = 2048;
/// How long the end of a program waits for the last lines.
const LAST_LINES: Duration = Duration::from_millis(300);

/// Lines lost since the program began.
pub(crate) fn lost() -> &'static Counter {
    static LOST: LazyLock<Counter> = LazyLock::new(Counter::default);
    &LOST
}

/// What goes to the thread that writes.
enum Message {
    Line(Vec<u8>),
    /// Answers once everything before it is written.
    Flushed(SyncSender<()>),
}

/// Hands lines to the thread that writes them.
#[derive(Clone)]
pub(crate) struct Queue(SyncSender<Message>);

impl Queue {
    /// Starts the thread, which writes to `to`.
    fn new(to: impl Write + Send + 'static) -> io::Result<Self> {
        let (queue, lines) = sync_channel(WAITING);
        std::thread::Builder::new().name("log".into()).spawn(move || write_all(&lines, to))?;
        Ok(Self(queue))
    }

    /// Waits a moment for the lines so far.
    pub(crate) fn flush(&self) {
        let (written, wait) = sync_channel(1);
        if self.0.try_send(Message::Flushed(written)).is_ok() {
            // A standard error that nobody reads is not waited for.
            let _ = wait.recv_timeout(LAST_LINES);
        }
    }
}

fn write_all(lines: &Receiver<Message>, mut to: impl Write) {
    for message in lines {
        match message {
            Message::Line(line) => {
                if to.write_all(&line).is_err() {
                    lost().inc();
                }
            }
            Message::Flushed(written) => {
                let _ = to.flush();
                let _ = written.try_send(());
            }
        }
    }
}

/// One event on its way: the formatter writes a whole line at once.
pub(crate) struct Line(SyncSender<Message>);

impl Write for Line {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        if self.0.try_send(Message::Line(bytes.to_vec())).is_err() {
            lost().inc();
        }
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

impl<'a> MakeWriter<'a> for Queue {
    type Writer = Line;

    fn make_writer(&'a self) -> Line {
        Line(self.0.clone())
    }
}

/// Sets up the log of this program; one that the program has set up already is kept.
pub(crate) fn start(form: LogForm) -> Option<Queue> {
    if form == LogForm::None {
        return None;
    }
    let queue = Queue::new(io::stderr()).ok()?;
    let filter =
        EnvFilter::try_from_env("GUARDCELL_LOG").unwrap_or_else(|_| EnvFilter::new("info"));
    // The formatter would report its own errors on the very standard error that failed, and panic.
    let lines = tracing_subscriber::fmt()
        .with_env_filter(filter)
        .with_writer(queue.clone())
        .log_internal_errors(false);
    let _ = match form {
        LogForm::Json => lines.json().flatten_event(true).try_init(),
        LogForm::Text | LogForm::None => lines.with_ansi(false).try_init(),
    };
    Some(queue)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::mpsc::channel;

    /// A standard error that takes nothing until it is let go.
    struct Stuck(Receiver<()>);

    impl Write for Stuck {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            let _ = self.0.recv();
            Ok(bytes.len())
        }

        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn a_log_that_nobody_reads_loses_lines_and_holds_nobody() {
        let (go, held) = channel();
        let queue = Queue::new(Stuck(held)).unwrap();
        let before = lost().get();
        let started = std::time::Instant::now();
        for _ in 0..WAITING + 100 {
            queue.make_writer().write_all(b"line\n").unwrap();
        }
        queue.flush();
        assert!(started.elapsed() < Duration::from_secs(5));
        // One line may be in the hands of the thread.
        assert!(lost().get() - before >= 99);
        drop(go);
    }
}

//! Batches answered on several threads, in order.

use arrow_array::RecordBatch;
use arrow_array::ffi_stream::RecordBatchStreamReader;
use arrow_schema::ArrowError;
use arrow_select::concat::concat_batches;
use guardcell::Error;
use guardcell_table::batch::{Answered, Asked, Worker};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, PoisonError};

/// Pieces for each thread between two looks at the source: the last ones to end leave a thread idle
/// for a piece at most.
const PIECES_A_THREAD: usize = 16;

/// Rows that are answered as they are asked for.
pub(crate) struct Work {
    source: RecordBatchStreamReader,
    asked: Asked,
    workers: Vec<Worker>,
    /// What is left of the last batch of the source.
    rest: Option<RecordBatch>,
    rows: u64,
    /// The rows that could not be answered, counted from 1.
    pub(crate) failed: Vec<(u64, Error)>,
    /// Whether the source has ended.
    pub(crate) ended: bool,
}

impl Work {
    pub(crate) fn new(source: RecordBatchStreamReader, asked: Asked, threads: usize) -> Self {
        let workers = (0..threads.max(1)).map(|_| asked.worker()).collect();
        let (rest, failed) = (None, Vec::new());
        Self { source, asked, workers, rest, rows: 0, failed, ended: false }
    }

    /// The next rows of the source. It is asked on the thread that reads the answers: it may be code
    /// of Python.
    pub(crate) fn fetch(&mut self) -> Option<Result<RecordBatch, ArrowError>> {
        loop {
            let batch = match self.rest.take() {
                Some(batch) => batch,
                None => match self.source.next() {
                    Some(Ok(batch)) => batch,
                    Some(Err(e)) => return Some(Err(e)),
                    None => {
                        self.ended = true;
                        return None;
                    }
                },
            };
            let most = self.asked.rows_at_a_time() * self.workers.len() * PIECES_A_THREAD;
            let rows = batch.num_rows();
            if rows > most {
                self.rest = Some(batch.slice(most, rows - most));
                return Some(Ok(batch.slice(0, most)));
            }
            if rows > 0 {
                return Some(Ok(batch));
            }
        }
    }

    /// Answers rows.
    pub(crate) fn answer(&mut self, batch: &RecordBatch) -> Result<RecordBatch, ArrowError> {
        let (rows, piece) = (batch.num_rows(), self.asked.rows_at_a_time());
        let starts: Vec<usize> = (0..rows).step_by(piece).collect();
        let next = AtomicUsize::new(0);
        let made: Mutex<Vec<(usize, Result<Answered, Error>)>> = Mutex::default();
        let run = |worker: &mut Worker| {
            while let Some(start) = starts.get(next.fetch_add(1, Ordering::Relaxed)) {
                let part = batch.slice(*start, piece.min(rows - start));
                let answered = worker.answer(&part, Vec::new());
                made.lock().unwrap_or_else(PoisonError::into_inner).push((*start, answered));
            }
        };
        let threads = starts.len().min(self.workers.len());
        match self.workers.get_mut(..threads) {
            Some([one]) => run(one),
            Some(several) => std::thread::scope(|threads| {
                for worker in several {
                    threads.spawn(|| run(worker));
                }
            }),
            None => {}
        }
        let mut made = made.into_inner().unwrap_or_else(PoisonError::into_inner);
        made.sort_by_key(|(start, _)| *start);
        let mut parts = Vec::with_capacity(made.len());
        for (start, answered) in made {
            let Answered { answers, failed } =
                answered.map_err(|e| ArrowError::ExternalError(Box::new(e)))?;
            let before = self.rows + start as u64 + 1;
            self.failed.extend(failed.into_iter().map(|(row, e)| (before + row as u64, e)));
            parts.push(answers);
        }
        self.rows += rows as u64;
        match parts.as_slice() {
            [one] => Ok(one.clone()),
            _ => concat_batches(self.asked.schema(), &parts),
        }
    }
}

//! Pieces of the input to all threads, and their answers back in order.
//!
//! No more pieces are on the way than there are permits: one is given back when an answer has been
//! written. What is kept in memory is bounded by that, however long the input is and however much
//! slower one piece is than the next.

use super::done::Done;
use super::rows::{Answering, Worker};
use super::split::{Piece, Pieces};
use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Mutex;
use std::sync::mpsc::{Receiver, Sender, channel, sync_channel};

/// Pieces on the way for each thread that answers.
const PIECES_A_THREAD: usize = 4;

/// What ends a run before its time.
pub(crate) enum Stop<E> {
    /// The input cannot be read.
    Input(std::io::Error),
    /// The answers cannot be written.
    Output(E),
    /// A thread broke down.
    Panicked,
}

/// Room for answers that have been written, to be written into again: room that is new to the
/// process costs as much as the answers in it.
type Room = Mutex<Vec<Vec<u8>>>;

enum Part {
    Done(Box<Done>),
    Broken,
    Unread(std::io::Error),
}

/// Answers every piece on `jobs` threads and hands the answers to `write` in the order of the
/// input.
pub(crate) fn run<E>(
    mut input: Box<dyn Pieces>,
    answering: &Answering,
    jobs: usize,
    mut write: impl FnMut(&Done) -> Result<(), E>,
) -> Result<(), Stop<E>> {
    let jobs = jobs.max(1);
    let (permit, permits) = sync_channel::<()>(jobs * PIECES_A_THREAD);
    let (send_piece, pieces) = channel::<(u64, Piece)>();
    let (send_part, parts) = channel::<(u64, Part)>();
    let (give_back, spent) = channel::<Vec<u8>>();
    let pieces = Mutex::new(pieces);
    let room = Room::default();
    std::thread::scope(|threads| {
        let unread = send_part.clone();
        threads.spawn(move || {
            for number in 0.. {
                // Fails when the writer is gone: nobody waits for more.
                if permit.send(()).is_err() {
                    return;
                }
                if let Ok(bytes) = spent.try_recv() {
                    input.fill_again(bytes);
                }
                match input.rows() {
                    Ok(Some(piece)) => {
                        if send_piece.send((number, piece)).is_err() {
                            return;
                        }
                    }
                    Ok(None) => return,
                    Err(e) => {
                        let _ = unread.send((number, Part::Unread(e)));
                        return;
                    }
                }
            }
        });
        for _ in 0..jobs {
            let (pieces, room, send_part) = (&pieces, &room, send_part.clone());
            threads.spawn(move || answer(answering, pieces, room, &send_part));
        }
        drop(send_part);
        in_order(parts, permits, |mut done| {
            write(&done)?;
            // Nobody takes it when the input has ended.
            let _ = give_back.send(std::mem::take(&mut done.spent));
            if let Ok(mut room) = room.lock() {
                room.push(std::mem::take(&mut done.out));
            }
            Ok(())
        })
    })
}

fn answer(
    answering: &Answering,
    pieces: &Mutex<Receiver<(u64, Piece)>>,
    room: &Room,
    out: &Sender<(u64, Part)>,
) {
    let mut worker = Worker::new(answering);
    loop {
        // A thread that breaks down does so outside the lock.
        let next = match pieces.lock() {
            Ok(pieces) => pieces.recv(),
            Err(_) => return,
        };
        let Ok((number, piece)) = next else { return };
        let into = room.lock().ok().and_then(|mut room| room.pop()).unwrap_or_default();
        // The library has no way to panic that is known; one that is not must not hang the run.
        let part = match catch_unwind(AssertUnwindSafe(|| worker.answer(piece, into))) {
            Ok(done) => Part::Done(Box::new(done)),
            Err(_) => Part::Broken,
        };
        if out.send((number, part)).is_err() {
            return;
        }
    }
}

/// Writes the answers in order; `permits` goes with it, so that the reader ends where it ends.
fn in_order<E>(
    parts: Receiver<(u64, Part)>,
    permits: Receiver<()>,
    mut write: impl FnMut(Done) -> Result<(), E>,
) -> Result<(), Stop<E>> {
    let mut early: BTreeMap<u64, Part> = BTreeMap::new();
    let mut next = 0;
    for (number, part) in parts {
        early.insert(number, part);
        while let Some(part) = early.remove(&next) {
            match part {
                Part::Done(done) => write(*done).map_err(Stop::Output)?,
                Part::Broken => return Err(Stop::Panicked),
                Part::Unread(e) => return Err(Stop::Input(e)),
            }
            next += 1;
            // The piece was sent with a permit, so that there is one to take.
            let _ = permits.try_recv();
        }
    }
    Ok(())
}

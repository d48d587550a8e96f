//! Plants that may run either pathway: both candidate openings with their chances, and the
//! overlap in which it does not matter.

use crate::Code;
use crate::piece::{Piece, push};

/// Weaves the openings of the two pathways into one series without overlaps. `cam_share` is the
/// probability that the plant runs CAM; both inputs are sorted and disjoint.
pub(crate) fn weave(cam: &[Piece], c3: &[Piece], cam_share: f64) -> Vec<Piece> {
    let mut edges: Vec<i64> = cam.iter().chain(c3).flat_map(|p| [p.start, p.end]).collect();
    edges.sort_unstable();
    edges.dedup();
    let mut out = Vec::with_capacity(edges.len());
    for pair in edges.windows(2) {
        let &[start, end] = pair else { continue };
        let by_cam = over(cam, start, end);
        let by_c3 = over(c3, start, end);
        let piece = match (by_cam, by_c3) {
            (Some(a), Some(b)) => Piece {
                open: a.open * cam_share + b.open * (1.0 - cam_share),
                either: true,
                codes: a.codes | b.codes | Code::EitherPathway.bit(),
                air: a.air.with(b.air),
                ..*a
            },
            (Some(a), None) => Piece { open: a.open * cam_share, ..*a },
            (None, Some(b)) => Piece { open: b.open * (1.0 - cam_share), ..*b },
            (None, None) => continue,
        };
        if piece.open > 0.0 {
            push(&mut out, Piece { start, end, ..piece });
        }
    }
    out
}

/// The piece that covers `start..end`, an interval no edge falls into.
fn over(pieces: &[Piece], start: i64, end: i64) -> Option<&Piece> {
    let i = pieces.partition_point(|p| p.end <= start);
    pieces.get(i).filter(|p| p.start <= start && end <= p.end)
}

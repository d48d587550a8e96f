//! Where the kinds of the last texts are kept, found by a glance at the texts.

/// Places, a power of two; a table has a handful of kinds.
const SLOTS: usize = 256;

/// For the words behind a number and the target, the place of their kind. A text that falls on the
/// slot of another takes it.
#[derive(Debug, Default)]
pub(super) struct Seen(Vec<Slot>);

#[derive(Debug, Clone, Default)]
struct Slot {
    words: String,
    to: String,
    place: Option<usize>,
}

impl Seen {
    pub(super) fn place(&self, words: &str, to: &str) -> Option<usize> {
        let slot = self.0.get(slot(words, to))?;
        (slot.words == words && slot.to == to).then_some(slot.place)?
    }

    pub(super) fn put(&mut self, words: &str, to: &str, place: usize) {
        if self.0.is_empty() {
            self.0.resize(SLOTS, Slot::default());
        }
        if let Some(slot) = self.0.get_mut(slot(words, to)) {
            *slot = Slot { words: words.to_owned(), to: to.to_owned(), place: Some(place) };
        }
    }

    pub(super) fn clear(&mut self) {
        self.0.clear();
    }
}

/// The slot of two texts, by multiplying eight bytes at a time (the odd factor is 2^64 over the
/// golden ratio, after Knuth, The Art of Computer Programming, volume 3, section 6.4).
fn slot(words: &str, to: &str) -> usize {
    const FACTOR: u64 = 0x9e37_79b9_7f4a_7c15;
    let mut hash = words.len() as u64;
    for text in [words, to] {
        let mut chunks = text.as_bytes().chunks_exact(8);
        for chunk in &mut chunks {
            let mut eight = [0; 8];
            eight.copy_from_slice(chunk);
            hash = (hash ^ u64::from_le_bytes(eight)).wrapping_mul(FACTOR).rotate_left(29);
        }
        let rest = chunks.remainder().iter().fold(0, |n: u64, b| (n << 8) | u64::from(*b));
        hash = (hash ^ rest).wrapping_mul(FACTOR).rotate_left(29);
    }
    // The high bits of a product hold the most of both factors.
    (hash.wrapping_mul(FACTOR) >> 56) as usize % SLOTS
}

//! Taking a plant name as people write it apart: genus, epithet, hybrid sign, cultivar.

use crate::fold::{Key, fold};

/// A name in its parts. Nothing is copied but the folded genus.
#[derive(Clone, Copy)]
pub(crate) struct Query<'q> {
    /// The first word, folded.
    pub(crate) genus: Key,
    /// Whether the first word ended in a dot, as abbreviations do.
    pub(crate) dotted: bool,
    /// What follows, where it may be a specific epithet.
    pub(crate) epithet: Option<Epithet<'q>>,
    /// What follows a hybrid sign, if anything.
    pub(crate) other_parent: Option<&'q str>,
    /// Whether the name itself says that it is a hybrid.
    pub(crate) hybrid: bool,
    /// Whether the genus is meant in its broad sense (`s.l.`, `sensu lato`).
    pub(crate) broad: bool,
}

/// A word that may be a specific epithet.
#[derive(Clone, Copy)]
pub(crate) struct Epithet<'q> {
    pub(crate) word: &'q str,
    pub(crate) key: Key,
    /// Written as one: in small letters. A capitalised word is more likely a grex.
    pub(crate) small: bool,
}

fn is_hybrid_sign(word: &str) -> bool {
    matches!(word, "×" | "✕" | "⨯" | "x" | "X")
}

fn is_filler(word: &str) -> bool {
    let bare = word.trim_end_matches('.');
    [
        "sp",
        "spp",
        "species",
        "cf",
        "aff",
        "noid",
        "unknown",
        "unidentified",
        "unnamed",
        "mixed",
        "assorted",
        "orchid",
        "orchids",
        "s.l",
        "s.s",
        "s.str",
        "sensu",
        "lato",
        "stricto",
    ]
    .iter()
    .any(|f| bare.eq_ignore_ascii_case(f))
}

fn says_broad(word: &str) -> bool {
    ["s.l", "lato"].iter().any(|f| word.trim_end_matches('.').eq_ignore_ascii_case(f))
}

fn says_hybrid(word: &str) -> bool {
    let bare = word.trim_matches(|c: char| !c.is_alphanumeric());
    ["hybrid", "hybrids", "hyb", "grex"].iter().any(|f| bare.eq_ignore_ascii_case(f))
}

fn opens_quote(word: &str) -> bool {
    word.starts_with(['\'', '"', '‘', '’', '“', '„', '«', '`'])
}

impl<'q> Query<'q> {
    /// Takes a name apart. `None` if there is no word of Latin letters in it.
    pub(crate) fn parse(text: &'q str) -> Option<Self> {
        let mut rest = text.trim();
        let mut hybrid = false;
        // A leading hybrid sign, with or without a space.
        let (first, dotted) = loop {
            let (word, after) = split(rest);
            if word.is_empty() {
                return None;
            }
            rest = after;
            if is_hybrid_sign(word) {
                hybrid = true;
                continue;
            }
            // `NoID Phal`, `Unknown Cattleya`.
            if is_filler(word) {
                continue;
            }
            let bare = word.trim_start_matches(['×', '✕', '⨯']);
            hybrid |= bare.len() != word.len();
            let bare = bare.trim_end_matches([',', ';', ':']);
            break (bare, bare.ends_with('.'));
        };
        // `C.labiata`: the dot ends the abbreviation.
        let (first, dotted, glued) = match first.find('.') {
            Some(i) if i + 1 < first.len() => {
                let (a, b) = first.split_at(i);
                (a, true, b.get(1..))
            }
            _ => (first, dotted, None),
        };
        let mut query = Self {
            genus: fold(first)?,
            dotted,
            epithet: None,
            other_parent: None,
            hybrid,
            broad: false,
        };
        if let Some(word) = glued {
            query.take_epithet(word);
        }
        loop {
            let (word, after) = split(rest);
            if word.is_empty() || opens_quote(word) {
                break;
            }
            if is_hybrid_sign(word) {
                query.other_parent = Some(after).filter(|a| !a.is_empty());
                break;
            }
            rest = after;
            // `s.l.` is also written in two words.
            let in_two = word == "s." && matches!(split(after).0, "l." | "l");
            query.broad |= in_two || says_broad(word);
            if in_two {
                rest = split(after).1;
                continue;
            }
            if word.starts_with('(') {
                // `(nobile)` is an epithet; `(Dendrobium)`, `(L.)` and longer remarks are not.
                let inner = word.trim_matches(['(', ')']);
                if word.ends_with(')') && inner.starts_with(char::is_lowercase) {
                    query.hybrid |= says_hybrid(inner);
                    if !says_hybrid(inner) && !is_filler(inner) {
                        query.take_epithet(inner);
                    }
                } else if !word.ends_with(')') {
                    rest = rest.split_once(')').map_or("", |(_, behind)| behind);
                }
                continue;
            }
            if let Some(glued) = word.strip_prefix(['×', '✕', '⨯']) {
                query.hybrid = true;
                query.take_epithet(glued);
            } else if says_hybrid(word) {
                query.hybrid = true;
            } else if !is_filler(word) {
                query.take_epithet(word);
            }
        }
        Some(query)
    }

    /// Only the first word after the genus can be the epithet.
    fn take_epithet(&mut self, word: &'q str) {
        if self.epithet.is_none()
            && let Some(key) = fold(word)
        {
            self.epithet =
                Some(Epithet { word, key, small: !word.starts_with(char::is_uppercase) });
        }
    }
}

/// The first word (underscores count as spaces, as in file names), and the rest.
fn split(text: &str) -> (&str, &str) {
    let blank = |c: char| c.is_whitespace() || c == '_';
    let text = text.trim_start_matches(blank);
    match text.find(blank) {
        Some(i) => {
            let (word, rest) = text.split_at(i);
            (word, rest.trim_start_matches(blank))
        }
        None => (text, ""),
    }
}

#[cfg(test)]
mod tests {
    use super::Query;

    fn parts(text: &str) -> (String, bool, Option<String>, Option<&str>, bool) {
        let q = Query::parse(text).unwrap();
        (
            String::from_utf8(q.genus.bytes().to_vec()).unwrap(),
            q.dotted,
            q.epithet.map(|e| e.word.to_owned()),
            q.other_parent,
            q.hybrid,
        )
    }

    #[test]
    fn takes_names_apart() {
        let e = |s: &str| Some(s.to_owned());
        assert_eq!(parts("  CATTLÉYA "), ("cattleya".into(), false, None, None, false));
        assert_eq!(parts("Phal. amabilis"), ("phal".into(), true, e("amabilis"), None, false));
        assert_eq!(parts("C.labiata"), ("c".into(), true, e("labiata"), None, false));
        assert_eq!(parts("x Brassocattleya"), ("brassocattleya".into(), false, None, None, true));
        assert_eq!(
            parts("×Brassocattleya sp."),
            ("brassocattleya".into(), false, None, None, true)
        );
        assert_eq!(
            parts("Cattleya x Laelia"),
            ("cattleya".into(), false, None, Some("Laelia"), false)
        );
        assert_eq!(
            parts("Cattleya ×hardyana"),
            ("cattleya".into(), false, e("hardyana"), None, true)
        );
        assert_eq!(
            parts("Paphiopedilum 'Fern Hollow'"),
            ("paphiopedilum".into(), false, None, None, false)
        );
        assert_eq!(
            parts("Dendrobium cf. nobile"),
            ("dendrobium".into(), false, e("nobile"), None, false)
        );
        assert_eq!(parts("vanda_coerulea"), ("vanda".into(), false, e("coerulea"), None, false));
        assert!(Query::parse(" × ").is_none());
        assert!(Query::parse("蘭").is_none());
        assert!(Query::parse(&"a".repeat(500)).is_none());
    }
}

//! Genera in their broad sense (`Laelia s.l.`): the genus with those that species of it were moved to.
//!
//! Nothing is typed in: the parts are the accepted genera of the same subtribe to which a list that
//! was read, or a work, moves species printed under the genus (`data/species_names.csv` and the
//! names as printed). Linnaean uses of a name, such as *Epidendrum* for a *Vanda*, lie in other
//! subtribes.

use crate::genus::Genus;
use crate::name::NameEvidence;
use crate::species_name::species_names;

/// Species moved to a genus from which on it counts as a part; one alone may be a slip or a species
/// that was misplaced from the start.
const LEAST_MOVED: usize = 2;

/// The genus and the genera that are parts of it in its broad sense, those with most species first.
pub(crate) fn parts(genus: &'static Genus) -> Vec<&'static Genus> {
    let mut moved: Vec<(usize, &'static Genus)> = Vec::new();
    if genus.subtribe.is_empty() {
        return vec![genus];
    }
    let of_genus = |name: &str| name.split_once(' ').is_some_and(|(first, _)| first == genus.name);
    for name in species_names() {
        let now = name.genus();
        let reported = name.evidence == NameEvidence::Reported && of_genus(name.name);
        if !reported || now.name == genus.name || now.subtribe != genus.subtribe {
            continue;
        }
        match moved.iter_mut().find(|(_, g)| g.name == now.name) {
            Some((n, _)) => *n += 1,
            None => moved.push((1, now)),
        }
    }
    moved.retain(|(n, _)| *n >= LEAST_MOVED);
    moved.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.name.cmp(b.1.name)));
    core::iter::once(genus).chain(moved.into_iter().map(|(_, g)| g)).collect()
}

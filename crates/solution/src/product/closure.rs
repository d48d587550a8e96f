//! Counter-ions of a label that does not name its materials: the charge is closed once each way,
//! and the truth lies between.

use super::figures::set;
use crate::label::Analysis;
use crate::notice::{Notice, NoticeCode};
use guardcell_reference::{Composition, Solute};
use guardcell_units::atomic_weight::Element;
use guardcell_units::quantity::in_mmol_per_l;

/// The compositions, per unit, that bound what the label may be made of.
pub(super) fn close(analysis: &Analysis, notes: &mut Vec<Notice>) -> Vec<Composition> {
    let n = Element::N.g_per_mol();
    let mmol = |e: Element| analysis.of_element(e) / e.g_per_mol();
    let mut base = Composition::PURE_WATER;
    for (s, e) in [
        (Solute::Ca, Element::Ca),
        (Solute::Mg, Element::Mg),
        (Solute::K, Element::K),
        (Solute::Na, Element::Na),
        (Solute::P, Element::P),
        (Solute::So4, Element::S),
        (Solute::Cl, Element::Cl),
    ] {
        set(&mut base, s, mmol(e));
    }
    set(&mut base, Solute::No3, analysis.nitrate_n / n);
    set(&mut base, Solute::Nh4, analysis.ammoniacal_n / n);
    set(&mut base, Solute::Urea, analysis.urea_n / (2.0 * n));
    let other = analysis.other_n / n;
    let bases = if other > 0.0 && !analysis.forms_stated {
        notes.push(Notice::new(
            NoticeCode::NitrogenFormsUnknown,
            "The label does not split its nitrogen; the EC runs from all urea (which conducts \
             nothing) to all ammonium nitrate.",
        ));
        let mut urea = base;
        set(&mut urea, Solute::Urea, other / 2.0);
        let mut nitrate = base;
        set(&mut nitrate, Solute::No3, other / 2.0);
        set(&mut nitrate, Solute::Nh4, other / 2.0);
        vec![urea, nitrate]
    } else {
        vec![base]
    };
    let mut closed = Vec::new();
    let mut said = false;
    for b in bases {
        let charge = charge_meq(&b);
        let phosphate = in_mmol_per_l(b[Solute::P]);
        let scale = total_meq(&b).max(1e-9);
        if charge.abs() < 0.02 * scale {
            closed.push(b);
            continue;
        }
        let (one, two) = if charge > 0.0 {
            ((Solute::So4, 0.5), (Solute::Cl, 1.0))
        } else {
            // Phosphoric acid and its salts may bring phosphate without a cation.
            if -charge <= phosphate * 1.02 {
                closed.push(b);
            }
            ((Solute::Ca, 0.5), (Solute::Na, 1.0))
        };
        for (ion, per_charge) in [one, two] {
            let mut c = b;
            let now = in_mmol_per_l(c[ion]);
            set(&mut c, ion, now + charge.abs() * per_charge);
            closed.push(c);
        }
        if !said {
            said = true;
            let (what, a, b) = if charge > 0.0 {
                ("anions", "sulfate", "chloride")
            } else {
                ("cations", "calcium", "sodium")
            };
            notes.push(Notice::new(
                NoticeCode::CounterIonsAssumed,
                format!(
                    "The label names no materials (\"derived from\"), so its other {what} are not \
                     known; the charge is closed once with {a} and once with {b}, and the EC lies \
                     between the two."
                ),
            ));
        }
    }
    closed
}

/// Cations less anions, meq per unit, phosphate as H2PO4⁻.
fn charge_meq(c: &Composition) -> f64 {
    let m = |s: Solute| in_mmol_per_l(c[s]);
    2.0 * (m(Solute::Ca) + m(Solute::Mg)) + m(Solute::K) + m(Solute::Na) + m(Solute::Nh4)
        - m(Solute::No3)
        - m(Solute::P)
        - 2.0 * m(Solute::So4)
        - m(Solute::Cl)
        - m(Solute::Dic)
}

/// The larger of cations and anions, meq per unit.
fn total_meq(c: &Composition) -> f64 {
    let m = |s: Solute| in_mmol_per_l(c[s]);
    let cations =
        2.0 * (m(Solute::Ca) + m(Solute::Mg)) + m(Solute::K) + m(Solute::Na) + m(Solute::Nh4);
    let anions =
        m(Solute::No3) + m(Solute::P) + 2.0 * m(Solute::So4) + m(Solute::Cl) + m(Solute::Dic);
    cations.max(anions)
}

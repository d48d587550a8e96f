//! What to know before opening a bottle of acid.

use super::name::AcidName;
use crate::notice::{Notice, NoticeCode};

/// The cautions, in full for every acid.
pub(super) fn cautions(acid: AcidName) -> Vec<Notice> {
    let mut list = vec![
        Notice::new(
            NoticeCode::AcidIntoWater,
            "Always pour acid into water, slowly, stirring; never water into acid.",
        ),
        Notice::new(
            NoticeCode::ProtectEyesAndSkin,
            "Wear goggles or a face shield, acid-proof gloves and an apron; have running water \
             within reach, and rinse splashes at once and for long.",
        ),
        Notice::new(
            NoticeCode::NeverNearHypochlorite,
            "Never let acid meet bleach or another hypochlorite: poisonous chlorine gas is set \
             free. Keep them in different rooms.",
        ),
        Notice::new(
            NoticeCode::LabelAndLocalRules,
            "Follow the safety data sheet of the acid and the local rules for keeping, using and \
             discharging it; check that pipes and injector are made for acid.",
        ),
        Notice::new(
            NoticeCode::MeasureAfter,
            "Check pH and alkalinity of the treated water before it goes on plants, and again \
             after a day.",
        ),
    ];
    match acid {
        AcidName::Nitric => list.push(Notice::new(
            NoticeCode::NitricFumes,
            "Nitric acid gives off choking fumes and oxidises: open it only outdoors or under \
             extraction, away from anything that burns.",
        )),
        AcidName::Sulfuric => list.push(Notice::new(
            NoticeCode::SulfuricHeat,
            "Strong sulfuric acid heats water fiercely and chars skin and cloth; dilute in small \
             steps and let it cool.",
        )),
        AcidName::Phosphoric | AcidName::Citric => {}
    }
    list
}

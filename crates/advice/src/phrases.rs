//! The words of the advice: one catalogue of phrases, keyed by code. A second language would be
//! another table; nothing else makes sentences.
//!
//! A phrase names inputs of its reason in braces: `{due:when}` as it is, `{cap_mg_l:0}` with so many
//! decimals, `{tolerance:%}` as a percentage, `{due:when}` a time or a date as people say it,
//! `{strength_mg_l:feed}` a strength, or plain water.

use crate::reason_code::ReasonCode;
use jiff::fmt::temporal::Pieces;
use serde_json::{Map, Value};

/// The phrase of a code; `variant` picks among those of one code and is empty for the usual one.
pub(crate) fn phrase(code: ReasonCode, variant: &str) -> &'static str {
    PHRASES
        .iter()
        .find(|(c, v, _)| *c == code && *v == variant)
        .or_else(|| PHRASES.iter().find(|(c, _, _)| *c == code))
        .map_or(code.about(), |(_, _, words)| words)
}

/// Puts the inputs into a phrase.
pub(crate) fn filled(phrase: &str, inputs: &Map<String, Value>) -> String {
    let mut out = String::with_capacity(phrase.len() + 32);
    let mut rest = phrase;
    while let Some((before, after)) = rest.split_once('{') {
        out.push_str(before);
        let Some((name, behind)) = after.split_once('}') else {
            out.push('{');
            rest = after;
            continue;
        };
        let (name, form) = name.split_once(':').unwrap_or((name, ""));
        if let Some(value) = inputs.get(name) {
            out.push_str(&shown(value, form));
        }
        rest = behind;
    }
    out.push_str(rest);
    out
}

fn shown(value: &Value, form: &str) -> String {
    match (value, value.as_f64(), form) {
        (Value::String(text), _, "when") => when(text),
        (Value::String(text), _, _) => text.clone(),
        (_, Some(v), "%") => percent(v),
        (_, Some(v), "feed") if v > 0.0 => format!("{v:.0} mg/L"),
        (_, Some(_), "feed") => "plain water".into(),
        (_, Some(v), form) => match form.parse::<usize>() {
            Ok(decimals) => format!("{v:.decimals$}"),
            Err(_) => value.to_string(),
        },
        (other, None, _) => other.to_string(),
    }
}

/// `Mon 22 June, 05:30` of a time on the clock it was written by, `Mon 22 June 2026` of a date.
fn when(text: &str) -> String {
    let pieces = Pieces::parse(text).ok();
    match pieces.map(|p| (p.date(), p.time())) {
        Some((date, Some(time))) => date.to_datetime(time).strftime("%a %-d %B, %H:%M").to_string(),
        Some((date, None)) => date.strftime("%a %-d %B %Y").to_string(),
        None => text.to_owned(),
    }
}

/// A probability in words: whole per cent, and no false nothing.
pub(crate) fn percent(share: f64) -> String {
    let v = share * 100.0;
    if v > 0.0 && v < 1.0 { "under 1 %".into() } else { format!("{v:.0} %") }
}

use ReasonCode as C;

const PHRASES: &[(ReasonCode, &str, &str)] = &[
    // What holds for every plant
    (
        C::LabelRules,
        "",
        "The product's own label and local rules come first; where they ask for less, give less.",
    ),
    (
        C::LowerSideFirst,
        "",
        "Spray the lower side of the leaves first: of {species:0} orchid species whose both sides were looked at, {lower_only:0} have stomata there alone.",
    ),
    (
        C::RootTips,
        "",
        "Shake or blot drops off growing root tips: a drop hanging there concentrates as it dries.",
    ),
    (C::CrownWater, "", "Tip water out of crowns and new growths: left there it rots them."),
    (
        C::AerosolCare,
        "",
        "Do not breathe the mist; keep it off lamps, plugs, heaters and fans, and switch them off where it may reach them.",
    ),
    (
        C::WatchResidue,
        "",
        "When the leaves are dry, look for white residue. If there is any, give the next round at half the strength, until there is none.",
    ),
    (
        C::FeedUnknown,
        "",
        "No label was given: the feed is taken as potassium sulfate, the common feed salt that turns solid first.",
    ),
    (
        C::ScaleFromWater,
        "caution",
        "The water alone leaves {scale_caco3_mg_l:0} mg of carbonate scale a litre when it dries. That white is not feed: a weaker feed does not help, rain or reverse-osmosis water does.",
    ),
    (
        C::ThresholdLearned,
        "",
        "Residue is taken to be seen here from about {residue_threshold_g_m2:3} g/m\u{b2} on; the shipped value is {shipped_g_m2:3}.",
    ),
    (
        C::ThresholdLearned,
        "one-look",
        "Residue is taken to be seen here from about {residue_threshold_g_m2:3} g/m\u{b2} on, learned from one look at dry leaves; the shipped value is {shipped_g_m2:3}.",
    ),
    (
        C::ThresholdLearned,
        "looks",
        "Residue is taken to be seen here from about {residue_threshold_g_m2:3} g/m\u{b2} on, learned from {looks} looks at dry leaves; the shipped value is {shipped_g_m2:3}.",
    ),
    (
        C::AirAssumed,
        "day",
        "The readings of {area_name} end at {last_reading:when}. After that the last full day is taken to repeat; no strength above {most_mg_l:0} mg/L rests on assumed air, and nothing is advised from {advised_until:when} on.",
    ),
    (
        C::AirAssumed,
        "",
        "The readings of {area_name} end at {last_reading:when}. After that the humidity follows a day's course of the temperature by shelter and light; no strength above {most_mg_l:0} mg/L rests on assumed air, and nothing is advised from {advised_until:when} on.",
    ),
    // The plant itself
    (
        C::Rootless,
        "",
        "Without roots it gets soaks instead of a place in the round: {feed_strength_mg_l:0} mg/L for {soak_min:0} min, {soaks_a_day:0} times a day, dry in between (see `guardcell rescue`).",
    ),
    (
        C::NotGrowing,
        "",
        "At rest: no feed without active growth. A moving root tip counts as growth; look again next week.",
    ),
    // Strength
    (
        C::HumidSinglePass,
        "",
        "At {rh_least_percent:0} % humidity or more and air that hardly moves, a large established plant may get {to_mg_l:0} mg/L in one pass.",
    ),
    (C::StrengthByStanding, "", "{Standing}: at most {cap_mg_l:0} mg/L feed, one pass."),
    (
        C::StrengthByStanding,
        "passes",
        "{Standing} and large: at most {cap_mg_l:0} mg/L feed a pass, up to {passes_most:0} passes.",
    ),
    (
        C::StrengthByStanding,
        "small",
        "Small: at most {cap_mg_l:0} mg/L feed, one pass, whatever its standing.",
    ),
    (
        C::StrengthLowered,
        "residue",
        "Lowered from {from_mg_l:0} to {to_mg_l:0} mg/L: {next_mg_l:0} mg/L would leave visible residue with a probability of {next_residue_probability:%}, more than the tolerance of {tolerance:%}.",
    ),
    (
        C::StrengthLowered,
        "cost",
        "Lowered from {from_mg_l:0} to {to_mg_l:0} mg/L: {next_mg_l:0} mg/L would leave visible residue with a probability of {next_residue_probability:%}. That is within the tolerance of {tolerance:%}, but costs more than the stronger feed gains.",
    ),
    (
        C::StrengthLowered,
        "weekly",
        "Lowered from {from_mg_l:0} to {to_mg_l:0} mg/L: the pot may get {ceiling_mg_week:0} mg of feed a week, and {root_mg_week:0} mg of it come by the root.",
    ),
    (
        C::StrengthLowered,
        "learned",
        "Lowered from {from_mg_l:0} to {to_mg_l:0} mg/L: your journal proposes no more for the next round.",
    ),
    (
        C::StrengthLowered,
        "after-white",
        "Lowered from {from_mg_l:0} to {to_mg_l:0} mg/L: white was seen at {white_at_mg_l:0} mg/L; after white at most half of that is given until looks are clean again.",
    ),
    (
        C::StrengthLowered,
        "root-tip",
        "Lowered from {from_mg_l:0} to {to_mg_l:0} mg/L: stronger feed would concentrate in a drop at a root tip beyond what tips bear.",
    ),
    (
        C::ResidueAcceptable,
        "",
        "Visible residue has a probability of {residue_probability:%} at the worst hour of the window, within the tolerance of {tolerance:%}.",
    ),
    (
        C::DriesBeforeUptake,
        "",
        "The leaf is dry after about {dry_minutes:0} min, and {share_likely:%} of the feed has entered by then ({share_low:%} to {share_high:%}, plants differ that much); the rest goes in over hours or days, while the air is humid enough to keep it moist.",
    ),
    (
        C::StaysWet,
        "",
        "In the air of the window the salts stay liquid and uptake goes on ({share_likely:%} of the feed in {uptake_hours:0} h, {share_low:%} to {share_high:%}); what turns solid later is decided by the driest air that follows, {driest_rh_percent:0} %.",
    ),
    (
        C::VelamenDrinks,
        "",
        "The velamen of its roots fills within seconds, whatever the air; it stays wet for about {velamen_minutes:0} min here, and the root takes up from it until then.",
    ),
    (
        C::VelamenDrinks,
        "hours",
        "The velamen of its roots fills within seconds, whatever the air; it stays wet for about {velamen_hours:0} h here, and the root takes up from it until then.",
    ),
    (
        C::VelamenDrinks,
        "long",
        "The velamen of its roots fills within seconds, whatever the air, and stays wet for hours here.",
    ),
    (
        C::TimingInferred,
        "",
        "That open stomata help uptake is inferred from gas exchange and pore size; no work is known that measured foliar uptake by day against night in a CAM orchid, and uptake through the cuticle goes on with stomata shut.",
    ),
    // Obstacles
    (
        C::TimingInferred,
        "soaks-by-day",
        "Soaks lie in the light, when its stomata are expected open. That open stomata help uptake is inferred from gas exchange and pore size; no work is known that measured foliar uptake by day against night in a CAM orchid, and uptake through the cuticle goes on with stomata shut.",
    ),
    (
        C::TimingInferred,
        "soaks-by-night",
        "Soaks lie in the dark, when its stomata are expected open; begin after lights-out or sunset. That open stomata help uptake is inferred from gas exchange and pore size; no work is known that measured foliar uptake by day against night in a CAM orchid, and uptake through the cuticle goes on with stomata shut.",
    ),
    (
        C::JournalProposesLess,
        "",
        "Your journal proposes less than {least_mg_l:0} mg/L for the next round, which is not worth the salt: plain water only.",
    ),
    (
        C::JournalProposesLess,
        "after-white",
        "White was seen at {white_at_mg_l:0} mg/L, and half of that is less than {least_mg_l:0} mg/L, which is not worth the salt: plain water only until looks are clean again.",
    ),
    (C::WaterTurn, "", "The rota gives plain water this time; feed comes with the next turn."),
    (C::ReadingsEnd, "", "The readings end too long before the hours in which its stomata open."),
    (C::FedRecently, "", "Sprayed less than {interval_words} ago: due again from {due:when}."),
    (
        C::TooCold,
        "",
        "The air is below {temp_least_c:0} °C while its stomata are open: growth is slow and leaves stay wet.",
    ),
    (
        C::TooSunny,
        "",
        "The sun gives more than {radiation_most_w_m2:0} W/m² while its stomata are open.",
    ),
    (
        C::DarkMonth,
        "",
        "The days are shorter than {day_length_h:1} h and the area is lit by the sun alone: in a room nothing is misted then but weak and rootless plants. Set `winter = \"grow\"` on the area if lamps or warmth keep its plants growing.",
    ),
    (
        C::DarkMonth,
        "evening",
        "The days are shorter than {day_length_h:1} h and the area is under cover and lit by the sun alone: no evening misting then. Set `winter = \"grow\"` on the area if lamps or warmth keep its plants growing.",
    ),
    (
        C::OutsideWorkingHours,
        "",
        "Its stomata open only while nobody is there by the working hours of the site.",
    ),
    (
        C::WetNight,
        "",
        "The leaves would stay wet in the dark for longer than is held safe at this temperature.",
    ),
    (
        C::WetNight,
        "assumed",
        "The leaves would stay wet in the dark for longer than is held safe at this temperature, in the air that is assumed.",
    ),
    (
        C::WeeklyCeiling,
        "full",
        "The root feed of {root_mg_week:0} mg a week leaves no room for a useful feed under the weekly ceiling of the pot, {ceiling_mg_week:0} mg: plain water only.",
    ),
    (
        C::WeeklyCeiling,
        "",
        "Leaf and root together give the pot {total_mg_week:0} mg of feed a week, under its ceiling of {ceiling_mg_week:0} mg.",
    ),
    (
        C::WeeklyCeiling,
        "over",
        "The root feed alone gives the pot {root_mg_week:0} mg a week, over its ceiling of {ceiling_mg_week:0} mg.",
    ),
    (C::FlushDue, "", "A flush of the pot with plain water is due since {flush_due:when}."),
    (
        C::ScaleFromWater,
        "",
        "The water alone would leave visible scale with more than {tolerance:%} probability in every opening, with or without feed.",
    ),
    (
        C::ResidueTooLikely,
        "",
        "Even {least_mg_l:0} mg/L would leave visible residue with more than {tolerance:%} probability in every opening.",
    ),
    (C::NoLeafOpening, "", "No opening is expected in the time looked at."),
    (C::NoLeafOpening, "refused", "Practice refuses every opening."),
    (
        C::NoLeafOpening,
        "short",
        "No opening leaves the {least_minutes:0} minutes that are worth walking round for.",
    ),
    // Near a limit
    (
        C::NearLimit,
        "drier",
        "{distance:1} points drier ({at:1} % instead of {value:1} %) and {beyond_mg_l:0} mg/L would be advised instead; a hygrometer is off by {error:0} points.",
    ),
    (
        C::NearLimit,
        "damper",
        "{distance:1} points damper ({at:1} % instead of {value:1} %) and {beyond_mg_l:0} mg/L would be advised instead; a hygrometer is off by {error:0} points.",
    ),
    (
        C::NearLimit,
        "drier-none",
        "{distance:1} points drier ({at:1} % instead of {value:1} %) and no feed would be advised; a hygrometer is off by {error:0} points.",
    ),
    (
        C::NearLimit,
        "moves",
        "The air moves {value:2} m/s; beyond {at:2} m/s {beyond_mg_l:0} mg/L would be advised instead.",
    ),
    (
        C::NearLimit,
        "calmer",
        "The air moves {value:2} m/s; up to {at:2} m/s {beyond_mg_l:0} mg/L would be allowed.",
    ),
    (
        C::NearLimit,
        "colder",
        "The window is only {distance:1} °C above the {at:0} °C below which nothing is misted.",
    ),
    (
        C::NearLimit,
        "cool-night",
        "The night is only {distance:1} °C above the {at:0} °C below which nothing is misted in the evening.",
    ),
    (
        C::NearLimit,
        "warmer-night",
        "The night is only {distance:1} °C below the {at:0} °C from which an evening is allowed.",
    ),
    // The round
    (
        C::OneBucket,
        "",
        "Mix the bucket once, keep it covered and cool, and use it within {keeps_hours:0} hours.",
    ),
    (
        C::WalkOrder,
        "",
        "The strongest feed comes first, because what is left in the mister can be watered down but not made stronger; within one strength the order is by area, then bench.",
    ),
    (
        C::UreaUnseen,
        "",
        "{urea_n_mg_l:0} of the {n_mg_l:0} mg/L N is urea, which carries no charge: a meter does not see it, so do not set the strength of this feed by meter alone.",
    ),
    (
        C::FreshBucket,
        "",
        "Mix a bucket of its own for this sitting: the one before is older than {keeps_hours:0} hours by then.",
    ),
    (
        C::BucketSurplus,
        "",
        "About {surplus_ml:0} mL stays in the bucket: water plants outside the collection with it, then rinse; no pot is known to have room under its weekly ceiling.",
    ),
    (
        C::BucketSurplus,
        "pots",
        "About {surplus_ml:0} mL stays in the bucket: give it at the root to {pots}, whose pots have room under their weekly ceiling, where the label allows feed at the root; then rinse.",
    ),
    (
        C::MovedInRound,
        "",
        "Planned for this hour, when the round is there anyway, and not for its best ({best_from:when} to {best_to:when}): that forgoes {worth_lost:%} of what the best is worth ({costs}).",
    ),
    (
        C::MovedInRound,
        "plain",
        "Planned for this hour, when the round is there anyway, and not for its best ({best_from:when} to {best_to:when}): that forgoes {worth_lost:%} of what the best is worth.",
    ),
    (
        C::WeakerInRound,
        "",
        "Gets {to_mg_l:0} mg/L, which is in the mister anyway, and not the {best_mg_l:0} mg/L it could have: that forgoes {worth_lost:%} of the worth.",
    ),
    (
        C::WeakerInRound,
        "passes",
        "Gets one pass of {to_mg_l:0} mg/L, and not the {best_passes:0} passes of {best_mg_l:0} mg/L it could have: that forgoes {worth_lost:%} of the worth.",
    ),
    (
        C::SittingTooLong,
        "",
        "This sitting takes about {minutes:0} min and its window lasts {window_minutes:0}: begin at its start, find a second pair of hands, or leave the last plants for another day.",
    ),
    // What would make it possible
    (C::WaitForWindow, "", "Wait until {from:when}: {strength_mg_l:feed} then."),
    (C::WaitUntilDue, "", "Wait until it is due, from {from:when}."),
    (
        C::WaitForLongerDays,
        "",
        "Nothing until {from:when}, when the days are long enough again; or set `winter = \"grow\"` on the area.",
    ),
    (
        C::BeThere,
        "",
        "Be there between {from:when} and {to:when}, outside the working hours of the site: {strength_mg_l:feed} then.",
    ),
    (
        C::StillTheAir,
        "",
        "Stop the fans and close the vents for {minutes:0} min from {from:when}: {strength_mg_l:feed} then.",
    ),
    (
        C::StillTheAir,
        "hours",
        "Stop the fans and close the vents from {from:when} until the leaves are dry: {strength_mg_l:feed} then.",
    ),
    (
        C::AddRain,
        "",
        "Mix and top up with {rain_percent:0} % rain or reverse-osmosis water and {own_percent:0} % of yours: {strength_mg_l:feed} from {from:when}.",
    ),
    (
        C::AddRain,
        "all",
        "Mix and top up with rain or reverse-osmosis water alone: {strength_mg_l:feed} from {from:when}.",
    ),
    (
        C::KeepHumid,
        "",
        "Keep the humidity at {rh_percent:0} % or more until the day after: {strength_mg_l:feed} from {from:when}.",
    ),
    (C::PlainWater, "", "Plain water only, from {from:when}: it leaves nothing to see."),
    (
        C::AskAgain,
        "",
        "Nothing changes that in the time looked at: ask again from {from:when} on, with newer readings.",
    ),
];

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn inputs_are_put_in_by_name_and_form() {
        let Value::Object(inputs) = json!({"a": 12.345, "b": "x {y}", "p": 0.126, "small": 0.004})
        else {
            unreachable!()
        };
        assert_eq!(
            filled("{a:1} {b} {p:%} {small:%} {missing}|", &inputs),
            "12.3 x {y} 13 % under 1 % |"
        );
        assert_eq!(filled("open { brace", &inputs), "open { brace");
    }

    #[test]
    fn times_are_said_as_people_say_them() {
        let Value::Object(inputs) = json!({
            "t": "2026-06-22T05:30:00-01:00", "d": "2027-02-07", "x": "soon", "none": 0, "some": 150
        }) else {
            unreachable!()
        };
        // 22 June 2026 is a Monday, 7 February 2027 a Sunday.
        assert_eq!(
            filled("{t:when} | {d:when} | {x:when} | {none:feed} | {some:feed}", &inputs),
            "Mon 22 June, 05:30 | Sun 7 February 2027 | soon | plain water | 150 mg/L"
        );
    }

    #[test]
    fn every_phrase_is_a_sentence_of_its_own() {
        let mut seen = std::collections::BTreeSet::new();
        for (code, variant, words) in PHRASES {
            assert!(seen.insert((code.as_str(), variant)), "{} {variant}", code.as_str());
            assert!(words.ends_with('.') || words.ends_with(".)"), "{words}");
        }
    }
}

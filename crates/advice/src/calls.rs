//! The functions of this crate that other programs can call.

use crate::chart::{
    DayRibbonRequest, DayRibbonResponse, StrengthChartRequest, StrengthChartResponse, ribbon,
    strength_chart,
};
use crate::round::RoundResponse;
use crate::{AdviceRequest, AdviceResponse, RescueRequest, RescueResponse, advise, rescue, round};
use guardcell_call::{Call, Group, Work};
use guardcell_error::Error;

/// Advice for each plant of a collection.
#[derive(Debug, Clone, Copy)]
pub struct Advise;

impl Call for Advise {
    type Request = AdviceRequest;
    type Response = AdviceResponse;
    const NAME: &'static str = "advise";
    const PATH: &'static str = "advice";
    const GROUP: Group = Group::Advice;
    const SUMMARY: &'static str =
        "For each plant: feed, wait, water only or leave alone; when, how strong, and why";
    const DESCRIPTION: &'static str = "Needs a site, the air (readings or a forecast) and plants; \
        a label and a water report make it exact. Every plant gets a verdict, ranked windows with \
        the feed strength and the probability of visible residue, reasons with their sources, and \
        what was not known with how far that moves the answer. Strengths are capped by common \
        practice; the models can only lower them.";
    const EXAMPLE: &'static str = include_str!("../calls/advise.json");

    fn work(request: &AdviceRequest) -> Work {
        situation(request, 0)
    }

    fn run(request: &AdviceRequest) -> Result<AdviceResponse, Error> {
        advise(request)
    }
}

/// The round of a collection.
#[derive(Debug, Clone, Copy)]
pub struct Round;

impl Call for Round {
    type Request = AdviceRequest;
    type Response = RoundResponse;
    const NAME: &'static str = "round";
    const PATH: &'static str = "rounds";
    const GROUP: Group = Group::Advice;
    const SUMMARY: &'static str =
        "One bucket, the order of the plants and every mister fill; needs `feed`";
    const DESCRIPTION: &'static str = "The advice for every plant put into a few sittings, one \
        bucket and a sequence of mister fills, strongest first, so that worth lost, feed poured \
        away, fills, minutes and walk together cost least. No plant gets more than its own advice \
        allows; what another hour than its best costs it is said. Plants that get nothing are \
        listed with the reason. Needs the label of the feed, because there is something to weigh.";
    const EXAMPLE: &'static str = include_str!("../calls/advise.json");

    fn work(request: &AdviceRequest) -> Work {
        situation(request, SEARCH)
    }

    fn run(request: &AdviceRequest) -> Result<RoundResponse, Error> {
        round(request)
    }
}

/// The soaks of a rootless plant.
#[derive(Debug, Clone, Copy)]
pub struct Rescue;

impl Call for Rescue {
    type Request = RescueRequest;
    type Response = RescueResponse;
    const NAME: &'static str = "rescue";
    const PATH: &'static str = "rescues";
    const GROUP: Group = Group::Advice;
    const SUMMARY: &'static str = "The soaks of a rootless plant";
    const DESCRIPTION: &'static str = "Two short soaks a day, by day for C3 and by night for CAM, \
        dry in between, with what to look for and when to stop. Common practice throughout; no \
        trial is known to us.";
    const EXAMPLE: &'static str = include_str!("../calls/rescue.json");

    fn work(request: &RescueRequest) -> Work {
        Work::of(2_000 + 100 * u64::from(request.days), "days")
    }

    fn run(request: &RescueRequest) -> Result<RescueResponse, Error> {
        rescue(request)
    }
}

/// The safe-strength chart of a product in a water.
#[derive(Debug, Clone, Copy)]
pub struct StrengthChart;

impl Call for StrengthChart {
    type Request = StrengthChartRequest;
    type Response = StrengthChartResponse;
    const NAME: &'static str = "strength_chart";
    const PATH: &'static str = "charts/strength";
    const GROUP: Group = Group::Advice;
    const SUMMARY: &'static str =
        "The highest feed strength that leaves acceptable residue, by humidity and air movement";
    const DESCRIPTION: &'static str = "A table for one product in one water at one temperature, in \
        steady air. On a real day the driest hour until the next spraying decides, so ask for \
        advice with readings instead where you have them.";
    const EXAMPLE: &'static str = include_str!("../calls/strength_chart.json");
    const PICTURE: Option<fn(&StrengthChartResponse) -> String> = Some(StrengthChartResponse::svg);

    fn work(_: &StrengthChartRequest) -> Work {
        Work::of(50_000, "")
    }

    fn run(request: &StrengthChartRequest) -> Result<StrengthChartResponse, Error> {
        strength_chart(request)
    }
}

/// The 24-hour ribbon of an area.
#[derive(Debug, Clone, Copy)]
pub struct DayRibbon;

impl Call for DayRibbon {
    type Request = DayRibbonRequest;
    type Response = DayRibbonResponse;
    const NAME: &'static str = "day_ribbon";
    const PATH: &'static str = "charts/day";
    const GROUP: Group = Group::Advice;
    const SUMMARY: &'static str =
        "The 24-hour ribbon of an area: light, humidity, openings and best windows";
    const DESCRIPTION: &'static str = "Takes a request for advice and one of its areas; gives light, \
        air, when which plants open, and the best window of each group over 24 hours from `at`.";
    const EXAMPLE: &'static str = include_str!("../calls/day_ribbon.json");
    const PICTURE: Option<fn(&DayRibbonResponse) -> String> = Some(DayRibbonResponse::svg);

    fn work(request: &DayRibbonRequest) -> Work {
        situation(&request.situation, 0)
    }

    fn run(request: &DayRibbonRequest) -> Result<DayRibbonResponse, Error> {
        ribbon(request)
    }
}

/// Steps of the search for a round, which stops by itself.
const SEARCH: u64 = 1_000_000;

/// What a situation costs: two steps an hour for each plant, as if no two were alike; a hundred an
/// hour for the film in each area; reading the air. A plant takes 40 KiB with its reasons, and some
/// more with each hour (`tests/hostile` measures it).
fn situation(request: &AdviceRequest, more: u64) -> Work {
    let count = |n: usize| n as u64;
    let hours = u64::from(request.hours) + 24;
    let plants = count(request.plants.len()) * (20 + 2 * hours);
    let areas = count(request.site.areas.len()) * 100 * hours;
    let readings = 2 * count(request.readings.len());
    let held =
        count(request.plants.len()) * (40_960 + 160 * u64::from(request.hours)) + 100 * readings;
    Work::of(plants + areas + readings + more, "plants, areas, hours and readings").holding(held)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn example_is_answered<C: Call>() {
        let request: C::Request = serde_json::from_str(C::EXAMPLE).unwrap();
        let response = C::run(&request).unwrap();
        let json = serde_json::to_string(&response).unwrap();
        assert!(serde_json::from_str::<C::Response>(&json).is_ok(), "{}", C::NAME);
    }

    #[test]
    fn every_example_is_answered() {
        example_is_answered::<Advise>();
        example_is_answered::<Round>();
        example_is_answered::<Rescue>();
        example_is_answered::<StrengthChart>();
        example_is_answered::<DayRibbon>();
    }
}

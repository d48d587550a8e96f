//! The calls of this crate.

use crate::{Advice, AdviceRequest, RescuePlan, RescueRequest, chart, round};
use guardcell_call::{Call, Error, Group};

/// For each plant: feed, wait, water only or leave alone.
#[derive(Clone, Copy, Debug)]
pub struct Advise;

impl Call for Advise {
    type Request = AdviceRequest;
    type Response = Advice;
    const NAME: &'static str = "advise";
    const PATH: &'static str = "advice";
    const GROUP: Group = Group::Advice;
    const SUMMARY: &'static str =
        "For each plant: feed, wait, water only or leave alone; when, how strong, and why";
    const DESCRIPTION: &'static str = "Weighs the opening of the stomata, the drying of the film, \
        the risk of residue and of a wet night, and the state of each plant, over the hours from \
        `at`. Every verdict carries its reasons with sources, the inputs they rest on, and what is \
        unknown. The product's own label comes first.";
    const EXAMPLE: &'static str = include_str!("../calls/advise.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::advise(request)?)
    }
}

/// One bucket, the order of the plants and every mister fill.
#[derive(Clone, Copy, Debug)]
pub struct Round;

impl Call for Round {
    type Request = AdviceRequest;
    type Response = round::RoundPlan;
    const NAME: &'static str = "round";
    const PATH: &'static str = "rounds";
    const GROUP: Group = Group::Advice;
    const SUMMARY: &'static str = "One bucket, the order of the plants and every mister fill";
    const DESCRIPTION: &'static str = "Turns the advice for the same request into a plan: when to \
        go, what to weigh, how to dilute each fill, in which order to walk, and who is not fed and \
        why. Needs `feed`.";
    const EXAMPLE: &'static str = include_str!("../calls/advise.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(round::round(request)?)
    }
}

/// The soaks of a rootless plant.
#[derive(Clone, Copy, Debug)]
pub struct Rescue;

impl Call for Rescue {
    type Request = RescueRequest;
    type Response = RescuePlan;
    const NAME: &'static str = "rescue";
    const PATH: &'static str = "rescues";
    const GROUP: Group = Group::Advice;
    const SUMMARY: &'static str = "The soaks of a rootless plant";
    const DESCRIPTION: &'static str = "A calendar of soaks in weak feed for a plant without working \
        roots, each placed where its stomata open and the leaf dries before night.";
    const EXAMPLE: &'static str = include_str!("../calls/rescue.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(crate::rescue(request)?)
    }
}

/// The highest feed strength that leaves acceptable residue, by humidity and air movement.
#[derive(Clone, Copy, Debug)]
pub struct StrengthChart;

impl Call for StrengthChart {
    type Request = chart::StrengthChartRequest;
    type Response = chart::StrengthChart;
    const NAME: &'static str = "strength_chart";
    const PATH: &'static str = "charts/strength";
    const GROUP: Group = Group::Advice;
    const SUMMARY: &'static str =
        "The highest feed strength that leaves acceptable residue, by humidity and air movement";
    const DESCRIPTION: &'static str = "For one product in one water at one temperature. Over HTTP \
        `Accept: image/svg+xml` gives the picture instead of the data.";
    const EXAMPLE: &'static str = include_str!("../calls/strength_chart.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        Ok(chart::strength_chart(request)?)
    }
}

/// The 24 hours of an area: light, humidity, openings and best windows.
#[derive(Clone, Copy, Debug)]
pub struct DayRibbon;

impl Call for DayRibbon {
    type Request = chart::RibbonRequest;
    type Response = chart::DayRibbon;
    const NAME: &'static str = "day_ribbon";
    const PATH: &'static str = "charts/day";
    const GROUP: Group = Group::Advice;
    const SUMMARY: &'static str =
        "The 24 hours of an area: light, humidity, openings and best windows";
    const DESCRIPTION: &'static str = "The timeline behind the advice for one area. Over HTTP \
        `Accept: image/svg+xml` gives the picture instead of the data.";
    const EXAMPLE: &'static str = include_str!("../calls/day_ribbon.json");

    fn run(request: &Self::Request) -> Result<Self::Response, Error> {
        chart::ribbon(request).map_err(|e| {
            let error = Error::from(e);
            // Faults of the advice point into the situation, which is one part of this request.
            if error.pointer() == "/area" || error.pointer().starts_with("/situation") {
                error
            } else {
                error.within("/situation")
            }
        })
    }
}

impl From<crate::RequestError> for Error {
    fn from(e: crate::RequestError) -> Self {
        use crate::RequestError as R;
        use guardcell_error::{Code, excerpt};
        match e {
            R::Value { pointer, wrong, right } => {
                Self::new(Code::OutOfRange, wrong, right).at(pointer)
            }
            R::DuplicatePlant { pointer, id, .. } => Self::new(
                Code::DuplicateId,
                format!("duplicate id {:?}", excerpt(&id, 60)),
                "give each plant its own id",
            )
            .at(pointer),
            R::UnknownArea { pointer, area, known } => Self::new(
                Code::Unknown,
                format!("unknown area {:?}", excerpt(&area, 60)),
                format!("name one of {known}, or add it to the site"),
            )
            .at(pointer),
            R::UnknownZone { pointer, zone } => Self::new(
                Code::Unknown,
                format!("unknown time zone {:?}", excerpt(&zone, 60)),
                "write it like Europe/London",
            )
            .at(pointer),
            R::NoReadings { pointer, area, from, to } => Self::new(
                Code::Missing,
                format!("no readings for the area {:?} from {from} to {to}", excerpt(&area, 60)),
                "give readings that cover this time, or another `at`",
            )
            .at(pointer),
            R::Feed(e) => e.within("/feed"),
            R::Water(e) => e.within("/water"),
            R::Clock(e) => Self::from(e).within("/site"),
            R::Film(e) => Self::from(e).at("/readings"),
        }
    }
}

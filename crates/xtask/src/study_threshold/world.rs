//! The worlds: what is true of the growers and their houses, which the learning is not told.

/// Where the thresholds of the growers come from, g/m².
#[derive(Debug, Clone, Copy)]
pub(super) enum Threshold {
    /// As the shipped calibration expects.
    AsShipped,
    /// The same for all.
    Of(f64),
}

/// What happens to the threshold, or to one day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Happens {
    Nothing,
    /// At round 20 times this, with another product recorded or not.
    Change {
        factor: f64,
        recorded: bool,
    },
    /// Down to half between rounds 10 and 50.
    Drift,
    /// One day in round 15 leaves four times the residue.
    DryDay,
}

/// Which rounds are logged with a look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Logs {
    All,
    /// White only; the grower says so.
    WhiteOnly,
    /// This share is missing, at random.
    Missing(f64),
}

/// Which number is sprayed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Follows {
    /// The proposal.
    Proposal,
    /// What the reports allow, without the rule after white.
    ReportsAlone,
}

/// How the strength is asked for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Asks {
    /// Each round, for the usual day.
    EachRound,
    /// Each round, for the air of that day.
    ForTheDay,
    /// Every fifth round, from 300 mg/L on.
    EachFifth,
}

/// One world.
#[derive(Debug)]
pub(super) struct World {
    pub(super) name: &'static str,
    pub(super) threshold: Threshold,
    pub(super) odd_days: bool,
    pub(super) happens: Happens,
    pub(super) logs: Logs,
    pub(super) follows: Follows,
    pub(super) asks: Asks,
    /// Film load over the model's, and the log-normal spread of a day.
    pub(super) load: f64,
    pub(super) day_sd: f64,
    /// How far reports waver, in natural logarithm.
    pub(super) wavers: f64,
    /// Days from round to round.
    pub(super) gap: i32,
}

const PLAIN: World = World {
    name: "",
    threshold: Threshold::AsShipped,
    odd_days: false,
    happens: Happens::Nothing,
    logs: Logs::All,
    follows: Follows::Proposal,
    asks: Asks::EachRound,
    load: 1.0,
    day_sd: 0.33,
    wavers: 0.15,
    gap: 3,
};

const fn of(name: &'static str, threshold: f64) -> World {
    World { name, threshold: Threshold::Of(threshold), ..PLAIN }
}

const fn odd(name: &'static str, threshold: f64) -> World {
    World { odd_days: true, ..of(name, threshold) }
}

const fn change(name: &'static str, from: f64, factor: f64, recorded: bool) -> World {
    World { happens: Happens::Change { factor, recorded }, ..of(name, from) }
}

const fn white_only(name: &'static str, threshold: f64, odd_days: bool) -> World {
    World { logs: Logs::WhiteOnly, odd_days, ..of(name, threshold) }
}

const fn reports(world: World) -> World {
    World { follows: Follows::ReportsAlone, ..world }
}

const fn asked(asks: Asks, world: World) -> World {
    World { asks, ..world }
}

/// Every world of the study.
pub(super) static WORLDS: &[World] = &[
    World { name: "as shipped", ..PLAIN },
    World { name: "as shipped, odd days", odd_days: true, ..PLAIN },
    of("0.012", 0.012),
    of("0.02", 0.02),
    of("0.04", 0.04),
    odd("0.012, odd days", 0.012),
    odd("0.02, odd days", 0.02),
    odd("0.04, odd days", 0.04),
    white_only("0.02, white only", 0.02, false),
    white_only("0.04, white only", 0.04, false),
    white_only("0.02, white only, odd days", 0.02, true),
    change("0.024 halves", 0.024, 0.5, false),
    change("0.024 halves, recorded", 0.024, 0.5, true),
    change("0.04 halves", 0.04, 0.5, false),
    change("0.04 halves, recorded", 0.04, 0.5, true),
    World { odd_days: true, ..change("0.024 halves, odd days", 0.024, 0.5, false) },
    change("0.012 doubles", 0.012, 2.0, false),
    change("0.012 doubles, recorded", 0.012, 2.0, true),
    World { happens: Happens::DryDay, ..of("0.04, one day times 4", 0.04) },
    World { happens: Happens::Drift, ..of("0.04 drifts to half", 0.04) },
    World { load: 1.5, day_sd: 0.52, ..of("0.02, heavy hand", 0.02) },
    World { gap: 7, ..of("0.02, weekly", 0.02) },
    asked(Asks::EachFifth, of("0.02, asked each fifth", 0.02)),
    asked(Asks::EachFifth, change("0.04 halves, asked each fifth", 0.04, 0.5, false)),
    asked(Asks::ForTheDay, of("0.02, for the day", 0.02)),
    reports(World { name: "as shipped, reports alone", ..PLAIN }),
    reports(World { name: "as shipped, odd days, reports", odd_days: true, ..PLAIN }),
    reports(of("0.012, reports alone", 0.012)),
    reports(of("0.02, reports alone", 0.02)),
    reports(of("0.04, reports alone", 0.04)),
    reports(odd("0.02, odd days, reports alone", 0.02)),
    reports(change("0.04 halves, reports alone", 0.04, 0.5, false)),
    reports(asked(Asks::ForTheDay, of("0.02, for the day, reports", 0.02))),
    // Shown without a bar: nothing learns from looks that are not logged.
    World { wavers: 0.5, ..of("0.02, wavering", 0.02) },
    World { logs: Logs::Missing(0.5), ..of("0.02, half not looked at", 0.02) },
    World { logs: Logs::Missing(0.8), ..of("0.02, 80 % not looked at", 0.02) },
    World { logs: Logs::Missing(0.95), ..of("0.02, 95 % not looked at", 0.02) },
];

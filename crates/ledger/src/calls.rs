//! The functions of this crate that other programs can call.

use crate::threshold::{ThresholdRequest, ThresholdResponse, learn_threshold};
use guardcell_call::{Call, Group};
use guardcell_error::Error;

/// The residue threshold of a grower and the next feed strength.
#[derive(Debug, Clone, Copy)]
pub struct Threshold;

impl Call for Threshold {
    type Request = ThresholdRequest;
    type Response = ThresholdResponse;
    const NAME: &'static str = "threshold";
    const PATH: &'static str = "journal/threshold";
    const GROUP: Group = Group::Journal;
    const SUMMARY: &'static str = "The residue threshold of a grower, learned from what was seen, \
                                   and the next feed strength";
    const DESCRIPTION: &'static str = "Takes looks for residue and rounds with the residue modelled \
        for them. Answers the residue at which this grower begins to see white, with an interval, \
        and two strengths: what the reports allow, and what is proposed after the rule that white \
        halves the strength. Every number of the model is common practice without a source, \
        chosen by a simulation study; intervals are wide, a factor of about two either way.";
    const EXAMPLE: &'static str = include_str!("../calls/threshold.json");

    fn run(request: &ThresholdRequest) -> Result<ThresholdResponse, Error> {
        learn_threshold(request)
    }
}

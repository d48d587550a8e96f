//! The flags of `convert`.

use clap::Args;
use clap::builder::{PossibleValuesParser, TypedValueParser};
use guardcell::units::convert::EcCompensation;
use guardcell::units::light::LightSource;
use guardcell::units::text::PpmMeaning;
use serde::de::DeserializeOwned;

/// Convert a quantity to another unit or basis.
#[derive(Debug, Args)]
#[command(after_help = "Examples:
  guardcell convert \"120 ppm P2O5\" --to \"ppm P\"
  guardcell convert \"14 °dH\" --to \"mg/L CaCO3\"
  guardcell convert \"1.4 mS/cm at 18 °C\" --to \"mS/cm at 25 °C\"
  guardcell convert \"350 ppm meter 500\" --to mS/cm
  guardcell convert \"12000 lux\" --to PPFD --light-source sunlight")]
pub(crate) struct Convert {
    /// The quantity, as people write it.
    #[arg(allow_hyphen_values = true)]
    pub(crate) quantity: String,
    /// The unit to convert to, with its basis.
    #[arg(long)]
    pub(crate) to: String,
    /// Bulk density of a powder, for spoons (such as "0.9 kg/L").
    #[arg(long)]
    pub(crate) bulk_density: Option<String>,
    /// Density of a liquid, between shares by mass and mass per volume (such as "1.24 kg/L").
    #[arg(long, conflicts_with = "bulk_density")]
    pub(crate) density: Option<String>,
    /// How EC is brought from one temperature to another [default: linear].
    #[arg(long, value_name = "WAY", value_parser = wire::<EcCompensation>(&["linear", "natural-water"]))]
    pub(crate) ec_compensation: Option<EcCompensation>,
    /// Coefficient of linear compensation in % per K, 0 to 10 [default: 1.9].
    #[arg(long, value_name = "PERCENT")]
    pub(crate) ec_percent_per_k: Option<f64>,
    /// What a bare ppm means: mg/L of nitrogen, a meter on a scale, or everything from the feed.
    #[arg(long, value_name = "MEANING", value_parser = wire::<PpmMeaning>(&["n", "meter-500", "meter-640", "meter-700", "feed"]))]
    pub(crate) ppm_means: Option<PpmMeaning>,
    /// The light source, between lux and photon flux density.
    #[arg(long, value_name = "SOURCE", value_parser = wire::<LightSource>(&["sunlight", "blue-sky", "high-pressure-sodium", "metal-halide", "cool-white-fluorescent", "incandescent"]))]
    pub(crate) light_source: Option<LightSource>,
}

/// A value of the library by its name in requests, with hyphens for underscores.
fn wire<T>(names: &'static [&'static str]) -> impl TypedValueParser<Value = T>
where
    T: DeserializeOwned + Clone + Send + Sync + 'static,
{
    PossibleValuesParser::new(names).try_map(|name| {
        serde_json::from_value::<T>(serde_json::Value::String(name.replace('-', "_")))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::args::{Cli, Verb};
    use clap::{CommandFactory, Parser};

    #[test]
    fn every_value_of_a_flag_is_one_of_the_library() {
        let command = Cli::command();
        let convert = command.find_subcommand("convert").unwrap();
        for arg in convert.get_arguments() {
            let Some(long) = arg.get_long() else { continue };
            for value in arg.get_possible_values() {
                let flag = format!("--{long}={}", value.get_name());
                let line = ["guardcell", "convert", "1 g", "--to", "kg", &flag];
                assert!(Cli::try_parse_from(line).is_ok(), "{flag}");
            }
        }
        for source in LightSource::ALL {
            let flag = format!("--light-source={}", source.as_str().replace('_', "-"));
            assert!(
                Cli::try_parse_from(["guardcell", "convert", "1 lx", "--to=fc", &flag]).is_ok()
            );
        }
    }

    #[test]
    fn a_negative_temperature_is_a_quantity() {
        for text in ["-5 °C", "−5 °C"] {
            let cli = Cli::try_parse_from(["guardcell", "convert", text, "--to", "°F"]).unwrap();
            assert!(
                matches!(cli.verb, Some(Verb::Convert(args)) if args.quantity == text),
                "{text}"
            );
        }
    }
}

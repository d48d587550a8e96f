//! `man`: the man pages, from the same definitions as the help.

use crate::args::Cli;
use crate::error::{argument, output};
use clap::CommandFactory as _;
use guardcell::Error;

/// The page of the program, or of one of its verbs.
pub(crate) fn page(verb: Option<&str>) -> Result<String, Error> {
    let mut program = Cli::command();
    program.build();
    let command = match verb {
        None => program,
        Some(name) => {
            let names: Vec<_> =
                program.get_subcommands().map(|c| c.get_name().to_owned()).collect();
            let found = program.find_subcommand(name).cloned().ok_or_else(|| {
                argument(
                    "page",
                    format!("no verb {name:?}"),
                    format!("use one of {}", names.join(", ")),
                )
            })?;
            // The name under which the page of the program refers to it.
            found.display_name(format!("guardcell-{name}"))
        }
    };
    let mut text = Vec::new();
    clap_mangen::Man::new(command).render(&mut text).map_err(output)?;
    Ok(String::from_utf8_lossy(&text).into_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_page_that_the_program_refers_to_exists() {
        let program = page(None).unwrap();
        let mut pages = 0;
        for line in program.lines().filter(|l| l.starts_with("guardcell\\-") && l.ends_with("(1)"))
        {
            let verb = line.trim_start_matches("guardcell\\-").trim_end_matches("(1)");
            let verb = verb.replace('\\', "");
            if verb == "help" {
                continue;
            }
            assert!(page(Some(&verb)).unwrap().contains(".SH NAME"), "{verb}");
            pages += 1;
        }
        assert!(pages > 15, "{pages} pages in\n{program}");
        assert!(page(Some("nothing")).is_err());
    }
}

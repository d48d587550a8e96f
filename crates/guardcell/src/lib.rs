//! The one crate other tools embed: units, reference, solution, film, clock and advice

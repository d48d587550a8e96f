//! Checks of guardcell against sources outside the project; the checks are in `tests/tests/`.

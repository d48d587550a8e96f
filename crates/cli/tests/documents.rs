//! The commands that README and guide show give the output that they show.

use std::path::Path;

#[test]
fn documents_show_what_the_program_prints() {
    // Commands in the documents are typed at the top of the project.
    std::env::set_current_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")).unwrap();
    trycmd::TestCases::new()
        .default_bin_name("guardcell")
        .env("NO_COLOR", "1")
        .env("COLUMNS", "80")
        .case("README.md")
        .case("docs/guide/src/*.md");
}

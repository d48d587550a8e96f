//! Every command shown in the README and the guide prints what is shown there.

#[test]
fn shown_commands_print_what_is_shown() {
    // Commands name the demo data from the top of the project.
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../..");
    std::env::set_current_dir(root).expect("the top of the project");
    trycmd::TestCases::new()
        .case("README.md")
        .case("docs/guide/src/*.md")
        .register_bin("guardcell", std::path::Path::new(env!("CARGO_BIN_EXE_guardcell")));
}

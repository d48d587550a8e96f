//! What must not compile: quantities that differ in basis, scale or meaning do not mix.
#![allow(missing_docs, clippy::panic, clippy::unwrap_used)]

#[test]
fn bases_do_not_mix() {
    trybuild::TestCases::new().compile_fail("tests/compile_fail/*.rs");
}

//! The library from C: a program that exercises the border, under the address sanitizer and, where it
//! is installed, under valgrind; the program of the guide; and the header.
#![allow(clippy::unwrap_used, clippy::panic, clippy::print_stderr, missing_docs, reason = "a test")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_path_buf()
}

/// The folder of the built library: that of the tests.
fn libraries() -> PathBuf {
    std::env::current_exe().unwrap().parent().unwrap().to_path_buf()
}

fn text(out: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&out.stdout), String::from_utf8_lossy(&out.stderr))
}

/// Compiles a program against the header and the shared library.
fn compiled(source: &Path, program: &Path, options: &[&str]) {
    let (folder, libraries) = (folder(), libraries());
    let out = Command::new("cc")
        .args(["-std=c11", "-D_POSIX_C_SOURCE=200809L", "-Wall", "-Wextra", "-Werror", "-pedantic"])
        .arg("-g")
        .args(options)
        .arg(format!("-DEXPECTED_VERSION=\"{}\"", env!("CARGO_PKG_VERSION")))
        .arg("-I")
        .arg(&folder)
        .arg(source)
        .arg("-o")
        .arg(program)
        .arg("-L")
        .arg(&libraries)
        .args(["-lguardcell_c", "-pthread"])
        .arg(format!("-Wl,-rpath,{}", libraries.display()))
        .output()
        .unwrap();
    assert!(out.status.success(), "{}", text(&out));
}

#[test]
fn the_address_sanitizer_finds_nothing() {
    let place = tempfile::tempdir().unwrap();
    let program = place.path().join("border");
    compiled(
        &folder().join("tests/c/border.c"),
        &program,
        &["-fsanitize=address,undefined", "-fno-sanitize-recover=all"],
    );
    let out = Command::new(&program).env("ASAN_OPTIONS", "detect_leaks=1").output().unwrap();
    assert!(out.status.success(), "{}: {}", out.status, text(&out));
    assert_eq!(text(&out), "ok\n");
}

/// The sanitizer finds what this test is for: a text that is not freed is a leak.
#[test]
fn the_address_sanitizer_finds_a_leak() {
    let place = tempfile::tempdir().unwrap();
    let source = place.path().join("leak.c");
    std::fs::write(
        &source,
        "#include \"guardcell.h\"\nint main(void) { char *text; return guardcell_call(\"air\", \
         \"{}\", 2, &text, NULL) != GUARDCELL_REFUSED || (text = NULL) != NULL; }\n",
    )
    .unwrap();
    let program = place.path().join("leak");
    compiled(&source, &program, &["-fsanitize=address"]);
    let out = Command::new(&program).env("ASAN_OPTIONS", "detect_leaks=1").output().unwrap();
    assert!(!out.status.success());
    assert!(text(&out).contains("LeakSanitizer"), "{}", text(&out));
}

/// Tables that live as long as the program are reached through pointers into them: "possibly lost".
#[test]
fn valgrind_finds_nothing() {
    if Command::new("valgrind").arg("--version").output().is_err() {
        eprintln!("valgrind is not installed: only the address sanitizer was asked");
        return;
    }
    let place = tempfile::tempdir().unwrap();
    let program = place.path().join("border");
    compiled(&folder().join("tests/c/border.c"), &program, &[]);
    let out = Command::new("valgrind")
        .args([
            "--quiet",
            "--error-exitcode=9",
            "--leak-check=full",
            "--show-leak-kinds=definite,indirect",
        ])
        .args(["--errors-for-leak-kinds=definite,indirect"])
        .arg(&program)
        .output()
        .unwrap();
    assert!(out.status.success(), "{}: {}", out.status, text(&out));
    assert_eq!(text(&out), "ok\n");
}

/// The program that the chapter shows is the one that runs here, and prints what the chapter shows.
#[test]
fn the_program_of_the_guide_runs() {
    let chapter = std::fs::read_to_string(folder().join("../../docs/guide/src/c.md")).unwrap();
    let block = |kind: &str| {
        chapter
            .split(kind)
            .nth(1)
            .unwrap_or_else(|| panic!("no {kind}"))
            .split("```")
            .next()
            .unwrap()
    };
    let place = tempfile::tempdir().unwrap();
    let (source, program) = (place.path().join("dose.c"), place.path().join("dose"));
    std::fs::write(&source, block("```c\n")).unwrap();
    compiled(&source, &program, &[]);
    let out = Command::new(&program).output().unwrap();
    assert!(out.status.success(), "{}", text(&out));
    assert_eq!(text(&out), block("```text\n"));
}

/// C++ takes the header as well, where its compiler is installed.
#[test]
fn the_header_is_cpp_as_well() {
    if Command::new("c++").arg("--version").output().is_err() {
        eprintln!("no c++ here");
        return;
    }
    let out = Command::new("c++")
        .args(["-std=c++11", "-Wall", "-Wextra", "-Werror", "-fsyntax-only", "-x", "c++"])
        .arg(folder().join("guardcell.h"))
        .output()
        .unwrap();
    // A header as the main file warns on its own `#pragma once`; this one has a guard.
    assert!(out.status.success(), "{}", text(&out));
}

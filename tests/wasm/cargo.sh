#!/usr/bin/env bash
# Runs cargo for WebAssembly: with the toolchain's own target where it is installed, else with
# Debian's rustc for the web and its linker, unpacked (not installed) below target/wasm.
#     tests/wasm/cargo.sh [--installed] check|build|… [ARGUMENTS]
# With --installed nothing is fetched: without the target it ends with 77. What is built is below
# target/wasm/target, without a path of this machine in it.
set -euo pipefail
cd "$(dirname "$0")/../.."
target=wasm32-unknown-unknown
tools=$(realpath -m "${CARGO_TARGET_DIR:-target}")/wasm

missing() {
    echo "$1; rustup target add $target" >&2
    exit 77
}

# rustc-web ships no standard library for wasm32: cargo compiles it from rust-web-src.
unpack() {
    command -v apt-get >/dev/null || missing "neither the target $target nor apt-get is available"
    mkdir -p "$tools/deb"
    (
        cd "$tools/deb"
        # An old list may name a compiler that is too old.
        apt-get update -qq >/dev/null
        # the packages that carry a version in their names, as the others name them
        std=$(apt-cache depends libstd-rust-web-dev | grep -oE 'libstd-rust-web-[0-9.]+' | sort -u)
        llvm=$(apt-cache depends "$std" | grep -oE 'libllvm[0-9]+$' | sort -u)
        apt-get download -qq rustc-web rust-web-src libstd-rust-web-dev "$std" "$llvm" \
            "lld-${llvm#libllvm}" 2>/dev/null
        for package in *.deb; do
            case $package in
            rust-web-src_*)
                dpkg --fsys-tarfile "$package" |
                    tar -x -C "$tools" --wildcards './usr/lib/rustlib/src/*' './usr/src/rustc-*/library/*'
                ;;
            *) dpkg -x "$package" "$tools" ;;
            esac
        done
    )
    rm -rf "$tools/deb"
    for program in rustc wasm-ld; do
        local real=$tools/usr/bin/$program
        [ -e "$real" ] || real=$(echo "$real"-*)
        printf '#!/bin/sh\nexport LD_LIBRARY_PATH="%s"\nexec "%s" "$@"\n' \
            "$tools/usr/lib/x86_64-linux-gnu" "$real" >"$tools/$program"
        chmod +x "$tools/$program"
    done
}

installed=
if [ "${1:-}" = --installed ]; then
    installed=yes
    shift
fi
more=()
if [ ! -d "$(rustc --print sysroot)/lib/rustlib/$target/lib" ]; then
    [ -z "$installed" ] || missing "the toolchain has no target $target"
    [ -x "$tools/wasm-ld" ] || unpack
    export RUSTC=$tools/rustc RUSTC_BOOTSTRAP=1
    export CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER=$tools/wasm-ld
    more=(-Zbuild-std=std,panic_abort)
fi
# The words of panics name sources.
home=${CARGO_HOME:-$HOME/.cargo}
export RUSTFLAGS="--remap-path-prefix=$home=cargo --remap-path-prefix=$PWD=. --remap-path-prefix=$tools=tools"
for registry in "$home"/registry/src/*; do
    RUSTFLAGS="$RUSTFLAGS --remap-path-prefix=$registry=crates"
done
export CARGO_TARGET_DIR=$tools/target CARGO_INCREMENTAL=0
exec cargo "$@" --locked --target "$target" "${more[@]}"

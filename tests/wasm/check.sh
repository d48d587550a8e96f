#!/usr/bin/env bash
# Checks that the facade compiles to WebAssembly, as a page embeds it (without the schemas): with
# the toolchain's own target where it is installed, else with Debian's rustc for the web, unpacked
# (not installed) below target/wasm.
#     tests/wasm/check.sh [--installed]
# With --installed nothing is fetched: without the target the check is skipped.
set -euo pipefail
cd "$(dirname "$0")/../.."
target=wasm32-unknown-unknown

if [ -d "$(rustc --print sysroot)/lib/rustlib/$target/lib" ]; then
    exec cargo check --locked -p guardcell --no-default-features --features tzdb --target "$target"
fi

skip() {
    echo "skipped: $1; rustup target add $target"
    exit 0
}
[ "${1:-}" != --installed ] || skip "the toolchain has no target $target"
command -v apt-get >/dev/null || skip "neither the target $target nor apt-get is available"

# rustc-web ships no standard library for wasm32: cargo compiles it from rust-web-src.
packages=(rustc-web rust-web-src libstd-rust-web-dev)
tools=$PWD/target/wasm
if [ ! -x "$tools/usr/bin/rustc" ]; then
    mkdir -p "$tools/deb"
    cd "$tools/deb"
    apt-cache show rustc-web >/dev/null 2>&1 || apt-get update -qq >/dev/null
    # the library packages that carry a version in their names, as rustc-web names them
    std=$(apt-cache depends libstd-rust-web-dev | grep -oE 'libstd-rust-web-[0-9.]+' | sort -u)
    llvm=$(apt-cache depends "$std" | grep -oE 'libllvm[0-9]+$' | sort -u)
    apt-get download -qq "${packages[@]}" "$std" "$llvm" 2>/dev/null
    for package in *.deb; do
        case $package in
        rust-web-src_*)
            dpkg --fsys-tarfile "$package" |
                tar -x -C "$tools" --wildcards './usr/lib/rustlib/src/*' './usr/src/rustc-*/library/*'
            ;;
        *) dpkg -x "$package" "$tools" ;;
        esac
    done
    rm -rf "$tools/deb"
    cd - >/dev/null
fi
cat >"$tools/rustc" <<EOF
#!/bin/sh
export LD_LIBRARY_PATH="$tools/usr/lib/x86_64-linux-gnu"
exec "$tools/usr/bin/rustc" "\$@"
EOF
chmod +x "$tools/rustc"
RUSTC=$tools/rustc RUSTC_BOOTSTRAP=1 CARGO_TARGET_DIR=$tools/target \
    cargo check --locked -p guardcell --no-default-features --features tzdb --target "$target" \
    -Zbuild-std=std,panic_abort

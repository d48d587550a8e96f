# Installing what is missing, for the scripts of this folder: sourced, with `skip` naming what leaves
# the checks out.

stop() {
    printf '%s\n' "$1" "Set $skip=1 to leave these checks out." >&2
    exit 1
}

thrice() {
    local turn
    for turn in 1 2 3; do
        "$@" && return
        [ "$turn" = 3 ] || sleep $((turn * 5))
    done
    return 1
}

as_root() {
    if [ "$(id -u)" = 0 ]; then "$@"; else sudo -n "$@"; fi
}

apt_updated=
apt_install() {
    command -v apt-get >/dev/null || return 1
    if [ -z "$apt_updated" ]; then
        thrice as_root apt-get update -qq >/dev/null || return 1
        apt_updated=yes
    fi
    thrice as_root env DEBIAN_FRONTEND=noninteractive \
        apt-get install -y -qq --no-install-recommends "$@" >/dev/null
}

# An environment of Python of its own; ensurepip is a package of its own on Debian.
venv() {
    python3 -m venv "$1" >/dev/null 2>&1 && return
    rm -rf "$1"
    apt_install python3 python3-venv && python3 -m venv "$1"
}

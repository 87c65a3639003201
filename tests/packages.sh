# For the scripts beside it: installs Debian packages, or says what is missing and stops.

step() {
    printf '\n== %s\n' "$1"
}

stop() {
    printf '%s: %s\n' "$0" "$1" >&2
    exit 1
}

apt_install() {
    step "installing $*"
    command -v apt-get >/dev/null || stop "missing: $*; there is no apt-get here: install them by hand"
    local as_root=()
    if [ "$(id -u)" -ne 0 ]; then
        command -v sudo >/dev/null || stop "missing: $*; install them as root, then run this again"
        as_root=(sudo)
    fi
    "${as_root[@]}" apt-get update -qq
    "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq "$@"
}

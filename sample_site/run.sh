#!/bin/sh
# Shows the program on the sample site: makes .venv, installs, loads and serves.
# Arguments are passed on to `fieldapp demo`.
set -eu
cd "$(dirname "$0")/.."
. ./.ci/setup.sh

install_project ''
# Without these a phone scans codes only where its browser can by itself.
bring_scripts || say "Going on: codes are scanned only where the browser itself can."
# Without these everything works but printing a record as PDF.
need_packages $PAPER_PACKAGES || say "Going on: records cannot be printed as PDF."
exec .venv/bin/fieldapp demo "$@"

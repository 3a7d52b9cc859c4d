"""Lets `python -m fieldapp` do what the command `fieldapp` does."""

from fieldapp.cli import main

if __name__ == "__main__":
    raise SystemExit(main())

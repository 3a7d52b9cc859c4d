"""Which form of this API is spoken, and what a newer phone is told.

A version is never withdrawn: what version 1 pushes is taken for ever. A phone that
speaks a newer one is told which are understood here, before anything is read.
"""

from flask import Blueprint, Response, request

from fieldapp.sync.wire import WireError, read_whole

API_HEADER = "Fieldapp-Api"
API = 1
"""The newest version spoken here; every one from 1 on is."""
HIGHEST = 9_999


def speaks_versions(blueprint: Blueprint) -> None:
    """Have the roads of a blueprint check the version asked for and state their own."""
    blueprint.before_request(_check)
    blueprint.after_request(_state)


def _check() -> None:
    asked = read_whole(request.headers.get(API_HEADER, "1"), API_HEADER, 1, HIGHEST)
    if asked > API:
        allowed = f"versions 1 to {API} of this API" if API > 1 else "version 1"
        raise WireError("newer_api", API_HEADER, asked, allowed)


def _state(answer: Response) -> Response:
    answer.headers[API_HEADER] = str(API)
    return answer

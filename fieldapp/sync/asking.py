"""Who is asking: the phone behind a request, by its token and never by a session."""

from flask import current_app, request

from fieldapp.config import Running
from fieldapp.store.devices import Device, device_of_token
from fieldapp.sync.wire import WireError


def running_here() -> Running:
    """Give what this app was wired with."""
    running: Running = current_app.extensions["fieldapp"]
    return running


def token_here() -> str:
    """Give the token a request carries, or nothing."""
    scheme, _, token = request.headers.get("Authorization", "").partition(" ")
    return token.strip() if scheme.lower() == "bearer" else ""


def device_here() -> Device | None:
    """Give the device whose token a request carries, or None."""
    token = token_here()
    return device_of_token(running_here().door.store, token) if token else None


def known_device() -> Device:
    """Give the device that asks, revoked or not. Errors: `WireError` 401."""
    device = device_here()
    if device is None:
        allowed = "Bearer and a device's token"
        raise WireError("no_token", "Authorization", "none known", allowed, 401)
    return device


def device_in_force() -> Device:
    """Give the device that asks, if it may be told anything. Errors: `WireError`."""
    device = known_device()
    if device.revoked:
        raise WireError("revoked", "device", device.device, "a device in force", 403)
    return device

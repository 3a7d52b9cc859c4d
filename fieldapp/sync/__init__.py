"""The phone's API: a thin rim around `intake` and `lookups`."""

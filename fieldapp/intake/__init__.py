"""The one door in: nothing else appends to the ledger (see `batch`, `office`)."""

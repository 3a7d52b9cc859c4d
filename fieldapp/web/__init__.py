"""The desk: pages that read without script, and the shell the phones load."""

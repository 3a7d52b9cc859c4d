"""A machine that looks for loss: many phones, a real server, and every misfortune."""

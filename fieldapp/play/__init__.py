"""Plays scripted stories of entries: phones, people and clocks that are made up.

Keys are made at random for one play and never written down, so that nothing played
can ever be signed again. For showing and testing; never for a real site's data.
"""

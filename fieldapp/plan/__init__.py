"""The plan of a site: reads its files, checks them, compiles the sheets.

`read_site(folder)` does all three, because what cannot be compiled is a fault of the
files; `compile_site(site)` hands on what it found. Physics is compiled here and
nowhere else; nothing is stored and no clock is read.
"""

from fieldapp.plan.compile import Compiled
from fieldapp.plan.faults import Fault, SiteFaults
from fieldapp.plan.read import Site, compile_site, read_site

__all__ = ["Compiled", "Fault", "Site", "SiteFaults", "compile_site", "read_site"]

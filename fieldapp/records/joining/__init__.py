"""PDFs joined into one, with tags and attachments, in the memory of the largest.

`out` writes the file, `source` reads one part of it, `whole` puts them together.
"""

from fieldapp.records.joining.source import LINK, digest_of, page_digests, reader_of
from fieldapp.records.joining.whole import Attached, Part, join

__all__ = ["LINK", "Attached", "Part", "digest_of", "join", "page_digests", "reader_of"]

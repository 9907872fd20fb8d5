"""What the typesetter can't say in a PDF: print it at its size. Said by an incremental update of the file."""

from __future__ import annotations

import re

_TRAILER = re.compile(rb"trailer\s*<<(.*?)>>\s*startxref\s+(\d+)\s+%%EOF\s*\Z", re.DOTALL)


def unscaled(pdf: bytes) -> bytes:
    """The file with `/PrintScaling /None` among its viewer's preferences (ISO 32000-1, 12.2 and 7.5.6).

    A new version of the catalogue and a cross-reference section for it are put behind the file; what was there stays as
    it is. A file laid out otherwise (cross-reference streams) is given back unchanged.
    """
    trailer = _TRAILER.search(pdf, max(0, len(pdf) - 2048))
    root = re.search(rb"/Root (\d+) 0 R", trailer[1]) if trailer else None
    if trailer is None or root is None:
        return pdf
    catalogue = re.search(rb"\n%b 0 obj\s*(<<.*?)\s*endobj" % root[1], pdf, re.DOTALL)
    if catalogue is None or b"/ViewerPreferences<<" not in catalogue[1]:
        return pdf
    changed = catalogue[1].replace(b"/ViewerPreferences<<", b"/ViewerPreferences<</PrintScaling/None", 1)
    body = pdf if pdf.endswith(b"\n") else pdf + b"\n"
    place = len(body)
    body += b"%b 0 obj\n%b\nendobj\n" % (root[1], changed)
    table = b"xref\n%b 1\n%010d 00000 n\r\ntrailer\n<<%b/Prev %b>>\n" % (
        root[1],
        place,
        trailer[1],
        trailer[2],
    )
    return body + table + b"startxref\n%d\n%%%%EOF\n" % len(body)

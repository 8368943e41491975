"""Printed pages read back by two readers that share no code: what is drawn where, in mm from the lower left corner.

Each file is read once by each reader, however many tests look at it.
"""

from __future__ import annotations

import ctypes
import io
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import numpy as np
import pdfplumber
import pypdfium2
import pypdfium2.raw as pdfium

from core.geometry.polyline import Points, as_points

MM = 25.4 / 72.0


@dataclass(frozen=True, eq=False)
class ReadPage:
    """Size in mm, and every stroked or filled path as points (N, 2) in mm."""

    size: tuple[float, float]
    paths: list[Points]


@cache
def by_pdfplumber(pdf: bytes) -> list[ReadPage]:
    """The pages as pdfplumber sees them."""
    with pdfplumber.open(io.BytesIO(pdf)) as read:
        return [_plumbed(page) for page in read.pages]


def _plumbed(page: pdfplumber.page.Page) -> ReadPage:
    height = float(page.height)
    items = [*page.lines, *page.curves, *page.rects]
    paths = [as_points([(x * MM, (height - y) * MM) for x, y in item["pts"]]) for item in items]
    return ReadPage((float(page.width) * MM, height * MM), paths)


@cache
def by_pypdfium2(pdf: bytes) -> list[ReadPage]:
    """The pages as pdfium sees them."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [_rendered(document[index]) for index in range(len(document))]
    finally:
        document.close()


def _rendered(page: pypdfium2.PdfPage) -> ReadPage:
    width, height = page.get_size()
    paths = [as_points(points) for item in page.get_objects(max_depth=1) for points in _subpaths(item)]
    return ReadPage((width * MM, height * MM), paths)


def _subpaths(item: pypdfium2.PdfObject) -> Iterator[list[tuple[float, float]]]:
    """The polylines of a path object; none for other objects."""
    if item.type != pdfium.FPDF_PAGEOBJ_PATH:
        return
    matrix = item.get_matrix()
    points: list[tuple[float, float]] = []
    for index in range(pdfium.FPDFPath_CountSegments(item)):
        segment = pdfium.FPDFPath_GetPathSegment(item, index)
        x, y = ctypes.c_float(), ctypes.c_float()
        assert pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        assert pdfium.FPDFPathSegment_GetType(segment) in (pdfium.FPDF_SEGMENT_MOVETO, pdfium.FPDF_SEGMENT_LINETO)
        if pdfium.FPDFPathSegment_GetType(segment) == pdfium.FPDF_SEGMENT_MOVETO and points:
            yield points
            points = []
        points.append(tuple(side * MM for side in matrix.on_point(x.value, y.value)))
        if pdfium.FPDFPathSegment_GetClose(segment) and points[-1] != points[0]:
            points.append(points[0])
    if points:
        yield points


def squares(page: ReadPage) -> list[tuple[float, float, float, float]]:
    """Left, bottom, width and height of every upright rectangle on a page, in mm."""
    found = []
    for path in page.paths:
        low, size = path.min(axis=0), np.ptp(path, axis=0)
        on_border = [np.isclose(p, low, atol=1e-3) | np.isclose(p, low + size, atol=1e-3) for p in path]
        if 4 <= len(path) <= 5 and np.all(on_border) and size.min() > 1.0:
            found.append((float(low[0]), float(low[1]), float(size[0]), float(size[1])))
    return found

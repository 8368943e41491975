"""Writing what a lay dialog shows to a file: the plan at a reduced scale, or the marker at true size."""

from __future__ import annotations

from pathlib import Path
from typing import Literal, TypeAlias

from core.design.design import Design
from core.errors import Refusal
from core.file.naming import shown_name
from core.file.writer import write_atomically
from core.outputs.lay_pages import marker_pages, plan_pages
from core.outputs.lay_pdf import plan_pdf
from core.outputs.lay_plans import FabricPlan

Kind: TypeAlias = Literal["plan", "marker"]
TITLES: dict[Kind, str] = {"plan": "Lay plan", "marker": "Marker"}


def write_pages(path: Path, kind: Kind, plan: FabricPlan, design: Design) -> str:
    """Write the pages; the sentence that says so. Refusal when they cannot be written, or not under that name."""
    if path.suffix.casefold() != ".pdf":
        raise Refusal(f"{shown_name(path)} would be no file of pages: give it a name that ends in .pdf.")
    pages = marker_pages(plan) if kind == "marker" else plan_pages([plan], design.date)
    title = f"{TITLES[kind]}: {design.name}"
    write_atomically(path, plan_pdf(pages, title=title, day=design.date), keep_previous=False)
    return f"{shown_name(path)} is written: print it at actual size."

"""What the user writes for the sheets that go with a design: costs, the order of making, notes for the fitting."""

from __future__ import annotations

from typing import Annotated, TypeAlias

import msgspec

from core.fabrics.catalogue import Price

Hours: TypeAlias = Annotated[float, msgspec.Meta(ge=0, le=10_000)]
LongText: TypeAlias = Annotated[str, msgspec.Meta(max_length=10_000)]
ShortText: TypeAlias = Annotated[str, msgspec.Meta(max_length=200)]


class CostLine(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Something else that is paid for, such as a zip, in the costing's currency."""

    words: ShortText
    price: Price


class Costing(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """Hours of work, what an hour is paid, and what is bought besides cloth. `currency` is as the user writes it."""

    hours: Hours = 0.0
    hourly: Price = 0.0
    currency: Annotated[str, msgspec.Meta(max_length=12)] = ""
    lines: Annotated[tuple[CostLine, ...], msgspec.Meta(max_length=100)] = ()


class Sheets(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """Texts and figures of the sheets. An empty `making` is the order that is worked out from seams and fabrics."""

    costing: Costing = Costing()
    making: LongText = ""
    fitting: LongText = ""

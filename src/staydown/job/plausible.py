"""Which values are possible but unusual? Asks whether the unit is right, and says what was read in both systems."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from staydown.foundation.quantities import QUANTITIES
from staydown.foundation.refusals import both_units
from staydown.foundation.units import reads_as
from staydown.job.records import Record, Rectangle
from staydown.job.remark import Remark
from staydown.job.shape import FieldShape, fields_of


def unusual_values(record: Record, place: str, typed: dict[str, str]) -> Iterator[Remark]:
    """Yield a doubt for each value of a record, and of the records in it, outside its plausible band.

    Parameters
    ----------
    record : Record
        Values in SI.
    place : str
        Its dotted key, empty for the whole job.
    typed : dict
        What was typed at each dotted key, where it was.
    """
    for field in fields_of(type(record)):
        value = getattr(record, field.name)
        key = f"{place}.{field.key}" if place else field.key
        if isinstance(value, tuple):
            for number, one in enumerate(value, 1):
                if isinstance(one, Record):
                    yield from unusual_values(one, f"{key}.{number}", typed)
        elif isinstance(value, Rectangle):
            yield from _doubt(field, value.area_m2, "m2", key, typed.get(key, ""))
        elif isinstance(value, Record):
            yield from unusual_values(value, key, typed)
        else:
            yield from _doubt(field, value, field.suffix, key, typed.get(key, ""))


def _doubt(field: FieldShape, value: Any, suffix: str, key: str, text: str) -> Iterator[Remark]:
    if field.limits.plausible is None or not isinstance(value, float):
        return
    low, high = field.limits.plausible
    if not (value < low or value > high):  # nan, which stands for what could not be read, passes
        return
    unit = QUANTITIES[suffix].unit if suffix else "1"
    read, least, most = (f"{one:g}" if unit == "1" else reads_as(one, unit) for one in (value, low, high))
    rule = f"reads as {read}; usual is {least} to {most}"
    metric, us = both_units(suffix) if suffix else ("", "")
    if "mil" in text.replace("milli", ""):
        hint = "a mil is 0.001 in, not 1 mm; is that what you mean?"
    elif metric == us or suffix == "m2":
        hint = "is it right?"
    else:
        hint = f"is the unit right: {metric} or {us}?"
    yield Remark(key=key, rule=rule, hint=hint, grade="warning")

"""Counts things in words: one of them, or many."""

from __future__ import annotations


def counted(count: int, one: str, many: str = "") -> str:
    """Return a count with its noun: `1 entry`, `2 entries`. many: the plural where it is not the noun with an s.

    Examples
    --------
    >>> counted(1, "coupon"), counted(0, "coupon"), counted(2, "entry", "entries")
    ('1 coupon', '0 coupons', '2 entries')
    """
    return f"{count} {one if count == 1 else many or one + 's'}"

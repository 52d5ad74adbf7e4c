"""What was assumed, each with what it does to the use at both ends of its band."""

from __future__ import annotations

from collections.abc import Sequence

from staydown.advice.assumptions import Assumption
from staydown.library.cards import Band
from staydown.outputs.amounts import bare_percent
from staydown.outputs.card_text import band_text
from staydown.outputs.columns import headline, wrap

MOST = 8
ASSUMED = ("planning value", "class card", "default", "typed")  # typed: as a band of one's own
LEAST_SWING = 0.005  # half a per cent of the use: below it an assumption moves nothing that is shown


def assumptions_text(
    weights: Sequence[Assumption], system: str, width: int, *, several: bool, verbose: bool
) -> list[str]:
    """Return what was assumed, what moves the use most first.

    Parameters
    ----------
    weights : sequence of Assumption
        Assumptions with the use at both ends.
    system : str
        "metric" or "us".
    width : int
        Cells of a line.
    several : bool
        The job has several items, so each line says whose it is.
    verbose : bool
        All of them.
    """
    assumed = sorted((weight for weight in weights if weight.basis in ASSUMED), key=by_effect)
    moving = [weight for weight in assumed if _swing(weight) >= LEAST_SWING]
    shown = assumed if verbose else (moving or assumed)[:MOST]
    if not shown:
        return []
    lines = headline("Assumed, not typed by you", "use at its low / high end", width)
    lines += wrap("low / likely / high, and which of them counts; what moves the use most first", width)
    lines.append("")
    for weight in shown:
        name = f"{weight.item}: {weight.what}" if several else weight.what
        lines += [f"  {line}" for line in headline(name, ends_text(weight), width - 2)]
        basis = weight.basis[:1].upper() + weight.basis[1:]
        lines += wrap(f"{value_text(weight, system)}. {basis}: {weight.source}", width, first="      ")
    rest = len(assumed) - len(shown)
    if rest:
        still = " that do not move it" if 0 < len(moving) <= len(shown) else ""
        more = f"and {rest} more{still}: `staydown check --json` lists them, `staydown explain` shows what they lead to"
        lines += wrap(more, width, first="  ")
    return lines


def _swing(weight: Assumption) -> float:
    low, high = weight.use_at_low, weight.use_at_high
    return 0.0 if low is None or high is None else abs(high - low)


def by_effect(weight: Assumption) -> tuple[float, bool]:
    """Return the order: by how far it moves the use, those with a band before those without."""
    return -_swing(weight), not weight.low < weight.high


def ends_text(weight: Assumption) -> str:
    """Return the use at both ends of the band: `57 / 62 %`."""
    if not weight.low < weight.high:
        return "no band"
    if weight.use_at_low is None and weight.use_at_high is None:
        return "effect not known"
    return f"{bare_percent(weight.use_at_low)} / {bare_percent(weight.use_at_high)} %"


def value_text(weight: Assumption, system: str) -> str:
    """Return the band and the end that counts: `0.6 / 0.9 / 1.2, high counts`."""
    band = Band(
        low=weight.low, likely=weight.likely, high=weight.high, unit=weight.unit, basis="default", source=""
    )
    told = band_text(band, system)
    if not weight.low < weight.high:
        return told
    ends = {"likely": weight.likely, "low": weight.low, "high": weight.high}
    which = next((name for name, end in ends.items() if end == weight.value), "")
    return f"{told}, {which} counts" if which else told

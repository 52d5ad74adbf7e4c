"""What is said of a tether: enough or not, what it lacks, and what one would have to be."""

from __future__ import annotations

from dataclasses import dataclass, replace

from staydown.foundation.numbers import Number, at
from staydown.foundation.quantities import rounded
from staydown.retention.retention import Retention, TetherCheck

SLACK_DIGITS = 2  # nobody ties a line more finely
COUNTS = {1: "one tether", 2: "two tethers"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """How numbers of an item's tethers are said: read at the worst case, named `where`, in the person's system."""

    index: tuple[int, int, int]
    where: str
    least_slack_m: float
    system: str

    def value(self, number: Number) -> float:
        """Return a number at the worst case."""
        return at(number, self.index)

    def shown(self, number: Number) -> str:
        """Return a number at the worst case in both systems."""
        return rounded(self.value(number), number.unit, self.system)

    def at_least(self, number: Number) -> str:
        """Return what must not be less, rounded up."""
        return rounded(self.value(number), number.unit, self.system, "up")

    def at_most(self, number: Number) -> str:
        """Return what must not be more, rounded down."""
        return rounded(self.value(number), number.unit, self.system, "down", SLACK_DIGITS)

    @property
    def least_slack(self) -> str:
        """Return the least slack in both systems."""
        return rounded(self.least_slack_m, "m", self.system, "up", SLACK_DIGITS)


def told(check: TetherCheck, words: Words) -> TetherCheck:
    """Return a tether with its answer: ok where it lacks nothing, else each lack with what would be right."""
    name = f"tether {check.number} ({check.material} to {check.anchor})"
    lacks = [*_of_anchor_kind(check), *_of_slack(check, words), *_of_strength(check, words)]
    if lacks:
        return replace(check, sentence=f"{name} is not enough: {'; '.join(lacks)}")
    numbers = (check.snatch, check.slack, check.most_slack, check.line_use, check.anchor_use)
    snatch, slack, most, line, anchor = (number for number in numbers if number is not None)
    return replace(
        check,
        ok=True,
        sentence=f"{name} is enough: {words.shown(snatch)} when it snatches in {words.where}; its line is used to "
        f"{100 * words.value(line):.0f} %, its anchor to {100 * words.value(anchor):.0f} %, their factors counted; "
        f"its slack of {words.shown(slack)} may be {words.least_slack} to {words.at_most(most)}",
    )


def _of_anchor_kind(check: TetherCheck) -> list[str]:
    if check.anchor_kind is None:
        return ["nobody says what its anchor is fixed to, so it does not count as independent of the bond"]
    if not check.independent:
        return [f"its anchor is {check.anchor_kind}: it leaves with what it should catch"]
    return []


def _of_slack(check: TetherCheck, words: Words) -> list[str]:
    if check.slack is None:
        return ["its slack is not known"]
    slack = words.value(check.slack)
    if slack < words.least_slack_m:
        return [f"it is taut: heat and the road move the item, leave {words.least_slack} of slack or more"]
    if check.most_slack is None or slack <= words.value(check.most_slack):
        return []
    if words.value(check.most_slack) < words.least_slack_m:
        return [
            "even with the least slack it snatches too hard: take a softer or stronger line, a stronger anchor"
        ]
    return [f"its slack of {words.shown(check.slack)} is too much: at most {words.at_most(check.most_slack)}"]


def _of_strength(check: TetherCheck, words: Words) -> list[str]:
    lacks = []
    for what, strength, needed, use in (
        ("line", check.line_strength, check.line_needed, check.line_use),
        ("anchor", check.anchor_strength, check.anchor_needed, check.anchor_use),
    ):
        wanted = "" if needed is None else f", it needs {words.at_least(needed)}"
        if strength is None:
            lacks.append(f"the strength of its {what} is not known{wanted}")
        elif use is not None and words.value(use) > 1.0:
            lacks.append(f"its {what} holds {words.shown(strength)}{wanted}")
    return lacks


def answered(retention: Retention, longest: Number, kept: Number, words: Words) -> Retention:
    """Return the retention with its answer: what is there, or what it needs.

    longest: of items that one may catch [m]. kept: share of a line's strength that its ends leave. [1]
    """
    enough = sum(tether.ok for tether in retention.tethers)
    own = tuple(tether.sentence for tether in retention.tethers)
    care = tuple(dict.fromkeys(tether.care for tether in retention.tethers))
    if enough >= retention.wanted:
        return replace(retention, ok=True, sentences=(*own, f"lines: {_ends(kept)}", *care))
    wanted = COUNTS[retention.wanted]
    if retention.wanted > 1:
        wanted += f" (a side of it is over {words.shown(longest)}), each strong enough for the whole"
    if enough:
        wanted += f"; {enough} of them is there"
    tether = retention.proposal
    line, anchor = words.at_least(tether.line_needed), words.at_least(tether.anchor_needed)
    needs = (
        f"it needs {wanted}: for example webbing no stiffer than {words.at_most(tether.stiffness)}, "
        f"{words.least_slack} to {words.at_most(tether.slack)} of slack, a line that breaks at "
        f"{line} or more ({_ends(kept)}), an anchor for {anchor} or more, fixed to the vehicle's structure and not to "
        f"sheet or bond; the wind pulls {words.shown(retention.steady)} steadily, {words.shown(tether.snatch)} when it "
        f"snatches, in {words.where}"
    )
    return replace(retention, sentences=(needs, *own, *care))


def _ends(kept: Number) -> str:
    """Return how the ends of a line were counted."""
    return f"its ends counted as keeping {100 * at(kept, (0, 0, 0)):.0f} % of it: clips and splices do, knots do not"

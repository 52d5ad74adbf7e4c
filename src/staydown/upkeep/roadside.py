"""Answers the roadside question: feet have opened or gone, can I drive? Conservative: to a safe place, not home."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from staydown.assess import Assessment, ItemAssessment
from staydown.foundation.numbers import Number, definition, derive
from staydown.foundation.quantities import both
from staydown.retention.retention import Retention
from staydown.spread.lost_mounts import build_lost_mounts
from staydown.spread.spring_group import build_spring_group
from staydown.upkeep import proof_laws as laws
from staydown.verdict.build_rest import rests
from staydown.verdict.redundancy import judged, lay_out_work, life_slope
from staydown.verdict.rest import Rest

# what is left may share the cause of what went: it is never driven on its own
TAKE_OFF = "Take it off and carry it inside: that is the best answer."
STRAP = (
    "Else two ratchet straps over the item to door frames or chassis, not to its feet, beside its tether; pull at each "
    "by hand."
)
HOW = "No motorway. Stop and look after 5 and after 30 minutes, and whenever something rattles or whistles."
NEVER = (
    "Do not press the foot down, do not run glue under its edge: it hides what happened and holds nothing."
)
AT_HOME = (
    "At a safe place: take the foot off, read both faces, look with a strip of paper at every other foot, pull each "
    "with its proof pull, and ask what shares the cause: same day, same lot, same hand, same patch of roof."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Roadside:
    """The answer: never more than "to a safe place, strapped". speed: of the air, wind included [m/s]; None: none.

    orders: what to do, in order. because: what the numbers say.
    """

    item: str
    lost: tuple[str, ...]
    head: str
    speed: Number | None
    orders: tuple[str, ...]
    because: tuple[str, ...]
    rest: Rest | None


def roadside(assessment: Assessment, assessed: ItemAssessment, lost: Sequence[str]) -> Roadside:
    """Return whether an item may be driven to a safe place with feet that have opened or gone.

    An opened foot counts as lost. What is left must hold the roadside margin over its wind loads, and no more than the
    roadside speed of the air is ever named.

    Raises
    ------
    ValueError
        No foot is named, or one that the item has not.
    """
    mounts = [mount.name for mount in assessed.item.mount]
    if not lost or not set(lost) <= set(mounts):
        raise ValueError(f"{assessed.place}: which of {', '.join(mounts)}?")
    system = assessment.job.job.show
    left = [mount for mount in mounts if mount not in lost]
    name = " and ".join(lost)
    if assessed.mounted is None or not left:
        return _answer(assessed, lost, None, None, (f"with {name} gone nothing holds it",), system)
    rest = _rest(assessment, assessed, [mounts.index(one) for one in dict.fromkeys(lost)])
    because = [_said(rest, name, system)]
    planning = assessment.cards.planning
    speed: Number | None = None
    if rest.air_speed is not None:
        safe = derive(
            laws.speed_with_margin,
            air_speed_m_per_s=rest.air_speed,
            margin=planning["roadside_margin"].decided,
        )
        most = planning["roadside_air_speed"].decided
        speed = safe if float(safe.value) < float(most.value) else most
        margin = float(planning["roadside_margin"].decided.value)
        because.append(
            f"with {margin:g} times its wind loads in hand the rest holds "
            f"{both(float(safe.value), 'm/s', system)} of air"
        )
    because.append("what made one foot let go may be at work under the others")
    caught = _tether(assessed.mounted.retention)
    return _answer(assessed, lost, rest, speed, (*because, caught), system)


CREEP = definition(5.0, "m/s", "walking pace and a breath of wind; common practice, no source")


def _answer(
    assessed: ItemAssessment,
    lost: Sequence[str],
    rest: Rest | None,
    speed: Number | None,
    because: tuple[str, ...],
    system: str,
) -> Roadside:
    moves = speed is not None and float(speed.value) > float(CREEP.value)
    if moves and speed is not None:
        air = both(float(speed.value), "m/s", system)
        head = f"Not at road speed as it is. Strapped, to the next safe place, at most {air} of air, wind included."
        orders: tuple[str, ...] = (TAKE_OFF, STRAP, HOW, NEVER, AT_HOME)
    else:
        head = "Do not drive with it. Take it off where you stand."
        orders = (TAKE_OFF, NEVER, AT_HOME)
    return Roadside(
        item=assessed.item.name,
        lost=tuple(lost),
        head=head,
        speed=speed if moves else None,
        orders=orders,
        because=because,
        rest=rest,
    )


def _said(rest: Rest, name: str, system: str) -> str:
    if rest.mount is None:
        return f"with {name} gone nothing holds it"
    if rest.use is None:
        return f"with {name} gone it is not known whether the rest holds: nothing is proven for {rest.mount}"
    holds = "is within" if rest.use <= 1.0 else "is over"
    told = f"with {name} gone {rest.mount} needs {100 * rest.use:.0f} % of what is proven: it {holds} it"
    if rest.air_speed is not None:
        told += f", all used at {both(float(rest.air_speed.value), 'm/s', system)} of air"
    return told


def _tether(retention: Retention) -> str:
    return (
        f"if the rest goes too: {retention.sentences[0]}"
        if retention.sentences
        else "nothing catches it if the rest goes too"
    )


def _rest(assessment: Assessment, assessed: ItemAssessment, lost: list[int]) -> Rest:
    """Return what is left of an item without some of its mounts."""
    mounted, item = assessed.mounted, assessed.item
    assert mounted is not None
    tape = next(one for one in assessment.job.tape if one.name == item.tape)
    table = mounted.table
    group = build_spring_group(item, assessed.place, tape, assessment.cards, table, judged(table))
    links = [checked.link for checked in mounted.chain]
    slope = life_slope(mounted.capacity, assessed.standing.tape)
    work = lay_out_work(group, table, mounted.checks, links, assessment.job.travel, slope)
    (rest,) = rests(work, build_lost_mounts(group, [tuple(lost)]), mounted.redundancy.whole_cruise_use)
    return rest

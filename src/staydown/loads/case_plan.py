"""Which cases there are: one row each, by name, season and what acts, before any number."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, pi, sin

from staydown.foundation.exposure import Season
from staydown.loads.load_case import Family

Direction = tuple[float, float, float]

STORM_BEARINGS: dict[str, float] = {
    "front": 0.0,
    "front left": pi / 4,
    "left": pi / 2,
    "rear left": 3 * pi / 4,
    "rear": pi,
    "rear right": -3 * pi / 4,
    "right": -pi / 2,
    "front right": -pi / 4,
}
EDGES: dict[str, tuple[float, float]] = {
    "front": (1.0, 0.0),
    "rear": (-1.0, 0.0),
    "left": (0.0, 1.0),
    "right": (0.0, -1.0),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedCase:
    """One case before numbers: which wind, which inertia, which push, which duration.

    wind: name of a wind state, "calm" for none. inertia: planning id and direction of the push.
    push: (edge, direction) of a hand's force. thermal: movement only.
    """

    name: str
    season: Season
    family: Family
    duration: str
    wind: str = "calm"
    inertia: tuple[str, Direction] | None = None
    push: tuple[str, Direction] | None = None
    passing: bool = False
    snow: bool = False
    thermal: bool = False


def _moving(season: Season, passing: bool) -> list[PlannedCase]:
    def moving(name: str, duration: str, wind: str = "cruise", **more: object) -> PlannedCase:
        return PlannedCase(name=name, season=season, family="moving", duration=duration, wind=wind, **more)  # type: ignore[arg-type]

    rows = [moving("cruise", "longest_leg")]
    if season == "hot":
        rows.append(moving("departure", "departure_duration"))
    rows += [
        moving("gust", "gust_duration", "gust"),
        moving("crosswind left", "gust_duration", "crosswind left"),
        moving("crosswind right", "gust_duration", "crosswind right"),
        moving("rough road", "rough_road_duration", inertia=("bump", (0.0, 0.0, 1.0))),
        moving("braking", "inertia_duration", inertia=("braking", (1.0, 0.0, 0.0))),
        moving("speeding up", "inertia_duration", inertia=("speeding_up", (-1.0, 0.0, 0.0))),
        moving("cornering left", "inertia_duration", inertia=("cornering", (0.0, -1.0, 0.0))),
        moving("cornering right", "inertia_duration", inertia=("cornering", (0.0, 1.0, 0.0))),
    ]
    if passing:
        rows.append(moving("passing truck", "passing_duration", passing=True))
    return rows


def _parked(season: Season) -> list[PlannedCase]:
    rows = [
        PlannedCase(
            name=f"storm {name}",
            season=season,
            family="parked",
            duration="storm_duration",
            wind=f"storm {name}",
        )
        for name in STORM_BEARINGS
    ]
    # a hand pushes along the edge it holds: that turns the item about z, which a push across the edge does not
    along_edge: dict[str, Direction] = {
        "front": (0.0, 1.0, 0.0),
        "rear": (0.0, 1.0, 0.0),
        "left": (1.0, 0.0, 0.0),
        "right": (1.0, 0.0, 0.0),
    }
    for way in ("up", "sideways"):
        rows += [
            PlannedCase(
                name=f"handling {way} {edge}",
                season=season,
                family="handling",
                duration="handling_duration",
                push=(edge, (0.0, 0.0, 1.0) if way == "up" else along_edge[edge]),
            )
            for edge in EDGES
        ]
    return rows


def plan_cases(*, passing: bool, snow: bool) -> tuple[PlannedCase, ...]:
    """Return all cases of an item, hot and cold, in the order they are shown.

    Parameters
    ----------
    passing : bool
        A passing truck's pressure was given.
    snow : bool
        A snow load was given.
    """
    rows: list[PlannedCase] = []
    seasons: tuple[Season, ...] = ("hot", "cold")
    for season in seasons:
        rows += _moving(season, passing) + _parked(season)
    if snow:
        rows.append(
            PlannedCase(name="snow", season="cold", family="snow", duration="snow_duration", snow=True)
        )
    for season in seasons:
        rows.append(
            PlannedCase(
                name=f"{season} soak",
                season=season,
                family="soak",
                duration="soak_duration",
                thermal=True,
            )
        )
    return tuple(rows)


def bearing_cosines(name: str) -> tuple[float, float]:
    """Return the direction (x, y) that a storm of this name comes from, exact zeros on the axes.

    Examples
    --------
    >>> bearing_cosines("rear"), bearing_cosines("left")
    ((-1.0, 0.0), (0.0, 1.0))
    """
    angle = STORM_BEARINGS[name]
    return round(cos(angle), 15) + 0.0, round(sin(angle), 15) + 0.0

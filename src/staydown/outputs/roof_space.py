"""Fills the picture of the roof seen from a corner from an assessment, in one case."""

from __future__ import annotations

from math import hypot, radians

from staydown.assess import Assessment, ItemAssessment, Mounted
from staydown.foundation.numbers import at
from staydown.outputs.amounts import amount, case_name, length, percent
from staydown.outputs.columns import clean
from staydown.outputs.most_used import Pick, pick, worst_pick
from staydown.outputs.sentences import worst_pull
from staydown.pictures.picture import Picture
from staydown.pictures.roof_in_space import roof_in_space
from staydown.pictures.solids import SeenFrom
from staydown.pictures.space_sheet import Space, SpaceFixture, SpaceFoot, SpaceItem
from staydown.verdict.checks import HIGH

# from straight ahead towards the left [degree]: a corner shows length and width; looks, measured by nobody
CORNERS = {
    "front left": 58.0,
    "front right": -58.0,
    "rear left": 122.0,
    "rear right": -122.0,
    "ahead": 12.0,
}
ABOVE = 27.0  # how far above the roof one looks from [degree]
SCALES = {"metric": (1.0, 0.5, 0.2, 0.1), "us": (0.9144, 0.3048, 0.1524)}  # lengths of the measuring bar [m]


def roof_space(
    assessment: Assessment,
    number: int,
    case: int | None = None,
    corner: str = "front left",
    *,
    near: bool = False,
    narrow: bool = False,
    keyed: bool = True,
) -> Picture | None:
    """Return the roof seen from a corner in one case of one item; None where the item has no mounts.

    Parameters
    ----------
    assessment : Assessment
        The assessed job.
    number : int
        Index of the item whose case is shown; the others show the case of the same name where they have it.
    case : int or None
        Row of the item's case table; None is its worst pull.
    corner : str
        Key of `CORNERS`.
    near : bool
        Show this item alone, closer.
    narrow : bool
        For the width of a phone.
    keyed : bool
        With the key to the marks under it.
    """
    told = assessment.items[number]
    if told.mounted is None:
        return None
    shown = worst_pull(told.mounted).case if case is None else case
    row = told.mounted.table.cases[shown]
    job, system = assessment.job, assessment.job.job.show
    items = tuple(_item(one, _same_case(one, told.mounted, shown), system) for one in assessment.items)
    speed = hypot(*row.air_velocity_m_per_s)
    wind = (
        None if speed == 0.0 else (row.air_velocity_m_per_s[0] / speed, row.air_velocity_m_per_s[1] / speed)
    )
    air = at(row.air_speed, (shown, HIGH, 0))
    words = "" if wind is None else f"air {amount(air, 'm/s', system)}"
    side = told.item.length_m if near else job.vehicle.roof_length_m
    bar = next((size for size in SCALES[system] if size < side / 2.5), SCALES[system][-1])
    seen_words = corner if corner == "ahead" else f"the {corner}"
    return roof_in_space(
        Space(
            length_m=job.vehicle.roof_length_m,
            width_m=job.vehicle.roof_width_m,
            items=items,
            fixtures=tuple(
                SpaceFixture(
                    name=clean(one.name),
                    behind_m=one.behind_front_m,
                    left_m=one.left_of_centre_m,
                    length_m=one.length_m,
                    width_m=one.width_m,
                    height_m=one.height_m or 0.0,
                )
                for one in job.vehicle.on_roof
            ),
            wind=wind,
            wind_words=words,
            scale_m=bar,
            scale=length(bar, system),
            seen=SeenFrom(azimuth_rad=radians(CORNERS[corner]), elevation_rad=radians(ABOVE)),
            seen_words=seen_words,
            told=number,
            near=near,
            alt=_alt(seen_words, case_name(row), items if not near else (items[number],), words, wind),
        ),
        narrow=narrow,
        keyed=keyed,
    )


def _same_case(assessed: ItemAssessment, mounted: Mounted, case: int) -> int | None:
    """Return the row of an item's table that is the same case as a row of another's; None where it has none."""
    if assessed.mounted is None:
        return None
    wanted = mounted.table.cases[case]
    return next(
        (
            row
            for row, one in enumerate(assessed.mounted.table.cases)
            if (one.name, one.exposure.season) == (wanted.name, wanted.exposure.season)
        ),
        None,
    )


def _item(assessed: ItemAssessment, case: int | None, system: str) -> SpaceItem:
    item, mounted = assessed.item, assessed.mounted
    middle = item.left_of_centre_m or 0.0
    picks: dict[int, Pick] = {}
    worst = -1
    if mounted is not None and case is not None:
        picks = {mount: pick(mounted, case, mount) for mount in range(len(item.mount))}
        worst = worst_pick(mounted, cases=[case]).mount
    feet = []
    for number, mount in enumerate(item.mount):
        found = picks.get(number)
        feet.append(
            SpaceFoot(
                name=clean(mount.name),
                behind_m=item.behind_roof_front_m + mount.behind_m,
                left_m=middle + mount.left_m,
                length_m=mount.pad.length_m,
                width_m=mount.pad.width_m,
                pull_N=None if found is None else found.pull_N,
                use=None if found is None else found.use,
                level="none" if found is None else found.level,
                label="" if found is None else _label(found),
                pull="" if found is None else _pull(found, system),
                worst=number == worst,
            )
        )
    return SpaceItem(
        name=clean(item.name),
        behind_m=item.behind_roof_front_m,
        left_m=middle,
        length_m=item.length_m,
        width_m=item.width_m,
        gap_m=item.gap_m,
        thickness_m=item.thickness_m,
        nose_up_rad=item.nose_up_rad or 0.0,
        feet=tuple(feet),
    )


def _label(found: Pick) -> str:
    """Return the use in the case shown: `41 %`, `73 % ?`, `–`."""
    if found.use is None or found.level == "none":
        return "–"
    return percent(found.use) + (" ?" if found.level == "inferred" else "")


def _pull(found: Pick, system: str) -> str:
    return f"{'pulls' if found.pull_N > 0.0 else 'presses'} {amount(abs(found.pull_N), 'N', system)}"


def _alt(
    seen_words: str, case: str, items: tuple[SpaceItem, ...], air: str, wind: tuple[float, float] | None
) -> str:
    """Return in words what the picture shows: every mount with its pull and its use in this case."""
    told = [
        f"{item.name}: "
        + (
            ", ".join(
                f"{one.name} {one.pull}, use {'not proven' if one.label == '–' else one.label}"
                for one in item.feet
            )
            if any(one.pull_N is not None for one in item.feet)
            else "not loaded in this case"
        )
        for item in items
    ]
    blown = "" if wind is None else f" {air[:1].upper()}{air[1:]} comes from {_whence(wind)}."
    return f"The roof seen from {seen_words} and above, in {case}. {'; '.join(told)}.{blown}"


def _whence(wind: tuple[float, float]) -> str:
    """Return where the air comes from, in words.

    Examples
    --------
    >>> _whence((1.0, 0.0)), _whence((0.7, 0.7)), _whence((0.0, -1.0))
    ('ahead', 'ahead and the left', 'the right')
    """
    least = 0.2
    along = "ahead" if wind[0] > least else "behind" if wind[0] < -least else ""
    across = "the left" if wind[1] > least else "the right" if wind[1] < -least else ""
    return " and ".join(part for part in (along, across) if part)

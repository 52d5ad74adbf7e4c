"""The drawing of a job's roof beside the list of what is on it, worst first."""

from __future__ import annotations

from collections.abc import Sequence

from staydown.assess import Assessment, ItemAssessment
from staydown.outputs.amounts import case_name, length, marked
from staydown.outputs.columns import cells, cut, headline, pad, side_by_side, wrap
from staydown.outputs.most_used import Pick, by_mount, without_proof
from staydown.outputs.roof_drawing import Drawing, DrawnItem, DrawnMount, draw_roof

INDENT = 2
GAP = 3
LEAST_LIST = 30  # cells that the list beside the drawing needs
MARKS = (
    ("73", "73 % of what is proven is used"),
    ("?", "inferred: no test of its own"),
    ("-", "pulled in a case without any proof"),
    ("!", "over 100 %: more than is proven"),
)


def roof_text(assessment: Assessment, width: int) -> list[str]:
    """Return the roof from above, to scale, with the list of mounts (of items, where there are several) beside it."""
    vehicle, system = assessment.job.vehicle, assessment.job.job.show
    drawing = draw_roof(
        vehicle.roof_length_m,
        vehicle.roof_width_m,
        [_drawn(item) for item in assessment.items],
        columns=min(40, width - INDENT - GAP - LEAST_LIST),
    )
    canvas = max((cells(line) for line in drawing.lines), default=0)
    room = width - INDENT - canvas - GAP
    if len(assessment.items) == 1:
        beside = _mounts(assessment.items[0], drawing, room)
    else:
        beside = _items(assessment.items, drawing, room)
    beside += ["", *(line for sign, text in MARKS for line in wrap(text, room, first=f"{sign:<4}"))]
    size = f"roof {length(vehicle.roof_length_m, system)} x {length(vehicle.roof_width_m, system)}"
    beside += ["", *wrap(size, room)]
    beside += wrap(f"a column is {length(drawing.column_m, system)}, a row twice that", room)
    for where, hidden_m in (("before", drawing.front_m), ("behind", drawing.rear_m)):
        if hidden_m > 0.0:
            beside += wrap(f"~ {length(hidden_m, system)} of roof {where} this is not drawn", room)
    lines = [
        " " * INDENT + line
        for line in side_by_side([pad(line, canvas) for line in drawing.lines], beside, GAP)
    ]
    return ["  Roof from above, front at the top", "", *(line.rstrip() for line in lines)]


def _drawn(assessed: ItemAssessment) -> DrawnItem:
    item, mounted = assessed.item, assessed.mounted
    middle = item.left_of_centre_m or 0.0
    picks: dict[int, Pick] = {} if mounted is None else {found.mount: found for found in by_mount(mounted)}
    return DrawnItem(
        name=item.name,
        behind_m=item.behind_roof_front_m,
        left_m=middle,
        length_m=item.length_m,
        width_m=item.width_m,
        mounts=tuple(
            DrawnMount(
                name=mount.name,
                behind_m=item.behind_roof_front_m + mount.behind_m,
                left_m=middle + mount.left_m,
                label=mount_label(assessed, picks[number]),
            )
            for number, mount in enumerate(item.mount)
        ),
    )


def mount_label(assessed: ItemAssessment, found: Pick) -> str:
    """Return a mount's use with its marks; `44-` where some other case of it has no proof at all."""
    label = marked(found.use, found.level)
    mounted = assessed.mounted
    if mounted is not None and found.use is not None and without_proof(mounted, found.mount):
        return label + "-"
    return label


def _mounts(assessed: ItemAssessment, drawing: Drawing, room: int) -> list[str]:
    """Return a line for each mount: its letter, name, deciding case and use."""
    if assessed.mounted is None:
        return wrap("no mounts: nothing holds it", room)
    table, names = assessed.mounted.table, assessed.mounted.demands.mounts
    picks = by_mount(assessed.mounted)
    cases = [case_name(table.cases[found.case]) for found in picks]
    labels = [mount_label(assessed, found) for found in picks]
    wide_label = max(cells(text) for text in (*labels, "use %"))
    wide_case = min(max(cells(text) for text in cases), room // 3)
    wide_name = room - wide_label - wide_case - 4
    lines = [pad("worst first", room - wide_label) + pad("use %", wide_label, right=True), "-" * room]
    for found, case, label in zip(picks, cases, labels, strict=True):
        key = drawing.keys.get((0, found.mount), "")
        name = f"{key}) " * bool(key) + names[found.mount]
        line = f"{pad(cut(name, wide_name), wide_name)}  {pad(cut(case, wide_case), wide_case)}  "
        lines.append(line + pad(label, wide_label, right=True))
    return lines


def _items(items: Sequence[ItemAssessment], drawing: Drawing, room: int) -> list[str]:
    lines = []
    order = sorted(range(len(items)), key=lambda number: item_rank(items[number]))
    for number in order:
        assessed = items[number]
        tag = f"#{number + 1} " if number in drawing.tags else ""
        word = assessed.verdict.word
        if cells(word) + 14 <= room:
            lines += headline(tag + cut(assessed.item.name, room - cells(word) - cells(tag) - 2), word, room)
        else:
            lines += [*wrap(tag + assessed.item.name, room), "  " + word]
        if assessed.mounted is not None:
            found = by_mount(assessed.mounted)[0]
            key = drawing.keys.get((number, found.mount), "")
            name = f"{key}) " * bool(key) + assessed.mounted.demands.mounts[found.mount]
            label = mount_label(assessed, found)
            lines.append(pad("  " + cut(name, room - cells(label) - 4), room - cells(label)) + label)
    return lines


def item_rank(assessed: ItemAssessment) -> tuple[int, tuple[int, float]]:
    """Return the order of items, worst first: by word, then by what decides it."""
    from staydown.verdict.verdict import WORDS

    mounted = assessed.mounted
    return WORDS.index(assessed.verdict.word), (0, 0.0) if mounted is None else by_mount(mounted)[0].rank

"""All that is wrong with a file of coupons is told in one round: values, rows, names, and what the logbook has.

The standard is the user's own: findings of two independent mistakes together are those of each, no more and no less.
"""

from __future__ import annotations

import shutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from staydown.foundation.errors import BadInput
from staydown.storage.logbook import Logbook
from staydown.workbench.coupon_table import look_at_table
from staydown.workbench.record import Seen, record_coupons

NOW = Seen(now=datetime(2026, 6, 1, 12, tzinfo=UTC))
VAN = Path(__file__).parents[1] / "data" / "van"  # a job with the tape "grey foam" on painted steel
COLUMNS = ("name", "tape", "surface", "mode", "result", "load", "area", "lasted", "temperature", "made_on", "note",
           "width", "found", "dwell")  # fmt: skip
_SOUND = ("A", "grey foam", "painted_steel", "tension", "fell", "180 N", "25 mm x 25 mm", "31 h", "40 degC",
          "2026-05-01", "", "", "", "24 h")  # fmt: skip
ROWS = 5
Cell = tuple[int, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mistake:
    """Cells that make one; needs: the other cells that must be known to tell it."""

    cells: Mapping[Cell, str]
    needs: frozenset[Cell] = frozenset()


def _row(row: int, needs: str, **cells: str) -> Mistake:
    changed = {(row, column): text for column, text in cells.items()}
    return Mistake(cells=changed, needs=frozenset((row, column) for column in needs.split()))


ALL = " ".join(COLUMNS)
CROSSES = (
    *(_row(row, "", tape=text) for row, text in enumerate(("gray foam", "xyz", "Grey Foam", "foam", "tape"))),
    *(_row(row, "", surface=text) for row, text in enumerate(("painted", "gelcoat2", "steel?", "gfk", "x"))),
    *(_row(row, "mode area", width="25 mm") for row in range(ROWS)),
    *(_row(row, "result lasted", found="40 h") for row in range(ROWS)),
    *(_row(row, "lasted dwell", made_on="2026-05-31") for row in range(ROWS)),
    *(_row(row, "result note", result="spoiled") for row in range(ROWS)),
    *(
        _row(row, ALL, name="A0") for row in range(1, ROWS)
    ),  # said of the same row or of another: needs all of it
    *(_row(row, ALL, name="T0") for row in range(ROWS)),  # the logbook has it, and differs
)
SINGLES = tuple(
    _row(row, "", **{column: text})
    for row in range(ROWS)
    for column, text in (
        ("load", "180"), ("load", ""), ("area", "25 mm x"), ("lasted", "a while"), ("temperature", "40 deg"),
        ("mode", "pull"), ("result", ""), ("made_on", "1 May"), ("dwell", "long"),
        ("name", ""), ("temperature", "40 \udcb0C"), ("load", "1\udcbd kN"),
        ("made_on", "M\udce4rz"),
    )
)  # fmt: skip


def _file(mistakes: Sequence[Mistake]) -> bytes:
    cells = {cell: text for one in mistakes for cell, text in one.cells.items()}
    lines = [",".join(COLUMNS)]
    for row in range(ROWS):
        sound = dict(zip(COLUMNS, _SOUND, strict=True)) | {"name": f"A{row}"}
        lines.append(",".join(cells.get((row, column), sound[column]) for column in COLUMNS))
    return "\n".join(lines).encode("utf-8", errors="surrogateescape")


@pytest.fixture(scope="module", autouse=True)
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job whose logbook holds one coupon, T0."""
    folder = tmp_path_factory.mktemp("one_round")
    shutil.copy(VAN / "job.toml", folder / "job.toml")
    held = ",".join(["T0", *_SOUND[1:5], "170 N", *_SOUND[6:]])
    (folder / "t.csv").write_text(f"{','.join(COLUMNS)}\n{held}\n", encoding="utf-8")
    record_coupons(folder, folder / "t.csv", NOW)
    _JOB.append(folder)
    return folder


_JOB: list[Path] = []


@cache
def _told(content: bytes) -> tuple[str, ...]:
    folder = _JOB[-1]
    file = folder / "coupons.csv"
    file.write_bytes(content)
    before = len(Logbook.read(folder).events())
    with pytest.raises(BadInput) as caught:
        record_coupons(folder, file, NOW)
    lines = [one.line or 0 for one in caught.value.findings]

    assert len(Logbook.read(folder).events()) == before
    assert lines == sorted(lines)
    return tuple(one.line_of_text().encode("utf-8").decode() for one in caught.value.findings)


def told(*mistakes: Mistake) -> list[str]:
    """Return what recording the file says, after checking that it is by line and that nothing was written."""
    return sorted(_told(_file(mistakes)))


def _independent(mistakes: Sequence[Mistake]) -> bool:
    cells = [cell for one in mistakes for cell in one.cells]
    names = [one for one in mistakes if {"tape", "surface"} & {column for _, column in one.cells}]
    # one text that nothing has is told once, of its first row
    texts = [text for one in names for text in one.cells.values()]
    twins = [one for one in mistakes for cell in one.cells if cell[1] == "name" and len(one.needs) > 5]
    return (
        len(set(cells)) == len(cells)
        and len(set(texts)) == len(texts)
        and len(twins) < 2
        # of the twin of a name its first row must be known too
        and not (twins and any(cell[0] == 0 for one in mistakes if one not in twins for cell in one.cells))
        and not any(
            one.needs & {cell for other in mistakes if other is not one for cell in other.cells}
            for one in mistakes
        )
    )


def test_each_mistake_alone_is_told() -> None:
    """Each mistake is told where it stands alone, at its row; one value that cannot be read is one finding."""
    for one in (*CROSSES, *SINGLES):
        ((row, _),) = one.cells

        assert all(f"coupons.csv:{row + 2}: " in line for line in told(one))
    assert all(len(told(one)) == 1 for one in SINGLES)


@pytest.mark.parametrize("start", range(24))
def test_mixed_mistakes_are_told_in_one_round(start: int) -> None:
    """Two dozen files with three contradictions and five unreadable values each: all at once, sorted by line."""
    mistakes: list[Mistake] = []
    for many, stock, step in ((3, CROSSES, 5), (8, SINGLES, 7)):
        for number in range(len(stock)):
            one = stock[(start + step * number) % len(stock)]
            if len(mistakes) < many and _independent([*mistakes, one]):
                mistakes.append(one)

    assert len(mistakes) == 8
    assert told(*mistakes) == sorted({line for one in mistakes for line in told(one)})


@settings(max_examples=120, deadline=None)
@given(st.lists(st.sampled_from(CROSSES + SINGLES), min_size=2, max_size=6))
def test_independent_mistakes_add_up(drawn: list[Mistake]) -> None:
    """Independent mistakes together give the findings of each, no more and no less."""
    mistakes: list[Mistake] = []
    for one in drawn:
        if _independent([*mistakes, one]):
            mistakes.append(one)

    assert told(*mistakes) == sorted({line for one in mistakes for line in told(one)})


def _nothing_else(cross: Mistake, singles: Sequence[Mistake]) -> None:
    found = told(cross, *singles)
    parts = {line for one in singles for line in told(one)}
    alone = {line.split(" = ")[0].split(": the same")[0] for line in told(cross)}

    assert parts <= set(found)
    assert len(set(found)) == len(found)
    assert {line.split(" = ")[0] for line in found if line not in parts} <= alone


@pytest.mark.parametrize("row", range(ROWS))
def test_a_contradiction_is_silent_without_what_it_needs(row: int) -> None:
    """Each contradiction of a row with each cell of it that cannot be read: nothing new is said, and nothing twice."""
    for cross in (one for one in CROSSES if {cell[0] for cell in one.cells} == {row}):
        for single in (one for one in SINGLES if {cell[0] for cell in one.cells} == {row}):
            if not set(single.cells) & set(cross.cells):
                _nothing_else(cross, [single])


@settings(max_examples=80, deadline=None)
@given(st.sampled_from(CROSSES), st.lists(st.sampled_from(SINGLES), min_size=1, max_size=3))
def test_what_cannot_be_read_raises_nothing_else(cross: Mistake, singles: list[Mistake]) -> None:
    """Whatever cells are lost beside a contradiction, nothing new is said, and nothing twice."""
    kept: list[Mistake] = []
    for one in singles:
        taken = {cell for other in (cross, *kept) for cell in other.cells}
        if not taken & set(one.cells):
            kept.append(one)
    if kept:
        _nothing_else(cross, kept)


def test_a_table_that_was_handed_in_tells_its_names_with_its_mistakes(job: Path) -> None:
    """The page of the workbench shows an unknown tape beside a value that cannot be read."""
    mistakes = (_row(1, "", load="180"), _row(3, "", tape="gray foam"))
    looked = look_at_table(job, "t.csv", _file(mistakes), NOW.now)

    assert [(one.line, one.key, one.grade) for one in looked.findings] == [
        (3, "load", "error"),
        (5, "tape", "warning"),
    ]
    assert looked.sorted is None

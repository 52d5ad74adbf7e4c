"""The parts of a table that is handed in: where to put it, what is wrong with it, what recording it would do."""

from __future__ import annotations

from collections.abc import Sequence

from staydown.evidence.check_coupons import CouponRow
from staydown.foundation.counted import counted
from staydown.foundation.findings import Finding
from staydown.web.bond_parts import coupon_cells
from staydown.web.sheet import Node, button, el, sentence, wide_table
from staydown.workbench.coupon_table import ENDINGS, LARGEST_TABLE, CouponTable

MOST_SHOWN = 500  # findings, and rows; more are counted
LONGEST_VALUE = 60  # letters of a cell that is shown
COLUMNS = "name, tape, surface, mode, result, load, area, lasted, temperature"


def drop_zone(key: str) -> Node:
    """Return where a table is chosen or dropped."""
    return el(
        "form",
        el("h3", "Many at once: a table"),
        el(
            "p",
            f"A CSV file with one row a coupon and a unit in each cell. Columns: {COLUMNS}, and more if you have them; "
            "coupons.csv on the page of papers is such a file. It is shown to you before anything is written.",
            class_="soft",
        ),
        el("label", "CSV file; it can be dropped here too", for_="table"),
        el(
            "p",
            el(
                "input",
                type="file",
                name="table",
                id="table",
                accept=f"{','.join(ENDINGS)},text/csv,text/plain",
                required=True,
                data_most=LARGEST_TABLE,
            ),
            el("button", "Look at this file", type="submit"),
            class_="row",
        ),
        action=f"/job/{key}/coupons",
        method="post",
        enctype="multipart/form-data",
        class_="drop",
        data_drop="",
        key="drop",
    )


def looked_at(table: CouponTable, system: str) -> Node:
    """Return what is wrong with a table, or what recording it would do and the button that does it."""
    mistakes, doubts = table.mistakes, table.doubts
    head = el("h2", f"The file {table.name}", tabindex="-1", focus=True)
    if mistakes:
        inside = [
            el(
                "p",
                f"{counted(len(mistakes), 'mistake')}: none of its rows is recorded. Mend them in the file and choose "
                "it again.",
                class_="lead",
                role="alert",
            ),
            findings_table("Mistakes", mistakes),
            findings_table("Doubts", doubts),
            el("p", button("Put it away", "table.drop"), class_="row"),
        ]
    else:
        inside = _would_do(table, system)
    return el(
        "section", head, inside, class_="band trial", aria_label="The file that was chosen", key="table"
    )


def _would_do(table: CouponTable, system: str) -> list[Node | None]:
    assert table.sorted is not None
    new, corrections, already = table.sorted.new, table.corrections, table.sorted.already
    told = [
        f"{counted(len(new), 'coupon')} would be recorded" if new else "",
        f"{counted(len(corrections), 'entry', 'entries')} of the logbook would be corrected, "
        "the old and the new are kept"
        if corrections
        else "",
        f"{counted(len(already), 'row')} the logbook has already" if already else "",
    ]
    differs = [
        f"{one.row.coupon.name}: differs in {', '.join(one.differs).replace('_', ' ')}"
        if one.differs
        else f"{one.row.coupon.name}: hangs still by the logbook; this row would say how it went"
        for one in corrections
    ]
    rows = [
        *((row, "new") for row in new),
        *((one.row, "corrects") for one in corrections),
        *((row, "known already") for row in already),
    ]
    words = (
        f"Record {counted(len(new), 'coupon')}"
        if not corrections
        else f"Record {len(new)} and correct {len(corrections)}"
        if new
        else f"Correct {counted(len(corrections), 'entry', 'entries')}"
    )
    doubts = table.doubts
    return [
        el(
            "p",
            sentence("; ".join(text for text in told if text)),
            ". Nothing is written yet.",
            class_="lead",
        ),
        el("ul", [el("li", text) for text in differs]) if differs else None,
        findings_table("Doubts: recorded all the same, if you say yes", doubts),
        rows_table(sorted(rows, key=lambda pair: pair[0].line or 0), system),
        el(
            "p",
            button(words, "table.record", kind="main") if new or corrections else None,
            button("Put it away", "table.drop"),
            class_="row",
        ),
    ]


def findings_table(title: str, findings: Sequence[Finding]) -> Node | None:
    """Return findings by row and column, each with the value, the rule and what would be right."""
    if not findings:
        return None
    heads = ("row", "column", "value", "what is wrong", "what would be right")
    body = [
        el(
            "tr",
            el("th", "file" if one.line is None else str(one.line), scope="row"),
            el("td", one.key),
            el("td", _short(one.value)),
            el("td", sentence(one.rule), class_="wraps"),
            el("td", sentence(one.hint), class_="wraps"),
        )
        for one in findings[:MOST_SHOWN]
    ]
    return _table(title, heads, body, len(findings) - MOST_SHOWN)


def rows_table(rows: Sequence[tuple[CouponRow, str]], system: str) -> Node | None:
    """Return rows as they were read, with what would become of each."""
    heads = (
        *("row", "name", "what becomes of it", "tape", "surface", "mode", "what happened", "stress"),
        *("lasted", "at", "where it let go", "note"),
    )
    body = [
        el(
            "tr",
            el("th", str(row.line or ""), scope="row"),
            [
                el("td", _short(cell), class_="wraps" if place > 9 else None)
                for place, cell in enumerate(
                    (
                        row.coupon.name,
                        fate,
                        row.coupon.tape,
                        row.coupon.surface,
                        *coupon_cells(row.coupon, system),
                    )
                )
            ],
        )
        for row, fate in rows[:MOST_SHOWN]
    ]
    return _table("Its rows, as they were read", heads, body, len(rows) - MOST_SHOWN)


def _table(title: str, heads: Sequence[str], body: Sequence[Node], rest: int) -> Node:
    return el(
        "div",
        el("h3", title),
        wide_table(title, heads, body),
        el("p", f"and {rest} more") if rest > 0 else None,
        class_="found",
        key=title,
    )


def _short(text: str) -> str:
    return text if len(text) <= LONGEST_VALUE else f"{text[:LONGEST_VALUE]}…"

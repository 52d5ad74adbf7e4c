"""What it costs not to know a value: the job assessed with the value left out, and with what could stand there.

Where a value decides no use but a rule, as in a look or a storm, the rule is told with its planning value.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from math import inf, isnan

from staydown.assess import Assessment, ItemAssessment, assess, assess_again, with_overrides
from staydown.evidence.check_coupons import CouponRow, check_row
from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.foundation.quantities import both
from staydown.job.records import Job
from staydown.library.cards import Cards
from staydown.outputs.amounts import percent
from staydown.storage.edit_toml import edit_toml
from staydown.storage.read_coupons import COLUMNS, read_cells
from staydown.storage.read_job import read_job_text
from staydown.workbench.desk import Answer, Desk
from staydown.workbench.edit_job import FormField, added_table, changes_for, empty_form

MOST_TRIED = 6  # values put in the place of an unknown one; each is an assessment
LATER = "What that costs can be told once the fields that must be given are filled."
HUNG = {"result": "holding", "lasted": "1 s"}  # what is known of a coupon in the moment it is hung


def cost_of_coupon(
    answer: Answer,
    typed: Mapping[str, str],
    column: str,
    could_be: Sequence[str],
    today: date,
    *,
    hang: bool,
) -> str:
    """Return what it costs that a column of a coupon is not known.

    Parameters
    ----------
    answer : Answer
        The answer without this coupon.
    typed : mapping
        Cells as far as they are typed.
    could_be : sequence of str
        What could stand in the column.
    today : date
        The day of the check.
    hang : bool
        It is hung now: it proves nothing yet, so only the rules are told.
    """
    cells = {key: text for key, text in typed.items() if text.strip() and key != column}
    cells = (HUNG | cells) if hang else cells
    row, findings = _read(cells, today)
    rules = [_told(one) for one in findings if one.key == column]
    if hang:
        late = "A coupon that was just hung proves nothing yet; the use is told when it has held."
        return " ".join(rules or [late])
    if any(one.grade == "error" for one in findings):
        return " ".join(rules or [LATER])
    tried = []
    for text in could_be[:MOST_TRIED]:
        other, wrong = _read({**cells, column: text}, today)
        if not any(one.grade == "error" for one in wrong):
            tried.append((text, _with(answer, other)))
    return " ".join([*rules, compared(_with(answer, row), tried, row.coupon.tape)])


def cost_of_column(desk: Desk, place: str, typed: Mapping[str, str], key: str) -> str:
    """Return what it costs that a key of a table that is being added is not known."""
    shape = next(
        one for one in empty_form(desk.text, place, desk.cards).fields if one.place.endswith(f".{key}")
    )
    values = {name: text for name, text in typed.items() if name != key}
    try:
        without = desk.try_out([added_table(place, values, desk.cards)]).assessment
    except BadInput:
        return LATER
    tried, refused = [], ""
    for text in _could_be(shape):
        try:
            change = added_table(place, {**values, key: text}, desk.cards)
            tried.append((text, desk.try_out([change]).assessment))
        except BadInput as error:  # an example need not fit this job; where none does, that is told
            refused = " ".join(_told(one) for one in error.findings)
    return compared(without, tried, refused=refused)


def cost_of_field(answer: Answer, content: str, cards: Cards, shape: FormField) -> str:
    """Return what it costs that a key of the job is not known: its use now, and with what could stand there.

    content: the text of the job that was answered.
    """
    tried, refused = [], ""
    for text in _could_be(shape):
        try:
            changed = edit_toml(content, changes_for(shape.place, text, content, cards))
        except BadInput as error:  # as above
            refused = " ".join(_told(one) for one in error.findings)
            continue
        reading = read_job_text(changed, "job.toml", cards)
        job = reading.job
        if job is None:
            refused = " ".join(_told(one) for one in reading.findings if one.grade == "error")
        else:
            facts = replace(answer.facts, claims=job.claim)
            tried.append((text, assess_again(job, facts, answer.assessment)))
    return compared(answer.assessment, tried, refused=refused)


def compared(
    without: Assessment, tried: Sequence[tuple[str, Assessment]], tape: str = "", refused: str = ""
) -> str:
    """Return the largest use of each item with a value not known beside the use with what could stand there.

    tape: only items on this tape are told. refused: what is wrong with what could stand there, where none fits.
    """
    if not tried:
        return f"What could stand here does not fit this job: {refused}" if refused else LATER
    more = len(tried) - 1
    names = tried[0][0] + ("" if not more else " or another" if more == 1 else f" or {more} others")
    sentences = []
    told = 0
    for number, item in enumerate(without.items):
        others = [one.items[number] for _, one in tried if number < len(one.items)]
        if not others or (tape and item.item.tape != tape):
            continue
        told += 1
        words = {one.verdict.word for one in (item, *others)}
        uses = [_use(one, word=len(words) > 1) for one in (item, *sorted(others, key=_share))]
        known = list(dict.fromkeys(uses[1:]))
        if known == uses[:1]:
            continue
        span = known[0] if len(known) == 1 else f"{known[0]} to {known[-1]}"
        either = "" if len(words) > 1 else f", {item.verdict.word} either way"
        sentences.append(f"{item.item.name}{either}: {uses[0]} where nobody knows it, {span} with {names}.")
    if tape and not told:
        return f"It costs nothing here: no item of this job is on {tape}."
    if sentences:
        return " ".join(sentences)
    if all(_share(item) == inf for item in without.items):
        return f"No use is known yet that it could move; the words stay the same with {names}."
    return f"With {names} the answer is the same; another value may move it."


def cost_in_look(key: str) -> str:
    """Return what it costs that a value of a look is not known. key: as in the form, `gap.1` for a foot."""
    return {
        "closed": "An edge of which nothing is said counts as not looked at: what happened before stays open.",
        "gap": "An edge of which nothing is said counts as not looked at: what happened before stays open.",
        "slip": "Whether this foot creeps cannot be told from this look.",
        "pull": "It costs nothing: a look stands without a pull.",
        "roof": "A slip is taken as it is, without the heat that moves the mark.",
        "by": "Nothing in the answer; later nobody can be asked.",
        "note": "It costs nothing.",
    }.get(key.partition(".")[0], "")


def cost_in_event(key: str, job: Job, cards: Cards) -> str:
    """Return what it costs that a value of an event is not known."""
    gust = float(with_overrides(cards, job).planning["event_gust"].decided.value)
    over = both(gust, "m/s", job.job.show)
    return {
        "gust": f"It counts as a storm over {over}: not proven until somebody has looked at every foot.",
        "failure_pattern": "The foot counts as lost all the same; which layer gave way stays open.",
        "careful": "It counts as a drive at full load, for which the bond must have its full strength.",
        "at": "It counts as just now.",
        "by": "Nothing in the answer; later nobody can be asked.",
        "note": "It costs nothing.",
    }.get(key, "")


def cost_in_weather(key: str) -> str:
    """Return what it costs that a value of the weather is not measured before the work."""
    stops = "From the wipe on the guide stops until it is measured or somebody writes why it goes on."
    return {
        "surface_temperature": stops,
        "air": stops,
        "humidity": stops,
        "dwell_temperature": "The clock of the bond counts with the colder of surface and air.",
    }.get(key, "It is left to be written in.")


def _read(cells: Mapping[str, str], today: date) -> tuple[CouponRow, list[Finding]]:
    row, findings = read_cells({column: cells.get(column, "") for column in COLUMNS}, "form", None)
    return row, findings or list(check_row(row, today))


def _with(answer: Answer, row: CouponRow) -> Assessment:
    kept = tuple(one for one in answer.facts.coupons if one.name != row.coupon.name)
    facts = replace(answer.facts, coupons=(*kept, row.coupon))
    return assess(answer.job, facts)


def _could_be(shape: FormField) -> list[str]:
    found = [value for value, _ in shape.choices] if shape.choices else [shape.example]
    return [text for text in found if text][:MOST_TRIED]


def _share(item: ItemAssessment) -> float:
    use = None if item.mounted is None else item.mounted.governing.use
    return inf if use is None or isnan(use) else use


def _use(item: ItemAssessment, *, word: bool) -> str:
    used = (
        "use not known"
        if _share(item) == inf or item.mounted is None
        else percent(item.mounted.governing.use)
    )
    return f"{used} ({item.verdict.word})" if word else used


def _told(finding: Finding) -> str:
    text = f"{finding.rule}: {finding.hint}" if finding.hint else finding.rule
    return f"{text[:1].upper()}{text[1:]}."

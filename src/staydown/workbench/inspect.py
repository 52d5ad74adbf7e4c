"""Writes down what somebody saw on the roof: slip marks, open edges, proof pulls; a pull over its limit stops it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from staydown.assess import Assessment, assess
from staydown.evidence.history import INSPECTION
from staydown.foundation.errors import BadInput
from staydown.foundation.quantities import both
from staydown.upkeep.proof import ProofPull, proof_pulls
from staydown.workbench.bonding_words import Reader
from staydown.workbench.happened import Stop, Told, Written, by_foot, done, item_told, write_entry
from staydown.workbench.open_job import JobFolder

PULL_ENDS = ("held", "moved", "let go")


@dataclass(frozen=True, slots=True, kw_only=True)
class Looked:
    """What was written, and what the item's answer is now."""

    written: Written
    item: str
    word: str
    unsettled: tuple[str, ...]


def record_inspection(
    folder: JobFolder,
    item_name: str,
    readings: Mapping[str, Sequence[str]],
    roof: str | None,
    told: Told,
    *,
    edges_closed: bool,
) -> Looked:
    """Write down what was seen at an item.

    Parameters
    ----------
    folder : JobFolder
        The opened job.
    item_name : str
        The item; may be empty where the job has one.
    readings : mapping
        Texts by foot for slip, gap and pull: `front left=0.4 mm`; a pull may say how it ended:
        `front left=240 N moved`.
    roof : str or None
        Temperature of the roof.
    told : Told
        Who, when, photos.
    edges_closed : bool
        No paper enters at any edge of the feet that are not named under gap.

    Raises
    ------
    BadInput
        A value cannot be, or a pull was over what does no harm and nobody said why.
    """
    reader = Reader()
    item = item_told(reader, folder, item_name)
    roof_K = reader.temperature("--roof", roof)
    if item is None:
        done(reader, folder, INSPECTION, told, ())
        raise BadInput(reader.findings)
    slips = _lengths(reader, by_foot(reader, item, readings.get("slip", ()), "--slip"), "--slip", 0.1)
    gaps = _lengths(reader, by_foot(reader, item, readings.get("gap", ()), "--gap"), "--gap", 1.0)
    if edges_closed:
        gaps = {mount.name: gaps.get(mount.name, 0.0) for mount in item.mount}
    pulls = _pulls(reader, by_foot(reader, item, readings.get("pull", ()), "--pull"))
    done(reader, folder, INSPECTION, told, ())
    before = assess(folder.job, folder.facts)
    allowed = _allowed(before, item.name, roof_K) if pulls else {}
    stops = []
    for foot, (force_N, _) in pulls.items():
        limit = allowed.get(foot)
        if limit is None or limit.allowed_N is None:
            why = "" if limit is None else limit.why
            stops.append(
                Stop(
                    key="--pull",
                    value=foot,
                    rule=f"{foot} has no proof pull that does no harm: {why}",
                    hint="go back to coupons",
                )
            )
        elif force_N > limit.most_N:
            rule = f"{both(force_N, 'N')} at {foot} is over the {both(limit.most_N, 'N')} that do no harm"
            hint = "more can break a good bond; it stays in the record, and the foot is looked at again"
            stops.append(Stop(key="--pull", value=foot, rule=rule, hint=hint))
    body: dict[str, Any] = {
        "item": item.name,
        "roof_K": roof_K,
        "slips": slips,
        "gaps": gaps,
        "pulls": {
            foot: {
                "force_N": force_N,
                "allowed_N": None
                if foot not in allowed or allowed[foot].allowed_N is None
                else allowed[foot].most_N,
                "held": ended == "held",
            }
            for foot, (force_N, ended) in pulls.items()
        },
    }
    missing = [mount.name for mount in item.mount if mount.name not in gaps]
    doubts = []
    if missing:
        doubts.append(
            f"nothing is said of the edges of {', '.join(missing)}: this does not settle what happened before"
        )
    if slips and roof_K is None:
        doubts.append("slip without the roof's temperature is taken as it is")
    written = write_entry(folder, INSPECTION, body, told, stops, doubts)
    return _after(folder, written, item.name)


def _after(folder: JobFolder, written: Written, item: str) -> Looked:
    """Return what the answer on an item is with the new entry."""
    from staydown.workbench.open_job import open_job

    again = open_job(folder.file)
    now = assess(again.job, again.facts)
    found = next(one for one in now.items if one.item.name == item)
    mark = "must be looked at first: "
    reasons = tuple(text.removeprefix(mark) for text in found.verdict.because if text.startswith(mark))
    return Looked(written=written, item=item, word=found.verdict.word, unsettled=reasons)


def _allowed(assessment: Assessment, item: str, roof_K: float | None) -> dict[str, ProofPull]:
    found = next(one for one in assessment.items if one.item.name == item)
    if found.mounted is None:
        return {}
    return {one.foot: one for one in proof_pulls(assessment, found, roof_K)}


def _lengths(reader: Reader, texts: Mapping[str, str], key: str, most_m: float) -> dict[str, float]:
    found = {}
    for foot, text in texts.items():
        value = reader.quantity(key, text, "m", 0.0, most_m)
        if value is not None:
            found[foot] = value
        elif text.strip().lower() in ("", "unknown"):
            reader.wrong(key, text, f"{foot} has no value", "such as 0.4 mm")
    return found


def _pulls(reader: Reader, texts: Mapping[str, str]) -> dict[str, tuple[float, str]]:
    found = {}
    for foot, text in texts.items():
        ended = "held"
        for word in PULL_ENDS:
            if text.lower().endswith(f" {word}"):
                text, ended = text[: -len(word)].strip(), word
        force_N = reader.force("--pull", text)
        if force_N is not None:
            found[foot] = (force_N, ended)
    return found

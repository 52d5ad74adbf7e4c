"""The use case behind `report`: check a job, write its dossier as PDF and as one page for a browser."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict, dataclass
from importlib.resources import files
from pathlib import Path
from typing import Any

from staydown.evidence.coupon import Coupon
from staydown.outputs.dossier import Stamp, dossier
from staydown.outputs.dossier_html import dossier_html
from staydown.storage.read_job import JOB_FILE
from staydown.storage.write_whole import write_whole
from staydown.workbench.check import Checked, check_folder
from staydown.workbench.render import FACES, Paper, draw_charts, pdf, warm_up

FOLDER = "out"
PDF, HTML = "dossier.pdf", "dossier.html"


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """What was written, the hash of the job it was made from, and what `check` found."""

    pdf: Path
    html: Path
    job_hash: str
    checked: Checked


def write_report(job: str | Path, out: str | Path | None, paper: Paper) -> Report:
    """Write the dossier of a job and return where it stands.

    Parameters
    ----------
    job : str or Path
        A folder with a job.toml, or the file itself.
    out : str, Path or None
        Folder to write into; None is `out` in the job's folder.
    paper : "a4" or "letter"
        Of the PDF.

    Raises
    ------
    BadInput
        The job has mistakes.
    LogbookError
        The logbook cannot be trusted.
    OSError
        The folder cannot be written to.
    """
    with ThreadPoolExecutor(max_workers=1) as beside:
        ready = beside.submit(warm_up)
        checked = check_folder(job)
        ready.result()
    model = report_model(checked, job)
    folder = checked.folder.folder / FOLDER if out is None else Path(out)
    report = Report(pdf=folder / PDF, html=folder / HTML, job_hash=model["hash"], checked=checked)
    # both are made before the first is written, so that a fault leaves no half of a pair
    sheet, page = pdf(model, paper), dossier_html(model, faces()).encode()
    write_whole(report.pdf, sheet)
    write_whole(report.html, page)
    return report


def report_model(checked: Checked, job: str | Path) -> dict[str, Any]:
    """Return the dossier of a checked job, its charts drawn."""
    stamp = Stamp(job_hash=job_hash(Path(job), checked.folder.coupons), coupons=len(checked.folder.coupons))
    return draw_charts(
        dossier(checked.assessment, checked.assumptions, checked.cautions, checked.warnings, stamp)
    )


def job_hash(job: Path, coupons: Sequence[Coupon]) -> str:
    """Return the SHA-256 over the job file and what its coupons say, in hexadecimal.

    When and in which order entries came into the logbook does not count: the same job and coupons, the same hash.
    """
    file = job / JOB_FILE if job.is_dir() else job
    told = sorted(json.dumps(asdict(coupon), sort_keys=True, ensure_ascii=False) for coupon in coupons)
    whole = hashlib.sha256(file.read_bytes())
    whole.update("\n".join(told).encode())
    return whole.hexdigest()


def faces() -> dict[int, str]:
    """Return the shipped face in base64, by weight, for a page that loads nothing."""
    fonts = files("staydown.pictures").joinpath("fonts")
    return {
        weight: base64.b64encode(fonts.joinpath(name).read_bytes()).decode("ascii")
        for weight, name in zip((400, 600), FACES, strict=True)
    }

"""Answers to the questions of a new job that is not written yet: a file beside it, whole at every moment."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.storage.write_whole import write_whole

DRAFT_FILE = "job.draft.json"
FORMAT = "staydown-draft-1"


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """What was answered so far, by the dotted key of the job, and how many mounts there are, where that was asked."""

    answers: Mapping[str, str]
    mounts: int | None = None


def read_draft(folder: Path) -> Draft | None:
    """Return the draft of a folder, or None where there is none.

    Raises
    ------
    BadInput
        It cannot be read.
    """
    file = folder / DRAFT_FILE
    try:
        content = json.loads(file.read_text(encoding="utf-8"))
    except (FileNotFoundError, NotADirectoryError):
        return None
    except (OSError, ValueError) as error:
        raise _unreadable(file, str(error)) from error
    if not isinstance(content, dict) or content.get("format") != FORMAT:
        raise _unreadable(file, f"it is no {FORMAT}")
    answers, mounts = content.get("answers"), content.get("mounts")
    if not isinstance(answers, dict) or not all(isinstance(text, str) for text in answers.values()):
        raise _unreadable(file, "its answers are no texts")
    if mounts is not None and type(mounts) is not int:
        raise _unreadable(file, "its mounts are no number")
    return Draft(answers=answers, mounts=mounts)


def write_draft(folder: Path, draft: Draft) -> Path:
    """Write what was answered so far, over what was there, and return the file.

    Raises
    ------
    OSError
        It cannot be written.
    """
    file = folder / DRAFT_FILE
    content = {"format": FORMAT, "answers": dict(draft.answers), "mounts": draft.mounts}
    write_whole(file, (json.dumps(content, ensure_ascii=False, indent=1) + "\n").encode("utf-8"))
    return file


def drop_draft(folder: Path) -> None:
    """Remove the draft of a folder, where there is one."""
    (folder / DRAFT_FILE).unlink(missing_ok=True)


def _unreadable(file: Path, why: str) -> BadInput:
    rule = f"the answers of last time cannot be read: {why}"
    hint = "remove this file to start afresh"
    return BadInput([Finding(file=str(file), line=None, key="draft", value="", rule=rule, hint=hint)])

"""One job while it is worked on: its text with undo and redo, saved at once, shared by everybody who looks at it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from staydown.assess import Assessment, Facts, assess, assess_again
from staydown.evidence.coupon import Coupon
from staydown.evidence.event import Event
from staydown.foundation.errors import BadInput
from staydown.foundation.findings import Finding
from staydown.job.records import Job
from staydown.job.written import Written
from staydown.library.cards import Cards
from staydown.storage.edit_toml import Change, edit_toml
from staydown.storage.logbook import FILE as LOGBOOK_FILE
from staydown.storage.logbook import HEAD_FILE
from staydown.storage.read_cards import read_cards
from staydown.storage.read_job import JobReading, read_job_text
from staydown.storage.save_job import ChangedOnDisk, OnDisk, job_file, read_text, save_text
from staydown.workbench.open_job import JobFolder, events_and_coupons

MOST_STEPS = 200  # of undo
KEPT_READINGS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """A job as it stands, assessed. findings: the reader's and the calculation's warnings."""

    job: Job
    written: Written
    facts: Facts
    assessment: Assessment
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A text that can be gone back to, and what was done after it."""

    text: str
    words: str


class Desk:
    """A job on the desk; every change is in the file when `edit` comes back.

    conflict: what somebody else wrote into the file while there were changes here; nothing is saved until it is
    settled. listeners: called after every change, whoever made it.
    """

    def __init__(self, place: Path) -> None:
        self.file = job_file(place).resolve()
        self.folder = self.file.parent
        self.cards: Cards = read_cards()
        self.conflict: OnDisk | None = None
        self.listeners: list[Callable[[], None]] = []
        self.revision = 0
        self._undo: list[Step] = []
        self._redo: list[Step] = []
        there = read_text(self.file)
        if there is None:
            raise BadInput([_finding(str(self.file), "is not there", "open a folder with a job.toml in it")])
        self.text, self._known = there.text, there.mark
        kept = read_text(self._kept_file)
        if kept is not None and kept.mark != there.mark:  # unsettled when the program last ended
            self.text, self.conflict = kept.text, there
        self._readings: dict[str, JobReading] = {}
        self._answer: Answer | None = None
        self._answer_of: tuple[str, tuple[int, ...]] | None = None
        self._tried: Answer | None = None  # the last that was tried out: a page shows it more than once
        self._tried_of: tuple[str, tuple[int, ...]] | None = None
        self._coupons: tuple[Coupon, ...] = ()
        self._events: tuple[Event, ...] = ()
        self._coupons_of: tuple[int, ...] | None = None

    @property
    def _kept_file(self) -> Path:
        """Return where changes are kept that cannot be saved yet."""
        return self.file.with_name(f"{self.file.stem}.unsaved.toml")

    @property
    def undo_words(self) -> str:
        """Return what undo would take back, empty where there is nothing."""
        return self._undo[-1].words if self._undo else ""

    @property
    def redo_words(self) -> str:
        """Return what redo would do again, empty where there is nothing."""
        return self._redo[-1].words if self._redo else ""

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Return what is wrong with the text as it is; without errors it is assessed."""
        return self._read(self.text).findings

    @property
    def coupons(self) -> tuple[Coupon, ...]:
        """Return the coupons of the logbook as they are now.

        Raises
        ------
        LogbookError
            The logbook cannot be trusted.
        """
        stamp = self._logbook_stamp()
        if stamp != self._coupons_of:
            self._events, self._coupons = events_and_coupons(self.folder)
            self._coupons_of = stamp
        return self._coupons

    def answer(self) -> Answer:
        """Return the job assessed as it stands.

        Raises
        ------
        BadInput
            The text has mistakes.
        LogbookError
            The logbook cannot be trusted.
        """
        key = (self.text, self._logbook_stamp())
        if self._answer is None or self._answer_of != key:
            self._answer = self._assess(self.text)
            self._answer_of = key
        return self._answer

    def opened(self) -> JobFolder:
        """Return the job as use cases of an opened folder take it. Errors as `answer`."""
        answer = self.answer()
        return JobFolder(
            folder=self.folder,
            job=answer.job,
            claims=answer.job.claim,
            coupons=answer.facts.coupons,
            written=answer.written,
            warnings=tuple(one for one in answer.findings if one.grade == "warning"),
            cards=self.cards,
            events=answer.facts.events,
            file=self.file,
        )

    def try_out(self, changes: Sequence[Change]) -> Answer:
        """Return the job assessed with changes that are not made.

        Raises
        ------
        BadInput
            With the changes the job has mistakes.
        """
        key = (edit_toml(self.text, changes), self._logbook_stamp())
        if self._tried is None or self._tried_of != key:
            self._tried = self._assess(key[0])
            self._tried_of = key
        return self._tried

    def try_job(self, job: Job) -> Assessment:
        """Return the assessment of a job in hand: the short way while something is dragged."""
        before = self.answer()
        return assess_again(job, before.facts, before.assessment)

    def edit(self, changes: Sequence[Change], words: str) -> None:
        """Make changes and save them.

        Parameters
        ----------
        words : str
            What is done, for the undo button: "move front left".

        Raises
        ------
        BadInput
            The job would have mistakes that it has not now; nothing is changed.
        OSError
            The file cannot be written; nothing is changed.
        """
        text = edit_toml(self.text, changes)
        if text == self.text:
            return
        had = {(finding.key, finding.rule) for finding in self.findings if finding.grade == "error"}
        found = self._read(text).findings
        new = [one for one in found if one.grade == "error" and (one.key, one.rule) not in had]
        if new:
            raise BadInput(new)
        self._save(text)
        self._undo = [*self._undo, Step(text=self.text, words=words)][-MOST_STEPS:]
        self._redo = []
        self._put(text)

    def undo(self) -> None:
        """Take the last change back."""
        self._step(self._undo, self._redo)

    def redo(self) -> None:
        """Do the last change again that was taken back."""
        self._step(self._redo, self._undo)

    def look_at_disk(self) -> None:
        """Take over what somebody else wrote into the file or the logbook; where both changed it is a conflict."""
        there = read_text(self.file)
        if there is not None and there.mark != self._known:
            if self.conflict is not None:
                self.conflict = there
                self._known = there.mark
                self._tell()
            else:
                self._undo = [*self._undo, Step(text=self.text, words="the change made by another program")]
                self._redo = []
                self._known = there.mark
                self._put(there.text)
        elif self._coupons_of is not None and self._logbook_stamp() != self._coupons_of:
            self._tell()

    def take_theirs(self) -> None:
        """Settle a conflict: the file stays as it is; undo brings the changes made here back."""
        if self.conflict is None:
            return
        there, self.conflict = self.conflict, None
        self._kept_file.unlink(missing_ok=True)
        self._undo = [*self._undo, Step(text=self.text, words="taking over the file from disk")]
        self._redo = []
        self._known = there.mark
        self._put(there.text)

    def keep_mine(self) -> None:
        """Settle a conflict: the changes made here go over the file; undo brings the other text back."""
        if self.conflict is None:
            return
        there, self.conflict = self.conflict, None
        self._known = save_text(self.file, self.text, None).mark
        self._kept_file.unlink(missing_ok=True)
        self._undo = [*self._undo, Step(text=there.text, words="keeping the text from here")]
        self._redo = []
        self._tell()

    def tell(self) -> None:
        """Let everybody who looks know that something happened beside the job file: an entry of the logbook."""
        self._tell()

    def _step(self, take: list[Step], give: list[Step]) -> None:
        if not take:
            return
        step = take[-1]
        self._save(step.text)
        take.pop()
        give.append(Step(text=self.text, words=step.words))
        self._put(step.text)

    def _save(self, text: str) -> None:
        """Write the text; where somebody else wrote meanwhile keep it beside the file and note the conflict."""
        if self.conflict is None:
            try:
                self._known = save_text(self.file, text, self._known).mark
                return
            except ChangedOnDisk as found:
                if found.there is None:  # somebody took the file away: the job is all here
                    self._known = save_text(self.file, text, None).mark
                    return
                self.conflict = found.there
                self._known = found.there.mark
        save_text(self._kept_file, text, None)

    def _put(self, text: str) -> None:
        self.text = text
        self._tell()

    def _tell(self) -> None:
        self.revision += 1
        for listener in list(self.listeners):
            listener()

    def _read(self, text: str) -> JobReading:
        """Return what came of reading a text; the last few are kept."""
        if text not in self._readings:
            while len(self._readings) >= KEPT_READINGS:
                del self._readings[next(iter(self._readings))]
            self._readings[text] = read_job_text(text, self.file.name, self.cards)
        return self._readings[text]

    def _assess(self, text: str) -> Answer:
        reading = self._read(text)
        if reading.job is None:
            raise BadInput([one for one in reading.findings if one.grade == "error"])
        facts = Facts(cards=self.cards, coupons=self.coupons, claims=reading.job.claim, events=self._events)
        before = self._answer
        if before is not None and before.facts.coupons is facts.coupons:
            assessment = assess_again(reading.job, facts, before.assessment)
        else:
            assessment = assess(reading.job, facts)
        return Answer(
            job=reading.job,
            written=reading.written,
            facts=facts,
            assessment=assessment,
            findings=(*reading.findings, *assessment.findings),
        )

    def _logbook_stamp(self) -> tuple[int, ...]:
        stamp: list[int] = []
        for name in (LOGBOOK_FILE, f"{LOGBOOK_FILE}-wal", HEAD_FILE):
            file = self.folder / name
            if file.exists():
                stat = file.stat()
                stamp += [stat.st_mtime_ns, stat.st_size]
            else:
                stamp += [0, 0]
        return tuple(stamp)


def _finding(file: str, rule: str, hint: str) -> Finding:
    return Finding(file=file, line=None, key="job", value="", rule=rule, hint=hint)

"""What a person typed about bonding, looking and happenings: texts with units into SI, all mistakes at once."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import TypeVar

from staydown.foundation.errors import BadInput, UnreadableValue
from staydown.foundation.findings import Finding
from staydown.foundation.nearest import nearest
from staydown.foundation.units import parse_load, parse_quantity
from staydown.making.guide import Mix, Weather

WHERE = "command line"
# a surface or the air over it that somebody works on; needs of the trade for roofs
COLDEST_K, HOTTEST_K = 233.15, 383.15

_T = TypeVar("_T")


@dataclass(slots=True, kw_only=True, frozen=True)
class Reader:
    """Reads texts one after the other and keeps every mistake; `done` raises them all."""

    where: str = WHERE
    findings: list[Finding] = field(default_factory=list)

    def quantity(self, key: str, text: str | None, suffix: str, least: float, most: float) -> float | None:
        """Return a value in SI within its limits; None where nothing was typed or it cannot be."""
        if is_nothing(text):
            return None

        def read(typed: str) -> float:
            value = parse_quantity(typed, suffix)
            if not least <= value <= most:
                raise UnreadableValue("cannot be", f"reads as {value:g} in SI, from {least:g} to {most:g}")
            return value

        return self.read(key, text or "", read)

    def temperature(self, key: str, text: str | None) -> float | None:
        """Return a temperature of air or roof. [K]"""
        return self.quantity(key, text, "K", COLDEST_K, HOTTEST_K)

    def share(self, key: str, text: str | None) -> float | None:
        """Return a share above 0 up to 1: `60 %` or `0.6`."""
        return self.quantity(key, text, "", 1e-6, 1.0)

    def force(self, key: str, text: str | None) -> float | None:
        """Return a force above 0; a mass counts as its weight. [N]"""
        if is_nothing(text):
            return None

        def read(typed: str) -> float:
            value = parse_load(typed)
            if not 0.0 < value < 1e5:
                raise UnreadableValue("cannot be", "a force above 0, such as 240 N or 55 lb")
            return value

        return self.read(key, text or "", read)

    def day(self, key: str, text: str | None) -> str:
        """Return a day as year-month-day, empty where nothing was typed."""
        if is_nothing(text):
            return ""

        def read(typed: str) -> str:
            try:
                return date.fromisoformat(typed.strip()).isoformat()
            except ValueError:
                raise UnreadableValue("is no day", "year-month-day, such as 2027-03-31") from None

        return self.read(key, text or "", read) or ""

    def moment(self, key: str, text: str | None) -> datetime | None:
        """Return a moment, this computer's where no time zone is typed; None where nothing was typed."""
        return None if is_nothing(text) else self.read(key, text or "", read_moment)

    def one_of(self, key: str, text: str, choices: Sequence[str]) -> str:
        """Return a word of a list, its case aside."""

        def read(typed: str) -> str:
            for choice in choices:
                if typed.strip().casefold() == choice.casefold():
                    return choice
            near = nearest(typed, choices)
            hint = f'did you mean "{near}"?' if near else f"one of {', '.join(choices)}"
            raise UnreadableValue("is not known", hint)

        return self.read(key, text, read) or ""

    def read(self, key: str, text: str, how: Callable[[str], _T]) -> _T | None:
        """Return what a text says, or None and a finding."""
        try:
            return how(text)
        except UnreadableValue as error:
            self.wrong(key, text, error.rule, error.hint)
            return None

    def wrong(self, key: str, value: str, rule: str, hint: str) -> None:
        """Keep a mistake."""
        self.findings.append(Finding(file=self.where, line=None, key=key, value=value, rule=rule, hint=hint))

    def done(self) -> None:
        """Raise what was wrong.

        Raises
        ------
        BadInput
            With every finding.
        """
        if self.findings:
            raise BadInput(self.findings)


def read_weather(typed: Mapping[str, str | None]) -> Weather:
    """Return the weather that was typed: air, humidity, surface_temperature, dwell_temperature.

    Raises
    ------
    BadInput
        With every value that cannot be.
    """
    reader = Reader()
    weather = Weather(
        air_K=reader.temperature("air", typed.get("air")),
        humidity=reader.share("humidity", typed.get("humidity")),
        surface_K=reader.temperature("surface_temperature", typed.get("surface_temperature")),
        dwell_K=reader.temperature("dwell_temperature", typed.get("dwell_temperature")),
    )
    reader.done()
    return weather


def read_mix(typed: Mapping[str, str | None]) -> Mix:
    """Return the mix that was typed: wipe, strength, stock.

    Raises
    ------
    BadInput
        With every value that cannot be.
    """
    reader = Reader()
    mix = Mix(
        volume_m3=reader.quantity("wipe", typed.get("wipe"), "m3", 1e-6, 0.1),
        share=reader.share("strength", typed.get("strength")),
        stock_share=reader.share("stock", typed.get("stock")),
    )
    reader.done()
    return mix


def read_moment(text: str) -> datetime:
    """Return a moment; without a time zone it is this computer's.

    Raises
    ------
    UnreadableValue
        It is none.
    """
    try:
        return datetime.fromisoformat(text.strip()).astimezone()
    except (ValueError, OverflowError) as error:
        hint = "year-month-day hour:minute, such as 2026-05-02 07:10"
        raise UnreadableValue("is not a moment", hint) from error


def moment_text(moment: datetime) -> str:
    """Return a moment as a person reads it, by this computer's clock."""
    return f"{moment.astimezone():%Y-%m-%d %H:%M}"


def is_nothing(text: str | None) -> bool:
    """Return whether a text says nothing: empty, or "unknown"."""
    return text is None or text.strip().lower() in ("", "unknown")

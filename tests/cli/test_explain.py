"""`staydown explain`: paths as a person types them, how deep the trail goes, what is told where none or several fit."""

from __future__ import annotations

import json
import re
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from staydown.cli.main import BAD_INPUT, run
from staydown.workbench.demo import lay_out_demo


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with the demo's job."""
    return lay_out_demo(tmp_path_factory.mktemp("demo") / "job", datetime(2026, 6, 1, tzinfo=UTC)).folder


def call(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Return exit code, output and errors of a call."""
    with pytest.raises(SystemExit) as end:
        run(["explain", *words])
    told = capsys.readouterr()
    return int(str(end.value.code)), told.out, told.err


@pytest.mark.parametrize(
    "what", ["pan/gust/hot/fr le/use", "panel/gust/hot/front left/use", "PANEL/gust/h/fr l/use"]
)
def test_each_part_may_be_shortened(job: Path, what: str, capsys: pytest.CaptureFixture[str]) -> None:
    """However it was shortened, the first line is the whole path, which is taken again."""
    code, out, _ = call(capsys, str(job), what)

    assert (code, out.splitlines()[0]) == (0, "panel/gust/hot/front left/use")


def test_several_are_a_finding_that_names_them(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What fits several numbers is bad input, on stderr and as JSON, and lists what fits."""
    code, out, err = call(capsys, str(job), "panel/snow/second/use")
    _, as_json, _ = call(capsys, str(job), "panel/snow/second/use", "--json")

    assert (code, out) == (BAD_INPUT, "")
    assert "could be 2 numbers" in err
    assert "panel/snow/cold/second left/use; panel/snow/cold/second right/use" in err
    assert json.loads(as_json)["findings"][0]["key"] == "WHAT"


def test_what_decides_is_offered_among_many(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`panel/use` fits hundreds: the one that governs the item in `check` is named and can be asked for."""
    _, answer, _ = call_check(capsys, job)
    governing = next(item["governing"] for item in answer["items"] if item["name"] == "panel")
    path = "/".join(["panel", governing["case"], governing["season"], governing["mount"], "use"])
    code, _, err = call(capsys, str(job), "panel/use")

    assert code == BAD_INPUT
    assert f"what decides is {path};" in err
    assert call(capsys, str(job), path)[0] == 0


def call_check(capsys: pytest.CaptureFixture[str], job: Path) -> tuple[int, dict[str, Any], str]:
    """Return what `check --json` says."""
    with pytest.raises(SystemExit) as end:
        run(["check", str(job), "--json"])
    told = capsys.readouterr()
    return int(str(end.value.code)), json.loads(told.out), told.err


def levels(node: dict[str, Any]) -> int:
    """Return how many levels a trail has."""
    return 1 + max((levels(child) for child in node.get("inputs", {}).values()), default=0)


def test_the_trail_is_cut_at_a_depth_and_says_what_is_left_out(
    job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Two levels are the number and its inputs; the last line counts the rest; a deep one leaves out nothing."""
    what = "panel/gust/hot/all/air speed"
    _, cut, _ = call(capsys, str(job), what, "--depth", "2")
    _, whole, _ = call(capsys, str(job), what)
    _, deep, _ = call(capsys, str(job), what, "--depth", "99")
    indents = {len(line) - len(line.lstrip()) for line in cut.splitlines()[1:] if " = " in line}

    assert indents <= {2, 4}
    assert " ..." in cut
    assert "Left out below: " in cut
    assert "--depth 3 shows one level more" in " ".join(cut.split())
    assert deep == whole
    assert "Left out" not in whole
    assert len(cut.splitlines()) < len(whole.splitlines())


def test_json_is_cut_at_a_depth_too(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Below the depth the names of the inputs stand in `left_out`; without a depth all of it is there."""
    what = "panel/gust/hot/front left/use"
    whole = json.loads(call(capsys, str(job), what, "--json")[1])["number"]
    cut = json.loads(call(capsys, str(job), what, "--json", "--depth", "2")[1])["number"]

    assert levels(cut) == 2 < levels(whole)
    assert cut["value"] == whole["value"]
    for name, child in cut["inputs"].items():
        assert child.get("left_out", []) == list(whole["inputs"][name].get("inputs", {}))


def test_a_long_trail_tells_how_it_is_shortened(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Hundreds of lines end with the way to fewer."""
    _, out, _ = call(capsys, str(job), "panel/gust/hot/front left/use")

    assert out.splitlines()[-1].endswith("lines. --depth 3 shows the first levels alone.")


@pytest.mark.by_hand("400 m / 0.3048 m = 1312.34 ft")
def test_a_height_is_not_told_in_millimetres(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The altitude of the demo, 400 m, stands beside its feet; a pad's side stays in millimetres and inches."""
    _, out, _ = call(capsys, str(job), "panel/gust/hot/front left/use")

    assert "h = 400 m (1312.34 ft) <- typed" in " ".join(out.split())
    assert re.search(r"m \(\d+ mm, \d+\.\d\d in\) <- typed", " ".join(out.split()))


def test_a_depth_of_nothing_is_refused(job: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The number itself is the first level."""
    assert call(capsys, str(job), "panel/gust/hot/front left/use", "--depth", "0")[0] == BAD_INPUT


def test_inside_a_job_the_number_alone_is_enough(
    job: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """One word that is no folder is the number that is asked for."""
    monkeypatch.chdir(job)

    assert call(capsys, "panel/gust/hot/fr le/use", "--depth", "1")[0] == 0
    assert call(capsys, "panel/snow/second/use")[0] == BAD_INPUT

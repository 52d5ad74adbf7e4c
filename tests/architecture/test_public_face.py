"""The public face is small, sorted, loaded late, and everything it shows is there."""

from __future__ import annotations

import importlib
import inspect
import subprocess
import sys

import pytest

import staydown


def test_the_face_is_sorted_and_small() -> None:
    """About a dozen names, in order, each once."""
    assert list(staydown.__all__) == sorted(set(staydown.__all__))
    assert len(staydown.__all__) <= 20


def test_what_is_visible_is_what_is_listed() -> None:
    """`dir(staydown)` shows the listed names and nothing else."""
    assert dir(staydown) == list(staydown.__all__)


@pytest.mark.parametrize("name", staydown.__all__)
def test_every_name_can_be_used(name: str) -> None:
    """Each listed name loads, is no module, and says what it is."""
    value = getattr(staydown, name)

    assert not inspect.ismodule(value)
    assert name == "__version__" or inspect.getdoc(value)


def test_a_name_survives_the_module_of_the_same_name() -> None:
    """`staydown.assess` stays the function after the module `staydown.assess` was imported by somebody."""
    importlib.import_module("staydown.assess")

    assert callable(staydown.assess)


def test_an_unknown_name_is_refused() -> None:
    """A name that is not on the face raises AttributeError, as of any module."""
    with pytest.raises(AttributeError, match="no_such_name"):
        staydown.no_such_name  # noqa: B018


def test_import_loads_no_room() -> None:
    """`import staydown` loads neither numpy nor any room."""
    call = "import staydown, sys; print([m for m in sys.modules if m.startswith(('numpy', 'staydown.'))])"
    done = subprocess.run([sys.executable, "-c", call], capture_output=True, text=True, check=True)

    assert done.stdout.strip() == "['staydown.foundation', 'staydown.foundation.version']"

"""staydown: will it stay on the roof, how do I know, and what do I do next?

The public face. Names are loaded when they are first used, so that `import staydown` costs nothing.
"""

from __future__ import annotations

import importlib
import sys
from types import ModuleType
from typing import TYPE_CHECKING, Any

from staydown.foundation import version

if TYPE_CHECKING:
    from staydown.assess import Assessment, Facts, assess
    from staydown.evidence.coupon import Coupon
    from staydown.foundation.errors import BadInput, StaydownError
    from staydown.job.records import Job
    from staydown.storage.logbook import Logbook
    from staydown.storage.read_cards import read_cards
    from staydown.workbench.open_job import open_job

__version__ = version.VERSION

__all__ = [
    "Assessment",
    "BadInput",
    "Coupon",
    "Facts",
    "Job",
    "Logbook",
    "StaydownError",
    "__version__",
    "assess",
    "open_job",
    "read_cards",
]

_HOMES = {
    "Assessment": "staydown.assess",
    "BadInput": "staydown.foundation.errors",
    "Coupon": "staydown.evidence.coupon",
    "Facts": "staydown.assess",
    "Job": "staydown.job.records",
    "Logbook": "staydown.storage.logbook",
    "StaydownError": "staydown.foundation.errors",
    "assess": "staydown.assess",
    "open_job": "staydown.workbench.open_job",
    "read_cards": "staydown.storage.read_cards",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"staydown has no {name!r}")
    value = getattr(importlib.import_module(_HOMES[name]), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return list(__all__)


class _Face(ModuleType):
    """Keeps `staydown.assess` the function: importing the module of that name would put the module there."""

    def __setattr__(self, name: str, value: object) -> None:
        if not (name in _HOMES and isinstance(value, ModuleType)):
            super().__setattr__(name, value)


sys.modules[__name__].__class__ = _Face

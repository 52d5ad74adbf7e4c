"""What is left when mounts are lost, what catches the item, what a screw beside the tape does: as plain values."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from staydown.assess import Mounted
from staydown.foundation.numbers import Number, at
from staydown.loads.load_case import CaseTable
from staydown.retention.retention import TetherCheck
from staydown.verdict.rest import Rest
from staydown.verdict.shared_pull import SharedPull

Index = tuple[int, int, int]


def lost_mounts_json(mounted: Mounted) -> list[dict[str, Any]]:
    """Return one object for each single loss, then the worst pairs."""
    redundancy = mounted.redundancy
    return [_rest(rest, mounted.table) for rest in (*redundancy.singles, *redundancy.pairs)]


def _rest(rest: Rest, table: CaseTable) -> dict[str, Any]:
    case = table.cases[rest.case]
    return {
        "lost": list(rest.lost),
        "rest_use": rest.use,
        "worst_mount": rest.mount,
        "worst_part": rest.part or None,
        "case": case.name,
        "season": case.exposure.season,
        "holds": rest.holds,
        "speed_m_per_s": _plain(rest.road_speed),
        "air_speed_m_per_s": _plain(rest.air_speed),
        "warning_time_s": _plain(rest.warning),
        "life_left": _plain(rest.life_left),
    }


def redundancy_json(mounted: Mounted) -> dict[str, Any]:
    """Return the answer on one lost mount, the order in which mounts go at cruise, and the share of bonds covered."""
    redundancy = mounted.redundancy
    return {
        "redundant": redundancy.redundant,
        "content": float(np.asarray(mounted.content.value)),
        "slope": _plain(redundancy.slope),
        "unzipping": [
            {"mount": step.mount, "use": step.use, "warning_time_s": _plain(step.warning)}
            for step in redundancy.order
        ],
        "rest_follows_at_once": redundancy.follow,
        "sentences": list(redundancy.sentences),
    }


def retention_json(mounted: Mounted) -> dict[str, Any]:
    """Return the loads of a tether, what it needs, and each tether of the job."""
    retention = mounted.retention
    case = mounted.table.cases[retention.index[0]]
    index = retention.index
    proposal = retention.proposal
    return {
        "ok": retention.ok,
        "tethers_wanted": retention.wanted,
        "case": case.name,
        "season": case.exposure.season,
        "steady_N": _plain(retention.steady, index),
        "least_slack_m": float(np.max(retention.least_slack.value)),
        "tethers": [_tether(tether, index) for tether in retention.tethers],
        "would_do": {
            "stiffness_N_per_m": _plain(proposal.stiffness, index),
            "slack_m": _plain(proposal.slack, index),
            "snatch_N": _plain(proposal.snatch, index),
            "breaking_strength_needed_N": _plain(proposal.line_needed, index),
            "anchor_strength_needed_N": _plain(proposal.anchor_needed, index),
        },
        "sentences": list(retention.sentences),
    }


def _tether(tether: TetherCheck, index: Index) -> dict[str, Any]:
    return {
        "material": tether.material,
        "anchor": tether.anchor,
        "anchor_kind": tether.anchor_kind,
        "independent": tether.independent,
        "ok": tether.ok,
        "stiffness_N_per_m": _plain(tether.stiffness, index),
        "slack_m": _plain(tether.slack, index),
        "most_slack_m": _plain(tether.most_slack, index),
        "snatch_N": _plain(tether.snatch, index),
        "breaking_strength_N": _plain(tether.line_strength, index),
        "breaking_strength_needed_N": _plain(tether.line_needed, index),
        "anchor_strength_N": _plain(tether.anchor_strength, index),
        "anchor_strength_needed_N": _plain(tether.anchor_needed, index),
        "line_use": _plain(tether.line_use, index),
        "anchor_use": _plain(tether.anchor_use, index),
    }


def shared_pulls_json(mounted: Mounted) -> list[dict[str, Any]]:
    """Return how tape and screw share at each mount that has both."""
    return [_shared(shared) for shared in mounted.shared]


def _shared(shared: SharedPull) -> dict[str, Any]:
    return {
        "mount": shared.mount,
        "screw_share": _plain(shared.share),
        "screw_strength_N": _plain(shared.screw),
        "tape_strength_N": _plain(shared.tape),
        "together_N": _plain(shared.together),
        "counts": False,
    }


def _plain(number: Number | None, index: Index = (0, 0, 0)) -> float | None:
    """Return a number as JSON carries it: None where it is not known or has no bound."""
    if number is None:
        return None
    value = at(number, index)
    return value if math.isfinite(value) else None

"""The roof as a component: it draws what it is told and says where a thing was moved to."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from nicegui.element import Element

COARSE = {"metric": 0.010, "us": 0.0127}  # of an arrow key: 10 mm, 1/2 in [m]
FINE = {"metric": 0.001, "us": 0.0254 / 16}  # with Shift: 1 mm, 1/16 in [m]


class Plan(Element, component="static/plan.js"):
    """The roof to scale; `answered` lets the next place of a drag come."""

    def __init__(
        self,
        on_pick: Callable[[str], Any],
        on_moving: Callable[[str, float, float], Any],
        on_moved: Callable[[str, float, float], Any],
    ) -> None:
        super().__init__()
        empty = {
            "length": 1.0,
            "width": 1.0,
            "scale": {"length": 1, "words": ""},
            "fixtures": [],
            "items": [],
        }
        self._props.update(
            view={**empty, "most_N": 0.0},
            selected="",
            catches={},
            answered=0,
            label="The roof from above, to scale, front at the left or at the top",
            step={"coarse": COARSE["metric"], "fine": FINE["metric"]},
        )
        self.on("pick", lambda event: on_pick(event.args))
        self.on("moving", lambda event: on_moving(*(event.args[key] for key in ("place", "behind", "left"))))
        self.on("moved", lambda event: on_moved(*(event.args[key] for key in ("place", "behind", "left"))))

    def show(self, view: dict[str, Any], selected: str, catches: dict[str, Any], system: str) -> None:
        """Show the roof; a thing being dragged stays under the finger."""
        self._props.update(
            view=view,
            selected=selected,
            catches=catches,
            step={"coarse": COARSE[system], "fine": FINE[system]},
            answered=self._props["answered"] + 1,
        )
        self.update()

"""Own pieces of the page: each is a small Vue component in plain JavaScript, fed with plain data.

They show text as text and never as markup, so that nothing out of a file can run in the page.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from nicegui.element import Element


class _Part(Element):
    """A component that takes data as properties and says what a person did."""

    def __init__(self, **properties: Any) -> None:
        super().__init__()
        self._given: dict[str, Any] = properties

    def give(self, **properties: Any) -> None:
        """Give it other data; what is the same is not sent."""
        fresh = {k: v for k, v in properties.items() if k not in self._given or self._given[k] != v}
        if fresh:
            self._given |= fresh
            self.update()

    def _to_dict(self) -> dict[str, Any]:
        # Kept apart from the framework's own properties, which watch every list in them.
        out = super()._to_dict()
        out["props"] = {**out.get("props", {}), **self._given}
        return out

    def hear(self, event: str, handler: Callable[[Any], Any]) -> None:
        """Call a handler with the one argument of an event."""
        self.on(event, lambda e: handler(e.args))


class SceneView(_Part, component="scene_view.js", esm={"loamwright-scene": "../scene"}):
    """The scene."""


class TreeList(_Part, component="tree_list.js"):
    """The list of entries."""


class FormSheet(_Part, component="form_sheet.js"):
    """The form of an entry."""


class FindingsList(_Part, component="findings_list.js"):
    """Findings."""


class SitesTable(_Part, component="sites_table.js"):
    """Values at the sites."""


class Night(_Part, component="night.js"):
    """Light, dark, or as the person's system has it (None)."""


class TopBar(_Part, component="top_bar.js"):
    """The head of a page."""


class TextSheet(_Part, component="text_sheet.js"):
    """The file as text."""


class StartSheet(_Part, component="start_sheet.js"):
    """The start page's own sheet."""


class DayCharts(_Part, component="day_charts.js"):
    """Curves by the hour."""


class GroundColumn(_Part, component="ground_column.js"):
    """The ground as a column."""


class FieldBar(_Part, component="field_bar.js"):
    """What is shown as colour, where and when."""


class DaySheet(_Part, component="day_sheet.js"):
    """Round the day's curves."""


class LifeHead(_Part, component="life_head.js"):
    """The head of Animals and plants."""


class ChoiceChart(_Part, component="choice_chart.js"):
    """What animals can choose from."""


class TableSheet(_Part, component="table_sheet.js"):
    """Tables, with what is said before them."""


class SpaceSheet(_Part, component="space_sheet.js"):
    """Room by published standards."""


class KinChart(_Part, component="kin_chart.js"):
    """A pedigree by generations."""


class PlantList(_Part, component="plant_list.js"):
    """The plants and their light."""


class YearCharts(_Part, component="year_charts.js"):
    """Curves by the day of a year."""


class ShoppingList(_Part, component="shopping_list.js"):
    """What to buy, with its prices."""


class TaskTable(_Part, component="task_table.js"):
    """Tasks of the build and their times."""


class OrderChart(_Part, component="order_chart.js"):
    """The order of work as bars."""


class PackSheet(_Part, component="pack_sheet.js"):
    """The pack: made and taken away."""


class Takes(_Part, component="takes.js"):
    """Drawings, and files to take away."""

"""Takes the desk and a panel; gives its page, and where its power comes from."""

from __future__ import annotations

from ...job.records import Panel
from ..answer.places import page_folder
from ..desk import Desk
from ..drawing import room_scene
from ..panel import panel_face, pushed_twice
from .records import PanelPage


def panel_page(desk: Desk, panel: Panel) -> PanelPage:
    face = panel_face(desk, panel.id)
    return PanelPage(face, {cell.breaker: page_folder(desk, cell.breaker) for cell in face.cells}, panel_power(desk, panel), pushed_twice(desk, panel.id),
                     room_scene(desk, panel.id, panel.id))


def panel_title(desk: Desk, panel: Panel) -> str:
    """With its place where there are several."""
    return desk.words.text("panel.title") if len(desk.job.panels) == 1 else desk.words.text("panel.title_of", at=panel.at)


def panel_power(desk: Desk, panel: Panel) -> tuple[str, ...]:
    """Its feeder, and what else may keep it alive."""
    sources = desk.words.join([desk.words.get(f"answer.sources.{source}") for source in panel.also_supplied_by])
    fed = panel.fed_from and desk.words.text("panel.fed_from", space=desk.job.breaker[panel.fed_from].space,
                                             at=desk.panel_of(panel.fed_from).at)
    return tuple(filter(None, (fed, sources and desk.words.text("answer.other_sources", sources=sources))))

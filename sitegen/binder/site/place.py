"""Takes the desk and an id; gives the page of a device or of an outlet."""

from __future__ import annotations

from collections.abc import Iterator

from ..answer.answer import device_answer, outlet_answer
from ..answer.lists import rooms_off, turns_off
from ..answer.places import page_folder, spot, tag
from ..desk import Desk
from ..desk.address import page_url
from ..desk.words import Rich, Tag
from ..drawing import drawings
from ..months import monthly_test
from .records import PlacePage, Places


def place_pages(desk: Desk) -> Places:
    """The page of every device, outlet and breaker, each composed once for all that show it."""
    return {id: place_page(desk, id) for id in dict.fromkeys((*desk.tree.devices, *desk.tree.outlets, *desk.tree.breakers))}


def place_page(desk: Desk, id: str) -> PlacePage:
    """The page of a device, of an outlet or of a breaker; a device receptacle has one page."""
    tree = desk.tree
    button = tree.kind(id).opens or id in desk.job.breaker
    if button:
        answer = device_answer(desk, id, rooms_off(desk, id))
        target: str | None = id
    else:
        answer = outlet_answer(desk, id)
        target = cuts[0].device if (cuts := desk.claims.cuts(id)) else None
    safe = desk.words.many(f"keep_safe.{'breaker' if answer.spot.picture == 'breaker' else 'button'}", id=Tag(target or id))
    return PlacePage(id, button, answer, desk.words.rich("call.say", id=tag(desk, id)),
                     turns_off(desk, target) if target else None, _guard(desk, id), _guard_heading(desk, id),
                     monthly_test(desk, id) if tree.kind(id).opens else None, safe, _record_key(desk, id),
                     _dated(desk, id), page_url(desk, id) if page_folder(desk, id) == id else None, drawings(desk, id, answer.spot.id),
                     _panel(desk, answer.spot.id))


def _panel(desk: Desk, press: str) -> tuple[str, str] | None:
    panel = desk.panel_of(press) if press in desk.job.breaker else None
    return (page_folder(desk, panel.id), panel.at) if panel else None


def _record_key(desk: Desk, id: str) -> str:
    job = desk.job
    if id in job.point:
        return job.point[id].circuit
    return next(circuit.key for circuit in job.circuits if circuit.breaker == id)


def _dated(desk: Desk, id: str) -> str:
    day = desk.claims.day_of_device(id) if desk.tree.kind(id).opens else None
    return desk.words.text("dated", id=id, day=desk.words.day(day)) if day else ""


def _changed(desk: Desk, id: str) -> Iterator[Rich]:
    """When this was changed, and that it was not shown since."""
    if day := desk.claims.changed(id):
        yield desk.words.rich("guard.changed", day=desk.words.day(day))
    if since := desk.claims.not_shown_since(id):
        yield desk.words.rich("guard.not_since", day=desk.words.day(since))


def _guard_heading(desk: Desk, id: str) -> str:
    kind = desk.tree.kind(id)
    return desk.words.text("guard.heading_other" if kind.opens and not kind.stops_shock else "guard.heading")


def _guard(desk: Desk, id: str) -> tuple[Rich, ...]:
    """What was shown of shock protection: pair by pair, with its days; and what was changed."""
    tree = desk.tree
    says: list[Rich] = []
    kind = tree.kind(id)
    if id in desk.job.point and tree.is_outlet(id):
        point = desk.point(id)
        for device in desk.proof.proved_by(id):
            shown, tested = desk.claims.day_shown(id, device), desk.claims.day_of_device(device)
            assert shown and tested     # else the pair would not be proved
            says.append(desk.words.rich("guard.shown", id=Tag(device), room=spot(desk, device).room, day=desk.words.day(shown),
                                        tested=desk.words.day(tested)))
        if point.not_proved:
            says.append(desk.words.rich("guard.not_proved", reason=point.not_proved))
        elif not says and point.kind.has_face:
            says.append(desk.words.rich("guard.none"))
        if point.kind.has_face and not point.grounded:
            says.append(desk.words.rich("guard.ungrounded"))
    if kind.opens and not kind.stops_shock:
        says.append(desk.words.rich("guard.arc" if kind.stops_arcs else "guard.equipment", id=Tag(id)))
    if kind.stops_shock:
        says.append(desk.words.rich("guard.limits"))
    return (*_changed(desk, id), *says)
